"""How readings go from one steady state to the next: pressures within minutes, pipes later, the charge last.

Each reading follows by two first-order parts: most of the change comes with the reading's own time constant, the rest
with that of refrigerant that moves between the coils. Stopped, both pressures go to the one at which the refrigerant
stands at outdoor temperature, as behind a valve that bleeds, and every pipe to the air around it.

Source: common practice asks for 15 minutes after a start; the time constants are chosen so that less than a fiftieth of
a change is left by then.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Literal

Pace = Literal["start", "stop", "charge", "air", "bulb"]
"""What has changed: it decides how much of the change waits for refrigerant to move."""

_SLOW_SHARE: Final[Mapping[Pace, float]] = {"start": 0.35, "stop": 0.3, "charge": 0.5, "air": 0.25, "bulb": 0.1}
_SLOW: Final = 4.5
_AT_REST: Final = 6.0
_OWN: Final[Mapping[str, float]] = {
    "suction_pressure": 0.6,
    "liquid_pressure": 1.2,
    "hot_gas_pressure": 1.2,
    "suction_line_temperature": 1.5,
    "evaporator_outlet_temperature": 1.2,
    "liquid_line_temperature": 2.0,
    "drier_inlet_temperature": 2.0,
    "drier_outlet_temperature": 2.0,
    "metering_inlet_temperature": 2.5,
    "discharge_line_temperature": 3.0,
    "supply_air_dry_bulb": 1.0,
    "supply_air_wet_bulb": 1.0,
    "condenser_leaving_air_temperature": 1.2,
    "reversing_valve_suction_in": 1.5,
    "reversing_valve_suction_out": 1.5,
    "idle_device_inlet_temperature": 2.0,
    "idle_device_outlet_temperature": 2.0,
    "compressor_current": 0.8,
}
"""Time constants [min]; what is not here follows at once."""
_PIPES_AT_REST: Final = 6.0

_OUTDOORS: Final = frozenset(
    {
        "suction_line_temperature",
        "liquid_line_temperature",
        "drier_inlet_temperature",
        "drier_outlet_temperature",
        "discharge_line_temperature",
        "condenser_leaving_air_temperature",
        "reversing_valve_suction_in",
        "reversing_valve_suction_out",
    }
)
_AT_DEVICE: Final = frozenset({"evaporator_outlet_temperature", "metering_inlet_temperature"})
"""Readings at the metering device that works: indoors in cooling, outdoors in heating."""
PRESSURES: Final = frozenset({"suction_pressure", "liquid_pressure", "hot_gas_pressure"})
_AT_IDLE: Final = frozenset({"idle_device_inlet_temperature", "idle_device_outlet_temperature"})


@dataclass(frozen=True, slots=True)
class Trace:
    """One reading on its way: where it goes, and what it lacked of that at the minute `since`, in two parts [SI]."""

    goal: float
    quick: float = 0.0
    slow: float = 0.0
    since: float = 0.0
    own: float = 0.0
    late: float = _SLOW

    def at(self, minute: float) -> float:
        """Return the reading [SI] at a minute."""
        passed = max(minute - self.since, 0.0)
        quick = self.quick * math.exp(-passed / self.own) if self.own > 0.0 else 0.0
        return self.goal + quick + self.slow * math.exp(-passed / self.late)


Traces = Mapping[str, Trace]


def rest_at(goals: Mapping[str, float]) -> dict[str, Trace]:
    """Return readings that have long come to rest at their goals [SI]."""
    return {name: Trace(goal) for name, goal in goals.items()}


def turn_towards(traces: Traces, goals: Mapping[str, float], minute: float, pace: Pace) -> dict[str, Trace]:
    """Return the same readings, from a minute on, on their way to other goals [SI]."""
    return {name: _turn_trace(name, traces.get(name), goal, minute, pace) for name, goal in goals.items()}


def _turn_trace(name: str, trace: Trace | None, goal: float, minute: float, pace: Pace) -> Trace:
    own = _OWN.get(name, 0.0)
    if trace is None or own == 0.0:
        return Trace(goal)
    lacking = trace.at(minute) - goal
    share = _SLOW_SHARE[pace]
    if pace == "stop":
        own = own * 2.0 if name.endswith("pressure") else _PIPES_AT_REST
    late = _AT_REST if pace == "stop" else _SLOW
    return Trace(goal, (1.0 - share) * lacking, share * lacking, minute, own, late)


def at_rest(readings: Mapping[str, float], *, heating: bool = False) -> dict[str, float]:
    """Return where the readings [SI] of a running system go when it stands."""
    goals = dict(readings)
    goals |= dict.fromkeys(PRESSURES & readings.keys(), readings["standing_pressure"])
    pipes = (_OUTDOORS | _AT_DEVICE | _AT_IDLE | {"supply_air_dry_bulb"}) & readings.keys()
    goals |= {name: surroundings(name, readings, heating=heating) for name in pipes}
    goals["supply_air_wet_bulb"] = readings["return_air_wet_bulb"]
    still = {"compressor_current", "indoor_airflow", "external_static_pressure"}
    return goals | dict.fromkeys(still & readings.keys(), 0.0)


def surroundings(name: str, readings: Mapping[str, float], *, heating: bool = False) -> float:
    """Return the air [K] that a thermometer feels before it sits in its place, or when it sits badly there."""
    outdoors = name in (_OUTDOORS | (_AT_DEVICE if heating else _AT_IDLE)) or name == "outdoor_air_temperature"
    return readings["outdoor_air_temperature" if outdoors else "return_air_dry_bulb"]
