"""What an author wrote to themselves, for the list that they get with the problems."""

from collections.abc import Iterator

from assistant.source.problem import Problem, shorten
from assistant.tree.model import Tree
from assistant.tree.vocabulary import Vocabulary


def check(tree: Tree, vocabulary: Vocabulary) -> Iterator[Problem]:
    """Give every note, at its place."""
    for note in (*tree.notes, *(note for node in tree.nodes.values() for note in node.notes)):
        yield Problem("note-to-self", note.place, shorten(" ".join(note.text.split()), 200))
