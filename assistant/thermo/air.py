"""Moist air: what a dry bulb, a wet bulb and the pressure of the site say about the air over the coil.

Temperatures [K], pressures [Pa]; humidity ratio [kg water per kg dry air]; enthalpy [J per kg dry air], zero for dry
air at 0 °C. Altitude enters through the pressure (`atmosphere.standard_pressure`).

psychrolib keeps its unit system in a global, so a private copy of it is loaded: nobody else's setting reaches us,
ours reaches nobody.
"""

import importlib.util
from dataclasses import dataclass
from functools import cache
from typing import Any

from assistant.doubt import Uncertain, nominal
from assistant.errors import ImpossibleError, OutOfRangeError
from assistant.thermo.atmosphere import SEA_LEVEL_PRESSURE

STANDARD_AIR_DENSITY = 0.075 * 0.45359237 / 0.3048**3
AIR_HEAT_CAPACITY = 0.24 * 1055.05585262 / 0.45359237 * 1.8

_ZERO_CELSIUS = 273.15
_COLDEST, _HOTTEST = 223.15, 373.15
_LOWEST_PRESSURE, _HIGHEST_PRESSURE = 2e4, 1.2e5
_SOURCE = "moist-air formulas, ASHRAE Handbook-Fundamentals 2017 ch. 1"


@cache
def _psychrometrics() -> Any:
    spec = importlib.util.find_spec("psychrolib")
    if spec is None or spec.loader is None:
        raise ModuleNotFoundError("psychrolib is not installed", name="psychrolib")
    private = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(private)
    private.SetUnitSystem(private.SI)
    return private


@dataclass(frozen=True, slots=True)
class MoistAir:
    """One state of moist air, complete.

    `dry_bulb`, `wet_bulb`, `dew_point` [K]; `pressure` [Pa]; `humidity_ratio` [kg/kg dry]; `relative_humidity` 0 to 1;
    `enthalpy` [J/kg dry]; `specific_volume` [m3/kg dry]; `density` of the moist air [kg/m3].
    """

    dry_bulb: float
    wet_bulb: float
    dew_point: float
    pressure: float
    humidity_ratio: float
    relative_humidity: float
    enthalpy: float
    specific_volume: float
    density: float


def from_wet_bulb(dry_bulb: float, wet_bulb: float, pressure: float = SEA_LEVEL_PRESSURE) -> MoistAir:
    """The state of air with a dry bulb and a wet bulb [K] at a pressure [Pa].

    Raises:
        OutOfRangeError: outside -50 to 100 °C, or no pressure of an inhabited place.
        ImpossibleError: the wet bulb is above the dry bulb, or below what dry air would show.

    Source: ASHRAE Handbook-Fundamentals 2017 ch. 1, through psychrolib.
    """
    _check(dry_bulb, pressure, "dry bulb")
    _check(wet_bulb, pressure, "wet bulb")
    if wet_bulb > dry_bulb:
        raise ImpossibleError("The wet bulb is above the dry bulb: are they swapped, or the wick dry?")
    if wet_bulb < wet_bulb_temperature(dry_bulb, 0.0, pressure) - 0.01:
        raise ImpossibleError("The wet bulb is below that of perfectly dry air: check both thermometers.")
    ratio = _psychrometrics().GetHumRatioFromTWetBulb(_celsius(dry_bulb), _celsius(wet_bulb), pressure)
    return _state(dry_bulb, wet_bulb, float(ratio), pressure)


def from_relative_humidity(dry_bulb: float, relative_humidity: float, pressure: float = SEA_LEVEL_PRESSURE) -> MoistAir:
    """The state of air with a dry bulb [K] and a relative humidity (0 to 1) at a pressure [Pa].

    Raises:
        OutOfRangeError: outside -50 to 100 °C, no pressure of an inhabited place, or a humidity outside 0 to 1.

    Source: ASHRAE Handbook-Fundamentals 2017 ch. 1, through psychrolib.
    """
    _check(dry_bulb, pressure, "dry bulb")
    if not 0.0 <= relative_humidity <= 1.0:
        raise OutOfRangeError("relative humidity", relative_humidity, "of 1", 0.0, 1.0, "a fraction")
    ratio = float(_psychrometrics().GetHumRatioFromRelHum(_celsius(dry_bulb), relative_humidity, pressure))
    return _state(dry_bulb, wet_bulb_temperature(dry_bulb, ratio, pressure), ratio, pressure)


def from_humidity_ratio(dry_bulb: float, humidity_ratio: float, pressure: float = SEA_LEVEL_PRESSURE) -> MoistAir:
    """The state of air with a dry bulb [K] and a humidity ratio [kg/kg dry] at a pressure [Pa].

    Raises:
        OutOfRangeError: outside -50 to 100 °C, or no pressure of an inhabited place.
        ImpossibleError: more water than air of that temperature can hold.

    Source: ASHRAE Handbook-Fundamentals 2017 ch. 1, through psychrolib.
    """
    return _state(dry_bulb, wet_bulb_temperature(dry_bulb, humidity_ratio, pressure), humidity_ratio, pressure)


def wet_bulb_temperature(dry_bulb: float, humidity_ratio: float, pressure: float = SEA_LEVEL_PRESSURE) -> float:
    """Wet bulb [K] of air with a dry bulb [K] and a humidity ratio [kg/kg dry] at a pressure [Pa].

    Raises:
        OutOfRangeError: outside -50 to 100 °C, or no pressure of an inhabited place.
        ImpossibleError: more water than air of that temperature can hold.

    Source: ASHRAE Handbook-Fundamentals 2017 ch. 1, through psychrolib.
    """
    _check(dry_bulb, pressure, "dry bulb")
    saturated = saturated_humidity_ratio(dry_bulb, pressure)
    if not 0.0 <= humidity_ratio <= saturated * (1 + 1e-6):
        raise ImpossibleError(
            f"Air of this temperature holds {saturated:.4f} kg of water per kg of dry air at most, and none at least."
        )
    found = _psychrometrics().GetTWetBulbFromHumRatio(_celsius(dry_bulb), min(humidity_ratio, saturated), pressure)
    return float(found) + _ZERO_CELSIUS


def saturated_humidity_ratio(dry_bulb: float, pressure: float = SEA_LEVEL_PRESSURE) -> float:
    """The most water that air can hold [kg/kg dry] at a dry bulb [K] and a pressure [Pa].

    Raises:
        OutOfRangeError: outside -50 to 100 °C, or no pressure of an inhabited place.
        ImpossibleError: water boils at this temperature and pressure.

    Source: ASHRAE Handbook-Fundamentals 2017 ch. 1, through psychrolib.
    """
    _check(dry_bulb, pressure, "dry bulb")
    library = _psychrometrics()
    if library.GetSatVapPres(_celsius(dry_bulb)) >= pressure:
        raise ImpossibleError("At this temperature and pressure water boils: the air cannot be saturated.")
    return float(library.GetSatHumRatio(_celsius(dry_bulb), pressure))


def density(dry_bulb: float, humidity_ratio: float, pressure: float = SEA_LEVEL_PRESSURE) -> float:
    """Density of moist air [kg/m3] at a dry bulb [K], a humidity ratio [kg/kg dry] and a pressure [Pa].

    Raises:
        OutOfRangeError: outside -50 to 100 °C, or no pressure of an inhabited place.
        ImpossibleError: a negative humidity ratio.

    Source: ASHRAE Handbook-Fundamentals 2017 ch. 1, through psychrolib.
    """
    _check(dry_bulb, pressure, "dry bulb")
    if not humidity_ratio >= 0.0:
        raise ImpossibleError("A humidity ratio is not below zero.")
    return float(_psychrometrics().GetMoistAirDensity(_celsius(dry_bulb), humidity_ratio, pressure))


def sensible_heat_factor(pressure: float = SEA_LEVEL_PRESSURE) -> float:
    """Sensible heat per airflow and kelvin [W per m3/s per K] of standard air at a pressure [Pa].

    In the trade's units 1.08 Btu·min/(h·ft3·°F) at sea level, less in proportion to the pressure.

    Raises:
        OutOfRangeError: no pressure of an inhabited place.

    Source: 60 × 0.075 × 0.24, common practice.
    """
    _check(_ZERO_CELSIUS, pressure, "dry bulb")
    return STANDARD_AIR_DENSITY * pressure / SEA_LEVEL_PRESSURE * AIR_HEAT_CAPACITY


def airflow_from_electric_heat(
    power: Uncertain, temperature_rise: Uncertain, pressure: float = SEA_LEVEL_PRESSURE
) -> Uncertain:
    """Airflow [m3/s of standard air at the site's pressure] that electric heat [W] warms by a rise [K].

    Power and rise may carry an uncertainty. Count the blower's own heat in with the power; measure the rise out of
    sight of the elements.

    Raises:
        ImpossibleError: the rise is not above zero.
        OutOfRangeError: no pressure of an inhabited place.
    """
    if not nominal(temperature_rise) > 0:
        raise ImpossibleError("Electric heat warms the air: the temperature rise is above zero.")
    return power / (temperature_rise * sensible_heat_factor(pressure))


def _state(dry_bulb: float, wet_bulb: float, ratio: float, pressure: float) -> MoistAir:
    library = _psychrometrics()
    celsius = _celsius(dry_bulb)
    return MoistAir(
        dry_bulb=dry_bulb,
        wet_bulb=wet_bulb,
        dew_point=float(library.GetTDewPointFromHumRatio(celsius, ratio, pressure)) + _ZERO_CELSIUS,
        pressure=pressure,
        humidity_ratio=ratio,
        relative_humidity=float(library.GetRelHumFromHumRatio(celsius, ratio, pressure)),
        enthalpy=float(library.GetMoistAirEnthalpy(celsius, ratio)),
        specific_volume=float(library.GetMoistAirVolume(celsius, ratio, pressure)),
        density=float(library.GetMoistAirDensity(celsius, ratio, pressure)),
    )


def _celsius(temperature: float) -> float:
    return temperature - _ZERO_CELSIUS


def _check(temperature: float, pressure: float, name: str) -> None:
    if not _COLDEST <= temperature <= _HOTTEST:
        raise OutOfRangeError(name, temperature, "K", _COLDEST, _HOTTEST, _SOURCE)
    if not _LOWEST_PRESSURE <= pressure <= _HIGHEST_PRESSURE:
        raise OutOfRangeError("atmospheric pressure", pressure, "Pa", _LOWEST_PRESSURE, _HIGHEST_PRESSURE, _SOURCE)
