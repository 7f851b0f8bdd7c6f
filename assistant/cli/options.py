"""Options that several commands share, and how they find what they work on.

What a command does not need is not loaded: `coilside pt` answers at once.
"""

import functools
import os
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, TypeVar

import click

from assistant.cli.talk import say
from assistant.errors import FileError, QuantityError
from assistant.frozen import dataclass
from assistant.settings import SETTINGS, THEMES, read_settings, setting, settings_path
from assistant.source.problem import Problem, render_all
from assistant.source.shipped import catalogues_of, shipped_folder

if TYPE_CHECKING:
    from assistant.call.library import Library
    from assistant.catalogue.catalogue import Catalogue
    from assistant.store.opening import Opened
    from assistant.store.store import Store

_F = TypeVar("_F", bound=Callable[..., Any])
_WIDEST: Final = 100


def _set(name: str) -> Callable[[], str | None]:
    """What an option is where it is not given: as the settings file has it, else as usual."""
    return lambda: setting(name).text or None


class _FolderName(click.Path):
    """A folder of a person's; `~` stands for their own one."""

    def __init__(self, setting_name: str) -> None:
        super().__init__(path_type=Path)
        self._setting = SETTINGS[setting_name]

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Path:
        """Return the folder of a name."""
        try:
            return Path(self._setting.read(os.fspath(value)))
        except QuantityError as error:
            self.fail(str(error), param, ctx)


def units_option(command: _F) -> _F:
    """`--units`: the units in which values are shown."""
    return click.option(
        "--units",
        type=click.Choice(["us", "si"]),
        default=_set("units"),
        show_default="us, or as set",
        envvar=SETTINGS["units"].variable,
        help="Units shown: us (F, psig) or si (C, kPa absolute). Any unit can be typed.",
    )(command)


def trees_option(command: _F) -> _F:
    """`--trees`: a folder of trees instead of the shipped ones."""
    return click.option(
        "--trees",
        "trees_folder",
        type=_FolderName("trees"),
        default=_set("trees"),
        envvar=SETTINGS["trees"].variable,
        help="Folder of trees to use instead of the shipped ones.",
    )(command)


def shop_option(command: _F) -> _F:
    """`--shop`: a folder of a shop's own over the others."""
    return click.option(
        "--shop",
        "shop_folder",
        type=_FolderName("shop"),
        default=_set("shop"),
        envvar=SETTINGS["shop"].variable,
        help="Folder of your own trees and catalogue: adds to the others, and replaces what has the same name.",
    )(command)


def folders_option(command: Callable[..., Any]) -> Callable[..., Any]:
    """`--trees` and `--shop`, given to the command as `folders`."""

    @functools.wraps(command)
    def with_folders(*args: Any, trees_folder: Path | None, shop_folder: Path | None, **others: Any) -> Any:
        return command(*args, folders=Folders(trees_folder, shop_folder), **others)

    return trees_option(shop_option(with_folders))


@dataclass(frozen=True, slots=True)
class Folders:
    """Where trees and their catalogue come from: a folder instead of the shipped one, and a shop's own over it."""

    trees: Path | None = None
    shop: Path | None = None

    @property
    def layers(self) -> list[Path]:
        """The folders, the lowest first.

        Raises:
            FileError: one of them is no folder.
        """
        layers = [self.trees or shipped_folder("trees"), *([self.shop] if self.shop else [])]
        for folder in layers:
            if not folder.is_dir():
                raise FileError(f"{folder} is not a folder of trees.")
        return layers

    def with_path(self, path: Path | None) -> "Folders":
        """The folders to work on when a folder or a file in one is named: that of the trees, or the shop's."""
        if path is None:
            return self
        folder = path if path.is_dir() else path.parent
        is_shop = self.shop is not None and folder.resolve() == self.shop.resolve()
        return self if is_shop else Folders(folder, self.shop)


def home_option(command: _F) -> _F:
    """`--home`: the folder of the user's own data."""
    return click.option(
        "--home",
        type=_FolderName("home"),
        default=_set("home"),
        envvar=SETTINGS["home"].variable,
        help="Folder that keeps your calls (default: the usual data folder of your account).",
    )(command)


def look_options(command: Callable[..., Any]) -> Callable[..., Any]:
    """`--theme` and `--no-color`, given to the command as `theme`."""

    @functools.wraps(command)
    def with_theme(*args: Any, theme: str | None, no_color: bool, **others: Any) -> Any:
        return command(*args, theme="none" if no_color else (theme or setting("theme").text), **others)

    # The environment and the file are asked by `setting`, as NO_COLOR stands between them.
    theme = click.option(
        "--theme",
        type=click.Choice(THEMES),
        default=None,
        help="Look of the chat: dark, light, sun (strongest contrast), or none (no colour). F8 changes it.",
    )
    no_color = click.option("--no-color", is_flag=True, help="No colour at all; so does the variable NO_COLOR.")
    return theme(no_color(with_theme))


def tell_settings_problems() -> None:
    """What is wrong with the settings file goes to standard error; the program goes on without it."""
    for problem in read_settings(settings_path()).problems:
        say(f"coilside: settings: {problem}", err=True)


def json_option(command: _F) -> _F:
    """`--json`: one JSON object on standard output."""
    return click.option("--json", "as_json", is_flag=True, help="Print one JSON object.")(command)


def catalogue_from(folders: Folders) -> "Catalogue":
    """The catalogue of some folders; what has mistakes is left out, and told on standard error.

    Raises:
        FileError: there is no such folder.
    """
    from assistant.catalogue.layers import load_layers

    catalogue, problems, _ = load_layers(catalogues_of(folders.layers))
    _tell_left_out(problems)
    return catalogue


def library_from(folders: Folders, only: str | None = None, *, lazily: bool = False) -> "Library":
    """The library of a call; what has mistakes is told on standard error and left out, as is what a shop replaces.

    `lazily`, for a call that a person talks through: shipped trees are read when they are chosen.

    Raises:
        FileError: there is no such folder, or no tree in it can be used.
    """
    from assistant.call.loading import load_library

    layers = folders.layers
    library, problems = load_library(layers, only, lazily=lazily)
    _tell_left_out(problems)
    if library.replaced:
        from assistant.catalogue.layers import tell_replaced

        say(tell_replaced(library.replaced), err=True)
    if not library.trees and only is None:
        raise FileError(f"There is no tree in {' or '.join(str(folder) for folder in layers)} that can be used.")
    return library


def _tell_left_out(problems: list[Problem]) -> None:
    if problems:
        say(problems_text(problems), err=True)
        say("What has mistakes is left out. `coilside trees check` tells more.", err=True)


def record_path(home: Path | None) -> Path:
    """The file of the user's record of calls, whether it is there or not."""
    if home is None:
        import platformdirs

        home = Path(platformdirs.user_data_dir("coilside", appauthor=False))
    return home / "calls.db"


def open_store(home: Path | None) -> "Store":
    """The user's record of calls, to be read."""
    from assistant.store.store import Store

    return Store.to_read(record_path(home))


def open_store_to_change(home: Path | None) -> "Store":
    """The user's record of calls, to change one that is in it."""
    from assistant.store.store import Store

    store = Store(record_path(home))
    store.tell = _tell
    return store


def _tell(sentence: str) -> None:
    say(sentence, err=True)


def open_or_begin_store(home: Path | None, path: Path | None = None) -> "Opened":
    """The user's record of calls to begin or pick up a call in; a damaged one is set aside, and that is told.

    Raises:
        StoreError: it cannot be opened, belongs to another program, or comes from a newer version.
    """
    from assistant.store.opening import open_or_begin

    opened = open_or_begin(record_path(home) if path is None else path)
    opened.store.tell = _tell
    return opened


def page_width() -> int:
    """The width of a page of text [columns]: that of the terminal, at most as wide as can be read."""
    return min(shutil.get_terminal_size((_WIDEST, 24)).columns, _WIDEST)


def problems_text(problems: list[Problem]) -> str:
    """Problems as a person reads them, with their source lines."""
    texts: dict[str, str] = {}
    for path in {problem.place.path for problem in problems if problem.place.line}:
        try:
            texts[path] = Path(path).read_text(encoding="utf-8", errors="replace")
        except OSError:
            continue
    return render_all(problems, texts)
