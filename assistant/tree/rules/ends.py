"""Every step must be able to reach an end."""

from collections.abc import Iterator

from assistant.source.problem import Problem
from assistant.tree.graph import links, reached, turned_around, ways
from assistant.tree.model import Step, Tree
from assistant.tree.vocabulary import Vocabulary


def check(tree: Tree, vocabulary: Vocabulary) -> Iterator[Problem]:
    """Report steps that lead to no end."""
    # A way to a node that is not there is reported as such, and may be meant to end.
    ends = [name for name, node in tree.nodes.items() if not isinstance(node, Step) or _is_open(tree, node)]
    ending = reached(ends, turned_around(links(tree)))
    for name, node in tree.nodes.items():
        if name not in ending:
            yield Problem("tree-no-end", node.place, f'from "{name}", no way leads to an end', "lead one way to a leaf")


def _is_open(tree: Tree, step: Step) -> bool:
    return not step.whole or any(go.text not in tree.nodes for go in ways(step))
