"""What a technician would read at a solved circuit, by the names of the catalogue.

Readings are in SI: temperatures [K], pressures absolute [Pa], airflow [m3/s], duration [s]. They are exact: no
instrument stands between.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from assistant.quantity import TON, Kind
from assistant.simulator import coils
from assistant.simulator.circuit import Circuit
from assistant.simulator.plant import BLOWER_HEAT, FAN_POWER, Conditions, Plant
from assistant.simulator.refrigerant import saturation_ends, temperature
from assistant.thermo.air import wet_bulb_temperature

KINDS: Final[Mapping[str, Kind]] = {
    "minutes_running": Kind.DURATION,
    "suction_pressure": Kind.PRESSURE,
    "liquid_pressure": Kind.PRESSURE,
    "hot_gas_pressure": Kind.PRESSURE,
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
    "reversing_valve_suction_in": Kind.TEMPERATURE,
    "reversing_valve_suction_out": Kind.TEMPERATURE,
    "idle_device_inlet_temperature": Kind.TEMPERATURE,
    "idle_device_outlet_temperature": Kind.TEMPERATURE,
}
"""Every reading that a circuit gives, in the order in which they are taken; the last four are those of a heat pump."""

_RUNNING = 30.0 * 60.0


@dataclass(frozen=True, slots=True)
class Truth:
    """What no instrument on the call tells: how the system really runs.

    Heats and power [W], superheats and subcooling [K], flow [kg/s], charge as a share of the right one; `opening`
    (0 to 1) is that of an expansion valve, `nan` without one. `net_cooling` is `nan` in heating, `net_heating` in
    cooling.
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
    net_heating: float = math.nan


def readings(plant: Plant, conditions: Conditions, found: Circuit) -> dict[str, float]:
    """Return every reading by its name, in SI.

    On a heat pump the suction is read where the tech is told to: in cooling at the larger line, in heating between
    reversing valve and compressor. The port of the larger line has hot gas in heating.

    Raises:
        OutOfRangeError: outside curves or tables.
    """
    fluid, indoor, heating = plant.fluid, conditions.indoor, plant.mode == "heating"
    port = found.liquid_pressure - plant.noncondensables
    liquid = temperature(fluid, port, found.liquid_enthalpy)
    behind_drier = temperature(fluid, found.liquid_pressure - found.restriction_loss, found.liquid_enthalpy)
    supply, ratio = _supply(plant, conditions, found)
    into, out = _suction_pipes(plant, found)
    told = {
        "minutes_running": _RUNNING,
        "suction_pressure": found.suction_pressure,
        "liquid_pressure": found.liquid_pressure,
        "standing_pressure": fluid.curves.bubble_pressure(conditions.outdoor) + plant.noncondensables,
        "suction_line_temperature": out if heating else into,
        "evaporator_outlet_temperature": found.feed.line_temperature,
        "liquid_line_temperature": liquid,
        "drier_inlet_temperature": liquid,
        "drier_outlet_temperature": min(behind_drier, liquid),
        "metering_inlet_temperature": temperature(fluid, found.before_device, found.device_enthalpy),
        "discharge_line_temperature": temperature(fluid, found.discharge_pressure, found.compressed.enthalpy),
        "outdoor_air_temperature": conditions.outdoor,
        "return_air_dry_bulb": indoor.dry_bulb,
        "return_air_wet_bulb": indoor.wet_bulb,
        "supply_air_dry_bulb": supply,
        "supply_air_wet_bulb": wet_bulb_temperature(supply, ratio, indoor.pressure),
        "condenser_leaving_air_temperature": _behind_outdoor_coil(plant, conditions, found),
        "indoor_airflow": plant.indoor_airflow,
    }
    if heating:
        del told["condenser_leaving_air_temperature"]
        told["hot_gas_pressure"] = found.discharge_pressure
    if plant.heat_pump:
        before = temperature(fluid, found.condensing_pressure, found.condensed.enthalpy)
        behind = temperature(fluid, found.condensing_pressure - found.idle_loss, found.condensed.enthalpy)
        told |= {
            "reversing_valve_suction_in": into,
            "reversing_valve_suction_out": out,
            "idle_device_inlet_temperature": before,
            "idle_device_outlet_temperature": min(behind, before),
        }
    return told


def _suction_pipes(plant: Plant, found: Circuit) -> tuple[float, float]:
    """Temperature [K] of the suction pipe ahead of a reversing valve and behind it; the same where there is none."""
    out = temperature(plant.fluid, found.suction_pressure, found.suction_enthalpy)
    if not plant.heat_pump:
        return out, out
    arriving = found.evaporated.enthalpy + found.warmed / found.flow
    return temperature(plant.fluid, found.suction_pressure, arriving), out


def _supply(plant: Plant, conditions: Conditions, found: Circuit) -> tuple[float, float]:
    """Return the dry bulb [K] and humidity ratio [kg/kg] of the supply air, warmed by the blower."""
    indoor = conditions.indoor
    blower = plant.indoor_airflow * BLOWER_HEAT
    if plant.mode == "heating":
        heat = found.condensed.heat + blower
        return indoor.dry_bulb + heat / (found.indoor_air * coils.AIR_HEAT), indoor.humidity_ratio
    supply, ratio = coils.leaving_air(plant.evaporator, found.indoor_air, indoor, found.evaporated)
    return supply + blower / (found.indoor_air * coils.AIR_HEAT), ratio


def _behind_outdoor_coil(plant: Plant, conditions: Conditions, found: Circuit) -> float:
    """Return the temperature [K] of the air behind the outdoor coil and its fan in cooling."""
    heat = found.condensed.heat + plant.tons * FAN_POWER
    return conditions.outdoor + heat / (found.outdoor_air * coils.AIR_HEAT)


def truth(plant: Plant, found: Circuit) -> Truth:
    """Return how the system really runs.

    Raises:
        OutOfRangeError: outside curves or tables.
    """
    fluid, heating = plant.fluid, plant.mode == "heating"
    low, port = saturation_ends(fluid, found.suction_pressure), saturation_ends(fluid, found.liquid_pressure)
    coil = saturation_ends(fluid, found.coil_outlet)
    blower = plant.indoor_airflow * BLOWER_HEAT
    into, out = _suction_pipes(plant, found)
    liquid = temperature(fluid, found.liquid_pressure - plant.noncondensables, found.liquid_enthalpy)
    return Truth(
        net_cooling=math.nan if heating else found.evaporated.heat - blower,
        compressor_power=found.compressed.power,
        total_power=found.compressed.power + blower + plant.tons * FAN_POWER,
        evaporating_temperature=low.dew,
        condensing_temperature=port.bubble,
        superheat=(out if heating else into) - low.dew,
        evaporator_superheat=found.feed.line_temperature - coil.dew,
        subcooling=port.bubble - liquid,
        flow=found.compressed.flow,
        charge=plant.charge / plant.rated_charge,
        opening=found.metered.opening,
        net_heating=found.condensed.heat + blower if heating else math.nan,
    )


def tons_of(heat: float) -> float:
    """Return a heat flow [W] in tons of refrigeration."""
    return heat / TON
