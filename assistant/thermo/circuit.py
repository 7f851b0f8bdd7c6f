"""The arithmetic of the refrigeration circuit.

Everything is in SI: temperatures [K], absolute pressures [Pa]. The functions that only add, subtract, multiply and
divide also take and give numbers that carry an uncertainty; those that look a curve up take floats.
"""

from typing import Any

from assistant.doubt import nominal
from assistant.errors import ImpossibleError, NoTargetError, OutOfRangeError
from assistant.thermo import reference
from assistant.thermo.curves import Saturation
from assistant.thermo.refrigerants import Refrigerant

GRAVITY = 9.80665

# A float, or a number with uncertainty: whatever knows +, -, * and /.
Number = Any

_LEAST_ORIFICE_SUPERHEAT = 5.0 / 1.8
_FAHRENHEIT_ZERO = 459.67


def superheat(line_temperature: Number, dew_temperature: Number) -> Number:
    """How far vapour is above its dew temperature [K]; both temperatures [K], of the same place in the circuit."""
    return line_temperature - dew_temperature


def subcooling(bubble_temperature: Number, line_temperature: Number) -> Number:
    """How far liquid is below its bubble temperature [K]; both temperatures [K], of the same place."""
    return bubble_temperature - line_temperature


def discharge_superheat(discharge_temperature: Number, dew_temperature: Number) -> Number:
    """How far the discharge line [K] is above the dew temperature [K] at the discharge pressure [K]."""
    return discharge_temperature - dew_temperature


def compression_ratio(discharge_pressure: Number, suction_pressure: Number) -> Number:
    """Discharge over suction pressure, both absolute [Pa]; gauge pressures give a wrong ratio.

    Raises:
        ImpossibleError: an absolute pressure is not above zero.
    """
    if not (nominal(discharge_pressure) > 0 and nominal(suction_pressure) > 0):
        raise ImpossibleError("An absolute pressure is above zero: is the atmospheric pressure missing?")
    return discharge_pressure / suction_pressure


def condensing_over_ambient(condensing_temperature: Number, outdoor_temperature: Number) -> Number:
    """Condensing temperature minus that of the outdoor air [K]; both temperatures [K]."""
    return condensing_temperature - outdoor_temperature


def approach(liquid_line_temperature: Number, outdoor_temperature: Number) -> Number:
    """Liquid leaving the condenser minus the outdoor air that cools it [K]; both temperatures [K]."""
    return liquid_line_temperature - outdoor_temperature


def condenser_air_rise(leaving_air_temperature: Number, outdoor_temperature: Number) -> Number:
    """How much the condenser warms its air [K]; both dry-bulb temperatures [K]."""
    return leaving_air_temperature - outdoor_temperature


def evaporator_difference(return_air_temperature: Number, evaporating_temperature: Number) -> Number:
    """Air entering the evaporator minus the evaporating temperature [K]; both temperatures [K]."""
    return return_air_temperature - evaporating_temperature


def air_temperature_drop(return_air_temperature: Number, supply_air_temperature: Number) -> Number:
    """How much colder the supply air is than the return air [K]; both dry-bulb temperatures [K]."""
    return return_air_temperature - supply_air_temperature


def drier_temperature_drop(inlet_temperature: Number, outlet_temperature: Number) -> Number:
    """How much the liquid line cools across a filter drier [K]; both temperatures [K]."""
    return inlet_temperature - outlet_temperature


def suction_line_gain(evaporator_outlet_temperature: Number, suction_line_temperature: Number) -> Number:
    """How much the suction line warms from evaporator to outdoor unit [K]; both temperatures [K]."""
    return suction_line_temperature - evaporator_outlet_temperature


def fixed_orifice_superheat_target(return_wet_bulb: Number, outdoor_dry_bulb: Number) -> Number:
    """Superheat [K] that a fixed orifice should run at, from return wet bulb and outdoor dry bulb [K].

    In degrees Fahrenheit: (3 · wet bulb - 80 - dry bulb) / 2. The maker's charging chart comes first.

    Raises:
        NoTargetError: the formula gives less than 5 °F (2.8 K), where charging by superheat is not safe.

    Source: common practice; the formula has no known primary publication.
    """
    wet = return_wet_bulb * 1.8 - _FAHRENHEIT_ZERO
    dry = outdoor_dry_bulb * 1.8 - _FAHRENHEIT_ZERO
    target = (3.0 * wet - 80.0 - dry) / 2.0 / 1.8
    if not nominal(target) >= _LEAST_ORIFICE_SUPERHEAT - 1e-9:
        raise NoTargetError(
            "There is no superheat target at this wet bulb and outdoor temperature: the formula gives less than"
            " 5 °F (2.8 K), too little to keep liquid out of the compressor."
        )
    return target


def glide_midpoint(bubble_temperature: Number, dew_temperature: Number) -> Number:
    """Mean of bubble and dew temperature [K], the mean temperature of a condenser at one pressure."""
    return (bubble_temperature + dew_temperature) / 2.0


def evaporator_midpoint(bubble_temperature: Number, dew_temperature: Number, inlet_quality: Number) -> Number:
    """Mean temperature of an evaporator at one pressure [K].

    Flash gas has used up part of the glide before the coil, so it starts above the bubble temperature [K]: by about
    the vapour mass fraction at the inlet (0 to 1) of the way to the dew temperature [K].
    """
    inlet_temperature = bubble_temperature + inlet_quality * (dew_temperature - bubble_temperature)
    return (inlet_temperature + dew_temperature) / 2.0


def flash_gas_fraction(saturation: Saturation, liquid_temperature: float, evaporating_pressure: float) -> float:
    """Mass fraction (0 to 1) of the liquid that flashes in the metering device.

    Enthalpy is kept from liquid at a temperature [K] to the evaporating pressure [Pa]; subcooled liquid counts as
    saturated at its own temperature, which is off by less than 0.006 up to 130 °F condensing (carbon dioxide: 0.02).

    Raises:
        OutOfRangeError: outside the curves.
        ImpossibleError: the liquid is colder than it would be after the metering device, so nothing flashes.
    """
    entering = saturation.liquid_enthalpy(liquid_temperature)
    liquid = saturation.liquid_enthalpy(saturation.bubble_temperature(evaporating_pressure))
    vapour = saturation.vapour_enthalpy(saturation.dew_temperature(evaporating_pressure))
    fraction = (entering - liquid) / (vapour - liquid)
    if not 0.0 <= fraction <= 1.0:
        raise ImpossibleError("Liquid this cold does not flash at this evaporating pressure.")
    return fraction


def cooling_effect(
    saturation: Saturation, liquid_temperature: float, evaporating_pressure: float, superheat: float = 0.0
) -> float:
    """Heat that a kilogram takes up in the evaporator [J/kg].

    From liquid at a temperature [K] to vapour at the evaporating pressure [Pa] with the superheat [K] that the
    coil itself gives; any superheat loads the equation of state.

    Raises:
        OutOfRangeError: outside the curves, or negative superheat.
        PhysicsError: the equation of state has no such vapour.
    """
    if not superheat >= 0.0:
        raise OutOfRangeError("superheat", superheat, "K", 0.0, None, "dry vapour leaves the evaporator")
    dew = saturation.dew_temperature(evaporating_pressure)
    leaving = saturation.vapour_enthalpy(dew)
    if superheat > 0.0:
        model = saturation.refrigerant.model_name
        leaving = reference.vapour_state(model, evaporating_pressure, dew + superheat).enthalpy
    return leaving - saturation.liquid_enthalpy(liquid_temperature)


def mass_flow(capacity: Number, cooling_effect: Number) -> Number:
    """Refrigerant flow [kg/s] for a capacity [W] at a cooling effect [J/kg].

    Raises:
        ImpossibleError: the cooling effect is not above zero.
    """
    if not nominal(cooling_effect) > 0:
        raise ImpossibleError("Refrigerant that takes up no heat cannot carry a capacity.")
    return capacity / cooling_effect


def air_side_capacity(dry_air_flow: Number, return_enthalpy: Number, supply_enthalpy: Number) -> Number:
    """Total cooling [W] of an air flow [kg/s of dry air] between two moist-air enthalpies [J/kg of dry air]."""
    return dry_air_flow * (return_enthalpy - supply_enthalpy)


def airflow_per_capacity(airflow: Number, capacity: Number) -> Number:
    """Air volume per capacity [m3/s per W] from an airflow [m3/s] and a capacity [W].

    Raises:
        ImpossibleError: the capacity is not above zero.
    """
    if not nominal(capacity) > 0:
        raise ImpossibleError("Airflow per capacity needs a capacity above zero.")
    return airflow / capacity


def liquid_lift_loss(density: Number, height: Number) -> Number:
    """Pressure [Pa] that a column of liquid of a density [kg/m3] costs over a rise [m]; a drop gives it back."""
    return density * GRAVITY * height


def flash_margin(
    saturation: Saturation, liquid_pressure: float, liquid_temperature: float, pressure_loss: float
) -> float:
    """Subcooling left [K] after a liquid line has lost pressure; negative where the line flashes.

    Pressure [Pa] and temperature [K] where the line begins, `pressure_loss` [Pa] by lift, friction and parts.

    Raises:
        OutOfRangeError: outside the curves.
    """
    return saturation.bubble_temperature(liquid_pressure - pressure_loss) - liquid_temperature


def noncondensable_excess(saturation: Saturation, pressure: float, ambient_temperature: float) -> float:
    """Pressure over saturation [Pa] of a system that stands still and has taken on the ambient temperature [K].

    A blend at rest lies between its dew and its bubble pressure, which depends on how full the system is; the excess
    is counted from bubble, so that it is never claimed too early. `pressure` is absolute [Pa].

    Raises:
        OutOfRangeError: the ambient temperature is outside the curve.
    """
    return pressure - saturation.bubble_pressure(ambient_temperature)


def discharge_temperature(
    refrigerant: Refrigerant,
    suction_pressure: float,
    suction_temperature: float,
    discharge_pressure: float,
    isentropic_efficiency: float = 1.0,
) -> float:
    """Temperature [K] at which compression ends, for an isentropic efficiency above 0 and up to 1.

    From superheated vapour at absolute suction pressure [Pa] and temperature [K] to discharge pressure [Pa]. With an
    efficiency of 1 it is the floor that no adiabatic compressor goes below. Heat given off by the shell is left out.
    Loads the equation of state.

    Raises:
        OutOfRangeError: outside the range of the equation, or an efficiency that there is not.
        ImpossibleError: the suction gas would be wet.
        PhysicsError: the equation has no such state.

    Source: definition of isentropic efficiency, ideal work over real work.
    """
    if not 0.0 < isentropic_efficiency <= 1.0:
        raise OutOfRangeError("isentropic efficiency", isentropic_efficiency, "", 0.0, 1.0, "definition")
    model = refrigerant.model_name
    dew = reference.saturation_at_pressure(model, suction_pressure, "dew").temperature
    if suction_temperature < dew - 1e-6:
        raise ImpossibleError("The suction temperature is below dew: the gas would be wet.")
    suction = reference.vapour_state(model, suction_pressure, max(suction_temperature, dew))
    ideal, work = reference.isentropic_compression(model, suction, discharge_pressure)
    if isentropic_efficiency == 1.0:
        return ideal.temperature
    leaving = suction.enthalpy + work / isentropic_efficiency
    return reference.vapour_from_enthalpy(model, discharge_pressure, leaving).temperature
