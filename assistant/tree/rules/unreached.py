"""Every node must be reached from the start, and every step must be able to reach an end."""

from collections.abc import Iterator

from assistant.source.nearest import nearest
from assistant.source.problem import Problem
from assistant.tree.graph import links, reached, turned_around, ways
from assistant.tree.model import Step, Tree
from assistant.tree.vocabulary import Vocabulary


def check(tree: Tree, vocabulary: Vocabulary) -> Iterator[Problem]:
    """Report nodes that no way leads to, and steps that lead to no end."""
    along = links(tree)
    found = reached(_starts(tree), along)
    # A way that could not be read may have led anywhere.
    if tree.start.text and all(node.whole for name in found if isinstance(node := tree.nodes[name], Step)):
        for name, node in tree.nodes.items():
            if name not in found:
                message = f'no way from the start leads to "{name}"'
                yield Problem("tree-unreached", node.place, message, f'write "go: {name}" somewhere, or delete it')
    # A way to a node that is not there is reported as such, and may be meant to end.
    ends = [name for name, node in tree.nodes.items() if not isinstance(node, Step) or _is_open(tree, node)]
    ending = reached(ends, turned_around(along))
    for name, node in tree.nodes.items():
        if name not in ending:
            yield Problem("tree-no-end", node.place, f'from "{name}", no way leads to an end', "lead one way to a leaf")


def _starts(tree: Tree) -> Iterator[str]:
    """Give the start, and the node that each misspelt name was probably meant for: that is reported already."""
    for go in (tree.start, *(go for node in tree.nodes.values() for go in ways(node))):
        if go.text in tree.nodes:
            if go is tree.start:
                yield go.text
        elif go.text:
            yield from nearest(go.text, tree.nodes)


def _is_open(tree: Tree, step: Step) -> bool:
    return not step.whole or any(go.text not in tree.nodes for go in ways(step))
