"""The steady state of a plant: three unknowns, three balances.

Unknown are suction pressure, condensing pressure and the enthalpy of the suction gas. Balanced are the flow of
compressor and metering device, the heat of the suction gas, and the charge. When Newton's method does not settle, the
way there is walked in smaller changes from the rating point.

Pressures absolute [Pa], temperatures [K], enthalpies [J/kg].
"""

import math
from collections.abc import Callable
from dataclasses import dataclass, fields, is_dataclass, replace
from functools import lru_cache, partial
from typing import Any, TypeVar

from assistant.errors import PhysicsError
from assistant.simulator.circuit import Circuit, work_circuit
from assistant.simulator.metering import ExpansionValve, valve_flux
from assistant.simulator.newton import Point, Slopes, newton, slopes_at
from assistant.simulator.plant import (
    RATED_BUBBLE,
    RATED_DEW,
    RATED_SUBCOOLING,
    RATED_SUPERHEAT,
    Conditions,
    DeviceKind,
    Mode,
    Plant,
    rating_conditions,
    size_device,
    size_plant,
)
from assistant.simulator.refrigerant import saturation_ends
from assistant.simulator.structure import USUAL, Structure
from assistant.thermo.air import MoistAir, from_humidity_ratio, saturated_humidity_ratio


@lru_cache(maxsize=256)
def sound_plant(
    refrigerant: str,
    tons: float,
    kind: DeviceKind,
    mode: Mode = "cooling",
    heat_pump: bool = False,
    structure: Structure = USUAL,
) -> tuple[Plant, Circuit]:
    """Return a sound system in a mode, filled with the charge that it holds at its rating point for cooling.

    With it its state at the rating point of the mode. What heats is a heat pump.

    Raises:
        UnknownNameError: no such refrigerant, or none to practise on.
        OutOfRangeError: outside 1.5 to 5 tons.
        InputError: no such metering device.
    """
    if mode == "heating":
        return _for_heating(sound_plant(refrigerant, tons, kind, "cooling", True, structure)[0])
    plant = size_plant(refrigerant, tons, kind, heat_pump, structure)
    fluid = plant.fluid
    suction = fluid.curves.dew_pressure(RATED_DEW - 1.0)
    arriving = fluid.enthalpy(suction, RATED_DEW + RATED_SUPERHEAT + 1.5)
    point = (math.log(suction), math.log(fluid.curves.bubble_pressure(RATED_BUBBLE)), arriving)
    first = work_circuit(plant, rating_conditions(), point)
    filled = replace(plant, rated_charge=first.held, charge=first.held)
    return filled, settle(filled, rating_conditions(), point)


def _for_heating(cooling: Plant) -> tuple[Plant, Circuit]:
    """Return the same machine with its coils changed over, and a device for heating that gives the rated superheat."""
    fluid = cooling.fluid
    plant = replace(cooling, mode="heating", condenser=cooling.evaporator, evaporator=cooling.condenser)
    conditions = rating_conditions("heating")

    def apart(found: Circuit) -> Point:
        dry = fluid.enthalpy(found.coil_outlet, saturation_ends(fluid, found.coil_outlet).dew + RATED_SUPERHEAT)
        liquid = fluid.curves.liquid_enthalpy(
            saturation_ends(fluid, found.condensing_pressure).bubble - RATED_SUBCOOLING
        )
        warmth = (found.returned_enthalpy - found.suction_enthalpy) / 2e4
        return (found.evaporated.enthalpy - dry) / 2e4, warmth, (found.condensed.enthalpy - liquid) / 2e4

    suction = fluid.curves.dew_pressure(conditions.outdoor - 7.0)
    arriving = fluid.enthalpy(suction, conditions.outdoor)
    head = fluid.curves.bubble_pressure(conditions.indoor.dry_bulb + 20.0)
    start = (math.log(suction), math.log(head), arriving)
    _, found = newton(partial(work_circuit, plant, conditions), apart, start)
    rated = replace(
        plant,
        device=size_device(fluid, plant.kind, found.flow, found.feed, plant.structure),
        rated_fall=found.liquid_pressure - found.coil_outlet,
        rated_outlet=found.coil_outlet,
        full_area=found.flow / valve_flux(fluid, found.feed),
        stored=cooling.charge - found.held,
    )
    return rated, settle(rated, conditions, found.point)


def solve(plant: Plant, conditions: Conditions) -> Circuit:
    """Return the steady state of a plant under some conditions.

    Raises:
        PhysicsError: there is none that a running system could hold, or it lies outside the tables.
    """
    name = plant.fluid.curves.refrigerant.designation
    make = name, plant.tons, plant.kind, plant.mode, plant.heat_pump, plant.structure
    sound, start = sound_plant(*make)
    try:
        return settle(plant, conditions, _guess(plant, conditions, start), _rated_slopes(*make))
    except PhysicsError:
        return _walk(sound, plant, conditions, start.point)


@dataclass(frozen=True, slots=True)
class _RatedSlopes:
    """The slopes of a sound system at its rating point: as it is, a valve free to stand anywhere, a valve wide open."""

    whole: Slopes
    free: Slopes
    limited: Slopes


@lru_cache(maxsize=256)
def _rated_slopes(
    refrigerant: str, tons: float, kind: DeviceKind, mode: Mode, heat_pump: bool, structure: Structure
) -> _RatedSlopes:
    sound, at = sound_plant(refrigerant, tons, kind, mode, heat_pump, structure)
    work = partial(work_circuit, sound, rating_conditions(mode))
    apart: list[Callable[[Circuit], Point]] = [lambda found: found.residuals(sound)]
    if isinstance(sound.device, ExpansionValve):
        apart = [_free(sound, sound.device), _limited(sound, sound.device, 1.0)]
    found = [slopes_at(work, one, at.point, one(at)) for one in apart]
    return _RatedSlopes(found[0], found[0], found[-1])


T = TypeVar("T")


def mix(start: T, end: T, share: float) -> T:
    """Return the value at a share (0 to 1) of the way between two of one class, number by number.

    Whole numbers, names and functions are those of the end; at 1 it is the end itself.
    """
    if share >= 1.0 or start is end:
        return end
    if isinstance(start, float) and isinstance(end, float):
        return start + share * (end - start)  # type: ignore[return-value]
    if type(start) is not type(end) or not is_dataclass(end) or isinstance(end, type):
        return end
    parts: dict[str, Any] = {
        field.name: mix(getattr(start, field.name), getattr(end, field.name), share) for field in fields(end)
    }
    return replace(end, **parts)


def _weather_between(start: Conditions, end: Conditions, share: float) -> Conditions:
    """Weather part of the way: air has one state, so it is worked from temperature, water and pressure alone."""
    if share >= 1.0:
        return end
    there = mix(start, end, share)
    moist = None if there.outdoor_moist is None else _air(there.outdoor_moist)
    return replace(there, indoor=_air(there.indoor), outdoor_moist=moist)


def _air(mean: MoistAir) -> MoistAir:
    most = saturated_humidity_ratio(mean.dry_bulb, mean.pressure)
    return from_humidity_ratio(mean.dry_bulb, min(mean.humidity_ratio, most), mean.pressure)


def _guess(plant: Plant, conditions: Conditions, start: Circuit) -> Point:
    """Return where the weather moves the rating point to, roughly: the shares are those of a usual system."""
    rated, curves = rating_conditions(plant.mode), plant.fluid.curves
    outside, inside = conditions.outdoor - rated.outdoor, conditions.indoor.wet_bulb - rated.indoor.wet_bulb
    if plant.mode == "heating":
        hotter, colder = 0.25 * outside + conditions.indoor.dry_bulb - rated.indoor.dry_bulb, 0.85 * outside
    else:
        hotter, colder = 0.95 * outside, 0.1 * outside + 0.5 * inside
    try:
        suction = curves.dew_pressure(curves.dew_temperature(start.suction_pressure) + colder)
        head = curves.bubble_pressure(curves.bubble_temperature(start.condensing_pressure) + hotter)
    except PhysicsError:
        return start.point
    # Saturated vapour, and with it gas of the same superheat, is leaner by about 0.4 kJ for each kelvin colder.
    return math.log(suction), math.log(head), start.suction_enthalpy + 400.0 * colder


def settle(plant: Plant, conditions: Conditions, point: Point, slopes: _RatedSlopes | None = None) -> Circuit:
    """Return the steady state, from a point nearby; slopes of something alike make the way there shorter.

    A valve's opening jumps from shut to wide open within some kelvin, so its flow is a bad guide. First its forces are
    balanced as if the pin had no limit of travel; where that asks for more than there is, it stands at the limit. On a
    flooded coil the bulb feels no change that could guide the search: then the limits are tried.

    Raises:
        PhysicsError: none was found.
    """
    valve, work = plant.device, partial(work_circuit, plant, conditions)
    if not isinstance(valve, ExpansionValve):
        return newton(work, lambda at: at.residuals(plant), point, None if slopes is None else slopes.whole)[1]
    tries = [(valve.least, point), (1.0, point)] if 0.0 < valve.least < 1.0 else [(1.0, point)]
    if valve.least < 1.0:
        try:
            there, found = newton(work, _free(plant, valve), point, None if slopes is None else slopes.free)
        except PhysicsError:
            pass
        else:
            wanted = found.opening_wanted(valve)
            if valve.least <= wanted <= 1.0:
                return found
            limit = min(max(wanted, valve.least), 1.0)
            tries = [(limit, there), (limit, point)]
    for limit, start in tries:
        try:
            found = newton(work, _limited(plant, valve, limit), start, None if slopes is None else slopes.limited)[1]
        except PhysicsError:
            continue
        if abs(found.metered.opening - limit) < 1e-6:
            return found
    raise PhysicsError("the valve finds no place to stand")


def _free(plant: Plant, valve: ExpansionValve) -> Callable[[Circuit], Point]:
    """Return what is apart with a pin that has no limit of travel."""
    return lambda at: (at.valve_apart(valve), *at.residuals(plant)[1:])


def _limited(plant: Plant, valve: ExpansionValve, limit: float) -> Callable[[Circuit], Point]:
    """Return what is apart with a valve that stands open by `limit` (0 to 1)."""
    area = valve.open_area(limit) + valve.bypass
    return lambda at: ((area * at.metered.flux - at.flow) / plant.rated_flow, *at.residuals(plant)[1:])


def _walk(sound: Plant, plant: Plant, conditions: Conditions, point: Point) -> Circuit:
    """From the rating point in changes that are halved where they do not settle."""
    reached, step = 0.0, 0.25
    while True:
        there = min(reached + step, 1.0)
        partly = mix(sound, plant, there)
        try:
            found = settle(partly, _weather_between(rating_conditions(plant.mode), conditions, there), point)
        except PhysicsError:
            step /= 2.0
            if step < 0.01:
                raise PhysicsError(
                    "No steady state was found for this system: a real one would stop on a pressure switch or a"
                    " protector, or never settle. Try a milder fault or weather."
                ) from None
            continue
        if there == 1.0:
            return found
        reached, point = there, found.point
