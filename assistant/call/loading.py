"""Loading the library of a call from a folder of trees."""

from pathlib import Path

from assistant.call.library import Library
from assistant.catalogue.loading import load_catalogue
from assistant.source.problem import Problem
from assistant.source.shipped import catalogue_of
from assistant.tree.linking import link
from assistant.tree.model import Tree
from assistant.tree.rules import uses
from assistant.tree.shelf import Shelf


def load_library(folder: Path, only: str | None = None) -> tuple[Library, list[Problem]]:
    """The catalogue and trees of a folder, or `only` one of the trees; what has mistakes is left out and reported."""
    catalogue, problems = load_catalogue(catalogue_of(folder))
    shelf = Shelf([folder])
    sound: dict[str, Tree] = {}
    for name in shelf:
        tree, found = shelf.read(name)
        problems.extend(found)
        if tree is not None and not found:
            sound[name] = tree
    trees: dict[str, Tree] = {}
    for name, tree in sound.items():
        whole = link(tree, sound)
        if whole is None:
            problems.extend(uses.check(tree, sound))
        else:
            trees[name] = whole
    return Library(catalogue, trees), problems
