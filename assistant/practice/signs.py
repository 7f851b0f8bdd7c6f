"""How the readings move with each fault: the change of seven quantities against a sound system in the same weather."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

from assistant.errors import PhysicsError
from assistant.practice.faults import FAULTS, Had
from assistant.practice.system import System, Wish, practice_system

QUANTITIES: Final = (
    "evaporating",
    "superheat",
    "condensing",
    "subcooling",
    "discharge",
    "air rise",
    "air drop",
)
"""What is compared, in the order of the published tables of fault detection."""


@dataclass(frozen=True, slots=True)
class Moved:
    """A fault, and how each quantity has moved [K]; empty where the system would not run."""

    fault: Had
    changes: tuple[float, ...]


def features(found: System) -> tuple[float, ...]:
    """The seven quantities of a system [K]."""
    truth, readings = found.truth, found.readings
    return (
        truth.evaporating_temperature,
        truth.superheat,
        truth.condensing_temperature,
        truth.subcooling,
        readings["discharge_line_temperature"],
        readings["condenser_leaving_air_temperature"] - readings["outdoor_air_temperature"],
        readings["return_air_dry_bulb"] - readings["supply_air_dry_bulb"],
    )


def changes(wish: Wish) -> Iterator[Moved]:
    """Every fault of a device at its usual severity, alone, against the same system without it.

    Raises:
        InputError: a name that there is not.
        PhysicsError: outside what the system is made for.
    """
    sound = features(practice_system(replace(wish, faults=())))
    for fault in FAULTS.values():
        if fault.device not in ("", wish.device):
            continue
        had = Had(fault, fault.usual)
        try:
            found = features(practice_system(replace(wish, faults=(had,))))
        except PhysicsError:
            yield Moved(had, ())
            continue
        yield Moved(had, tuple(after - before for before, after in zip(sound, found, strict=True)))
