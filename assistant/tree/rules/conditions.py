"""Conditions: names, choices, kinds and units."""

from collections.abc import Iterator

from assistant.source.problem import Problem
from assistant.tree.condition import check_condition
from assistant.tree.model import Step, Tree, When
from assistant.tree.vocabulary import Vocabulary


def check(tree: Tree, vocabulary: Vocabulary) -> Iterator[Problem]:
    """Check the condition of every branch."""
    for node in tree.nodes.values():
        for branch in node.branches if isinstance(node, Step) else ():
            if isinstance(branch, When):
                yield from check_condition(branch.condition, vocabulary)
