"""One knob turned through its range, all else as it stands: how each device answers on the coil."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from assistant.pictures.axes import even_ticks
from assistant.practice.valve_bench.bench import Turned, rig
from assistant.practice.valve_bench.coil import Found, settle_all
from assistant.practice.valve_bench.knobs import FLASH, HEAD, LOAD, SPRING, SUBCOOLING, WET_BULB, Knob, bounds
from assistant.quantity import SEA_LEVEL, UnitSystem, fahrenheit, in_unit

SWEPT: Final = (LOAD, HEAD, WET_BULB, SUBCOOLING, FLASH, SPRING)
"""The knobs that can be swept, in the order in which a key goes through them."""
PLACES: Final = 14

_BY_NAME: Final[Mapping[str, Knob]] = {knob.name: knob for knob in SWEPT}


@dataclass(frozen=True, slots=True)
class SweepPlace:
    """One place of a sweep: the knob's value [SI], and what was found there."""

    value: float
    found: tuple[Found, ...]


def swept_knob(name: str) -> Knob:
    """Return a knob that can be swept, by its name.

    Raises:
        KeyError: it cannot be swept.
    """
    return _BY_NAME[name]


def places(turned: Turned, knob: Knob, system: UnitSystem) -> tuple[float, ...]:
    """Return the values [SI] of a sweep, round numbers in the unit of the screen."""
    unit = knob.unit(system)
    low, high = (in_unit(end, unit) for end in _ends(turned, knob))
    ticks = even_ticks(low, high, PLACES)
    lowest, highest = bounds(turned, knob)
    values = (unit.to_si(tick) + (SEA_LEVEL if unit.gauge else 0.0) for tick in ticks)
    return tuple(min(max(value, lowest), highest) for value in values)


def _ends(turned: Turned, knob: Knob) -> tuple[float, float]:
    """Return where a sweep begins and ends: what a system may meet, rather than all that the knob can do."""
    curves = rig(turned.refrigerant).fluid.curves
    low, high = bounds(turned, knob)
    match knob.name:
        case "load":
            return 0.3, 1.7
        case "head":
            return curves.bubble_pressure(fahrenheit(75.0)), curves.bubble_pressure(fahrenheit(140.0))
        case "wet_bulb":
            return fahrenheit(55.0), fahrenheit(75.0)
        case "flash":
            return low, 0.8 * high
        case "spring":
            return 0.0, high / 2.0
        case _:
            return low, high


def sweep(turned: Turned, knob: Knob, system: UnitSystem) -> Iterator[SweepPlace]:
    """Yield the places of a sweep one after the other, each from the one before."""
    near: tuple[Found, ...] = ()
    for value in places(turned, knob, system):
        near = settle_all(turned.at(knob.turns, value), near)
        yield SweepPlace(value, near)
