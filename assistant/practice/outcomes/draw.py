"""Simulated calls drawn by number: system, weather, and one fault or none, each with its severity.

The call of a number and a seed is always the same, whatever else is drawn. All ranges are chosen.
"""

import math
import random
from collections.abc import Mapping
from dataclasses import replace
from typing import Final

from assistant.errors import PhysicsError
from assistant.practice.visit.site import Hidden, Site, guises, steady
from assistant.quantity import fahrenheit
from assistant.simulator.faults import FAULTS, Fault, with_severity
from assistant.simulator.plant import DeviceKind, Mode
from assistant.simulator.readings import Truth
from assistant.simulator.system import Wish
from assistant.simulator.vapour import modelled_designations
from assistant.thermo.air import from_relative_humidity

SOUND_SHARE: Final = 0.15
"""Share of the calls at which there is nothing to find."""
_SEVERITY: Final = (0.6, 1.6)
_BACKWARDS: Final = 0.4
"""Share of the faults that can go both ways which go the other one."""
HEAT_PUMP_SHARE: Final = 0.3
"""Share of the systems that cool which are heat pumps."""
_OUTDOOR: Final[Mapping[Mode, tuple[float, float]]] = {"cooling": (68.0, 110.0), "heating": (17.0, 55.0)}
_RETURN: Final[Mapping[Mode, tuple[float, float]]] = {"cooling": (72.0, 84.0), "heating": (62.0, 72.0)}
_HUMIDITY: Final[Mapping[Mode, tuple[float, float]]] = {"cooling": (0.4, 0.7), "heating": (0.3, 0.5)}
_SIZES: Final = (1.5, 2.0, 2.5, 3.0, 3.5, 4.0, 5.0)
_DEVICES: Final[tuple[DeviceKind, ...]] = ("txv", "fixed_orifice")


def draw_site(seed: int, number: int, mode: Mode = "cooling") -> Site:
    """Return the system of a simulated call, with what is hidden in it."""
    chance = random.Random(f"outcomes {mode} {seed} {number}")
    device = chance.choice(_DEVICES)
    heating = mode == "heating"
    heat_pump = heating or chance.random() < HEAT_PUMP_SHARE
    indoors = fahrenheit(chance.uniform(*_RETURN[mode]))
    wish = Wish(
        refrigerant=chance.choice(modelled_designations()),
        tons=chance.choice(_SIZES),
        device=device,
        outdoor=fahrenheit(chance.uniform(*_OUTDOOR[mode])),
        return_dry_bulb=indoors,
        return_wet_bulb=from_relative_humidity(indoors, chance.uniform(*_HUMIDITY[mode])).wet_bulb,
        mode=mode,
        heat_pump=heat_pump,
    )
    if chance.random() < SOUND_SHARE:
        return Site(wish)
    fitting = [one for one in guises(heat_pump=heat_pump, heating=heating) if FAULTS[one.fault].device in ("", device)]
    cause = chance.choice(sorted({one.cause for one in fitting}))
    guise = chance.choice([one for one in fitting if one.cause == cause])
    fault = FAULTS[guise.fault]
    hidden = Hidden(cause, with_severity(fault, _severity(chance, fault)), guise.place, chance.choice(guise.looks))
    return Site(wish, (hidden,))


def _severity(chance: random.Random, fault: Fault) -> float:
    share = chance.uniform(*_SEVERITY)
    if fault.low < 0.0 and chance.random() < _BACKWARDS:
        return max(fault.low, fault.low * share / _SEVERITY[1])
    return min(max(fault.usual * share, fault.low), fault.high)


def cost_of(site: Site) -> float:
    """Return the share of capacity or of efficiency, whichever is more, that the faults take in this weather.

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
    capacity = _delivery(spoilt) / _delivery(sound)
    efficiency = capacity * sound.total_power / spoilt.total_power
    return max(0.0, 1.0 - min(capacity, efficiency))


def _delivery(truth: Truth) -> float:
    """Return what the house gets [W]: cooling, or heating."""
    return truth.net_cooling if math.isnan(truth.net_heating) else truth.net_heating
