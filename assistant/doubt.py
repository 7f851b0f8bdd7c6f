"""Numbers that know their doubt.

Propagation follows the GUM (JCGM 100:2008): first order, correlations kept, so that `x - x` has no doubt at all.
An instrument's accuracy "within ± a" is taken as a rectangular distribution, standard uncertainty a/√3
(GUM 4.3.7). What a person sees behind ± is the expanded uncertainty with coverage factor 2, about 95 %
(GUM 6.2, 6.3).
"""

import math
from collections.abc import Callable, Mapping
from typing import Final, TypeAlias

from assistant.errors import CoilsideError
from assistant.frozen import dataclass

COVERAGE: Final = 2.0
"""Coverage factor of every expanded uncertainty shown."""

_NUDGE: Final = 0.01  # of a standard uncertainty: small beside any bend, large beside rounding


class Source:
    """One independent cause of doubt, such as one reading; two of one label stay two."""

    __slots__ = ("label",)

    def __init__(self, label: str | None) -> None:
        self.label = label


@dataclass(frozen=True, slots=True)
class Doubtful:
    """A value and what each source moves it by, with its sign, for one standard uncertainty of that source."""

    value: float
    parts: Mapping[Source, float]

    def __neg__(self) -> "Doubtful":
        return _scaled(-self.value, self.parts, -1.0)

    def __add__(self, other: "Uncertain") -> "Doubtful":
        if isinstance(other, Doubtful):
            return _joined(self.value + other.value, self.parts, 1.0, other.parts, 1.0)
        return Doubtful(self.value + other, self.parts)

    __radd__ = __add__

    def __sub__(self, other: "Uncertain") -> "Doubtful":
        if isinstance(other, Doubtful):
            return _joined(self.value - other.value, self.parts, 1.0, other.parts, -1.0)
        return Doubtful(self.value - other, self.parts)

    def __rsub__(self, other: float) -> "Doubtful":
        return _scaled(other - self.value, self.parts, -1.0)

    def __mul__(self, other: "Uncertain") -> "Doubtful":
        if isinstance(other, Doubtful):
            return _joined(self.value * other.value, self.parts, other.value, other.parts, self.value)
        return _scaled(self.value * other, self.parts, other)

    __rmul__ = __mul__

    def __truediv__(self, other: "Uncertain") -> "Doubtful":
        if isinstance(other, Doubtful):
            ratio = self.value / other.value
            return _joined(ratio, self.parts, 1.0 / other.value, other.parts, -ratio / other.value)
        return _scaled(self.value / other, self.parts, 1.0 / other)

    def __rtruediv__(self, other: float) -> "Doubtful":
        return _scaled(other / self.value, self.parts, -other / self.value**2)


Uncertain: TypeAlias = float | Doubtful
"""A number that may have doubt. It adds, subtracts, multiplies and divides like a float."""


def _scaled(value: float, parts: Mapping[Source, float], slope: float) -> Doubtful:
    return Doubtful(value, {source: slope * part for source, part in parts.items()})


def _joined(
    value: float, parts: Mapping[Source, float], slope: float, others: Mapping[Source, float], other_slope: float
) -> Doubtful:
    joined = {source: slope * part for source, part in parts.items()}
    for source, part in others.items():
        joined[source] = joined.get(source, 0.0) + other_slope * part
    return Doubtful(value, joined)


def within(value: float, accuracy: float, label: str | None = None) -> Uncertain:
    """Return a reading known to lie within ± `accuracy` of `value`, in the unit of both; `label` names it in `shares`.

    Raises:
        ValueError: a negative accuracy.
    """
    if accuracy < 0:
        raise ValueError("an accuracy is not below zero")
    return Doubtful(value, {Source(label): accuracy / math.sqrt(3)}) if accuracy else float(value)


def lift(function: Callable[[float], tuple[float, float]]) -> Callable[[Uncertain], Uncertain]:
    """Make a function of one number carry doubt; it gives its value and its derivative."""

    def lifted(number: Uncertain) -> Uncertain:
        value, slope = function(nominal(number))
        return _scaled(value, number.parts, slope) if isinstance(number, Doubtful) else value

    return lifted


def lift_many(function: Callable[..., float]) -> Callable[..., Uncertain]:
    """Make a function of several numbers carry doubt; its derivatives are taken by differences (GUM 5.1.3 note 2)."""

    def lifted(*numbers: Uncertain) -> Uncertain:
        plain = [nominal(number) for number in numbers]
        value = function(*plain)
        parts: Mapping[Source, float] = {}
        for place, number in enumerate(numbers):
            spread = standard(number)
            if isinstance(number, Doubtful) and spread:
                slope = _slope(function, plain, value, place, max(_NUDGE * spread, 1e-9 * abs(number.value)))
                parts = _joined(value, parts, 1.0, number.parts, slope).parts
        return Doubtful(value, parts) if parts else value

    return lifted


def _slope(function: Callable[..., float], at: list[float], value: float, place: int, nudge: float) -> float:
    """Return a derivative by a central difference; at the end of the function's range by a one-sided one."""

    def moved(shift: float) -> float:
        return function(*at[:place], at[place] + shift, *at[place + 1 :])

    try:
        high = moved(nudge)
    except CoilsideError:
        return (value - moved(-nudge)) / nudge
    try:
        low = moved(-nudge)
    except CoilsideError:
        return (high - value) / nudge
    return (high - low) / (2 * nudge)


def shares(number: Uncertain) -> dict[str, float]:
    """Return how much of a number's variance each labelled source brings, 0 to 1, the largest first."""
    parts: dict[str, float] = {}
    for source, part in number.parts.items() if isinstance(number, Doubtful) else ():
        if source.label and part:
            parts[source.label] = parts.get(source.label, 0.0) + part**2
    total = sum(parts.values())
    return {label: part / total for label, part in sorted(parts.items(), key=lambda item: -item[1])}


def nominal(number: Uncertain) -> float:
    """Return the value itself."""
    return number.value if isinstance(number, Doubtful) else number


def standard(number: Uncertain) -> float:
    """Return the standard uncertainty, never negative."""
    return math.hypot(*number.parts.values()) if isinstance(number, Doubtful) else 0.0


def expanded(number: Uncertain) -> float:
    """Return the expanded uncertainty, coverage factor 2."""
    return COVERAGE * standard(number)


def probability_positive(number: Uncertain) -> float:
    """Return how likely the true value lies above zero, 0 to 1, from a normal distribution."""
    centre, spread = nominal(number), standard(number)
    if spread == 0:
        return 0.5 if centre == 0 else float(centre > 0)
    return 0.5 * (1 + math.erf(centre / (spread * math.sqrt(2))))


def is_close(margin: Uncertain) -> bool:
    """Tell whether a margin to a limit lies within its own expanded uncertainty: measurement cannot decide it."""
    spread = expanded(margin)
    return spread > 0 and abs(nominal(margin)) < spread
