"""What an authored mapping may hold, as values: tables of keys, from which reader, messages and schemas are made.

A sort of mapping is a `KeyTable`. A file is read by the table of its sort (`shape.py`), and the same table is written
as a JSON Schema (`schema.py`), so that an editor marks what the reader refuses.
"""

import re
from collections.abc import Mapping
from dataclasses import field
from functools import cached_property
from typing import Final

from assistant.frozen import dataclass

MOST_WHOLE: Final = 999_999_999
"""The largest whole number; whole numbers up to it are said to go "up"."""


@dataclass(frozen=True, slots=True)
class Text:
    """One text; `numeric` where an editor may take it for a number, `empty` where nothing may stand there too."""

    numeric: bool = False
    empty: bool = False
    longest: int | None = None


@dataclass(frozen=True, slots=True)
class Texts:
    """A list of `least` to `most` texts, or one alone if `single`."""

    least: int = 1
    most: int | None = None
    single: bool = True
    numeric: bool = False
    longest: int | None = None


@dataclass(frozen=True, slots=True)
class PlainNumber:
    """A plain number from `low` to `high`, a `whole` one where that is wanted; `code` names the mistake."""

    low: float
    high: float
    whole: bool = False
    code: str = "shape-value"


@dataclass(frozen=True)
class OneOf:
    """One of some names, each with what an editor says about it; `what` and `code` name a wrong one."""

    names: Mapping[str, str]
    what: str = "choice"
    code: str = "shape-value"


@dataclass(frozen=True, slots=True)
class Spelling:
    """What a name must look like, how that is said, and an example of one."""

    pattern: re.Pattern[str]
    says: str
    example: str


@dataclass(frozen=True, slots=True)
class ByName:
    """Names of the author's own, at least so many, each with a value; `word` may stand in the place of them all."""

    value: "Form"
    name: Spelling | None = None
    least: int = 0
    word: str = ""
    known: Mapping[str, str] | None = None


@dataclass(frozen=True, slots=True)
class Listed:
    """A list of at least so many mappings."""

    item: "KeyTable | Cases | ByName"
    least: int = 1


@dataclass(frozen=True, slots=True)
class Wrong:
    """How a mistake is told: its code, what is wrong, what to write."""

    code: str
    message: str
    hint: str | None = None


@dataclass(frozen=True, slots=True)
class Apart:
    """Two keys that cannot both be there; the mistake is told at the first."""

    key: str
    other: str
    wrong: Wrong


@dataclass(frozen=True, slots=True)
class AtLeastOne:
    """Keys of which one must be there."""

    keys: tuple[str, ...]
    wrong: Wrong


@dataclass(frozen=True, slots=True)
class Needs:
    """A key that asks for another one; the mistake is told at the key."""

    key: str
    other: str
    wrong: Wrong


@dataclass(frozen=True, slots=True)
class Key:
    """One key: what stands behind it, one sentence about it, whether it must be there, and how it may look.

    `write` is what a hint says, where that is more than the key with its first example behind it.
    """

    form: "Form"
    says: str
    needed: bool = False
    examples: tuple[str, ...] = ()
    write: str = ""


@dataclass(frozen=True, eq=False)
class KeyTable:
    """A mapping with known keys. `what` names it in messages; without, the name under which it stands does.

    `write` is what to write where there is no such mapping. `elsewhere` tells of keys that belong to another sort of
    mapping.
    """

    what: str
    keys: Mapping[str, Key]
    write: str = "title: text"
    rules: tuple[Apart | AtLeastOne | Needs, ...] = ()
    elsewhere: Mapping[str, Wrong] = field(default_factory=dict)

    @cached_property
    def needed(self) -> tuple[str, ...]:
        """The keys that must be there."""
        return tuple(name for name, key in self.keys.items() if key.needed)


@dataclass(frozen=True, eq=False)
class Cases:
    """A mapping that follows the table of the first of some words that it has; with none of them, `otherwise`.

    `none` tells what is wrong where none of them is there and there is no `otherwise`; `meant` gives the word for
    what others write.
    """

    what: str
    cases: Mapping[str, KeyTable]
    write: str
    otherwise: KeyTable | None = None
    none: Wrong | None = None
    meant: Mapping[str, str] = field(default_factory=dict)


Form = Text | Texts | PlainNumber | OneOf | ByName | Listed | KeyTable | Cases
"""What may stand behind a key."""

NAME: Final = Spelling(
    re.compile(r"[a-z][a-z0-9_]*", re.ASCII),
    "is made of small letters, digits and _, and begins with a letter",
    "check_airflow",
)
"""What a node, or an entry of the catalogue, may be called, so that it can be typed and found."""


def sample(name: str, key: Key | None) -> str:
    """Return how a key may be written, for a hint."""
    if key is None:
        return f"{name}: text"
    return key.write or f"{name}: {key.examples[0] if key.examples else 'text'}"
