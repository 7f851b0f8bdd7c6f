"""The steady state of a plant: three unknowns, three balances.

Unknown are suction pressure, condensing pressure and the enthalpy of the suction gas. Balanced are the flow of
compressor and metering device, the heat of the suction gas, and the charge. Newton's method with a step that is cut
until it helps; when that does not settle, the way there is walked in smaller changes from the rating point.
Pressures absolute [Pa], temperatures [K], enthalpies [J/kg].
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from assistant.errors import PhysicsError
from assistant.practice import coils
from assistant.practice.between import between
from assistant.practice.coils import Condensed, Evaporated
from assistant.practice.compressor import Compressed, compress
from assistant.practice.metering import Feed, Passed, passed
from assistant.practice.plant import (
    RATED_BUBBLE,
    RATED_DEW,
    RATED_SUPERHEAT,
    Conditions,
    DeviceKind,
    Plant,
    air_mass_flow,
    rating_conditions,
    size,
)
from assistant.practice.refrigerant import density, saturated, temperature
from assistant.thermo.circuit import GRAVITY

_SMALL = 1e-7
_STEPS = (0.12, 0.08, 8e3)
_NUDGES = (1e-5, 1e-5, 3.0)
_ROUNDS = 60
_OUTDOOR_RATIO = 0.014
"""Humidity ratio of the outdoor air [kg/kg], which only its density feels; chosen."""

Point = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Circuit:
    """One state of the whole circuit, in balance or not.

    `discharge_pressure`, `liquid_pressure` (with foreign gas in it) and `condensing_pressure` (without) lie before and
    behind the condenser; `coil_inlet`, `coil_outlet`, `suction_pressure` from the distributor to the compressor.
    `before_device` is the pressure behind liquid line and restriction, `restriction_loss` the loss in the latter.
    """

    point: Point
    suction_pressure: float
    suction_enthalpy: float
    discharge_pressure: float
    condensing_pressure: float
    liquid_pressure: float
    before_device: float
    restriction_loss: float
    device_enthalpy: float
    valve_outlet: float
    coil_inlet: float
    coil_outlet: float
    compressed: Compressed
    condensed: Condensed
    evaporated: Evaporated
    metered: Passed
    returned_enthalpy: float
    held: float
    outdoor_air: float
    indoor_air: float

    def residuals(self, plant: Plant) -> Point:
        """How far flow, suction gas and charge are from balance, each in parts of its usual size."""
        return (
            (self.metered.flow - self.compressed.flow) / plant.rated_flow,
            (self.returned_enthalpy - self.suction_enthalpy) / 2e4,
            (self.held - plant.charge) / max(plant.charge, 1e-9),
        )


def work(plant: Plant, conditions: Conditions, point: Point) -> Circuit:
    """The whole circuit at ln of suction and condensing pressure [Pa] and a suction enthalpy [J/kg].

    Raises:
        PhysicsError: a part cannot work there.
    """
    fluid, lines, indoor = plant.fluid, plant.lines, conditions.indoor
    suction, condensing, arriving = math.exp(point[0]), math.exp(point[1]), point[2]
    port = condensing + plant.noncondensables
    guess = compress(fluid, plant.compressor, suction, arriving, port).flow
    discharge = port + plant.condenser.loss(guess, saturated(fluid, condensing).vapour_density)
    done = compress(fluid, plant.compressor, suction, arriving, discharge)
    outdoor_air = air_mass_flow(plant.outdoor_airflow, conditions.outdoor, _OUTDOOR_RATIO, conditions.atmosphere)
    # The liquid leaves at the end of the coil, so the mean lies half its loss above.
    inside = condensing + (discharge - port) / 2.0
    condensed = coils.condense(
        fluid, plant.condenser, done.flow, done.enthalpy, inside, outdoor_air, conditions.outdoor
    )
    liquid = _liquid_line(plant, conditions, done.flow, condensed.enthalpy, (condensing, port))
    outlet, inlet, valve_outlet = _low_side(plant, done.flow, liquid.enthalpy, suction, arriving)
    if liquid.pressure <= valve_outlet:
        raise PhysicsError("Nothing is left of the pressure in front of the metering device.")
    indoor_air = air_mass_flow(plant.indoor_airflow, indoor.dry_bulb, indoor.humidity_ratio, indoor.pressure)
    mean = (inlet + outlet) / 2.0
    boiled = coils.evaporate(fluid, plant.evaporator, done.flow, liquid.enthalpy, mean, indoor_air, indoor)
    leaving = temperature(fluid, outlet, boiled.enthalpy)
    feed = Feed(liquid.pressure, liquid.enthalpy, valve_outlet, inlet, outlet, leaving, indoor.dry_bulb)
    held = condensed.held + boiled.held + lines.liquid_volume * liquid.density
    held += (lines.suction_volume + lines.shell_volume) * saturated(fluid, suction).vapour_density
    return Circuit(
        point=point,
        suction_pressure=suction,
        suction_enthalpy=arriving,
        discharge_pressure=discharge,
        condensing_pressure=condensing,
        liquid_pressure=port,
        before_device=liquid.pressure,
        restriction_loss=liquid.restriction,
        device_enthalpy=liquid.enthalpy,
        valve_outlet=valve_outlet,
        coil_inlet=inlet,
        coil_outlet=outlet,
        compressed=done,
        condensed=condensed,
        evaporated=boiled,
        metered=passed(fluid, plant.device, feed),
        returned_enthalpy=boiled.enthalpy + lines.suction_gain * (conditions.outdoor - leaving) / done.flow,
        held=held,
        outdoor_air=outdoor_air,
        indoor_air=indoor_air,
    )


@dataclass(frozen=True, slots=True)
class _Liquid:
    """What arrives at the metering device [Pa], [J/kg]; loss in the restriction [Pa]; density in the line [kg/m3]."""

    pressure: float
    enthalpy: float
    restriction: float
    density: float


def _liquid_line(
    plant: Plant, conditions: Conditions, flow: float, enthalpy: float, pressures: tuple[float, float]
) -> _Liquid:
    """The liquid line, from condensing pressure and that at the port with foreign gas [Pa]."""
    lines, (condensing, port) = plant.lines, pressures
    filled = density(plant.fluid, condensing, enthalpy)
    friction = (flow / plant.rated_flow) ** 2 * lines.liquid_density / filled
    restriction = lines.restriction * friction
    pressure = port - lines.liquid_loss * friction - restriction - filled * GRAVITY * lines.rise
    gained = lines.liquid_gain * (conditions.outdoor - temperature(plant.fluid, condensing, enthalpy)) / flow
    return _Liquid(pressure, enthalpy + gained, restriction, filled)


def _low_side(plant: Plant, flow: float, metered: float, suction: float, arriving: float) -> tuple[float, float, float]:
    """Pressures [Pa] at the outlet and the inlet of the indoor coil and ahead of its distributor, against the flow."""
    fluid, lines = plant.fluid, plant.lines
    share = (flow / plant.rated_flow) ** 2
    outlet = suction + lines.suction_loss * share * lines.suction_density / density(fluid, suction, arriving)
    inlet = outlet + plant.evaporator.loss(flow, saturated(fluid, outlet).vapour_density)
    behind = saturated(fluid, inlet)
    mixture = behind.mixture_density(min(max(behind.quality(metered), 0.0), 1.0))
    return outlet, inlet, inlet + lines.distributor_loss * share * lines.distributor_density / mixture


@lru_cache(maxsize=64)
def sound_plant(refrigerant: str, tons: float, kind: DeviceKind) -> tuple[Plant, Circuit]:
    """A sound system filled with the charge that it holds at its rating point, and its state there.

    Raises:
        UnknownNameError: no such refrigerant, or none to practise on.
        OutOfRangeError: outside 1.5 to 5 tons.
        InputError: no such metering device.
    """
    plant = size(refrigerant, tons, kind)
    fluid = plant.fluid
    suction = fluid.curves.dew_pressure(RATED_DEW - 1.0)
    arriving = fluid.enthalpy(suction, RATED_DEW + RATED_SUPERHEAT + 2.0)
    point = (math.log(suction), math.log(fluid.curves.bubble_pressure(RATED_BUBBLE)), arriving)
    first = work(plant, rating_conditions(), point)
    filled = replace(plant, rated_charge=first.held, charge=first.held)
    return filled, _newton(filled, rating_conditions(), point)


def solve(plant: Plant, conditions: Conditions) -> Circuit:
    """The steady state of a plant under some conditions.

    Raises:
        PhysicsError: there is none that a running system could hold, or it lies outside the tables.
    """
    sound, start = sound_plant(plant.fluid.curves.refrigerant.designation, plant.tons, plant.kind)
    try:
        return _newton(plant, conditions, start.point)
    except PhysicsError:
        return _walk(sound, plant, conditions, start.point)


def _walk(sound: Plant, plant: Plant, conditions: Conditions, point: Point) -> Circuit:
    """From the rating point in changes that are halved where they do not settle."""
    reached, step = 0.0, 0.25
    while True:
        there = min(reached + step, 1.0)
        partly = between(sound, plant, there)
        try:
            found = _newton(partly, between(rating_conditions(), conditions, there), point)
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


def _newton(plant: Plant, conditions: Conditions, point: Point) -> Circuit:
    """Newton's method; slopes are carried on by Broyden's update while the steps help."""
    found = work(plant, conditions, point)
    missed = found.residuals(plant)
    slopes, fresh = _slopes(plant, conditions, point, missed), True
    for _ in range(_ROUNDS):
        if max(map(abs, missed)) < _SMALL:
            return found
        step = _step(slopes, missed)
        scale = min(1.0, *(most / max(abs(part), 1e-30) for most, part in zip(_STEPS, step, strict=True)))
        best = _shortened(plant, conditions, found, step, scale, 8 if fresh else 2)
        if best is None and fresh:
            break
        if best is None:
            slopes, fresh = _slopes(plant, conditions, point, missed), True
            continue
        before, missed_before = point, missed
        found, point, missed = best, best.point, best.residuals(plant)
        slopes, fresh = _updated(slopes, before, point, missed_before, missed), False
    if max(map(abs, missed)) < 1e-5:
        return found
    raise PhysicsError(f"the balances stay apart by {max(map(abs, missed)):.1e}")


def _shortened(
    plant: Plant, conditions: Conditions, found: Circuit, step: Point, scale: float, times: int
) -> Circuit | None:
    """The circuit after a step, halved until it is better; `None` when it does not get better."""
    size_before = math.hypot(*found.residuals(plant))
    for _ in range(times):
        tried = [x + scale * part for x, part in zip(found.point, step, strict=True)]
        try:
            candidate = work(plant, conditions, (tried[0], tried[1], tried[2]))
        except PhysicsError:
            scale /= 2.0
            continue
        if math.hypot(*candidate.residuals(plant)) < size_before * (1.0 - 0.05 * scale):
            return candidate
        scale /= 2.0
    return None


def _slopes(plant: Plant, conditions: Conditions, point: Point, missed: Point) -> list[list[float]]:
    """Derivatives of the residuals by differences, one column an unknown."""
    columns = []
    for i, nudge in enumerate(_NUDGES):
        moved = list(point)
        moved[i] += nudge
        other = work(plant, conditions, (moved[0], moved[1], moved[2])).residuals(plant)
        columns.append([(b - a) / nudge for a, b in zip(missed, other, strict=True)])
    return columns


def _updated(
    columns: Sequence[Sequence[float]], before: Point, after: Point, missed_before: Point, missed: Point
) -> list[list[float]]:
    """Slopes that agree with the last step, by Broyden's rule with each unknown in its own scale."""
    step = [(b - a) / most for a, b, most in zip(before, after, _STEPS, strict=True)]
    length = sum(part * part for part in step)
    told = [sum(columns[i][k] * step[i] * _STEPS[i] for i in range(3)) for k in range(3)]
    gap = [missed[k] - missed_before[k] - told[k] for k in range(3)]
    return [[columns[i][k] + gap[k] * step[i] / length / _STEPS[i] for k in range(3)] for i in range(3)]


def _step(columns: Sequence[Sequence[float]], missed: Point) -> Point:
    """Newton's step, by Cramer's rule."""
    whole = _determinant(columns)
    if whole == 0.0:
        raise PhysicsError("the balances do not depend on what is sought")
    against = [-part for part in missed]
    first, second, third = (
        _determinant([against if k == i else column for k, column in enumerate(columns)]) / whole for i in range(3)
    )
    return first, second, third


def _determinant(columns: Sequence[Sequence[float]]) -> float:
    (a, b, c), (d, e, f), (g, h, i) = columns
    return a * (e * i - f * h) - d * (b * i - c * h) + g * (b * f - c * e)
