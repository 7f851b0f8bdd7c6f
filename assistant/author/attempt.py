"""One look at a tree that is being written: the tree, ready to be walked, and all that is wrong with it."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from assistant.call.library import Library
from assistant.catalogue.layers import load_layers
from assistant.source.problem import Problem
from assistant.source.shipped import catalogues_of
from assistant.source.text import read_text
from assistant.tree.check import review_file
from assistant.tree.linking import link, used_by
from assistant.tree.model import Tree
from assistant.tree.shelf import Shelf
from assistant.worksheet.formulas import all_inputs

_STOPPERS = ("name-", "kind-", "unit-")


@dataclass(frozen=True)
class Attempt:
    """What was found at one moment. Without a `library` the tree cannot be walked; `texts` are its files by path.

    `layers` are the folders in which the tree and those that it uses lie, the lowest first.
    """

    file: Path
    layers: tuple[Path, ...]
    library: Library | None
    problems: tuple[Problem, ...]
    texts: Mapping[str, str]

    @property
    def tree(self) -> Tree | None:
        """The tree that can be walked."""
        return next(iter(self.library.trees.values())) if self.library else None


def stopping(problems: Iterable[Problem]) -> list[Problem]:
    """Those mistakes of a tree that could be read over which a walk would stumble; a walk survives all others."""
    return [problem for problem in problems if problem.code.startswith(_STOPPERS)]


def attempt(file: Path, layers: Sequence[Path] = ()) -> Attempt:
    """Look at a tree, at those that it uses, at its example calls and its catalogue, as they lie on disk now.

    `layers` are the folders that these are in, the lowest first; without them it is the folder of the tree.
    """
    layers = tuple(layers) or (file.parent,)
    catalogue, problems, _ = load_layers(catalogues_of(layers))
    catalogue = replace(catalogue, inputs=all_inputs())
    shelf = Shelf(layers)
    name = file.stem
    # Where the file is gone, one of the same name in a lower layer is not the tree that is being written.
    names = used_by([name], shelf) if shelf.files.get(name) == file else ()
    parts = [shelf.files[part] for part in names if part in shelf.files]
    found = [problem for path in parts or [file] for problem in review_file(path, catalogue, shelf=shelf).problems]
    is_readable = bool(parts) and not any(shelf.read(path.stem)[1] for path in parts)
    whole = link(shelf[name], shelf) if is_readable and not stopping(found) else None
    if name in shelf.calls:
        found.extend(review_file(shelf.calls[name], catalogue, shelf=shelf).problems)
    paths = {str(path) for path in parts} | {problem.place.path for problem in (*problems, *found)}
    return Attempt(
        file,
        layers,
        Library(catalogue, {whole.name: whole}) if whole else None,
        tuple(sorted({*problems, *found})),
        {path: text for path in sorted(paths) if (text := read_text(Path(path))[0]) is not None},
    )
