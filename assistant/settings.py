"""What a person sets once, in one file: units, look, home site, own instruments, folders.

The file is TOML with a line for each setting. What is wrong in it is told with its line, and the usual value taken.
"""

import os
import re
from collections.abc import Callable, Mapping
from dataclasses import field
from functools import cache
from pathlib import Path
from typing import Final

from assistant.errors import FileError, QuantityError
from assistant.files import read_at_once
from assistant.frozen import dataclass
from assistant.quantity import Kind, parse

FILE_VARIABLE: Final = "COILSIDE_SETTINGS"
"""Names another file than the usual one."""

LARGEST_FILE: Final = 100_000
"""A longer file is no settings [bytes]."""

THEMES: Final = ("dark", "light", "sun", "none")
"""The looks of the chat, in the order in which F8 goes through them."""

_THEMES_WORDS: Final = "dark, light, sun (strongest contrast) or none (no colour at all)"


@dataclass(frozen=True, slots=True)
class Setting:
    """One thing that can be set: `words` say what it is, `sample` is a line for the file, `usual` holds without it.

    `read` gives the text as it is used, or raises.
    """

    name: str
    words: str
    sample: str
    usual: str
    read: Callable[[str], str]

    @property
    def variable(self) -> str:
        """The environment variable that comes before the file."""
        return f"COILSIDE_{self.name.upper()}"


@dataclass(frozen=True, slots=True)
class Settings:
    """What a file holds: `values` by name as far as they can be used, `problems` in sentences with their lines."""

    path: Path
    values: Mapping[str, str] = field(default_factory=dict)
    problems: tuple[str, ...] = ()
    exists: bool = False


@dataclass(frozen=True, slots=True)
class Value:
    """A setting as it holds, and where it comes from in words."""

    text: str
    source: str


def _one_of(names: tuple[str, ...], words: str) -> Callable[[str], str]:
    def read(text: str) -> str:
        if text.casefold() not in names:
            raise QuantityError(f"{text!r} is not one of these: {words}.")
        return text.casefold()

    return read


def _quantity(kind: Kind, unit: str, *, positive: bool = False) -> Callable[[str], str]:
    def read(text: str) -> str:
        quantity = parse(text, kind, unit)
        if positive and quantity.value <= 0:
            raise QuantityError("No instrument is exact: its accuracy is more than nothing.")
        return quantity.text()

    return read


def _folder(text: str) -> str:
    if not text.strip() or not text.isprintable():
        raise QuantityError("Write the name of a folder.")
    found = os.path.expanduser(text)
    if found.startswith("~"):
        raise QuantityError(f"{text!r} begins with ~, and there is nobody whose folder that would be.")
    return found


SETTINGS: Final[Mapping[str, Setting]] = {
    setting.name: setting
    for setting in (
        Setting(
            "units",
            "units that are shown: us (F, psig) or si (C, kPa absolute); any unit can be typed",
            'units = "us"',
            "us",
            _one_of(("us", "si"), "us or si"),
        ),
        Setting(
            "theme", f"look of the chat: {_THEMES_WORDS}", 'theme = "dark"', "dark", _one_of(THEMES, _THEMES_WORDS)
        ),
        Setting(
            "altitude",
            "height of your usual site above sea level: offered on each call",
            'altitude = "5280 ft"',
            "",
            _quantity(Kind.LENGTH, "ft"),
        ),
        Setting(
            "gauges",
            "accuracy of your own gauges; what you tell on a call with the word instruments comes first",
            'gauges = "1 psi"',
            "",
            _quantity(Kind.PRESSURE_DIFFERENCE, "psi", positive=True),
        ),
        Setting(
            "thermometers",
            "accuracy of your own thermometers; as for gauges",
            'thermometers = "0.9 F"',
            "",
            _quantity(Kind.TEMPERATURE_DIFFERENCE, "F", positive=True),
        ),
        Setting("trees", "folder of trees instead of the shipped ones", 'trees = "~/trees"', "", _folder),
        Setting("shop", "folder of your own trees and catalogue over the others", 'shop = "~/shop"', "", _folder),
        Setting("home", "folder that keeps your calls", 'home = "~/calls"', "", _folder),
    )
}
"""All that can be set, in the order of the page that shows it."""

_FOLDERS: Final = frozenset({"trees", "shop", "home"})
_AT_LINE: Final = re.compile(r"\s*\(at (?:line (\d+), column \d+|end of document)\)$")


def settings_path() -> Path:
    """The file of the settings, whether it is there or not."""
    named = os.environ.get(FILE_VARIABLE)
    if named:
        return Path(os.path.expanduser(named))
    import platformdirs

    return Path(platformdirs.user_config_dir("coilside", appauthor=False)) / "settings.toml"


@cache
def read_settings(path: Path) -> Settings:
    """What a file holds; nothing where there is none. It is read once for each run of the program."""
    try:
        data = read_at_once(path, LARGEST_FILE + 1)
    except FileNotFoundError:
        return Settings(path)
    except OSError as error:
        return Settings(path, problems=(f"{path} cannot be read: {error.strerror or error}.",), exists=True)
    if len(data) > LARGEST_FILE:
        return Settings(path, problems=(f"{path} is far too long for settings.",), exists=True)
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        return Settings(path, problems=(f"{path}, line {line}: this is no text in UTF-8.",), exists=True)
    values, problems = _values(path, text)
    return Settings(path, values, problems, exists=True)


def _values(path: Path, text: str) -> tuple[dict[str, str], tuple[str, ...]]:
    # Loaded where there is a file only.
    import tomllib

    try:
        found = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        return {}, (_not_toml(path, text, str(error)),)
    values: dict[str, str] = {}
    problems: list[str] = []
    for name, given in found.items():
        try:
            values[name] = _read(path, name, given)
        except (FileError, QuantityError) as error:
            usual = "It is left out." if name not in SETTINGS else "The usual value is taken."
            problems.append(f"{path}, line {_line_of(name, text)}: {error} {usual}")
    return values, tuple(problems)


def _not_toml(path: Path, text: str, said: str) -> str:
    where = _AT_LINE.search(said)
    line = int(where[1]) if where and where[1] else text.count("\n") + 1
    lines = text.split("\n")
    shown = "".join(char for char in lines[min(line, len(lines)) - 1] if char.isprintable())[:60].strip()
    return (
        f"{path}, line {line}: {_AT_LINE.sub('', said)}: {shown!r}. Write each setting as a line such as "
        f"{SETTINGS['units'].sample}, with the quotation marks. Usual values are taken for all settings."
    )


def _read(path: Path, name: str, given: object) -> str:
    setting = SETTINGS.get(name)
    if setting is None:
        from assistant.source.nearest import nearest

        near = nearest(name, SETTINGS)
        hint = f"Did you mean {near[0]}?" if near else f"There are {', '.join(SETTINGS)}."
        raise FileError(f"There is no setting {name!r}. {hint}")
    if not isinstance(given, str):
        raise FileError(f"{name} must be a text in quotation marks, such as {setting.sample}.")
    text = setting.read(given)
    if name in _FOLDERS:
        # A file that is carried to another machine names folders beside itself.
        return str(path.parent / text)
    return text


def _line_of(name: str, text: str) -> int:
    key = re.compile(rf"""\s*(\[+\s*)?["']?{re.escape(name)}["']?\s*[=.\]]""")
    return next((place for place, line in enumerate(text.split("\n"), start=1) if key.match(line)), 1)


def setting(name: str) -> Value:
    """A setting as it holds without an option: from the environment, else from the file, else as usual.

    Raises:
        QuantityError: the environment holds something else than it should.
    """
    which = SETTINGS[name]
    told = os.environ.get(which.variable)
    if told:
        try:
            return Value(which.read(told), f"environment, {which.variable}")
        except QuantityError as error:
            raise QuantityError(f"{which.variable}: {error}") from error
    if name == "theme" and os.environ.get("NO_COLOR"):
        return Value("none", "environment, NO_COLOR")
    values = read_settings(settings_path()).values
    return Value(values[name], "settings file") if name in values else Value(which.usual, "usual")


def template() -> str:
    """A file to begin with: every setting as a comment."""
    lines = ["# Settings of Coilside. Take the # away in front of a line to set it.", ""]
    for each in SETTINGS.values():
        lines += [f"# {each.words[0].upper()}{each.words[1:]}.", f"# {each.sample}", ""]
    return "\n".join(lines)
