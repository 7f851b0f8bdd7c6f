"""Simulated calls drawn by number: system, weather, and one fault or none, each with its severity.

The call of a number and a seed is always the same, whatever else is drawn. All ranges are chosen.
"""

import random
from dataclasses import replace
from typing import Final

from assistant.errors import PhysicsError
from assistant.practice.faults import FAULTS, Had, had
from assistant.practice.plant import DeviceKind, fahrenheit
from assistant.practice.system import System, Wish, practice_system
from assistant.practice.vapour import modelled
from assistant.thermo.air import from_relative_humidity

SOUND_SHARE: Final = 0.15
"""Share of the calls at which there is nothing to find."""
_SEVERITY: Final = (0.6, 1.6)
_OUTDOOR: Final = (68.0, 110.0)
_RETURN: Final = (72.0, 84.0)
_HUMIDITY: Final = (0.4, 0.7)
_SIZES: Final = (1.5, 2.0, 2.5, 3.0, 3.5, 4.0, 5.0)
_DEVICES: Final[tuple[DeviceKind, ...]] = ("txv", "fixed_orifice")


def drawn_wish(seed: int, number: int) -> Wish:
    """The system of a simulated call."""
    chance = random.Random(f"outcomes {seed} {number}")
    device = chance.choice(_DEVICES)
    fitting = [fault for fault in FAULTS.values() if fault.device in ("", device)]
    faults: tuple[Had, ...] = ()
    if chance.random() >= SOUND_SHARE:
        fault = chance.choice(fitting)
        severity = fault.usual * chance.uniform(*_SEVERITY)
        faults = (had(fault, min(max(severity, fault.low), fault.high)),)
    indoors = fahrenheit(chance.uniform(*_RETURN))
    return Wish(
        refrigerant=chance.choice(modelled()),
        tons=chance.choice(_SIZES),
        device=device,
        outdoor=fahrenheit(chance.uniform(*_OUTDOOR)),
        return_dry_bulb=indoors,
        return_wet_bulb=from_relative_humidity(indoors, chance.uniform(*_HUMIDITY)).wet_bulb,
        faults=faults,
    )


def cost_of(system: System) -> float:
    """The share of capacity or of efficiency, whichever is more, that the faults take in this weather.

    Where the sound system would not run in this weather, all of it: then nothing can be weighed against.
    """
    if not system.wish.faults:
        return 0.0
    try:
        sound = practice_system(replace(system.wish, faults=(), charge=1.0)).truth
    except PhysicsError:
        return 1.0
    spoilt = system.truth
    capacity = spoilt.net_cooling / sound.net_cooling
    efficiency = capacity * sound.total_power / spoilt.total_power
    return max(0.0, 1.0 - min(capacity, efficiency))
