"""Every node must be reached from the start."""

from collections.abc import Iterator

from assistant.source.nearest import nearest
from assistant.source.problem import Problem
from assistant.tree.graph import links, reached, ways
from assistant.tree.model import Step, Tree
from assistant.tree.vocabulary import Vocabulary


def check(tree: Tree, vocabulary: Vocabulary) -> Iterator[Problem]:
    """Report nodes that no way leads to."""
    found = reached(_starts(tree), links(tree))
    # A way that could not be read may have led anywhere.
    if tree.start.text and all(node.whole for name in found if isinstance(node := tree.nodes[name], Step)):
        for name, node in tree.nodes.items():
            if name not in found:
                message = f'no way from the start leads to "{name}"'
                yield Problem("tree-unreached", node.place, message, f'write "go: {name}" somewhere, or delete it')


def _starts(tree: Tree) -> Iterator[str]:
    """Give the start, and the node that each misspelt name was probably meant for: that is reported already."""
    for go in (tree.start, *(go for node in tree.nodes.values() for go in ways(node))):
        if go.text in tree.nodes:
            if go is tree.start:
                yield go.text
        elif go.text:
            yield from nearest(go.text, tree.nodes)
