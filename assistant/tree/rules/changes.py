"""`change(reading)` needs a second measurement, so some step must take one."""

from collections.abc import Iterator

from assistant.source.problem import Problem
from assistant.tree.expression import Change, Compare, tests
from assistant.tree.model import Named, Node, Step, Tree, Use
from assistant.tree.vocabulary import Vocabulary


def check(tree: Tree, vocabulary: Vocabulary) -> Iterator[Problem]:
    """Report every change of a reading that no step takes again."""
    again = {
        name.text for node in tree.nodes.values() if isinstance(node, Step) for name in (*node.measure_again, *node.ask)
    }
    for node in tree.nodes.values():
        for name in _changes(node):
            if name.text not in again and vocabulary.sort_of(name.text) == "reading":
                message = f'no step takes "{name.text}" again, so its change is never known'
                hint = f'write "measure_again: {name.text}" where it should have changed'
                yield Problem("tree-change", name.place, message, hint)


def _changes(node: Node) -> Iterator[Named]:
    if isinstance(node, Use):
        return
    if not isinstance(node, Step):
        yield from (Named(evidence.name, evidence.place) for evidence in node.because if evidence.change)
        return
    for condition in node.conditions:
        for test in tests(condition.root):
            for _, term in (*test.left.terms, *test.right.terms) if isinstance(test, Compare) else ():
                if isinstance(term, Change):
                    yield Named(term.name, condition.place_of(term.span))
