"""Options that several commands share, and how they find what they work on.

What a command does not need is not loaded: `coilside pt` answers at once.
"""

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from assistant.errors import FileError
from assistant.source.problem import Problem, render_all
from assistant.source.shipped import shipped_folder

if TYPE_CHECKING:
    from assistant.call.library import Library
    from assistant.records.store import Store

_F = TypeVar("_F", bound=Callable[..., Any])


def units_option(command: _F) -> _F:
    """`--units`: the units in which values are shown."""
    return click.option(
        "--units",
        type=click.Choice(["us", "si"]),
        default="us",
        show_default=True,
        envvar="COILSIDE_UNITS",
        help="Units shown: us (F, psig) or si (C, kPa absolute). Any unit can be typed.",
    )(command)


def trees_option(command: _F) -> _F:
    """`--trees`: a folder of trees instead of the shipped ones."""
    return click.option(
        "--trees",
        "trees_folder",
        type=click.Path(path_type=Path),
        default=None,
        envvar="COILSIDE_TREES",
        help="Folder of trees to use instead of the shipped ones.",
    )(command)


def home_option(command: _F) -> _F:
    """`--home`: the folder of the user's own data."""
    return click.option(
        "--home",
        type=click.Path(path_type=Path),
        default=None,
        envvar="COILSIDE_HOME",
        help="Folder that keeps your calls (default: the usual data folder of your account).",
    )(command)


def json_option(command: _F) -> _F:
    """`--json`: one JSON object on standard output."""
    return click.option("--json", "as_json", is_flag=True, help="Print one JSON object.")(command)


def folder_of_trees(given: Path | None) -> Path:
    """The folder of trees to work on.

    Raises:
        FileError: there is no such folder.
    """
    folder = given or shipped_folder("trees")
    if not folder.is_dir():
        raise FileError(f"{folder} is not a folder of trees.")
    return folder


def library_from(given: Path | None, only: str | None = None) -> "Library":
    """The library of a call; what has mistakes is told on standard error and left out.

    Raises:
        FileError: there is no such folder, or no tree in it can be used.
    """
    from assistant.call.loading import load_library

    folder = folder_of_trees(given)
    library, problems = load_library(folder, only)
    if problems:
        click.echo(problems_text(problems), err=True)
        click.echo("What has mistakes is left out. `coilside trees check` tells more.", err=True)
    if not library.trees and only is None:
        raise FileError(f"There is no tree in {folder} that can be used.")
    return library


def record_path(home: Path | None) -> Path:
    """The file of the user's record of calls, whether it is there or not."""
    if home is None:
        import platformdirs

        home = Path(platformdirs.user_data_dir("coilside", appauthor=False))
    return home / "calls.db"


def open_store(home: Path | None) -> "Store":
    """The user's record of calls."""
    from assistant.records.store import Store

    return Store(record_path(home))


def problems_text(problems: list[Problem]) -> str:
    """Problems as a person reads them, with their source lines."""
    texts: dict[str, str] = {}
    for path in {problem.place.path for problem in problems if problem.place.line}:
        try:
            texts[path] = Path(path).read_text(encoding="utf-8", errors="replace")
        except OSError:
            continue
    return render_all(problems, texts)
