"""A solved practice system as the answers of a call, by name and as typed.

Where a tree has something done and measured again, the system is solved as it is then: a loose bulb strapped, a bulb
held in the hand or in ice water. Which of these a tree asks for depends on the superheat at the bulb, so the successive
measurements are put in the order in which a check of the valve takes them.
"""

from dataclasses import replace
from typing import Final

from assistant.errors import PhysicsError
from assistant.practice.visit.observing import see_all
from assistant.practice.visit.site import site_of
from assistant.quantity import PSI, Kind, fahrenheit, preferred_unit, show
from assistant.simulator.plant import RATED_SUBCOOLING
from assistant.simulator.readings import KINDS
from assistant.simulator.system import System, practice_system

HAND: Final = fahrenheit(90.0)
"""Temperature [K] of a bulb in a bare hand; chosen."""
ICE: Final = fahrenheit(32.0)
"""Temperature [K] of a bulb in ice and water."""

_TAKEN_TWICE: Final = (
    "suction_pressure",
    "liquid_pressure",
    "suction_line_temperature",
    "liquid_line_temperature",
    "outdoor_air_temperature",
)
"""Readings that a tree has checked when they look odd, or takes once more with the compressor off."""
_ANSWERED = 3.0 * PSI
_RIGHT = (4.0 / 1.8, 13.0 / 1.8)
_LEAST_AIR = 350.0
"""Indoor air that makers ask for at the least [cfm a ton]; common practice."""
_SHUT_DOWN = 40.0 * PSI
"""How far the suction has fallen [Pa] where a closed valve leaves no steady state; chosen."""


def facts_of(system: System) -> dict[str, str]:
    """Return what the data plate and the site say, by name and as typed."""
    facts = {
        "refrigerant": system.plant.fluid.curves.refrigerant.designation,
        "metering_device": system.wish.device,
        "mode": system.wish.mode,
        "compressor_type": "scroll",
        "compressor_control": "one_speed",
        "power_supply": "single_phase",
        "unit_efficiency": "thirteen_to_fifteen",
        "altitude": show(system.wish.altitude, preferred_unit(Kind.LENGTH, "us")),
        "rated_static": "0.5 in wc",
        "least_airflow": f"{_LEAST_AIR * system.wish.tons:g} cfm",
    }
    if system.wish.is_heat_pump:
        facts["outdoor_metering_device"] = system.wish.device
    if system.wish.device == "txv":
        difference = preferred_unit(Kind.TEMPERATURE_DIFFERENCE, "us")
        facts |= {"equalizer": "external", "subcooling_target": show(RATED_SUBCOOLING, difference)}
    return facts


def answers_of(system: System) -> dict[str, tuple[str, ...]]:
    """Return readings and observations by name, as typed; several texts are successive measurements."""
    series: dict[str, tuple[float, ...]] = {
        name: (value, value) if name in _TAKEN_TWICE else (value,) for name, value in system.readings.items()
    }
    if system.wish.device == "txv" and system.wish.bulb_held_at is None:
        series |= _valve_check(system)
    shown = {name: _show(name, values, system) for name, values in series.items()}
    return shown | {name: (choice,) for name, choice in sights_of(system).items()}


def sights_of(system: System) -> dict[str, str]:
    """What eye and hand find at it, by name: each fault in its plainest guise, and a glass in the liquid line."""
    return see_all(site_of(system.wish))


def _show(name: str, values: tuple[float, ...], system: System) -> tuple[str, ...]:
    unit = preferred_unit(KINDS[name], "us")
    return tuple(show(value, unit, system.conditions.atmosphere) for value in values)


def _valve_check(system: System) -> dict[str, tuple[float, ...]]:
    """Suction pressure [Pa] and temperature beside the bulb [K] through the check of the valve."""
    pressures, temperatures = [system.readings["suction_pressure"]], [system.readings["evaporator_outlet_temperature"]]
    strapped = tuple(one for one in system.wish.faults if one.fault.name != "bulb_loose")
    if strapped != system.wish.faults:
        system = practice_system(replace(system.wish, faults=strapped))
        pressures.append(system.readings["suction_pressure"])
        temperatures.append(system.readings["evaporator_outlet_temperature"])
    steady, beside = pressures[-1], temperatures[-1]
    superheat = beside - system.truth.evaporating_temperature
    low, high = _RIGHT
    if superheat < low:
        return _series([*pressures, _hold_bulb(system, ICE), steady], [*temperatures, beside])
    warm, filled = _hold_bulb(system, HAND), _beside(system, HAND)
    if warm - steady > _ANSWERED:
        return _series([*pressures, warm, steady], [*temperatures, filled, beside])
    # Where the hand does nothing, a starved valve is tapped before ice water is tried.
    tapped = [steady] if superheat > high else []
    return _series([*pressures, warm, *tapped, _hold_bulb(system, ICE)], [*temperatures, filled])


def _series(pressures: list[float], temperatures: list[float]) -> dict[str, tuple[float, ...]]:
    return {"suction_pressure": tuple(pressures), "evaporator_outlet_temperature": tuple(temperatures)}


def _hold_bulb(system: System, temperature: float) -> float:
    """Suction pressure [Pa] with the bulb held at a temperature [K]."""
    try:
        return practice_system(replace(system.wish, bulb_held_at=temperature)).readings["suction_pressure"]
    except PhysicsError:
        return max(system.readings["suction_pressure"] - _SHUT_DOWN, system.conditions.atmosphere)


def _beside(system: System, temperature: float) -> float:
    """Return the temperature [K] of the pipe beside the bulb while that is held at a temperature [K]."""
    try:
        held = practice_system(replace(system.wish, bulb_held_at=temperature))
    except PhysicsError:
        held = system
    return held.readings["evaporator_outlet_temperature"]
