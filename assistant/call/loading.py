"""Loading the library of a call from one folder of trees, or from several in layers.

What comes with the program is held to its checks by tests, so of it only the heads are read until a tree is chosen:
the first question does not wait for the rest. A person's own trees are read whole, and what is wrong is told at once.
"""

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from assistant.call.library import Library
from assistant.catalogue.catalogue import Catalogue
from assistant.catalogue.layers import Replaced, load_layers
from assistant.catalogue.loading import read_as_wanted
from assistant.errors import FileError
from assistant.source.problem import Place, Problem, render
from assistant.source.shipped import catalogue_of, catalogues_of, shipped_folder
from assistant.tree.linking import can_be_linked, link, uses_of
from assistant.tree.model import Head, Tree
from assistant.tree.reader import read_head, read_tree
from assistant.tree.rules import conditions, names, uses
from assistant.tree.shelf import tree_files
from assistant.uncollected import uncollected


@uncollected()
def load_library(
    folders: Path | Sequence[Path], only: str | None = None, *, lazily: bool = False
) -> tuple[Library, list[Problem]]:
    """The catalogue and trees of a folder, or `only` one of the trees; what has mistakes is left out and reported.

    Of several folders, each adds to those before it and replaces what has the same name; where that has mistakes,
    what it would replace stands. `lazily`, the trees that come with the program are read when they are wanted, and so
    are the entries of its catalogue where no other folder lies over it.
    """
    layers = [folders] if isinstance(folders, Path) else list(folders)
    catalogue, problems, replaced = _catalogue(catalogues_of(layers), lazily=lazily)
    sound = _Sound(layers, catalogue)
    wanted = [name for name in sound if only is None or name == only]
    at_once = [name for name in wanted if not (lazily and sound.is_shipped(name))]
    _leave_out_what_cannot_be_linked(at_once, sound)
    linked = _Linked(sound, [name for name in wanted if name in sound])
    problems.extend(sound.problems)
    told = (*replaced, *sound.replaced)
    if lazily:
        return Library(catalogue, linked, tuple(linked.heads()), told), problems
    return Library(catalogue, dict(linked), None, told), problems


def _catalogue(folders: list[Path], *, lazily: bool) -> tuple[Catalogue, list[Problem], tuple[Replaced, ...]]:
    if lazily and folders == [catalogue_of(shipped_folder("trees"))]:
        return read_as_wanted(folders[0]), [], ()
    return load_layers(folders)


def _leave_out_what_cannot_be_linked(at_once: Sequence[str], sound: "_Sound") -> None:
    # What is left out may be used by another, and what it replaced may be wrong in its turn.
    again = True
    while again:
        again = False
        for name in at_once:
            tree = sound.get(name)
            if tree is not None and not can_be_linked(tree, sound):
                sound.leave_out(name, list(_why_not_linked(tree, sound)))
                again = True


def _why_not_linked(tree: Tree, sound: "_Sound") -> Iterator[Problem]:
    for use in uses_of(tree):
        if use.tree.text in sound.left_out and use.tree.text not in sound:
            message = f'the tree "{use.tree.text}" has mistakes, so none that uses it can be walked'
            yield Problem("name-unknown", use.tree.place, message)
            return
    yield from uses.check(tree, sound)


class _Sound(Mapping[str, Tree]):
    """Of each tree, as it was written, the uppermost one without a mistake; read when it is wanted."""

    def __init__(self, folders: Sequence[Path], catalogue: Catalogue) -> None:
        self.problems: list[Problem] = []
        self.left_out: set[str] = set()
        self._catalogue = catalogue
        self._shipped = shipped_folder("trees")
        self._read: dict[str, Tree] = {}
        # The uppermost one last.
        self._files: dict[str, list[Path]] = {}
        for folder in folders:
            for path in tree_files(folder):
                self._files.setdefault(path.stem, []).append(path)

    def __getitem__(self, name: str) -> Tree:
        while name not in self._read and self._files[name]:
            tree, problems = read_tree(self._files[name][-1])
            if tree is not None and not self.is_shipped(name):
                problems = problems or self._unfit(tree, name)
            if tree is None or problems:
                self.leave_out(name, problems)
            else:
                self._read[name] = tree
        return self._read[name]

    def __contains__(self, name: object) -> bool:
        return bool(self._files.get(str(name)))

    def __iter__(self) -> Iterator[str]:
        return (name for name, files in self._files.items() if files)

    def __len__(self) -> int:
        return sum(1 for files in self._files.values() if files)

    def _unfit(self, tree: Tree, name: str) -> list[Problem]:
        """What would make the walk of a tree stumble."""
        if tree.name != name:
            message = f'the tree is called "{tree.name}", its file "{name}"'
            return [Problem("tree-name", tree.place, message, f"write: tree: {name}, or rename the file")]
        return sorted([*names.check(tree, self._catalogue), *conditions.check(tree, self._catalogue)])

    def leave_out(self, name: str, problems: Sequence[Problem]) -> None:
        """Drop the uppermost tree of that name; the one below it stands."""
        self.problems.extend(problems)
        self.left_out.add(name)
        self._files[name].pop()
        self._read.pop(name, None)

    def is_shipped(self, name: str) -> bool:
        """Whether the uppermost tree of that name comes with the program."""
        return bool(self._files[name]) and self._files[name][-1].parent == self._shipped

    def head(self, name: str) -> Head | None:
        """What a choice needs of a tree; `None` when it has mistakes."""
        head = read_head(self._files[name][-1]) if self.is_shipped(name) and name not in self._read else None
        if head is not None and head.name == name:
            return head
        tree = self.get(name)
        return None if tree is None else tree.head

    @property
    def replaced(self) -> tuple[Replaced, ...]:
        """The trees that stand for one of a folder below."""
        several = {name: files for name, files in self._files.items() if len(files) > 1}
        return tuple(
            Replaced(name, "tree", Place(str(files[-1])), Place(str(files[-2]))) for name, files in several.items()
        )


class _Linked(Mapping[str, Tree]):
    """The trees as they are walked: those that they use linked in, when they are wanted."""

    def __init__(self, sound: _Sound, wanted: Sequence[str]) -> None:
        self._sound = sound
        self._wanted = wanted
        self._linked: dict[str, Tree] = {}

    def __getitem__(self, name: str) -> Tree:
        """A tree by name.

        Raises:
            KeyError: there is no such tree.
            FileError: it comes with the program and cannot be used; only a broken installation has such a one.
        """
        if name not in self._wanted:
            raise KeyError(name)
        if name not in self._linked:
            tree = self._sound.get(name)
            whole = None if tree is None else link(tree, self._sound, self._linked)
            if whole is None:
                told = "\n".join(render(problem) for problem in self._sound.problems)
                raise FileError(f"The tree {name} cannot be used.\n{told}")
            self._linked[name] = whole
        return self._linked[name]

    def __contains__(self, name: object) -> bool:
        return name in self._wanted

    def __iter__(self) -> Iterator[str]:
        return iter(self._wanted)

    def __len__(self) -> int:
        return len(self._wanted)

    def heads(self) -> Iterator[Head]:
        """What a choice between the trees needs of each."""
        found = (self._sound.head(name) for name in self._wanted)
        return (head for head in found if head is not None)
