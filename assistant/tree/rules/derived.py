"""What follows from other facts is never asked."""

from collections.abc import Iterator

from assistant.source.problem import Problem
from assistant.tree.model import Named, Step, Tree
from assistant.tree.vocabulary import Vocabulary


def check(tree: Tree, vocabulary: Vocabulary) -> Iterator[Problem]:
    """Report every fact in `facts:` or `ask:` that is derived from others."""
    for name in _asked(tree):
        sources = vocabulary.inputs_of(name.text) if vocabulary.sort_of(name.text) == "fact" else None
        if sources:
            message = f'"{name.text}" follows from {" and ".join(sources)}, so it is never asked'
            yield Problem("name-derived", name.place, message, f"write: {next(iter(sources))}")


def _asked(tree: Tree) -> Iterator[Named]:
    yield from tree.facts
    for node in tree.nodes.values():
        if isinstance(node, Step):
            yield from node.ask
            yield from node.measure_again
