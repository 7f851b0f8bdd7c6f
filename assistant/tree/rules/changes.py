"""`change(reading)` needs a second measurement, so some step must take one."""

from collections.abc import Iterator

from assistant.source.problem import Problem
from assistant.tree.condition import tests
from assistant.tree.expression import Change, Compare
from assistant.tree.model import Named, Node, Step, Tree, Use, When
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
    for branch in node.branches:
        if not isinstance(branch, When):
            continue
        for test in tests(branch.condition.root):
            for _, term in (*test.left.terms, *test.right.terms) if isinstance(test, Compare) else ():
                if isinstance(term, Change):
                    yield Named(term.name, branch.condition.place_of(term.span))
