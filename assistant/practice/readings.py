"""What a technician would read at a solved circuit, by the names of the catalogue.

Readings are in SI: temperatures [K], pressures absolute [Pa], airflow [m3/s], duration [s]. They are exact: no
instrument stands between.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from assistant.practice import coils
from assistant.practice.plant import BLOWER_HEAT, FAN_POWER, TON, Conditions, Plant
from assistant.practice.refrigerant import saturated, temperature
from assistant.practice.solve import Circuit
from assistant.quantity import Kind
from assistant.thermo import circuit as arithmetic
from assistant.thermo.air import wet_bulb_temperature

KINDS: Final[Mapping[str, Kind]] = {
    "minutes_running": Kind.DURATION,
    "suction_pressure": Kind.PRESSURE,
    "liquid_pressure": Kind.PRESSURE,
    "standing_pressure": Kind.PRESSURE,
    "suction_line_temperature": Kind.TEMPERATURE,
    "evaporator_outlet_temperature": Kind.TEMPERATURE,
    "liquid_line_temperature": Kind.TEMPERATURE,
    "drier_inlet_temperature": Kind.TEMPERATURE,
    "drier_outlet_temperature": Kind.TEMPERATURE,
    "metering_inlet_temperature": Kind.TEMPERATURE,
    "discharge_line_temperature": Kind.TEMPERATURE,
    "outdoor_air_temperature": Kind.TEMPERATURE,
    "return_air_dry_bulb": Kind.TEMPERATURE,
    "return_air_wet_bulb": Kind.TEMPERATURE,
    "supply_air_dry_bulb": Kind.TEMPERATURE,
    "supply_air_wet_bulb": Kind.TEMPERATURE,
    "condenser_leaving_air_temperature": Kind.TEMPERATURE,
    "indoor_airflow": Kind.AIRFLOW,
}
"""Every reading that a circuit gives, in the order in which they are taken, with its kind."""

_RUNNING = 30.0 * 60.0


@dataclass(frozen=True, slots=True)
class Truth:
    """What no instrument on the call tells: how the system really runs.

    Heats and power [W], superheats and subcooling [K], flow [kg/s], charge as a share of the right one; `opening`
    (0 to 1) is that of an expansion valve, `nan` without one.
    """

    net_cooling: float
    compressor_power: float
    total_power: float
    evaporating_temperature: float
    condensing_temperature: float
    superheat: float
    evaporator_superheat: float
    subcooling: float
    flow: float
    charge: float
    opening: float


def readings(plant: Plant, conditions: Conditions, found: Circuit) -> dict[str, float]:
    """Every reading by its name, in SI.

    Raises:
        OutOfRangeError: outside curves or tables.
    """
    fluid = plant.fluid
    indoor = conditions.indoor
    after_drier = found.liquid_pressure - found.restriction_loss
    supply, ratio = coils.leaving_air(plant.evaporator, found.indoor_air, indoor, found.evaporated)
    supply += plant.indoor_airflow * BLOWER_HEAT / (found.indoor_air * coils.AIR_HEAT)
    outdoor_heat = found.condensed.heat + plant.tons * FAN_POWER
    liquid = temperature(fluid, found.condensing_pressure, found.condensed.enthalpy)
    return {
        "minutes_running": _RUNNING,
        "suction_pressure": found.suction_pressure,
        "liquid_pressure": found.liquid_pressure,
        "standing_pressure": fluid.curves.bubble_pressure(conditions.outdoor) + plant.noncondensables,
        "suction_line_temperature": temperature(fluid, found.suction_pressure, found.suction_enthalpy),
        "evaporator_outlet_temperature": temperature(fluid, found.coil_outlet, found.evaporated.enthalpy),
        "liquid_line_temperature": liquid,
        "drier_inlet_temperature": liquid,
        "drier_outlet_temperature": min(temperature(fluid, after_drier, found.condensed.enthalpy), liquid),
        "metering_inlet_temperature": temperature(fluid, found.before_device, found.device_enthalpy),
        "discharge_line_temperature": temperature(fluid, found.discharge_pressure, found.compressed.enthalpy),
        "outdoor_air_temperature": conditions.outdoor,
        "return_air_dry_bulb": indoor.dry_bulb,
        "return_air_wet_bulb": indoor.wet_bulb,
        "supply_air_dry_bulb": supply,
        "supply_air_wet_bulb": wet_bulb_temperature(supply, ratio, indoor.pressure),
        "condenser_leaving_air_temperature": conditions.outdoor + outdoor_heat / (found.outdoor_air * coils.AIR_HEAT),
        "indoor_airflow": plant.indoor_airflow,
    }


def truth(plant: Plant, found: Circuit) -> Truth:
    """How the system really runs.

    Raises:
        OutOfRangeError: outside curves or tables.
    """
    fluid = plant.fluid
    low, port = saturated(fluid, found.suction_pressure), saturated(fluid, found.liquid_pressure)
    coil = saturated(fluid, found.coil_outlet)
    blower = plant.indoor_airflow * BLOWER_HEAT
    suction = temperature(fluid, found.suction_pressure, found.suction_enthalpy)
    outlet = temperature(fluid, found.coil_outlet, found.evaporated.enthalpy)
    liquid = temperature(fluid, found.condensing_pressure, found.condensed.enthalpy)
    return Truth(
        net_cooling=found.evaporated.heat - blower,
        compressor_power=found.compressed.power,
        total_power=found.compressed.power + blower + plant.tons * FAN_POWER,
        evaporating_temperature=low.dew,
        condensing_temperature=port.bubble,
        superheat=arithmetic.superheat(suction, low.dew),
        evaporator_superheat=arithmetic.superheat(outlet, coil.dew),
        subcooling=arithmetic.subcooling(port.bubble, liquid),
        flow=found.compressed.flow,
        charge=plant.charge / plant.rated_charge,
        opening=found.metered.opening,
    )


def tons_of(heat: float) -> float:
    """A heat flow [W] in tons of refrigeration."""
    return heat / TON
