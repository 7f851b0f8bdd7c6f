"""What many tests share: the shipped library, loaded once, and what keeps the whole run short."""

import gc
import os
from collections.abc import Iterator, Mapping
from functools import cache, lru_cache
from pathlib import Path

import pytest
from hypothesis import settings

from assistant.call.library import Library
from assistant.call.loading import load_library
from assistant.catalogue import layers, loading
from assistant.catalogue.catalogue import Catalogue
from assistant.source import nodes
from assistant.source.problem import Problem
from assistant.source.shipped import shipped_folder
from assistant.tree import linking, reader
from assistant.tree.model import Tree

TESTS = Path(__file__).parent
# The whole run is to stay short; a test that needs more cases says so itself.
settings.register_profile("short", max_examples=30)
settings.load_profile("short")
# Else every process that a test starts would compile the package for itself.
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)


# Files go to the workers whole, one after another; with these at the beginning no worker waits long for another one.
SLOWEST_FIRST = ("test_house.py", "test_examples.py", "tui", "cli", "session", "store", "sheet", "author")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Begin with what takes long."""
    first = {TESTS / name: turn for turn, name in enumerate(SLOWEST_FIRST)}
    items.sort(key=lambda item: min(first.get(path, len(first)) for path in (item.path, *item.path.parents)))


def pytest_collection_finish() -> None:
    """What was collected stays to the end, so the garbage collector need not look through it again and again."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(20_000, 20, 20)


@pytest.fixture(scope="session", autouse=True)
def _read_once() -> Iterator[None]:
    """The same text of the same file is the same frozen nodes, tree and catalogue, so hundreds of tests share them."""
    read, build_tree, read_entries = lru_cache(maxsize=200)(nodes._build), reader.build_tree, loading.read_entries
    shipped_entries = cache(lambda: read_entries(shipped_folder("trees") / "catalogue"))
    trees: dict[int, tuple[nodes.Node, tuple[Tree | None, list[Problem]]]] = {}
    shipped = str(shipped_folder("trees"))

    def read_again(text: str, name: str) -> tuple[nodes.Node | None, list[Problem]]:
        root, problems = read(text, name)
        return root, list(problems)

    def build_again(root: nodes.Node | None, path: str, problems: list[Problem]) -> tuple[Tree | None, list[Problem]]:
        if root is None or problems or not path.startswith(shipped):
            return build_tree(root, path, problems)
        if id(root) not in trees:
            # The nodes are kept with the tree, so that nothing else can get their identity.
            trees[id(root)] = (root, build_tree(root, path, []))
        tree, found = trees[id(root)][1]
        return tree, list(found)

    def read_entries_again(folder: Path, *, strictly: bool = False) -> tuple[Catalogue, list[Problem]]:
        if strictly or folder != shipped_folder("trees") / "catalogue":
            return read_entries(folder, strictly=strictly)
        catalogue, problems = shipped_entries()
        return catalogue, list(problems)

    with_parts = linking._with_parts
    linked: dict[tuple[int, ...], tuple[tuple[Tree, ...], Tree]] = {}

    def with_parts_again(tree: Tree, parts: Mapping[str, Tree]) -> Tree:
        # Trees are kept with what is made of them, so that nothing else can get their identity.
        of = (tree, *(parts[use.tree.text] for use in linking.uses_of(tree) if use.tree.text in parts))
        key = tuple(map(id, of))
        if key not in linked:
            linked[key] = (of, with_parts(tree, parts))
        return linked[key][1]

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(linking, "_with_parts", with_parts_again)
        for module in (loading, layers):
            patch.setattr(module, "read_entries", read_entries_again)
        patch.setattr(nodes, "_build", read_again)
        patch.setattr(reader, "build_tree", build_again)
        yield


@pytest.fixture(scope="session")
def library() -> Library:
    library, problems = load_library(shipped_folder("trees"))
    assert problems == []
    return library


@pytest.fixture(scope="session")
def catalogue(library: Library) -> Catalogue:
    return library.catalogue
