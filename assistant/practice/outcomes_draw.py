"""Simulated calls drawn by number: system, weather, and one fault or none, each with its severity.

The call of a number and a seed is always the same, whatever else is drawn. All ranges are chosen.
"""

import random
from dataclasses import replace
from typing import Final

from assistant.errors import PhysicsError
from assistant.practice.faults import FAULTS, Fault, had
from assistant.practice.plant import DeviceKind, fahrenheit
from assistant.practice.site import Hidden, Site, guises, steady
from assistant.practice.system import Wish
from assistant.practice.vapour import modelled
from assistant.thermo.air import from_relative_humidity

SOUND_SHARE: Final = 0.15
"""Share of the calls at which there is nothing to find."""
_SEVERITY: Final = (0.6, 1.6)
_BACKWARDS: Final = 0.4
"""Share of the faults that can go both ways which go the other one."""
_OUTDOOR: Final = (68.0, 110.0)
_RETURN: Final = (72.0, 84.0)
_HUMIDITY: Final = (0.4, 0.7)
_SIZES: Final = (1.5, 2.0, 2.5, 3.0, 3.5, 4.0, 5.0)
_DEVICES: Final[tuple[DeviceKind, ...]] = ("txv", "fixed_orifice")


def drawn_site(seed: int, number: int) -> Site:
    """The system of a simulated call, with what is hidden in it."""
    chance = random.Random(f"outcomes {seed} {number}")
    device = chance.choice(_DEVICES)
    indoors = fahrenheit(chance.uniform(*_RETURN))
    wish = Wish(
        refrigerant=chance.choice(modelled()),
        tons=chance.choice(_SIZES),
        device=device,
        outdoor=fahrenheit(chance.uniform(*_OUTDOOR)),
        return_dry_bulb=indoors,
        return_wet_bulb=from_relative_humidity(indoors, chance.uniform(*_HUMIDITY)).wet_bulb,
    )
    if chance.random() < SOUND_SHARE:
        return Site(wish)
    fitting = [one for one in guises() if FAULTS[one.fault].device in ("", device)]
    cause = chance.choice(sorted({one.cause for one in fitting}))
    guise = chance.choice([one for one in fitting if one.cause == cause])
    fault = FAULTS[guise.fault]
    hidden = Hidden(cause, had(fault, _severity(chance, fault)), guise.place, chance.choice(guise.looks))
    return Site(wish, (hidden,))


def _severity(chance: random.Random, fault: Fault) -> float:
    share = chance.uniform(*_SEVERITY)
    if fault.low < 0.0 and chance.random() < _BACKWARDS:
        return max(fault.low, fault.low * share / _SEVERITY[1])
    return min(max(fault.usual * share, fault.low), fault.high)


def cost_of(site: Site) -> float:
    """The share of capacity or of efficiency, whichever is more, that the faults take in this weather.

    Where the sound system would not run in this weather, all of it: then nothing can be weighed against.

    Raises:
        PhysicsError: it does not run.
    """
    if not site.hidden:
        return 0.0
    spoilt = steady(site).system.truth
    try:
        sound = steady(replace(site, hidden=())).system.truth
    except PhysicsError:
        return 1.0
    capacity = spoilt.net_cooling / sound.net_cooling
    efficiency = capacity * sound.total_power / spoilt.total_power
    return max(0.0, 1.0 - min(capacity, efficiency))
