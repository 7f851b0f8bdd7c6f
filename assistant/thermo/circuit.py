"""The arithmetic of the refrigeration circuit.

Everything is in SI: temperatures [K], absolute pressures [Pa]. The functions that only add, subtract, multiply and
divide also take and give numbers that carry an uncertainty; those that look a curve up take floats.
"""

from assistant.doubt import Uncertain, nominal
from assistant.errors import ImpossibleError, NoTargetError
from assistant.quantity import GRAVITY, ZERO_FAHRENHEIT
from assistant.thermo.curves import Saturation

_LEAST_ORIFICE_SUPERHEAT = 5.0 / 1.8


def compression_ratio(discharge_pressure: Uncertain, suction_pressure: Uncertain) -> Uncertain:
    """Discharge over suction pressure, both absolute [Pa]; gauge pressures give a wrong ratio.

    Raises:
        ImpossibleError: an absolute pressure is not above zero.
    """
    if not (nominal(discharge_pressure) > 0 and nominal(suction_pressure) > 0):
        raise ImpossibleError("An absolute pressure is above zero: is the atmospheric pressure missing?")
    return discharge_pressure / suction_pressure


def fixed_orifice_superheat_target(return_wet_bulb: Uncertain, outdoor_dry_bulb: Uncertain) -> Uncertain:
    """Return the superheat [K] that a fixed orifice should run at, from return wet bulb and outdoor dry bulb [K].

    In degrees Fahrenheit: (3 · wet bulb - 80 - dry bulb) / 2. The maker's charging chart comes first.

    Raises:
        NoTargetError: the formula gives less than 5 °F (2.8 K), where charging by superheat is not safe.

    Source: common practice; the formula has no known primary publication.
    """
    wet = return_wet_bulb * 1.8 - ZERO_FAHRENHEIT
    dry = outdoor_dry_bulb * 1.8 - ZERO_FAHRENHEIT
    target = (3.0 * wet - 80.0 - dry) / 2.0 / 1.8
    if not nominal(target) >= _LEAST_ORIFICE_SUPERHEAT - 1e-9:
        raise NoTargetError(
            "There is no superheat target at this wet bulb and outdoor temperature: the formula gives less than"
            " 5 °F (2.8 K), too little to keep liquid out of the compressor."
        )
    return target


def glide_midpoint(bubble_temperature: Uncertain, dew_temperature: Uncertain) -> Uncertain:
    """Return the mean of bubble and dew temperature [K], the mean temperature of a condenser at one pressure."""
    return (bubble_temperature + dew_temperature) / 2.0


def evaporator_midpoint(
    bubble_temperature: Uncertain, dew_temperature: Uncertain, inlet_quality: Uncertain
) -> Uncertain:
    """Return the mean temperature of an evaporator at one pressure [K].

    Flash gas has used up part of the glide before the coil, so it starts above the bubble temperature [K]: by about
    the vapour mass fraction at the inlet (0 to 1) of the way to the dew temperature [K].
    """
    inlet_temperature = bubble_temperature + inlet_quality * (dew_temperature - bubble_temperature)
    return (inlet_temperature + dew_temperature) / 2.0


def flash_gas_fraction(saturation: Saturation, liquid_temperature: float, evaporating_pressure: float) -> float:
    """Return the mass fraction (0 to 1) of the liquid that flashes in the metering device.

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


def cooling_effect(saturation: Saturation, liquid_temperature: float, evaporating_pressure: float) -> float:
    """Return the heat that a kilogram takes up in the evaporator [J/kg].

    From liquid at a temperature [K] to dry saturated vapour at the evaporating pressure [Pa].

    Raises:
        OutOfRangeError: outside the curves.
    """
    dew = saturation.dew_temperature(evaporating_pressure)
    return saturation.vapour_enthalpy(dew) - saturation.liquid_enthalpy(liquid_temperature)


def mass_flow(capacity: Uncertain, cooling_effect: Uncertain) -> Uncertain:
    """Return the refrigerant flow [kg/s] for a capacity [W] at a cooling effect [J/kg].

    Raises:
        ImpossibleError: the cooling effect is not above zero.
    """
    if not nominal(cooling_effect) > 0:
        raise ImpossibleError("Refrigerant that takes up no heat cannot carry a capacity.")
    return capacity / cooling_effect


def air_side_capacity(dry_air_flow: Uncertain, return_enthalpy: Uncertain, supply_enthalpy: Uncertain) -> Uncertain:
    """Total cooling [W] of an air flow [kg/s of dry air] between two moist-air enthalpies [J/kg of dry air]."""
    return dry_air_flow * (return_enthalpy - supply_enthalpy)


def airflow_per_capacity(airflow: Uncertain, capacity: Uncertain) -> Uncertain:
    """Return the air volume per capacity [m3/s per W] from an airflow [m3/s] and a capacity [W].

    Raises:
        ImpossibleError: the capacity is not above zero.
    """
    if not nominal(capacity) > 0:
        raise ImpossibleError("Airflow per capacity needs a capacity above zero.")
    return airflow / capacity


def mixed_share(cold: Uncertain, mixed: Uncertain, hot: Uncertain) -> Uncertain:
    """Return the share of a mixture of two streams of one gas that came hot, from the three temperatures [K].

    Raises:
        ImpossibleError: the hot stream is not hotter than the cold one.
    """
    if not nominal(hot) > nominal(cold):
        raise ImpossibleError("The discharge line has to be hotter than the suction pipe.")
    return (mixed - cold) / (hot - cold)


def liquid_lift_loss(density: Uncertain, height: Uncertain) -> Uncertain:
    """Pressure [Pa] that a column of liquid of a density [kg/m3] costs over a rise [m]; a drop gives it back."""
    return density * GRAVITY * height


def flash_margin(
    saturation: Saturation, liquid_pressure: float, liquid_temperature: float, pressure_loss: float
) -> float:
    """Return the subcooling left [K] after a liquid line has lost pressure; negative where the line flashes.

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
