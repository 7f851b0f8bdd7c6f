"""Answers are kept by name, so a node must not be called like something that is asked."""

from collections.abc import Iterator

from assistant.source.problem import Problem
from assistant.tree.model import Tree
from assistant.tree.vocabulary import Sort, Vocabulary

_ASKED: tuple[tuple[Sort, str], ...] = (
    ("reading", "a reading"),
    ("observation", "an observation"),
    ("fact", "a system fact"),
)


def check(tree: Tree, vocabulary: Vocabulary) -> Iterator[Problem]:
    """Report every node that has the name of a reading, observation or fact."""
    for name, node in tree.nodes.items():
        what = next((words for sort, words in _ASKED if name in vocabulary.names(sort)), None)
        if what is not None:
            message = f'"{name}" is {what}, so answers to it and to this node could not be told apart'
            yield Problem("name-clash", node.place, message, f"call the node, for example, check_{name}")
