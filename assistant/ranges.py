"""Saying what lies outside the range of a curve or formula, in the units of the reader."""

from collections.abc import Mapping
from typing import Final

from assistant.errors import OutOfRangeError
from assistant.quantity import SEA_LEVEL, Kind, UnitSystem, preferred_unit, show

_KIND_OF_SI: Final[Mapping[str, Kind]] = {"K": Kind.TEMPERATURE, "Pa": Kind.PRESSURE, "m": Kind.LENGTH}


def range_sentence(error: OutOfRangeError, system: UnitSystem, atmosphere: float = SEA_LEVEL) -> str:
    """What lies outside which range, in the units of a screen."""
    if error.unit not in _KIND_OF_SI:
        return str(error)
    unit = preferred_unit(_KIND_OF_SI[error.unit], system)
    bounds = [
        f"{word} {show(bound, unit, atmosphere)}"
        for word, bound in (("from", error.low), ("up to", error.high))
        if bound is not None
    ]
    value = show(error.value, unit, atmosphere)
    return f"{error.quantity} {value} is outside the range {' '.join(bounds)} ({error.source})."
