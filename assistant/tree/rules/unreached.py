"""Every node must be reached from the start, and every step must be able to reach an end."""

from collections.abc import Iterator

from assistant.source.problem import Problem
from assistant.tree.graph import links, reached, turned_around, ways
from assistant.tree.model import Step, Tree
from assistant.tree.vocabulary import Vocabulary


def check(tree: Tree, vocabulary: Vocabulary) -> Iterator[Problem]:
    """Report nodes that no way leads to, and steps that lead to no end."""
    along = links(tree)
    # An unknown start is reported as an unknown name; nothing would be reached from it.
    if tree.start.text in tree.nodes:
        found = reached((tree.start.text,), along)
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


def _is_open(tree: Tree, step: Step) -> bool:
    return not step.branches or any(go.text not in tree.nodes for go in ways(step))
