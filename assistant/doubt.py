"""Numbers that know their doubt.

Propagation follows the GUM (JCGM 100:2008): first order, correlations kept, so that `x - x` has no doubt at all.
An instrument's accuracy "within ± a" is taken as a rectangular distribution, standard uncertainty a/√3
(GUM 4.3.7). What a person sees behind ± is the expanded uncertainty with coverage factor 2, about 95 %
(GUM 6.2, 6.3).

The `uncertainties` package does the propagation; nothing else imports it.
"""

import math
from collections.abc import Callable
from functools import lru_cache
from importlib import import_module
from types import ModuleType
from typing import Any, Final

COVERAGE: Final = 2.0
"""Coverage factor of every expanded uncertainty shown."""

Uncertain = Any
"""A number with doubt. It adds, subtracts, multiplies and divides like a float, and keeps its correlations."""


@lru_cache(maxsize=1)
def _library() -> ModuleType:
    """The package, loaded at the first number with doubt: it is not needed to ask the first question."""
    return import_module("uncertainties")


def warm_up() -> None:
    """Load what the first doubtful number needs, for a moment when nobody waits."""
    _library()


def exact(value: float) -> Uncertain:
    """A number without doubt, such as a limit: a plain float, which mixes with doubtful ones."""
    return float(value)


def within(value: float, accuracy: float, label: str | None = None) -> Uncertain:
    """A reading known to lie within ± `accuracy` of `value`, in the unit of both; `label` names it in `shares`."""
    if accuracy == 0:
        return exact(value)
    return _library().ufloat(value, accuracy / math.sqrt(3), label)


def lift(function: Callable[[float], float], slope: Callable[[float], float]) -> Callable[[Uncertain], Uncertain]:
    """A function of one number made to carry doubt, given its derivative."""
    wrapped = _library().wrap(function, [slope])
    return lambda x: wrapped(x)


def lift_many(function: Callable[..., float]) -> Callable[..., Uncertain]:
    """A function of several numbers made to carry doubt; its derivatives are taken numerically."""
    wrapped = _library().wrap(function)
    return lambda *numbers: wrapped(*numbers)


def shares(number: Uncertain) -> dict[str, float]:
    """How much of a number's variance each labelled reading brings, 0 to 1, the largest first."""
    parts: dict[str, float] = {}
    for variable, deviation in getattr(number, "error_components", dict)().items():
        if variable.tag and deviation:
            parts[variable.tag] = parts.get(variable.tag, 0.0) + float(deviation) ** 2
    total = sum(parts.values())
    return {label: part / total for label, part in sorted(parts.items(), key=lambda item: -item[1])}


def nominal(number: Uncertain) -> float:
    """The value itself; a plain float does not make the library load."""
    return float(number) if isinstance(number, int | float) else float(_library().nominal_value(number))


def standard(number: Uncertain) -> float:
    """The standard uncertainty, never negative."""
    return float(_library().std_dev(number))


def expanded(number: Uncertain) -> float:
    """The expanded uncertainty, coverage factor 2."""
    return COVERAGE * standard(number)


def probability_positive(number: Uncertain) -> float:
    """How likely the true value lies above zero, 0 to 1, from a normal distribution."""
    centre, spread = nominal(number), standard(number)
    if spread == 0:
        return 0.5 if centre == 0 else float(centre > 0)
    return 0.5 * (1 + math.erf(centre / (spread * math.sqrt(2))))


def is_close(margin: Uncertain) -> bool:
    """Whether a margin to a limit lies within its own expanded uncertainty, so that a measurement cannot decide it."""
    return standard(margin) > 0 and abs(nominal(margin)) < expanded(margin)
