"""Conditions: names, choices, kinds and units."""

from collections.abc import Iterator

from assistant.source.problem import Problem
from assistant.tree.condition import check_condition
from assistant.tree.model import Step, Tree
from assistant.tree.vocabulary import Vocabulary


def check(tree: Tree, vocabulary: Vocabulary) -> Iterator[Problem]:
    """Check the condition of every branch."""
    for node in tree.nodes.values():
        for condition in node.conditions if isinstance(node, Step) else ():
            yield from check_condition(condition, vocabulary)
