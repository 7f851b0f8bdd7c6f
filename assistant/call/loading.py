"""Loading the library of a call from a folder of trees."""

from pathlib import Path

from assistant.call.library import Library
from assistant.catalogue.loading import load_catalogue
from assistant.source.problem import Problem
from assistant.tree.model import Tree
from assistant.tree.reader import read_tree

CALLS_SUFFIX = ".calls.yaml"


def tree_files(folder: Path) -> list[Path]:
    """The tree files of a folder, by name; example calls are not trees."""
    return sorted(path for path in folder.glob("*.yaml") if not path.name.endswith(CALLS_SUFFIX))


def load_library(folder: Path, only: str | None = None) -> tuple[Library, list[Problem]]:
    """The catalogue and trees of a folder, or `only` one of the trees; what has mistakes is left out and reported."""
    catalogue, problems = load_catalogue(folder / "catalogue")
    trees: dict[str, Tree] = {}
    for path in tree_files(folder):
        if only is not None and path.stem != only:
            continue
        tree, found = read_tree(path)
        problems.extend(found)
        if tree is not None and not found:
            trees[tree.name] = tree
    return Library(catalogue, trees), problems
