"""The knobs of the valve bench: what each turns, how far, in which steps, and how a value for it is typed."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from assistant.errors import InputError
from assistant.practice.valve_bench.bench import Turned, rated_settings, rig, with_refrigerant
from assistant.quantity import (
    SEA_LEVEL,
    Kind,
    Unit,
    UnitSystem,
    difference_of,
    fahrenheit,
    in_unit,
    parse,
    preferred_unit,
    show,
)
from assistant.simulator.vapour import modelled_designations
from assistant.thermo.refrigerants import find_refrigerant

AT_RATING: Final = "Pressures and spring are those of {} at its rating point."
COARSE: Final = 10
"""Steps that a coarse turn takes."""


@dataclass(frozen=True, slots=True)
class Knob:
    """One knob: `turns` is the field of `Turned`, `words` what may be typed for it, `steps` by system of units.

    The refrigerant is a knob without a kind.
    """

    name: str
    title: str
    turns: str
    words: tuple[str, ...]
    help: str
    kind: Kind | None = None
    steps: tuple[float, float] = (1.0, 1.0)

    def unit(self, system: UnitSystem) -> Unit:
        """Return the unit in which it is shown; a bare number is taken in it."""
        assert self.kind is not None
        return preferred_unit(self.kind, system)


REFRIGERANT: Final = Knob(
    "refrigerant", "Refrigerant", "refrigerant", ("refrigerant", "gas"), "sets pressures and spring to its rating point"
)
BULB: Final = Knob(
    "bulb", "Bulb temperature", "bulb", ("bulb temperature", "bulb"), "warmer pushes the pin open",
    Kind.TEMPERATURE, (1.0, 0.5),
)  # fmt: skip
EQUALIZER: Final = Knob(
    "equalizer", "Equalizer pressure", "equalizer", ("equalizer pressure", "equalizer"), "more pushes the pin shut",
    Kind.PRESSURE, (1.0, 10.0),
)  # fmt: skip
SPRING: Final = Knob(
    "spring", "Spring at the seat", "spring", ("spring at the seat", "spring pressure", "spring"),
    "more pushes the pin shut, so that it takes more superheat to open", Kind.PRESSURE_DIFFERENCE, (0.5, 5.0),
)  # fmt: skip
HEAD: Final = Knob(
    "head", "Head pressure", "head", ("head pressure", "head"), "more drives more through the same opening",
    Kind.PRESSURE, (5.0, 25.0),
)  # fmt: skip
SUBCOOLING: Final = Knob(
    "subcooling", "Subcooling", "subcooling", ("subcooling", "liquid"), "of the liquid at the device",
    Kind.TEMPERATURE_DIFFERENCE, (1.0, 0.5),
)  # fmt: skip
FLASH: Final = Knob(
    "flash", "Flash gas", "flash", ("flash gas", "flash", "vapour"),
    "vapour among the liquid, which then has no subcooling", Kind.FRACTION, (1.0, 1.0),
)  # fmt: skip
LOAD: Final = Knob(
    "load",
    "Load",
    "load",
    ("load", "air", "airflow"),
    "air over the coil, of the rated flow",
    Kind.FRACTION,
    (5.0, 5.0),
)
WET_BULB: Final = Knob(
    "wet_bulb", "Return wet bulb", "wet_bulb", ("return wet bulb", "wet bulb", "wet-bulb", "wet_bulb", "wet"),
    "moister air is more load", Kind.TEMPERATURE, (1.0, 0.5),
)  # fmt: skip

BY_HAND: Final = (BULB, EQUALIZER, SPRING, HEAD, SUBCOOLING, FLASH, REFRIGERANT)
ON_THE_COIL: Final = (LOAD, WET_BULB, HEAD, SUBCOOLING, FLASH, SPRING, REFRIGERANT)
"""The knobs by view, in the order of the screen."""
EVERY: Final = (BULB, EQUALIZER, SPRING, HEAD, SUBCOOLING, FLASH, LOAD, WET_BULB, REFRIGERANT)

_BY_WORD: Final[Mapping[str, Knob]] = {word: knob for knob in EVERY for word in knob.words}
_MOST_SUPERHEAT: Final = 30.0 * 5.0 / 9.0


def knob_named(words: str) -> Knob | None:
    """Return the knob that answers to some words."""
    return _BY_WORD.get(" ".join(words.casefold().split()))


def knob_leading(text: str) -> tuple[Knob, str] | None:
    """Return the knob that a typed line begins with, and what stands behind it."""
    line = " ".join(text.split())
    for word in sorted(_BY_WORD, key=len, reverse=True):
        if line.casefold().startswith(word) and not line[len(word) : len(word) + 1].isalpha():
            return _BY_WORD[word], line[len(word) :].lstrip(" =:")
    return None


def bounds(turned: Turned, knob: Knob) -> tuple[float, float]:
    """Return how far a knob turns, in SI."""
    parts, at = rig(turned.refrigerant), rated_settings(turned.refrigerant)
    curves = parts.fluid.curves
    match knob.name:
        case "bulb":
            return fahrenheit(-20.0), fahrenheit(120.0)
        case "equalizer":
            return curves.dew_pressure(fahrenheit(-30.0)), curves.dew_pressure(fahrenheit(75.0))
        case "spring":
            evaporating = curves.dew_temperature(at.equalizer)
            return 0.0, curves.dew_pressure(evaporating + _MOST_SUPERHEAT) - at.equalizer
        case "head":
            return curves.bubble_pressure(fahrenheit(60.0)), curves.bubble_pressure(fahrenheit(145.0))
        case "subcooling":
            return 0.0, 35.0 * 5.0 / 9.0
        case "flash":
            return 0.0, 0.3
        case "load":
            return 0.2, 2.0
        case _:
            return fahrenheit(50.0), turned.return_air


def show_setting(turned: Turned, knob: Knob, system: UnitSystem) -> str:
    """Return what a knob stands at."""
    if knob.kind is None:
        return turned.refrigerant
    return show(getattr(turned, knob.turns), knob.unit(system))


def turn_by_steps(turned: Turned, knob: Knob, steps: int, system: UnitSystem) -> tuple[Turned, str]:
    """Return a knob turned by steps, on whole ones from where it stood; and what is to be said of it, if anything."""
    if knob.kind is None:
        names = modelled_designations()
        place = (names.index(turned.refrigerant) + (1 if steps > 0 else -1)) % len(names)
        return with_refrigerant(turned, names[place]), AT_RATING.format(names[place])
    unit = knob.unit(system)
    step = knob.steps[0 if system == "us" else 1]
    number = in_unit(getattr(turned, knob.turns), unit) / step
    # What was typed or rated may lie between two steps: the first turn goes to the next one.
    whole = math.floor(number + 1e-6) if steps > 0 else math.ceil(number - 1e-6)
    wanted = unit.to_si((whole + steps) * step) + (SEA_LEVEL if unit.gauge else 0.0)
    low, high = bounds(turned, knob)
    said = "" if low <= wanted <= high else _goes(turned, knob, system)
    return turned.at(knob.turns, min(max(wanted, low), high)), said


def turn_by_amount(turned: Turned, knob: Knob, text: str, system: UnitSystem, sign: float) -> Turned:
    """Return a knob turned up or down by a typed amount.

    Raises:
        InputError: not an amount, or beyond the end of the knob.
    """
    if knob.kind is None:
        raise InputError("A refrigerant is chosen by its name.")
    kind = difference_of(knob.kind)
    amount = parse(text, kind, preferred_unit(kind, system).symbol).value
    return _set_within(turned, knob, getattr(turned, knob.turns) + sign * amount, system)


def set_typed(turned: Turned, knob: Knob, text: str, system: UnitSystem) -> Turned:
    """Return a knob set to a typed value, a bare number in the unit of the screen.

    Raises:
        InputError: not a value for this knob, or beyond its end.
        PhysicsError: a refrigerant that is known but not modelled.
    """
    if knob.kind is None:
        return with_refrigerant(turned, find_refrigerant(text).designation)
    value = parse(text, knob.kind, knob.unit(system).symbol).absolute(SEA_LEVEL)
    return _set_within(turned, knob, value, system)


def _set_within(turned: Turned, knob: Knob, value: float, system: UnitSystem) -> Turned:
    low, high = bounds(turned, knob)
    slack = 1e-9 * abs(high)
    if not low - slack <= value <= high + slack:
        raise InputError(_goes(turned, knob, system))
    return turned.at(knob.turns, min(max(value, low), high))


def _goes(turned: Turned, knob: Knob, system: UnitSystem) -> str:
    low, high = (show(end, knob.unit(system)) for end in bounds(turned, knob))
    return f"{knob.title} goes from {low} to {high} here."
