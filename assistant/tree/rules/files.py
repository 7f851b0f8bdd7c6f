"""A tree is called as its file, so that one can be found by the other."""

from collections.abc import Iterator
from pathlib import Path

from assistant.source.problem import Problem, shorten
from assistant.tree.model import Tree
from assistant.tree.vocabulary import Vocabulary


def check(tree: Tree, vocabulary: Vocabulary) -> Iterator[Problem]:
    """Compare the tree's name with its file's."""
    stem = Path(tree.path).name.removesuffix(".yaml")
    if tree.name and tree.name != stem:
        message = f'the tree is called "{shorten(tree.name, 40)}", its file "{shorten(stem, 40)}"'
        yield Problem("tree-name", tree.place, message, f"write: tree: {shorten(stem, 40)}, or rename the file")
