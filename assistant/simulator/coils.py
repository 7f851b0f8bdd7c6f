"""Condenser and evaporator by zones: how much of the coil each phase takes, and what leaves it.

A coil is one face of air; each zone takes a share of the face, with the same share of air and of conductance. So every
zone has a closed form and nothing is searched. Heat flows [W], conductances [W/K], air flows [kg/s of dry air],
enthalpies [J/kg], temperatures [K], pressures absolute [Pa].

Source: effectiveness and number of transfer units, with one fluid mixed across the tubes where the refrigerant has one
phase (Kays and London, Compact Heat Exchangers, from memory); wet coil by enthalpy potential (Braun, Klein, Mitchell
1989, ASHRAE Transactions 95(2), from memory). How conductances follow flows is chosen (`Exchange`; the power for one
phase as in Dittus-Boelter).
"""

import math
from dataclasses import dataclass
from typing import Final

from assistant.quantity import ZERO_CELSIUS
from assistant.simulator.refrigerant import held_density, saturation_ends, temperature
from assistant.simulator.roots import find_root
from assistant.simulator.vapour import Vapour
from assistant.thermo.air import MoistAir, saturated_humidity_ratio

AIR_HEAT = 1006.0
"""Heat capacity of dry air [J/(kg·K)]; ASHRAE Handbook-Fundamentals 2017 ch. 1 eq. (30)."""
_STEAM_HEAT, _LATENT_WATER = 1860.0, 2.501e6


@dataclass(frozen=True, slots=True)
class Exchange:
    """How the conductances of a coil follow the flows, and the refrigerant's side with one phase over that with two.

    All chosen. On a wall below its dew point hot gas already condenses, so it gives off its heat more readily than cold
    gas behind a boiling coil takes it up. How much of the condenser its subcooling takes rests on the liquid's share.
    """

    air_power: float = 0.5
    two_phase_power: float = 0.5
    one_phase_power: float = 0.8
    hot_gas_share: float = 0.25
    cold_gas_share: float = 0.12
    liquid_share: float = 0.36


USUAL_EXCHANGE: Final = Exchange()


@dataclass(frozen=True, slots=True)
class Coil:
    """A coil as built: conductances of air and refrigerant side [W/K] at its rated flows [kg/s], volume inside [m3].

    `pressure_loss` [Pa] is that of the refrigerant at its rated flow and at vapour of `loss_density` [kg/m3].
    `exchange` tells how the conductances follow the flows.
    """

    air_conductance: float
    refrigerant_conductance: float
    air_flow: float
    refrigerant_flow: float
    volume: float
    pressure_loss: float
    loss_density: float
    exchange: Exchange = USUAL_EXCHANGE

    def two_phase(self, air_flow: float, flow: float) -> tuple[float, float]:
        """Return the conductance [W/K] of the air side and of the boiling or condensing side, at two flows [kg/s]."""
        inside = self.refrigerant_conductance * (flow / self.refrigerant_flow) ** self.exchange.two_phase_power
        return self.air_side(air_flow), inside

    def air_side(self, air_flow: float) -> float:
        """Return the conductance [W/K] of the air side at a flow [kg/s]."""
        share: float = (air_flow / self.air_flow) ** self.exchange.air_power
        return self.air_conductance * share

    def single_phase(self, air_flow: float, flow: float, share: float) -> float:
        """Whole conductance [W/K] where the refrigerant has one phase, at two flows [kg/s]."""
        inside = share * self.refrigerant_conductance * (flow / self.refrigerant_flow) ** self.exchange.one_phase_power
        return _in_series(self.air_side(air_flow), inside)

    def loss(self, flow: float, density: float) -> float:
        """Return the pressure loss [Pa] at a flow [kg/s] of vapour of a density [kg/m3] at the warm end."""
        return self.pressure_loss * (flow / self.refrigerant_flow) ** 2 * self.loss_density / density


@dataclass(frozen=True, slots=True)
class Condensed:
    """What leaves a condenser: enthalpy [J/kg], heat given off [W], shares of the face, refrigerant held [kg]."""

    enthalpy: float
    heat: float
    vapour_share: float
    two_phase_share: float
    liquid_share: float
    held: float


@dataclass(frozen=True, slots=True)
class Evaporated:
    """What leaves an evaporator: enthalpy [J/kg], heat taken up [W], share of the face wetted inside, held [kg].

    `temperature` [K] is that at which it boils, the mean along the coil; `superheating` [W] the heat of the dry share.
    """

    enthalpy: float
    heat: float
    two_phase_share: float
    held: float
    temperature: float
    superheating: float


def air_enthalpy(dry_bulb: float, humidity_ratio: float) -> float:
    """Return the enthalpy [J/kg dry] of moist air from dry bulb [K] and humidity ratio [kg/kg].

    Source: ASHRAE Handbook-Fundamentals 2017 ch. 1 eq. (30).
    """
    celsius = dry_bulb - ZERO_CELSIUS
    return AIR_HEAT * celsius + humidity_ratio * (_LATENT_WATER + _STEAM_HEAT * celsius)


def saturated_air_enthalpy(dry_bulb: float, pressure: float) -> float:
    """Return the enthalpy [J/kg dry] of saturated air at a dry bulb [K] and a pressure [Pa]."""
    return air_enthalpy(dry_bulb, saturated_humidity_ratio(dry_bulb, pressure))


def condense(
    fluid: Vapour,
    coil: Coil,
    flow: float,
    entering: float,
    pressure: float,
    air_flow: float,
    air_temperature: float,
) -> Condensed:
    """Return the condenser with a flow [kg/s] entering at an enthalpy [J/kg], condensing at a mean pressure [Pa].

    Raises:
        OutOfRangeError: outside curves or tables.
    """
    at = saturation_ends(fluid, pressure)
    capacity = air_flow * AIR_HEAT
    first, held = 0.0, 0.0
    quality = min(at.quality(entering), 1.0)
    if entering > at.vapour_enthalpy:
        gas = fluid.temperature(pressure, entering)
        taken = _heat_per_kelvin(coil.single_phase(air_flow, flow, coil.exchange.hot_gas_share), capacity)
        heat_capacity = flow * (entering - at.vapour_enthalpy) / max(gas - at.dew, 1e-9)
        first = min(_face_to_reach(gas, at.dew, air_temperature, heat_capacity / taken), 1.0)
        held += first * (at.vapour_density + fluid.density(pressure, gas)) / 2.0
    driving = (at.bubble + at.dew) / 2.0 - air_temperature
    # Per share of the face, the vapour's mass fraction that condenses.
    condensed = _heat_per_kelvin(_in_series(*coil.two_phase(air_flow, flow)), capacity) * driving / (flow * at.latent)
    second = 1.0 - first if condensed * (1.0 - first) <= quality else quality / condensed
    leaving = max(quality - condensed * second, 0.0)
    held += second * held_density(at, leaving, quality)
    third = 1.0 - first - second
    enthalpy = at.liquid_enthalpy + leaving * at.latent
    if third > 0.0:
        heat_capacity = flow * fluid.curves.liquid_enthalpy_slope(at.bubble)
        taken = _heat_per_kelvin(coil.single_phase(air_flow, flow, coil.exchange.liquid_share), capacity)
        cooled = air_temperature + (at.bubble - air_temperature) * math.exp(-taken * third / heat_capacity)
        enthalpy = fluid.curves.liquid_enthalpy(cooled)
        held += third * fluid.curves.liquid_density((at.bubble + cooled) / 2.0)
    return Condensed(enthalpy, flow * (entering - enthalpy), first, second, third, coil.volume * held)


def evaporate(
    fluid: Vapour, coil: Coil, flow: float, entering: float, pressure: float, air_flow: float, air: MoistAir
) -> Evaporated:
    """Return the evaporator with a flow [kg/s] entering at an enthalpy [J/kg], boiling at a mean pressure [Pa].

    Raises:
        OutOfRangeError: outside curves or tables.
        ImpossibleError: the coil is so warm that water boils on it.
    """
    at = saturation_ends(fluid, pressure)
    quality = min(max(at.quality(entering), 0.0), 1.0)
    boiling = (at.mixture_temperature(quality) + at.dew) / 2.0
    full = wet_coil_heat(coil, flow, air_flow, air, boiling)
    wanted = flow * (at.vapour_enthalpy - entering)
    if full <= wanted:
        leaving = min(max(at.quality(entering + full / flow), quality), 1.0)
        held = held_density(at, quality, leaving)
        return Evaporated(entering + full / flow, full, 1.0, coil.volume * held, boiling, 0.0)
    wetted = max(wanted / full, 0.0)
    dry = 1.0 - wetted
    taken = _heat_per_kelvin(coil.single_phase(air_flow, flow, coil.exchange.cold_gas_share), air_flow * AIR_HEAT)
    first_kelvin = fluid.enthalpy(pressure, at.dew + 10.0) - at.vapour_enthalpy
    cooled = math.exp(-taken * dry / (flow * first_kelvin / 10.0))
    leaving_temperature = air.dry_bulb - (air.dry_bulb - at.dew) * cooled
    enthalpy = fluid.enthalpy(pressure, max(leaving_temperature, at.dew))
    density = (at.vapour_density + fluid.density(pressure, max(leaving_temperature, at.dew))) / 2.0
    held = wetted * held_density(at, quality, 1.0) + dry * density
    superheating = flow * (enthalpy - at.vapour_enthalpy)
    return Evaporated(enthalpy, flow * (enthalpy - entering), wetted, coil.volume * held, boiling, superheating)


def wet_coil_heat(coil: Coil, flow: float, air_flow: float, air: MoistAir, boiling: float) -> float:
    """Return the heat [W] that a whole face takes from air at a boiling temperature [K], wet or dry, whichever is more.

    Raises:
        ImpossibleError: the coil is so warm that water boils on it.
    """
    outside, inside = coil.two_phase(air_flow, flow)
    dry = _heat_per_kelvin(_in_series(outside, inside), air_flow * AIR_HEAT) * (air.dry_bulb - boiling)
    if air.dew_point <= boiling:
        return dry
    cold = saturated_air_enthalpy(boiling, air.pressure)
    slope = (saturated_air_enthalpy(air.dew_point, air.pressure) - cold) / (air.dew_point - boiling)
    units = outside / AIR_HEAT / (1.0 + slope * outside / (AIR_HEAT * inside)) / air_flow
    return max(dry, air_flow * (air.enthalpy - cold) * -math.expm1(-units))


def leaving_air(coil: Coil, air_flow: float, air: MoistAir, found: Evaporated) -> tuple[float, float]:
    """Return the dry bulb [K] and humidity ratio [kg/kg] of the mixed air behind an evaporator.

    Behind the wetted share the air lies between what came and the mean surface, by the air side's own effectiveness;
    behind the dry share it has lost the heat of the superheat alone.

    Raises:
        ImpossibleError: no surface can be found that gives this heat.
    """
    units = coil.air_side(air_flow) / (air_flow * AIR_HEAT)
    reach = -math.expm1(-units)
    share = found.two_phase_share
    dry_bulb, ratio = air.dry_bulb, air.humidity_ratio
    if share > 0.0:
        removed = (found.heat - found.superheating) / (air_flow * share)
        surface = _surface(air.enthalpy - removed / reach, air)
        if surface >= air.dew_point:
            dry_bulb = air.dry_bulb - removed / (AIR_HEAT + _STEAM_HEAT * air.humidity_ratio)
        else:
            dry_bulb = air.dry_bulb - reach * (air.dry_bulb - surface)
            # The heat is known, so the water follows from it.
            celsius = dry_bulb - ZERO_CELSIUS
            ratio = (air.enthalpy - removed - AIR_HEAT * celsius) / (_LATENT_WATER + _STEAM_HEAT * celsius)
            ratio = min(ratio, saturated_humidity_ratio(dry_bulb, air.pressure), air.humidity_ratio)
    whole = share * dry_bulb + (1.0 - share) * air.dry_bulb - found.superheating / (air_flow * AIR_HEAT)
    mixed = share * ratio + (1.0 - share) * air.humidity_ratio
    if mixed > saturated_humidity_ratio(whole, air.pressure):
        # Cold and moist air that meet can hold less than they brought: the rest falls out and warms what stays.
        whole = _surface(air_enthalpy(whole, mixed), air)
        mixed = saturated_humidity_ratio(whole, air.pressure)
    return whole, mixed


def outlet_temperature(fluid: Vapour, pressure: float, found: Evaporated) -> float:
    """Return the temperature [K] of what leaves an evaporator at its outlet pressure [Pa].

    Raises:
        OutOfRangeError: outside curves or tables.
    """
    return temperature(fluid, pressure, found.enthalpy)


def _surface(enthalpy: float, air: MoistAir) -> float:
    """Return the temperature [K] at which saturated air has an enthalpy [J/kg dry], not above the air's own."""

    def above(temperature: float) -> float:
        return saturated_air_enthalpy(temperature, air.pressure) - enthalpy

    if above(air.dry_bulb) <= 0.0:
        return air.dry_bulb
    found = find_root(above, air.dew_point, 1e3, (223.15, air.dry_bulb), 1e-3)
    return 223.15 if found is None else found


def _heat_per_kelvin(conductance: float, capacity: float) -> float:
    """Return the heat per kelvin [W/K] that a face of air of a heat capacity [W/K] takes from one temperature."""
    return capacity * -math.expm1(-conductance / capacity)


def _in_series(one: float, other: float) -> float:
    return 1.0 / (1.0 / one + 1.0 / other)


def _face_to_reach(entering: float, wanted: float, air: float, ratio: float) -> float:
    """Share of the face at which a fluid has come from one temperature to another [K]; all of it when it never does."""
    return ratio * math.log((entering - air) / (wanted - air)) if wanted > air else 1.0
