"""What a catalogue holds and no tree beside it uses: nothing to be mended, but good to know before one changes it."""

from collections.abc import Iterable, Iterator

from assistant.source.problem import Problem
from assistant.tree.expression import Compare, Limit, tests
from assistant.tree.model import CauseLeaf, Named, Node, Step, Tree, Use
from assistant.tree.vocabulary import Sort, Vocabulary

_SORTS: tuple[tuple[Sort, str], ...] = (
    ("observation", "the observation"),
    ("limit", "the limit"),
    ("cause", "the cause"),
)


def unused(trees: Iterable[Tree], vocabulary: Vocabulary) -> Iterator[Problem]:
    """Note every observation, limit and cause that no tree uses."""
    used: dict[Sort, set[str]] = {"observation": set(), "limit": set(), "cause": set()}
    for tree in trees:
        for node in tree.nodes.values():
            used["observation"].update(_names(node, vocabulary))
            used["limit"].update(_limits(node))
            if isinstance(node, CauseLeaf):
                used["cause"].add(node.cause.text)
    for sort, what in _SORTS:
        for name in vocabulary.names(sort):
            place = vocabulary.place_of(sort, name)
            if name not in used[sort] and place is not None:
                verb = "ends in" if sort == "cause" else "uses"
                yield Problem("note-unused", place, f"no tree {verb} {what} {name}")


def _names(node: Node, vocabulary: Vocabulary) -> Iterator[str]:
    if isinstance(node, Use):
        return
    if not isinstance(node, Step):
        yield from (evidence.name for evidence in node.because)
        return
    asked: tuple[Named, ...] = (*node.ask, *node.measure_again)
    yield from (name.text for name in asked)
    yield from (need.name for need in node.decision(vocabulary).needs)


def _limits(node: Node) -> Iterator[str]:
    for condition in node.conditions if isinstance(node, Step) else ():
        for test in tests(condition.root):
            terms = (*test.left.terms, *test.right.terms) if isinstance(test, Compare) else ()
            yield from (term.name for _, term in terms if isinstance(term, Limit))
