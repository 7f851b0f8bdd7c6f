"""Moist air: what a dry bulb, a wet bulb and the pressure of the site say about the air over the coil.

Temperatures [K], pressures [Pa]; humidity ratio [kg water per kg dry air]; enthalpy [J per kg dry air], zero for dry
air at 0 °C. Altitude enters through the pressure (`standard_pressure`).

psychrolib keeps its unit system in a global, so a private copy of it is loaded: nobody else's setting reaches us,
ours reaches nobody.
"""

import importlib.util
from functools import cache, cached_property
from types import ModuleType

from assistant.doubt import Uncertain, nominal
from assistant.errors import ImpossibleError, OutOfRangeError
from assistant.frozen import dataclass
from assistant.quantity import BTU, FOOT, POUND, SEA_LEVEL, ZERO_CELSIUS

STANDARD_AIR_DENSITY = 0.075 * POUND / FOOT**3
AIR_HEAT_CAPACITY = 0.24 * BTU / POUND * 1.8

_COLDEST, _HOTTEST = 223.15, 373.15
_WET_BULB_SLACK = 0.01
_LOWEST_PRESSURE, _HIGHEST_PRESSURE = 2e4, 1.2e5
_SOURCE = "moist-air formulas, ASHRAE Handbook-Fundamentals 2017 ch. 1"


_LOWEST_ALTITUDE, _HIGHEST_ALTITUDE = -500.0, 11000.0
_ATMOSPHERE = "standard atmosphere, ASHRAE Handbook-Fundamentals 2017 ch. 1"


def standard_pressure(altitude: float) -> float:
    """Return the pressure of the standard atmosphere [Pa] at an altitude above sea level [m].

    Weather moves the real pressure by some 2 %, which is 0.3 psi.

    Raises:
        OutOfRangeError: below -500 m or above 11000 m, the troposphere.

    Source: ASHRAE Handbook-Fundamentals 2017 ch. 1 eq. (3), from memory; checked against its Table 1.
    """
    if not _LOWEST_ALTITUDE <= altitude <= _HIGHEST_ALTITUDE:
        raise OutOfRangeError("altitude", altitude, "m", _LOWEST_ALTITUDE, _HIGHEST_ALTITUDE, _ATMOSPHERE)
    return float(SEA_LEVEL * (1.0 - 2.25577e-5 * altitude) ** 5.2559)


@cache
def _psychrometrics() -> ModuleType:
    spec = importlib.util.find_spec("psychrolib")
    if spec is None or spec.loader is None:
        raise ModuleNotFoundError("psychrolib is not installed", name="psychrolib")
    private = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(private)
    private.SetUnitSystem(private.SI)
    return private


@dataclass(frozen=True)
class MoistAir:
    """One state of moist air: dry bulb [K], pressure [Pa], humidity ratio [kg/kg dry]. The rest is worked when wanted.

    `measured_wet_bulb` [K] is the one that it was made from, if any.
    """

    dry_bulb: float
    pressure: float
    humidity_ratio: float
    measured_wet_bulb: float | None = None

    @cached_property
    def wet_bulb(self) -> float:
        """The wet bulb [K]."""
        if self.measured_wet_bulb is not None:
            return self.measured_wet_bulb
        return wet_bulb_temperature(self.dry_bulb, self.humidity_ratio, self.pressure)

    @cached_property
    def dew_point(self) -> float:
        """The dew point [K]."""
        celsius = _celsius(self.dry_bulb)
        found = _psychrometrics().GetTDewPointFromHumRatio(celsius, self.humidity_ratio, self.pressure)
        return float(found) + ZERO_CELSIUS

    @cached_property
    def relative_humidity(self) -> float:
        """The relative humidity, 0 to 1."""
        celsius = _celsius(self.dry_bulb)
        return float(_psychrometrics().GetRelHumFromHumRatio(celsius, self.humidity_ratio, self.pressure))

    @cached_property
    def enthalpy(self) -> float:
        """The enthalpy [J/kg dry]."""
        return float(_psychrometrics().GetMoistAirEnthalpy(_celsius(self.dry_bulb), self.humidity_ratio))

    @cached_property
    def specific_volume(self) -> float:
        """The specific volume [m3/kg dry]."""
        celsius = _celsius(self.dry_bulb)
        return float(_psychrometrics().GetMoistAirVolume(celsius, self.humidity_ratio, self.pressure))


def from_wet_bulb(dry_bulb: float, wet_bulb: float, pressure: float = SEA_LEVEL) -> MoistAir:
    """Return the state of air with a dry bulb and a wet bulb [K] at a pressure [Pa].

    Raises:
        OutOfRangeError: outside -50 to 100 °C, or no pressure of an inhabited place.
        ImpossibleError: the wet bulb is above the dry bulb, or below what dry air would show.

    Source: ASHRAE Handbook-Fundamentals 2017 ch. 1, through psychrolib.
    """
    _check(dry_bulb, pressure, "dry bulb")
    _check(wet_bulb, pressure, "wet bulb")
    if wet_bulb > dry_bulb:
        raise ImpossibleError("The wet bulb is above the dry bulb: are they swapped, or the wick dry?")
    saturated_humidity_ratio(dry_bulb, pressure)
    at_most = _ratio_from_wet_bulb(dry_bulb, min(wet_bulb + _WET_BULB_SLACK, dry_bulb), pressure)
    if at_most <= _psychrometrics().MIN_HUM_RATIO:
        raise ImpossibleError("The wet bulb is below that of perfectly dry air: check both thermometers.")
    return MoistAir(dry_bulb, pressure, _ratio_from_wet_bulb(dry_bulb, wet_bulb, pressure), wet_bulb)


def _ratio_from_wet_bulb(dry_bulb: float, wet_bulb: float, pressure: float) -> float:
    return float(_psychrometrics().GetHumRatioFromTWetBulb(_celsius(dry_bulb), _celsius(wet_bulb), pressure))


def from_relative_humidity(dry_bulb: float, relative_humidity: float, pressure: float = SEA_LEVEL) -> MoistAir:
    """Return the state of air with a dry bulb [K] and a relative humidity (0 to 1) at a pressure [Pa].

    Raises:
        OutOfRangeError: outside -50 to 100 °C, no pressure of an inhabited place, or a humidity outside 0 to 1.

    Source: ASHRAE Handbook-Fundamentals 2017 ch. 1, through psychrolib.
    """
    _check(dry_bulb, pressure, "dry bulb")
    if not 0.0 <= relative_humidity <= 1.0:
        raise OutOfRangeError("relative humidity", relative_humidity, "of 1", 0.0, 1.0, "a fraction")
    ratio = float(_psychrometrics().GetHumRatioFromRelHum(_celsius(dry_bulb), relative_humidity, pressure))
    return MoistAir(dry_bulb, pressure, ratio)


def from_humidity_ratio(dry_bulb: float, humidity_ratio: float, pressure: float = SEA_LEVEL) -> MoistAir:
    """Return the state of air with a dry bulb [K] and a humidity ratio [kg/kg dry] at a pressure [Pa].

    Raises:
        OutOfRangeError: outside -50 to 100 °C, or no pressure of an inhabited place.
        ImpossibleError: more water than air of that temperature can hold.

    Source: ASHRAE Handbook-Fundamentals 2017 ch. 1, through psychrolib.
    """
    _check_ratio(dry_bulb, humidity_ratio, pressure)
    return MoistAir(dry_bulb, pressure, humidity_ratio)


def wet_bulb_temperature(dry_bulb: float, humidity_ratio: float, pressure: float = SEA_LEVEL) -> float:
    """Return the wet bulb [K] of air with a dry bulb [K] and a humidity ratio [kg/kg dry] at a pressure [Pa].

    Raises:
        OutOfRangeError: outside -50 to 100 °C, or no pressure of an inhabited place.
        ImpossibleError: more water than air of that temperature can hold.

    Source: ASHRAE Handbook-Fundamentals 2017 ch. 1, through psychrolib.
    """
    saturated = _check_ratio(dry_bulb, humidity_ratio, pressure)
    found = _psychrometrics().GetTWetBulbFromHumRatio(_celsius(dry_bulb), min(humidity_ratio, saturated), pressure)
    return float(found) + ZERO_CELSIUS


def _check_ratio(dry_bulb: float, humidity_ratio: float, pressure: float) -> float:
    """Return the most water that the air can hold [kg/kg dry], for a humidity ratio that is not above it."""
    saturated = saturated_humidity_ratio(dry_bulb, pressure)
    if not 0.0 <= humidity_ratio <= saturated * (1 + 1e-6):
        raise ImpossibleError(
            f"Air of this temperature holds {saturated:.4f} kg of water per kg of dry air at most, and none at least."
        )
    return saturated


def saturated_humidity_ratio(dry_bulb: float, pressure: float = SEA_LEVEL) -> float:
    """Return the most water that air can hold [kg/kg dry] at a dry bulb [K] and a pressure [Pa].

    Raises:
        OutOfRangeError: outside -50 to 100 °C, or no pressure of an inhabited place.
        ImpossibleError: water boils at this temperature and pressure.

    Source: ASHRAE Handbook-Fundamentals 2017 ch. 1, through psychrolib.
    """
    _check(dry_bulb, pressure, "dry bulb")
    library = _psychrometrics()
    vapour_pressure = library.GetSatVapPres(_celsius(dry_bulb))
    if vapour_pressure >= pressure:
        raise ImpossibleError("At this temperature and pressure water boils: the air cannot be saturated.")
    return float(library.GetHumRatioFromVapPres(vapour_pressure, pressure))


def density(dry_bulb: float, humidity_ratio: float, pressure: float = SEA_LEVEL) -> float:
    """Return the density of moist air [kg/m3] at a dry bulb [K], a humidity ratio [kg/kg dry] and a pressure [Pa].

    Raises:
        OutOfRangeError: outside -50 to 100 °C, or no pressure of an inhabited place.
        ImpossibleError: a negative humidity ratio.

    Source: ASHRAE Handbook-Fundamentals 2017 ch. 1, through psychrolib.
    """
    _check(dry_bulb, pressure, "dry bulb")
    if not humidity_ratio >= 0.0:
        raise ImpossibleError("A humidity ratio is not below zero.")
    return float(_psychrometrics().GetMoistAirDensity(_celsius(dry_bulb), humidity_ratio, pressure))


def sensible_heat_factor(pressure: float = SEA_LEVEL) -> float:
    """Return the sensible heat per airflow and kelvin [W per m3/s per K] of standard air at a pressure [Pa].

    In the trade's units 1.08 Btu·min/(h·ft3·°F) at sea level, less in proportion to the pressure.

    Raises:
        OutOfRangeError: no pressure of an inhabited place.

    Source: 60 × 0.075 × 0.24, common practice.
    """
    _check(ZERO_CELSIUS, pressure, "dry bulb")
    return STANDARD_AIR_DENSITY * pressure / SEA_LEVEL * AIR_HEAT_CAPACITY


def airflow_from_electric_heat(power: Uncertain, temperature_rise: Uncertain, pressure: float = SEA_LEVEL) -> Uncertain:
    """Return the airflow [m3/s of standard air at the site's pressure] that electric heat [W] warms by a rise [K].

    Power and rise may carry an uncertainty. Count the blower's own heat in with the power; measure the rise out of
    sight of the elements.

    Raises:
        ImpossibleError: the rise is not above zero.
        OutOfRangeError: no pressure of an inhabited place.
    """
    if not nominal(temperature_rise) > 0:
        raise ImpossibleError("Electric heat warms the air: the temperature rise is above zero.")
    return power / (temperature_rise * sensible_heat_factor(pressure))


def _celsius(temperature: float) -> float:
    return temperature - ZERO_CELSIUS


def _check(temperature: float, pressure: float, name: str) -> None:
    if not _COLDEST <= temperature <= _HOTTEST:
        raise OutOfRangeError(name, temperature, "K", _COLDEST, _HOTTEST, _SOURCE)
    if not _LOWEST_PRESSURE <= pressure <= _HIGHEST_PRESSURE:
        raise OutOfRangeError("atmospheric pressure", pressure, "Pa", _LOWEST_PRESSURE, _HIGHEST_PRESSURE, _SOURCE)
