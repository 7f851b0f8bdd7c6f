"""What may be wrong: every fault that the simulated unit can have in this mode with this device, and how severe.

A cause is a fault of the circuit, or several that go by one name. How severe it is must not decide which it is, so the
severities reach as far as the simulated unit can show, and weigh less the further they are from the usual one.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from assistant.simulator.faults import FAULTS, Fault, PresentFault

SOUND: Final = "sound"
"""Nothing is wrong, or too little to matter."""
_SHARES: Final = (0.4, 1.0, 1.8, 3.2)
"""Severities that are tried first, over the usual one; those between are added where much happens."""
_BACKWARDS: Final = (-1.0, -0.5, -0.2)
"""The same below zero, over the least that there is."""
_FURTHER: Final[Mapping[str, float]] = {
    "liquid_line_restriction": 5.0,
    "check_valve_shut": 5.0,
    "restricted_ahead_of_port": 5.0,
    "suction_line_restricted": 2.0,
    "spring_set_wrong": 8.0,
    "low_airflow": 0.8,
    "orifice_too_small": 0.85,
    "compressor_not_pumping": 0.8,
}
"""Severities that are reached beyond what a practice system shows: where the range of one fault ended, another would
be named for it."""
_WHOLE: Final = frozenset({"valve_wrong_element"})
"""Faults of which there are only whole ones."""
_ELECTRONIC: Final[Mapping[str, str]] = {
    "txv_starving": "eev_stuck",
    "txv_stuck_open": "eev_stuck",
    "spring_set_wrong": "eev_settings_wrong",
    "bulb_loose": "eev_sensor_loose",
}
"""What a fault of the expansion valve is where a motor drives it: one that stands still, holds another superheat, or
feels the air about its sensor."""


@dataclass(frozen=True, slots=True)
class Suspect:
    """A fault that the unit may have, by the `cause` that it goes by, with the severities that are tried first."""

    cause: str
    fault: Fault
    severities: tuple[float, ...]

    @property
    def is_whole(self) -> bool:
        """Whether there is nothing between two severities."""
        return self.fault.name in _WHOLE


def suspects(device: str, *, heat_pump: bool | None) -> tuple[Suspect, ...]:
    """Return every fault that a unit can have, with a metering device by its fact: `txv`, `fixed_orifice`, `eev`.

    Where nobody knows whether it is a heat pump, what only a heat pump can have is among them.
    """
    electronic = device == "eev"
    kind = "txv" if electronic else device
    found = []
    for name, fault in FAULTS.items():
        if fault.device not in ("", kind) or (fault.heat_pump and heat_pump is False):
            continue
        cause = _ELECTRONIC.get(name) if electronic and fault.device else fault.cause
        if cause is not None:
            found.append(Suspect(cause, fault, _first_severities(fault)))
    return tuple(found)


def _first_severities(fault: Fault) -> tuple[float, ...]:
    if fault.low == fault.high:
        return (fault.low,)
    if fault.name in _WHOLE:
        return tuple(float(number) for number in range(round(fault.low), round(fault.high) + 1))
    high = _FURTHER.get(fault.name, fault.high)
    below = [share * -fault.low for share in _BACKWARDS] if fault.low < 0.0 else []
    above = [share * fault.usual for share in _SHARES if share * fault.usual < high]
    above.append(high)
    return tuple(sorted({round(one, 6) for one in (*below, *above) if one >= fault.low}))


def severity_density(fault: Fault, severity: float) -> float:
    """Return how common a severity is against the usual one, as a density that falls off slowly on both sides."""
    usual = fault.usual if severity >= 0.0 else min(fault.usual, -fault.low * 0.5)
    return 1.0 / (1.0 + (abs(severity) / (1.8 * usual)) ** 3)


def present(suspect: Suspect, severity: float) -> PresentFault:
    """Return the fault with a severity."""
    return PresentFault(suspect.fault, severity)
