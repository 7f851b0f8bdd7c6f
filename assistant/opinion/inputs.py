"""What a call knows, as the opinion takes it: facts of the unit, weather, readings, observations and tests."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Final

from assistant import doubt
from assistant.catalogue.catalogue import Catalogue
from assistant.errors import CoilsideError, InputError
from assistant.opinion.fits import BUBBLE, DEW, READINGS
from assistant.opinion.weighing import Predicted, WeighedReading
from assistant.quantity import KELVIN_PER_FAHRENHEIT, fahrenheit
from assistant.simulator.plant import DeviceKind
from assistant.simulator.units import Facts, Weather
from assistant.simulator.vapour import modelled_designations
from assistant.thermo.air import from_relative_humidity, standard_pressure
from assistant.thermo.curves import Saturation, saturation
from assistant.worksheet.known import Known

_DEVICES: Final[Mapping[str, DeviceKind]] = {"txv": "txv", "eev": "txv", "fixed_orifice": "fixed_orifice"}
_HUMIDITY: Final[Mapping[str, float]] = {"cooling": 0.5, "heating": 0.4}
"""Relative humidity of the return air where nobody measured its wet bulb; chosen."""
_UNTOLD_AIR: Final[Mapping[str, tuple[float, float]]] = {
    "cooling": (fahrenheit(76.0), 4.0 * KELVIN_PER_FAHRENHEIT),
    "heating": (fahrenheit(68.0), 3.0 * KELVIN_PER_FAHRENHEIT),
}
"""Return air [K] where nobody measured it, and its standard doubt [K]; chosen."""
_WET_BULB_DOUBT: Final = 3.0 * KELVIN_PER_FAHRENHEIT
"""Standard doubt [K] of the wet bulb then; chosen."""
_PUMP_READINGS: Final = frozenset(name for name in READINGS if name.startswith(("reversing_valve", "idle_device")))
_LEAST_DOUBT: Final = 0.05


@dataclass(frozen=True)
class Situation:
    """Everything that an opinion rests on: `device` is that of the facts, `seen` observations by name.

    `tests` of the bulb give what the suction pressure did: 0 it rose, 1 it stayed, 2 it fell.
    """

    facts: Facts
    weather: Weather
    device: str
    taken: tuple[WeighedReading, ...]
    seen: Mapping[str, str]
    tests: Mapping[str, int] = field(default_factory=dict)

    @property
    def is_due(self) -> bool:
        """Whether it is time to work ahead: all of the weather is known, or the circuit begins to be measured."""
        return bool(self.taken) or self.weather.dry_bulb_doubt < _WET_BULB_DOUBT

    @property
    def ground(self) -> "Situation":
        """What is worked ahead rests on this alone."""
        return replace(self, taken=(), seen={}, tests={})


def situation_of(known: Known, catalogue: Catalogue, tests: Mapping[str, int]) -> Situation:
    """Return what a call knows; `tests` as in `Situation`.

    Raises:
        InputError: something is missing or outside what is modelled; the sentence says what.
    """
    facts, device = _facts(known)
    weather = _weather(known, facts)
    curves = saturation(facts.refrigerant)
    taken = []
    for name in READINGS:
        if name in known.quantities:
            found = _taken(name, known.quantities[name], curves)
            if found is not None:
                taken.append(found)
    seen = {name: choice for name, choice in known.choices.items() if name in catalogue.observations}
    return Situation(facts, weather, device, tuple(taken), seen, tests)


def _facts(known: Known) -> tuple[Facts, str]:
    mode = known.choices.get("mode", "cooling")
    if mode not in ("cooling", "heating"):
        raise InputError(f"There is an opinion in cooling and in heating, not in {mode}.")
    name = known.choices.get("refrigerant")
    if name is None:
        raise InputError("An opinion needs the refrigerant: type system to tell it.")
    if name not in modelled_designations():
        raise InputError(f"There is no simulated unit with {name}, so there is no opinion.")
    device = known.choices.get("metering_device")
    if mode == "heating":
        device = known.choices.get("outdoor_metering_device", device)
    if device is None or device not in _DEVICES:
        raise InputError("An opinion needs the metering device: type system to tell it.")
    pump: bool | None = True if mode == "heating" or known.quantities.keys() & _PUMP_READINGS else None
    if "outdoor_metering_device" in known.choices:
        pump = True
    if known.choices.get("reversing_valve") == "no_valve":
        pump = False
    target, lift = known.quantities.get("subcooling_target"), known.quantities.get("liquid_line_lift")
    return Facts(
        name,
        _DEVICES[device],
        "heating" if mode == "heating" else "cooling",
        known.altitude,
        None if target is None else doubt.nominal(target),
        None if lift is None else doubt.nominal(lift),
        known.choices.get("unit_efficiency"),
        pump,
    ), device


def _weather(known: Known, facts: Facts) -> Weather:
    outdoor, dry = known.quantities.get("outdoor_air_temperature"), known.quantities.get("return_air_dry_bulb")
    if outdoor is None:
        raise InputError("An opinion needs the outdoor air: what is right hangs on the weather.")
    indoors, dry_doubt = _UNTOLD_AIR[facts.mode] if dry is None else (doubt.nominal(dry), _own(dry))
    wet = known.quantities.get("return_air_wet_bulb")
    if wet is None:
        usual = from_relative_humidity(indoors, _HUMIDITY[facts.mode], standard_pressure(facts.altitude))
        return Weather(doubt.nominal(outdoor), indoors, usual.wet_bulb, _own(outdoor), dry_doubt, _WET_BULB_DOUBT)
    return Weather(
        doubt.nominal(outdoor), indoors, min(doubt.nominal(wet), indoors), _own(outdoor), dry_doubt, _own(wet)
    )


def _own(number: doubt.Uncertain) -> float:
    return max(doubt.standard(number), _LEAST_DOUBT)


def _taken(name: str, number: doubt.Uncertain, curves: Saturation) -> WeighedReading | None:
    """Return a reading as it is weighed; `None` where it is no saturation pressure at all."""
    value, spread = doubt.nominal(number), doubt.standard(number)
    try:
        weighed = as_weighed(name, value, curves)
        if name in DEW or name in BUBBLE:
            spread = as_weighed(name, value + spread, curves) - weighed
    except CoilsideError:
        return None
    return WeighedReading(name, weighed, max(spread, _LEAST_DOUBT))


def as_weighed(name: str, value: float, curves: Saturation) -> float:
    """Return a reading [SI] as it is weighed [K].

    Raises:
        OutOfRangeError: outside the curves.
    """
    if name in DEW:
        return curves.dew_temperature(value)
    return curves.bubble_temperature(value) if name in BUBBLE else value


def as_read(name: str, told: Predicted, curves: Saturation) -> tuple[float, float]:
    """Return what is predicted as it would be read [SI], with its standard doubt.

    Raises:
        OutOfRangeError: outside the curves.
    """
    if name not in DEW and name not in BUBBLE:
        return told.value, told.doubt
    pressure = curves.dew_pressure if name in DEW else curves.bubble_pressure
    value = pressure(told.value)
    slope = (pressure(told.value + 0.05) - pressure(told.value - 0.05)) / 0.1
    return value, told.doubt * slope


def doubts_of(catalogue: Catalogue) -> Mapping[str, float]:
    """Return the usual standard doubt [K] of every reading's instrument, as it is weighed: of pressures about 0.6 K."""
    found = {}
    for name in READINGS:
        reading = catalogue.readings.get(name)
        if reading is not None:
            is_pressure = name in DEW or name in BUBBLE
            found[name] = 0.6 if is_pressure else reading.accuracy.of(300.0, reading.kind) / math.sqrt(3.0)
    return found
