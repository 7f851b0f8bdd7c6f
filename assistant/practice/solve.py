"""The steady state of a plant: three unknowns, three balances.

Unknown are suction pressure, condensing pressure and the enthalpy of the suction gas. Balanced are the flow of
compressor and metering device, the heat of the suction gas, and the charge. When Newton's method does not settle, the
way there is walked in smaller changes from the rating point.

Pressures absolute [Pa], temperatures [K], enthalpies [J/kg].
"""

import math
from dataclasses import dataclass, replace
from functools import lru_cache, partial

from assistant.errors import PhysicsError
from assistant.practice import coils
from assistant.practice.between import between
from assistant.practice.coils import Condensed, Evaporated
from assistant.practice.compressor import Compressed, compress, drawn
from assistant.practice.metering import ExpansionValve, Feed, Passed, passed, valve_flux
from assistant.practice.newton import Point, newton
from assistant.practice.plant import (
    RATED_BUBBLE,
    RATED_DEW,
    RATED_SUBCOOLING,
    RATED_SUPERHEAT,
    Conditions,
    DeviceKind,
    Mode,
    Plant,
    air_mass_flow,
    rating_conditions,
    size,
    sized_device,
)
from assistant.practice.refrigerant import density, saturated, temperature
from assistant.thermo.air import MoistAir, from_humidity_ratio, saturated_humidity_ratio
from assistant.thermo.circuit import GRAVITY

_OUTDOOR_RATIO = 0.014
"""Humidity ratio of the outdoor air [kg/kg], which only its density feels; chosen."""


@dataclass(frozen=True, slots=True)
class Circuit:
    """One state of the whole circuit, in balance or not.

    `discharge_pressure` is that at the compressor, `condensing_pressure` that of the refrigerant alone where it leaves
    the condenser, `liquid_pressure` that at the outdoor unit's liquid port, foreign gas in it, where the liquid has
    `liquid_enthalpy`. `coil_inlet`, `coil_outlet`, `suction_pressure` from the distributor to the compressor.
    `before_device` is the pressure behind liquid line and restriction, `restriction_loss` the loss in the latter,
    `idle_loss` that at the idle metering device. `flow` goes round through both coils; a reversing valve that leaks
    sends the compressor more. `cooled_gas` is the enthalpy of the hot gas where it enters the condenser, `warmed` [W]
    what the suction gas takes up on its way to the compressor or the reversing valve.
    """

    point: Point
    suction_pressure: float
    suction_enthalpy: float
    discharge_pressure: float
    condensing_pressure: float
    liquid_pressure: float
    liquid_enthalpy: float
    before_device: float
    restriction_loss: float
    idle_loss: float
    device_enthalpy: float
    valve_outlet: float
    coil_inlet: float
    coil_outlet: float
    flow: float
    compressed: Compressed
    condensed: Condensed
    evaporated: Evaporated
    feed: Feed
    metered: Passed
    cooled_gas: float
    warmed: float
    returned_enthalpy: float
    held: float
    outdoor_air: float
    indoor_air: float

    def residuals(self, plant: Plant) -> Point:
        """How far flow, suction gas and charge are from balance, each in parts of its usual size."""
        return (
            (self.metered.flow - self.flow) / plant.rated_flow,
            (self.returned_enthalpy - self.suction_enthalpy) / 2e4,
            (self.held - plant.charge) / max(plant.charge, 1e-9),
        )

    def opening_wanted(self, valve: ExpansionValve) -> float:
        """The opening of a valve, as a share of its travel and even beyond it, at which it would pass the flow."""
        return (self.flow / max(self.metered.flux, 1e-9) - valve.bypass) / valve.area

    def valve_apart(self, valve: ExpansionValve) -> float:
        """How far the forces on the pin are from balance where it stands as the flow wants it, in bar."""
        spring = valve.spring.closed_spring_pressure + valve.spring.spring_rate * self.opening_wanted(valve)
        return (self.metered.bulb_pressure - self.metered.equalizer_pressure - spring) / 1e5


def work(plant: Plant, conditions: Conditions, point: Point) -> Circuit:
    """The whole circuit at ln of suction and condensing pressure [Pa] and a suction enthalpy [J/kg].

    Raises:
        PhysicsError: a part cannot work there.
    """
    fluid, lines, heating = plant.fluid, plant.lines, plant.mode == "heating"
    suction, condensing, arriving = math.exp(point[0]), math.exp(point[1]), point[2]
    air = _airs(plant, conditions)
    gas = _hot_gas(plant, conditions, suction, arriving, condensing)
    flow = gas.compressed.flow * (1.0 - plant.reversing_leak)
    # The liquid leaves at the end of the coil, so the mean lies half its loss above.
    inside = condensing + plant.condenser.loss(flow, saturated(fluid, condensing).vapour_density) / 2.0
    condensed = coils.condense(fluid, plant.condenser, flow, gas.enthalpy, inside, air.hot_flow, air.hot)
    liquid = _liquid_line(plant, conditions, flow, condensed.enthalpy, condensing)
    outlet, inlet, valve_outlet = _low_side(plant, flow, liquid.enthalpy, suction, arriving)
    if liquid.pressure <= valve_outlet:
        raise PhysicsError("Nothing is left of the pressure in front of the metering device.")
    mean = (inlet + outlet) / 2.0
    boiled = coils.evaporate(fluid, plant.evaporator, flow, liquid.enthalpy, mean, air.cold_flow, air.cold)
    leaving = temperature(fluid, outlet, boiled.enthalpy)
    feed = Feed(liquid.pressure, liquid.enthalpy, valve_outlet, inlet, outlet, leaving, air.cold.dry_bulb)
    warmed = 0.0 if heating else lines.gas_gain * (conditions.outdoor - leaving)
    low, high = saturated(fluid, suction).vapour_density, gas.density
    held = plant.stored + condensed.held + boiled.held + lines.liquid_volume * liquid.density
    held += lines.shell_volume * low + lines.gas_volume * (high if heating else low)
    taken = gas.exchanged / flow
    back = boiled.enthalpy + warmed / flow + taken
    return Circuit(
        point=point,
        suction_pressure=suction,
        suction_enthalpy=arriving,
        discharge_pressure=gas.pressure,
        condensing_pressure=condensing,
        liquid_pressure=liquid.port,
        liquid_enthalpy=liquid.enthalpy if heating else condensed.enthalpy,
        before_device=liquid.pressure,
        restriction_loss=liquid.restriction,
        idle_loss=liquid.idle,
        device_enthalpy=liquid.enthalpy,
        valve_outlet=valve_outlet,
        coil_inlet=inlet,
        coil_outlet=outlet,
        flow=flow,
        compressed=gas.compressed,
        condensed=condensed,
        evaporated=boiled,
        feed=feed,
        metered=passed(fluid, plant.device, feed),
        cooled_gas=gas.enthalpy,
        warmed=warmed,
        returned_enthalpy=back + plant.reversing_leak * (gas.compressed.enthalpy - back),
        held=held,
        outdoor_air=air.cold_flow if heating else air.hot_flow,
        indoor_air=air.hot_flow if heating else air.cold_flow,
    )


@dataclass(frozen=True, slots=True)
class _Airs:
    """Air that enters the coil that condenses, [K] and [kg/s of dry air], and the one that evaporates."""

    hot: float
    hot_flow: float
    cold: MoistAir
    cold_flow: float


def _airs(plant: Plant, conditions: Conditions) -> _Airs:
    indoor, outdoor = conditions.indoor, conditions.outdoor_moist
    inside = air_mass_flow(plant.indoor_airflow, indoor.dry_bulb, indoor.humidity_ratio, indoor.pressure)
    ratio = _OUTDOOR_RATIO if outdoor is None else outdoor.humidity_ratio
    outside = air_mass_flow(plant.outdoor_airflow, conditions.outdoor, ratio, conditions.atmosphere)
    if plant.mode == "cooling":
        return _Airs(conditions.outdoor, outside, indoor, inside)
    assert outdoor is not None
    return _Airs(indoor.dry_bulb, inside, outdoor, outside)


@dataclass(frozen=True, slots=True)
class _HotGas:
    """What the compressor sends on: pressure [Pa] at it, enthalpy [J/kg] and density [kg/m3] at the condenser.

    `exchanged` [W] is what it has given to the suction gas in the reversing valve.
    """

    compressed: Compressed
    pressure: float
    enthalpy: float
    density: float
    exchanged: float


def _hot_gas(plant: Plant, conditions: Conditions, suction: float, arriving: float, condensing: float) -> _HotGas:
    """From the compressor to the condenser's inlet, at suction [Pa], [J/kg] and condensing pressure [Pa]."""
    fluid, lines, stays = plant.fluid, plant.lines, 1.0 - plant.reversing_leak
    port = condensing + plant.noncondensables
    vapour = saturated(fluid, condensing).vapour_density
    guess = drawn(fluid, plant.compressor, suction, arriving, port) * (1.0 - plant.compressor.leakage) * stays
    discharge = port + plant.condenser.loss(guess, vapour)
    if plant.mode == "heating":
        discharge += lines.gas_loss * (guess / plant.rated_flow) ** 2 * lines.gas_density / vapour
    done = compress(fluid, plant.compressor, suction, arriving, discharge)
    if not plant.heat_pump:
        return _HotGas(done, discharge, done.enthalpy, vapour, 0.0)
    hot = temperature(fluid, discharge, done.enthalpy)
    exchanged = plant.exchange * (guess / plant.rated_flow) * max(hot - temperature(fluid, suction, arriving), 0.0)
    lost = lines.gas_gain * (hot - conditions.outdoor) if plant.mode == "heating" else 0.0
    enthalpy = done.enthalpy - (exchanged + lost) / (done.flow * stays)
    return _HotGas(done, discharge, enthalpy, vapour, exchanged)


@dataclass(frozen=True, slots=True)
class _Liquid:
    """Pressure [Pa] at the outdoor unit's port; what arrives at the metering device [Pa], [J/kg].

    Losses in the restriction and at the idle device [Pa]; density in the line [kg/m3].
    """

    port: float
    pressure: float
    enthalpy: float
    restriction: float
    idle: float
    density: float


def _liquid_line(plant: Plant, conditions: Conditions, flow: float, enthalpy: float, condensing: float) -> _Liquid:
    """The liquid line, from what leaves the condenser [J/kg] at a condensing pressure [Pa]."""
    lines = plant.lines
    filled = density(plant.fluid, condensing, enthalpy)
    friction = (flow / plant.rated_flow) ** 2 * lines.liquid_density / filled
    restriction = lines.restriction * friction
    gained = lines.liquid_gain * (conditions.outdoor - temperature(plant.fluid, condensing, enthalpy)) / flow
    idle = lines.idle * friction
    leaving = condensing + plant.noncondensables - idle
    # The port stands at the outdoor unit: in cooling ahead of the line, in heating behind it.
    if plant.mode == "heating":
        port = leaving - lines.liquid_loss * friction + filled * GRAVITY * lines.rise
        return _Liquid(port, port - restriction, enthalpy + gained, restriction, idle, filled)
    arrives = leaving - restriction - lines.liquid_loss * friction - filled * GRAVITY * lines.rise
    return _Liquid(leaving, arrives, enthalpy + gained, restriction, idle, filled)


def _low_side(plant: Plant, flow: float, metered: float, suction: float, arriving: float) -> tuple[float, float, float]:
    """Pressures [Pa] at the outlet and the inlet of the evaporating coil and ahead of its distributor."""
    fluid, lines = plant.fluid, plant.lines
    share = (flow / plant.rated_flow) ** 2
    outlet = suction
    if plant.mode == "cooling":
        outlet += lines.gas_loss * share * lines.gas_density / density(fluid, suction, arriving)
    inlet = outlet + plant.evaporator.loss(flow, saturated(fluid, outlet).vapour_density)
    behind = saturated(fluid, inlet)
    mixture = behind.mixture_density(min(max(behind.quality(metered), 0.0), 1.0))
    return outlet, inlet, inlet + lines.distributor_loss * share * lines.distributor_density / mixture


@lru_cache(maxsize=128)
def sound_plant(
    refrigerant: str, tons: float, kind: DeviceKind, mode: Mode = "cooling", heat_pump: bool = False
) -> tuple[Plant, Circuit]:
    """A sound system in a mode, filled with the charge that it holds at its rating point for cooling.

    With it its state at the rating point of the mode. What heats is a heat pump.

    Raises:
        UnknownNameError: no such refrigerant, or none to practise on.
        OutOfRangeError: outside 1.5 to 5 tons.
        InputError: no such metering device.
    """
    if mode == "heating":
        return _for_heating(sound_plant(refrigerant, tons, kind, "cooling", True)[0])
    plant = size(refrigerant, tons, kind, heat_pump)
    fluid = plant.fluid
    suction = fluid.curves.dew_pressure(RATED_DEW - 1.0)
    arriving = fluid.enthalpy(suction, RATED_DEW + RATED_SUPERHEAT + 2.0)
    point = (math.log(suction), math.log(fluid.curves.bubble_pressure(RATED_BUBBLE)), arriving)
    first = work(plant, rating_conditions(), point)
    filled = replace(plant, rated_charge=first.held, charge=first.held)
    return filled, _settled(filled, rating_conditions(), point)


def _for_heating(cooling: Plant) -> tuple[Plant, Circuit]:
    """The same machine with its coils changed over, and a device for heating that gives the rated superheat."""
    fluid = cooling.fluid
    plant = replace(cooling, mode="heating", condenser=cooling.evaporator, evaporator=cooling.condenser)
    conditions = rating_conditions("heating")

    def apart(found: Circuit) -> Point:
        dry = fluid.enthalpy(found.coil_outlet, saturated(fluid, found.coil_outlet).dew + RATED_SUPERHEAT)
        liquid = fluid.curves.liquid_enthalpy(saturated(fluid, found.condensing_pressure).bubble - RATED_SUBCOOLING)
        warmth = (found.returned_enthalpy - found.suction_enthalpy) / 2e4
        return (found.evaporated.enthalpy - dry) / 2e4, warmth, (found.condensed.enthalpy - liquid) / 2e4

    suction = fluid.curves.dew_pressure(conditions.outdoor - 7.0)
    arriving = fluid.enthalpy(suction, conditions.outdoor)
    head = fluid.curves.bubble_pressure(conditions.indoor.dry_bulb + 20.0)
    start = (math.log(suction), math.log(head), arriving)
    _, found = newton(partial(work, plant, conditions), apart, start)
    rated = replace(
        plant,
        device=sized_device(fluid, plant.kind, found.flow, found.feed),
        rated_fall=found.liquid_pressure - found.coil_outlet,
        rated_outlet=found.coil_outlet,
        full_area=found.flow / valve_flux(fluid, found.feed),
        stored=cooling.charge - found.held,
    )
    return rated, _settled(rated, conditions, found.point)


def solve(plant: Plant, conditions: Conditions) -> Circuit:
    """The steady state of a plant under some conditions.

    Raises:
        PhysicsError: there is none that a running system could hold, or it lies outside the tables.
    """
    name = plant.fluid.curves.refrigerant.designation
    sound, start = sound_plant(name, plant.tons, plant.kind, plant.mode, plant.heat_pump)
    try:
        return _settled(plant, conditions, _guess(plant, conditions, start))
    except PhysicsError:
        return _walk(sound, plant, conditions, start.point)


def _weather_between(start: Conditions, end: Conditions, share: float) -> Conditions:
    """Weather part of the way: air has one state, so it is worked from temperature, water and pressure alone."""
    if share >= 1.0:
        return end
    there = between(start, end, share)
    moist = None if there.outdoor_moist is None else _air(there.outdoor_moist)
    return replace(there, indoor=_air(there.indoor), outdoor_moist=moist)


def _air(mean: MoistAir) -> MoistAir:
    most = saturated_humidity_ratio(mean.dry_bulb, mean.pressure)
    return from_humidity_ratio(mean.dry_bulb, min(mean.humidity_ratio, most), mean.pressure)


def _guess(plant: Plant, conditions: Conditions, start: Circuit) -> Point:
    """Where the weather moves the rating point to, roughly: the shares are those of a usual system."""
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


def _settled(plant: Plant, conditions: Conditions, point: Point) -> Circuit:
    """The steady state, from a point nearby.

    A valve's opening jumps from shut to wide open within some kelvin, so its flow is a bad guide. First its forces are
    balanced as if the pin had no limit of travel; where that asks for more than there is, it stands at the limit. On a
    flooded coil the bulb feels no change that could guide the search: then the limits are tried.
    """
    valve = plant.device
    if not isinstance(valve, ExpansionValve):
        return newton(partial(work, plant, conditions), lambda at: at.residuals(plant), point)[1]

    def free(at: Circuit) -> Point:
        return at.valve_apart(valve), *at.residuals(plant)[1:]

    tries = [(valve.least, point), (1.0, point)] if 0.0 < valve.least < 1.0 else [(1.0, point)]
    if valve.least < 1.0:
        try:
            there, found = newton(partial(work, plant, conditions), free, point)
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
            found = _at_limit(plant, conditions, valve, limit, start)
        except PhysicsError:
            continue
        if abs(found.metered.opening - limit) < 1e-6:
            return found
    raise PhysicsError("the valve finds no place to stand")


def _at_limit(plant: Plant, conditions: Conditions, valve: ExpansionValve, limit: float, point: Point) -> Circuit:
    """The steady state with a valve that stands open by `limit` (0 to 1)."""

    def apart(at: Circuit) -> Point:
        missing = (limit - at.opening_wanted(valve)) * valve.area * at.metered.flux
        return missing / plant.rated_flow, *at.residuals(plant)[1:]

    return newton(partial(work, plant, conditions), apart, point)[1]


def _walk(sound: Plant, plant: Plant, conditions: Conditions, point: Point) -> Circuit:
    """From the rating point in changes that are halved where they do not settle."""
    reached, step = 0.0, 0.25
    while True:
        there = min(reached + step, 1.0)
        partly = between(sound, plant, there)
        try:
            found = _settled(partly, _weather_between(rating_conditions(plant.mode), conditions, there), point)
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
