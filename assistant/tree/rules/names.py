"""Every name outside of conditions must be known: nodes, what is asked, cautions, causes, evidence."""

from collections.abc import Collection, Iterable, Iterator

from assistant.source.keys import NAME
from assistant.source.nearest import most_alike, nearest
from assistant.source.problem import Problem, shorten
from assistant.tree.graph import ways
from assistant.tree.model import MODE, CauseLeaf, Evidence, Named, Node, Step, Tree, Use
from assistant.tree.vocabulary import Sort, Vocabulary

_ASKED: tuple[Sort, ...] = ("reading", "observation", "fact")
_AGAIN: tuple[Sort, ...] = ("reading", "observation")
_SHOWN: tuple[Sort, ...] = ("number", "reading", "observation", "fact")


def check(tree: Tree, vocabulary: Vocabulary) -> Iterator[Problem]:
    """Check every name of a tree."""
    yield from _nodes((tree.start,), tree)
    yield from _known(tree.facts, ("fact",), "system fact", vocabulary)
    yield from _mode(tree.mode, vocabulary)
    for node in tree.nodes.values():
        yield from _nodes(ways(node), tree)
        yield from _of_node(node, vocabulary)


def _mode(mode: Named | None, vocabulary: Vocabulary) -> Iterator[Problem]:
    choices = vocabulary.choices_of(MODE) or ()
    if mode is not None and mode.text and mode.text not in choices:
        message = f'there is no mode called "{shorten(mode.text, 40)}"'
        yield Problem("name-unknown", mode.place, message, f"write: mode: {' or mode: '.join(choices)}")


def _of_node(node: Node, vocabulary: Vocabulary) -> Iterator[Problem]:
    yield from _known(node.cautions, ("caution",), "caution", vocabulary)
    if isinstance(node, Step):
        yield from _acts(node.do, vocabulary)
        yield from _known(node.ask, _ASKED, "reading, observation or fact", vocabulary)
        yield from _known(node.measure_again, _AGAIN, "reading or observation", vocabulary)
        return
    if isinstance(node, Use):
        return
    if isinstance(node, CauseLeaf) and node.cause.text:
        yield from _known((node.cause,), ("cause",), "cause", vocabulary)
    for evidence in node.because:
        yield from _evidence(evidence, vocabulary)


def _acts(names: Iterable[Named], vocabulary: Vocabulary) -> Iterator[Problem]:
    """Check what is to be done; the same act may stand there twice. Words in its place are met with what fits them."""
    known = vocabulary.names("act")
    for name in names:
        if name.text in known:
            continue
        if NAME.pattern.fullmatch(name.text):
            yield _of_other_sort(name, "act", vocabulary) or _unknown(name, "act", known)
            continue
        acts = {act: " ".join(vocabulary.act_texts(act)) for act in known}
        near = most_alike(name.text, acts)
        hint = f"write: do: {' or do: '.join(near)}" if near else "write the act's name"
        message = f'"{shorten(name.text, 40)}" is no act; words of your own go into "say", beside the act'
        yield Problem("name-act", name.place, message, f"{hint}; an act of your own goes into the catalogue")


def _nodes(names: Iterable[Named], tree: Tree) -> Iterator[Problem]:
    # Without nodes, the reader has reported that, and every name would be unknown.
    for name in names if tree.nodes else ():
        if name.text and name.text not in tree.nodes:
            yield _unknown(name, "node", tree.nodes)


def _evidence(evidence: Evidence, vocabulary: Vocabulary) -> Iterator[Problem]:
    name = Named(evidence.name, evidence.place)
    if not evidence.change:
        yield from _known((name,), _SHOWN, "reading, number, observation or fact", vocabulary)
    elif vocabulary.sort_of(evidence.name) not in (None, "reading"):
        message = f'"{evidence.name}" is not a reading, and only readings are taken again'
        yield Problem("name-sort", evidence.place, message, f"write: {evidence.name}, without change( )")
    else:
        yield from _known((name,), ("reading",), "reading", vocabulary)


def _known(names: Iterable[Named], sorts: tuple[Sort, ...], what: str, vocabulary: Vocabulary) -> Iterator[Problem]:
    seen: set[str] = set()
    for name in names:
        if name.text in seen:
            yield Problem("name-repeat", name.place, f'"{name.text}" is named twice', "name it once")
        elif not any(name.text in vocabulary.names(sort) for sort in sorts):
            yield _of_other_sort(name, what, vocabulary) or _unknown(
                name, what, [known for sort in sorts for known in vocabulary.names(sort)]
            )
        seen.add(name.text)


def _of_other_sort(name: Named, what: str, vocabulary: Vocabulary) -> Problem | None:
    sort = vocabulary.sort_of(name.text)
    if sort is None:
        return None
    message = f'"{name.text}" is {"an" if sort == "observation" else "a"} {_SORT_WORDS[sort]}, not a {what}'
    hint = "a worked number asks for its readings by itself: use it in a condition" if sort == "number" else None
    return Problem("name-sort", name.place, message, hint)


_SORT_WORDS = {"reading": "reading", "number": "worked number", "observation": "observation", "fact": "system fact"}


def _unknown(name: Named, what: str, known: Collection[str]) -> Problem:
    near = nearest(name.text, known)
    hint = f"write: {' or '.join(near)}" if near else None
    return Problem("name-unknown", name.place, f'there is no {what} called "{shorten(name.text, 40)}"', hint)
