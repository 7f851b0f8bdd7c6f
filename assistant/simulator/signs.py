"""How the readings move with each fault: the change of seven quantities against a sound system in the same weather.

Why they move as they do stands in `signs.md`, fault by fault.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Final

from assistant.errors import PhysicsError
from assistant.simulator.faults import FAULTS, PresentFault
from assistant.simulator.plant import Mode
from assistant.simulator.system import System, Wish, practice_system

_BOTH = ("evaporating", "superheat", "condensing", "subcooling", "discharge")
QUANTITIES: Final[Mapping[Mode, tuple[str, ...]]] = {
    "cooling": (*_BOTH, "air rise", "air drop"),
    "heating": (*_BOTH, "air rise", "valve gain"),
}
"""What is compared. In cooling as in the published tables of fault detection, with the rise of the outdoor air and the
drop of the indoor air; in heating the rise of the indoor air and what the suction gas warms in the reversing valve."""
NEUTRAL: Final = 0.5
"""Change [K] up to which a quantity counts as unmoved; chosen."""


@dataclass(frozen=True, slots=True)
class FaultSigns:
    """A fault, and how each quantity has moved [K]; empty where the system would not run."""

    fault: PresentFault
    changes: tuple[float, ...]


def features(found: System) -> tuple[float, ...]:
    """Return the seven quantities of a system [K], as named for its mode."""
    truth, readings = found.truth, found.readings
    common = (
        truth.evaporating_temperature,
        truth.superheat,
        truth.condensing_temperature,
        truth.subcooling,
        readings["discharge_line_temperature"],
    )
    warmed = readings["supply_air_dry_bulb"] - readings["return_air_dry_bulb"]
    if found.wish.mode == "heating":
        gain = readings["reversing_valve_suction_out"] - readings["reversing_valve_suction_in"]
        return (*common, warmed, gain)
    rise = readings["condenser_leaving_air_temperature"] - readings["outdoor_air_temperature"]
    return (*common, rise, -warmed)


def changes(wish: Wish) -> Iterator[FaultSigns]:
    """Yield every fault of a device at its usual severity, alone, against the same system without it.

    Raises:
        InputError: a name that there is not.
        PhysicsError: outside what the system is made for.
    """
    sound = {
        heat_pump: features(practice_system(replace(wish, faults=(), heat_pump=heat_pump or wish.heat_pump)))
        for heat_pump in (False, True)
    }
    for fault in FAULTS.values():
        if fault.device not in ("", wish.device):
            continue
        had = PresentFault(fault, fault.usual)
        try:
            found = features(practice_system(replace(wish, faults=(had,))))
        except PhysicsError:
            yield FaultSigns(had, ())
            continue
        before = sound[fault.heat_pump]
        yield FaultSigns(had, tuple(after - start for start, after in zip(before, found, strict=True)))


def sign(change: float) -> str:
    """Return which way a quantity has moved, from its change [K]: `+`, `-`, or `0` where that is hardly to be seen."""
    return "0" if abs(change) <= NEUTRAL else "+" if change > 0.0 else "-"
