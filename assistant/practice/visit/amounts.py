"""Amounts that are said with an act, as people type them."""

import math
import re
from collections.abc import Mapping
from typing import Final, Literal

from assistant.errors import InputError
from assistant.quantity import POUND

Amount = Literal["", "mass", "mass or plate", "share", "turns"]
"""What is said with an act: nothing, a mass, a mass or else the plate's charge, a share, turns of a spring."""

FORMS: Final[Mapping[Amount, str]] = {
    "mass": "a mass such as 0.5 lb, 8 oz or 230 g",
    "mass or plate": "a mass such as 6 lb 4 oz, or plate for the plate's charge",
    "share": "a share such as 30%",
    "turns": "turns in, such as 0.5, or out, such as -0.5",
}
_PLATE: Final = ("plate", "the plate", "as the plate says", "plate charge")
_MASSES: Final = {"lb": POUND, "lbs": POUND, "oz": POUND / 16.0, "g": 1e-3, "kg": 1.0}
_MASS = re.compile(r"\s*(\d{1,6}(?:\.\d{1,6})?)\s*(lbs?|oz|kg|g)\b", re.IGNORECASE | re.ASCII)
_NUMBER = re.compile(r"([+-]?\d{1,6}(?:\.\d{1,6})?)\s*(%?)(?:\s*turns?)?", re.IGNORECASE | re.ASCII)


def minute_words(minutes: float) -> str:
    """Minutes of a visit, whole; halves go up, so that a minute and what is waited after it add up."""
    return str(math.floor(minutes + 0.5))


def amount_of(kind: Amount, title: str, text: str) -> float | None:
    """Return an amount in kg, as a share of 1, or in turns, for an act of some title; `None` where nothing is typed.

    Raises:
        InputError: it cannot be read as such, or no amount belongs there.
    """
    typed = text.strip()[:60]
    if not typed or (kind == "mass or plate" and typed.casefold() in _PLATE):
        return None
    if not kind:
        raise InputError(f"To {title} takes no amount.")
    if kind.startswith("mass"):
        parts = list(_MASS.finditer(typed))
        if parts and "".join(part.group(0) for part in parts) == typed:
            return sum(float(part.group(1)) * _MASSES[part.group(2).lower()] for part in parts)
    elif found := _NUMBER.fullmatch(typed):
        share = found.group(2) == "%"
        if not (share and kind == "turns"):
            return float(found.group(1)) / (100.0 if share else 1.0)
    raise InputError(f"{typed!r} is no amount here. Type {FORMS[kind]}.")
