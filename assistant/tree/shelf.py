"""Trees by name from one folder or several, each read when it is first wanted."""

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from assistant.source.nodes import Node, read
from assistant.source.problem import Problem
from assistant.tree.examples import ENDING
from assistant.tree.model import Tree
from assistant.tree.reader import build_tree


def tree_files(folder: Path) -> list[Path]:
    """Give the tree files of a folder, by name; example calls are not trees."""
    return sorted(path for path in folder.glob("*.yaml") if path.is_file() and not path.name.endswith(ENDING))


class Shelf(Mapping[str, Tree]):
    """The trees of some folders as they were written; where two have the same name, that of the later folder counts.

    A tree is found by the name of its file. One that holds no tree at all has a name and no value; `read` tells why.
    """

    def __init__(self, folders: Sequence[Path]) -> None:
        self.files: dict[str, Path] = {}
        """The file of each tree."""
        self.replaced: dict[str, Path] = {}
        """The files that count no more, by the names of the trees that replace them."""
        self.calls: dict[str, Path] = {}
        """The files of example calls, by the names of their trees."""
        for folder in folders:
            for path in tree_files(folder):
                if path.stem in self.files:
                    self.replaced[path.stem] = self.files[path.stem]
                self.files[path.stem] = path
            calls = sorted(path for path in folder.glob(f"*{ENDING}") if path.is_file())
            self.calls |= {path.name.removesuffix(ENDING): path for path in calls}
        self.linked: dict[str, Tree] = {}
        """Those that were linked, for whoever links many of them."""
        self.roots: dict[str, Node | None] = {}
        """What stands in the files that were read, for whoever looks at it again."""
        self._read: dict[str, tuple[Tree | None, list[Problem]]] = {}

    def read(self, name: str) -> tuple[Tree | None, list[Problem]]:
        """Give a tree with the problems of reading it.

        Raises:
            KeyError: no file has this name.
        """
        if name not in self._read:
            path = self.files[name]
            self.roots[name], problems = read(path)
            self._read[name] = build_tree(self.roots[name], str(path), problems)
        return self._read[name]

    def __getitem__(self, name: str) -> Tree:
        tree, _ = self.read(name)
        if tree is None:
            raise KeyError(name)
        return tree

    def __contains__(self, name: object) -> bool:
        return name in self.files

    def __iter__(self) -> Iterator[str]:
        return iter(self.files)

    def __len__(self) -> int:
        return len(self.files)
