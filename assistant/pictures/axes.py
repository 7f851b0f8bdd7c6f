"""Round numbers for the ticks of an axis."""

import math
from collections.abc import Iterator

from assistant.quantity import Unit, in_unit

_STEPS = (1.0, 2.0, 2.5, 5.0, 10.0)
_LEADS = (1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0)


def even_ticks(low: float, high: float, most: int) -> tuple[float, ...]:
    """Round numbers from `low` to `high`, evenly spaced, at most about `most` of them."""
    if not high > low or most < 1:
        return ()
    rough = (high - low) / most
    power = 10.0 ** math.floor(math.log10(rough))
    step = next(power * lead for lead in _STEPS if power * lead >= rough * (1 - 1e-9))
    first = math.ceil(low / step - 1e-9)
    last = math.floor(high / step + 1e-9)
    return tuple(number * step for number in range(first, last + 1))


def pressure_ticks(low: float, high: float, unit: Unit, atmosphere: float) -> tuple[tuple[float, str], ...]:
    """Absolute pressures [Pa] in a range whose numbers in `unit` are round, each with its number; zero counts."""
    bottom, top = in_unit(low, unit, atmosphere), in_unit(high, unit, atmosphere)
    return tuple(
        (unit.to_si(number) + (atmosphere if unit.gauge else 0.0), f"{number:g}")
        for number in _round_numbers(top)
        if bottom <= number <= top
    )


def _round_numbers(top: float) -> Iterator[float]:
    yield 0.0
    power = 1.0
    while power <= top:
        yield from (power * lead for lead in _LEADS)
        power *= 10.0
