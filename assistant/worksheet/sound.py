"""What a sound unit of the facts would read in the weather of a call."""

from collections.abc import Mapping
from typing import Final

from assistant import doubt
from assistant.doubt import Uncertain
from assistant.errors import InputError
from assistant.quantity import KELVIN_PER_FAHRENHEIT
from assistant.thermo.air import from_relative_humidity, standard_pressure

OUTDOOR, DRY, WET = "outdoor_air_temperature", "return_air_dry_bulb", "return_air_wet_bulb"
_HUMIDITY: Final[Mapping[str, float]] = {"cooling": 0.5, "heating": 0.4}
"""Relative humidity of the return air where nobody measured its wet bulb; chosen."""
_WET_BULB_ACCURACY: Final = 5.0 * KELVIN_PER_FAHRENHEIT
"""How far the wet bulb may lie from that then [K]; chosen."""
_DEVICES: Final = {"txv": "txv", "eev": "txv", "fixed_orifice": "fixed_orifice"}


def sound_readings(
    told: Mapping[str, Uncertain], choices: Mapping[str, str], altitude: float
) -> Mapping[str, Uncertain]:
    """Return what a sound unit reads, in SI; its compressor's load is a share.

    `told` are facts and weather as quantities, `choices` the chosen facts, `altitude` that of the site [m].

    Raises:
        InputError: nothing is known of such a unit; the sentence says what is missing.
        OutOfRangeError: weather in which nothing is known of it.
    """
    from assistant.simulator.expected import expected_readings
    from assistant.simulator.units import Facts

    mode = choices.get("mode", "cooling")
    if mode not in ("cooling", "heating"):
        raise InputError(f"What is right is known in cooling and in heating, not in {mode}.")
    device = choices.get("outdoor_metering_device") if mode == "heating" else None
    device = device or choices.get("metering_device")
    kind = _DEVICES.get(device or "")
    if kind is None:
        raise InputError("What is right hangs on the metering device: tell it among the facts.")
    refrigerant = choices.get("refrigerant")
    if refrigerant is None:
        raise InputError("What is right hangs on the refrigerant: tell it among the facts.")
    facts = Facts(
        refrigerant,
        "txv" if kind == "txv" else "fixed_orifice",
        "heating" if mode == "heating" else "cooling",
        altitude,
        _nominal(told.get("subcooling_target")),
        _nominal(told.get("liquid_line_lift")),
        choices.get("unit_efficiency"),
        True if mode == "heating" or "outdoor_metering_device" in choices else None,
    )
    return expected_readings(facts, _weather(told, facts.mode, altitude))


def _nominal(value: Uncertain | None) -> float | None:
    return None if value is None else doubt.nominal(value)


def _weather(told: Mapping[str, Uncertain], mode: str, altitude: float) -> dict[str, Uncertain]:
    if OUTDOOR not in told or DRY not in told:
        raise InputError("What is right hangs on the weather: take the outdoor air and the return air.")
    dry = told[DRY]
    wet = told.get(WET)
    if wet is None:
        usual = from_relative_humidity(doubt.nominal(dry), _HUMIDITY[mode], standard_pressure(altitude)).wet_bulb
        wet = usual + doubt.within(0.0, _WET_BULB_ACCURACY, "the humidity that nobody measured")
    return {OUTDOOR: told[OUTDOOR], DRY: dry, WET: wet}
