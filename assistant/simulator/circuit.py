"""The whole circuit, worked once round at three unknowns, in balance or not.

Unknown are suction pressure, condensing pressure and the enthalpy of the suction gas; what comes round tells how far
flow, suction gas and charge are from balance. Pressures absolute [Pa], temperatures [K], enthalpies [J/kg].
"""

import math
from dataclasses import dataclass

from assistant.errors import PhysicsError
from assistant.quantity import GRAVITY
from assistant.simulator import coils
from assistant.simulator.coils import Condensed, Evaporated
from assistant.simulator.compressor import Compressed, compress, draw_flow
from assistant.simulator.metering import ExpansionValve, Feed, Passed, pass_flow
from assistant.simulator.newton import Point
from assistant.simulator.plant import (
    Conditions,
    Plant,
    air_mass_flow,
)
from assistant.simulator.refrigerant import density, saturation_ends, temperature
from assistant.thermo.air import MoistAir

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
        """Return how far flow, suction gas and charge are from balance, each in parts of its usual size."""
        return (
            (self.metered.flow - self.flow) / plant.rated_flow,
            (self.returned_enthalpy - self.suction_enthalpy) / 2e4,
            (self.held - plant.charge) / max(plant.charge, 1e-9),
        )

    def opening_wanted(self, valve: ExpansionValve) -> float:
        """The opening of a valve, as a share of its travel and even beyond it, at which it would pass the flow."""
        return valve.opening_for(self.flow / max(self.metered.flux, 1e-9) - valve.bypass)

    def valve_apart(self, valve: ExpansionValve) -> float:
        """Return how far the forces on the pin are from balance where it stands as the flow wants it, in bar."""
        spring = valve.spring.closed_spring_pressure + valve.spring.spring_rate * self.opening_wanted(valve)
        return (self.metered.bulb_pressure - self.metered.equalizer_pressure - spring) / 1e5


def work_circuit(plant: Plant, conditions: Conditions, point: Point) -> Circuit:
    """Return the whole circuit at ln of suction and condensing pressure [Pa] and a suction enthalpy [J/kg].

    Raises:
        PhysicsError: a part cannot work there.
    """
    fluid, lines, heating = plant.fluid, plant.lines, plant.mode == "heating"
    suction, condensing, arriving = math.exp(point[0]), math.exp(point[1]), point[2]
    air = _airs(plant, conditions)
    gas = _hot_gas(plant, conditions, suction, arriving, condensing)
    flow = gas.compressed.flow * (1.0 - plant.reversing_leak)
    # The liquid leaves at the end of the coil, so the mean lies half its loss above.
    inside = condensing + plant.condenser.loss(flow, saturation_ends(fluid, condensing).vapour_density) / 2.0
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
    low, high = saturation_ends(fluid, suction).vapour_density, gas.density
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
        metered=pass_flow(fluid, plant.device, feed),
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
    vapour = saturation_ends(fluid, condensing).vapour_density
    guess = draw_flow(fluid, plant.compressor, suction, arriving, port) * (1.0 - plant.compressor.leakage) * stays
    discharge = port + plant.condenser.loss(guess, vapour)
    if plant.mode == "heating":
        loss = lines.gas_loss + lines.gas_restriction
        discharge += loss * (guess / plant.rated_flow) ** 2 * lines.gas_density / vapour
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
    """Return the liquid line, from what leaves the condenser [J/kg] at a condensing pressure [Pa]."""
    lines = plant.lines
    filled = density(plant.fluid, condensing, enthalpy)
    friction = (flow / plant.rated_flow) ** 2 * lines.liquid_density / filled
    restriction = lines.restriction * friction
    gained = lines.liquid_gain * (conditions.outdoor - temperature(plant.fluid, condensing, enthalpy)) / flow
    idle = lines.idle * friction
    leaving = condensing + plant.noncondensables - idle
    # The port stands at the outdoor unit: in cooling ahead of the line, in heating behind it.
    outdoors = lines.outdoor_restriction * friction
    if plant.mode == "heating":
        port = leaving - lines.liquid_loss * friction + filled * GRAVITY * lines.rise
        return _Liquid(port, port - restriction - outdoors, enthalpy + gained, restriction, idle, filled)
    port = leaving - outdoors
    arrives = port - restriction - lines.liquid_loss * friction - filled * GRAVITY * lines.rise
    return _Liquid(port, arrives, enthalpy + gained, restriction, idle, filled)


def _low_side(plant: Plant, flow: float, metered: float, suction: float, arriving: float) -> tuple[float, float, float]:
    """Pressures [Pa] at the outlet and the inlet of the evaporating coil and ahead of its distributor."""
    fluid, lines = plant.fluid, plant.lines
    share = (flow / plant.rated_flow) ** 2
    outlet = suction
    if plant.mode == "cooling":
        loss = lines.gas_loss + lines.gas_restriction
        outlet += loss * share * lines.gas_density / density(fluid, suction, arriving)
    inlet = outlet + plant.evaporator.loss(flow, saturation_ends(fluid, outlet).vapour_density)
    behind = saturation_ends(fluid, inlet)
    mixture = behind.mixture_density(min(max(behind.quality(metered), 0.0), 1.0))
    return outlet, inlet, inlet + lines.distributor_loss * share * lines.distributor_density / mixture
