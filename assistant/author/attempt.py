"""One look at a tree that is being written: the tree, ready to be walked, and all that is wrong with it."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from assistant.call.library import Library
from assistant.catalogue.loading import load_catalogue
from assistant.source.problem import Problem
from assistant.source.shipped import catalogue_of
from assistant.source.text import read_text
from assistant.tree.check import review_file
from assistant.tree.examples import ENDING
from assistant.tree.linking import link, used_by
from assistant.tree.model import Tree
from assistant.tree.shelf import Shelf
from assistant.worksheet.inputs import all_inputs

_STOPPERS = ("name-", "kind-", "unit-")


@dataclass(frozen=True)
class Attempt:
    """What was found at one moment. Without a `library` the tree cannot be walked; `texts` are its files by path."""

    file: Path
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


def attempt(file: Path) -> Attempt:
    """Look at a tree, at those that it uses, at its example calls and its catalogue, as they lie on disk now."""
    catalogue, problems = load_catalogue(catalogue_of(file.parent))
    catalogue = replace(catalogue, inputs=all_inputs())
    shelf = Shelf([file.parent])
    name = file.stem
    parts = [shelf.files[part] for part in used_by([name], shelf) if part in shelf.files]
    reviews = [review_file(path, catalogue) for path in parts or [file]]
    found = [problem for review in reviews for problem in review.problems]
    is_readable = bool(parts) and not any(shelf.read(path.stem)[1] for path in parts)
    whole = link(shelf[name], shelf) if is_readable and not stopping(found) else None
    calls = file.with_name(f"{name}{ENDING}")
    if calls.exists():
        found.extend(review_file(calls, catalogue).problems)
    paths = {str(path) for path in parts} | {problem.place.path for problem in (*problems, *found)}
    return Attempt(
        file,
        Library(catalogue, {whole.name: whole}) if whole else None,
        tuple(sorted({*problems, *found})),
        {path: text for path in sorted(paths) if (text := read_text(Path(path))[0]) is not None},
    )
