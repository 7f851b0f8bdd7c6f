"""Readings that contradict physics beyond their doubt: which ones disagree, the likely slip, and what to do.

Each rule says that one value is never below another. It is broken only when the difference lies below zero by more
than its own expanded uncertainty, so an instrument within its accuracy never sets one off.
"""

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Final

from assistant import doubt
from assistant.frozen import dataclass
from assistant.quantity import KELVIN_PER_FAHRENHEIT
from assistant.thermo.refrigerants import all_refrigerants
from assistant.worksheet.known import Known
from assistant.worksheet.sheet import Sheet


@dataclass(frozen=True, slots=True)
class Rule:
    """`higher` is never below `lower`; both are readings or worked numbers. `law` says why, `slips` what usually is."""

    higher: str
    lower: str
    law: str
    slips: tuple[str, ...]
    applies: Callable[[Known], bool] = lambda known: True


@dataclass(frozen=True, slots=True)
class Contradiction:
    """A broken rule: the readings behind it, and the refrigerants with which all readings would agree."""

    rule: Rule
    readings: tuple[str, ...]
    refrigerants: tuple[str, ...]


def _cooling(known: Known) -> bool:
    return known.choices.get("mode") != "heating"


def _no_heater(known: Known) -> bool:
    return _cooling(known) and "heater_power" not in known.asked


_OFF_THE_PIPE: Final = "the clamp does not touch clean copper, or sits in sun or moving air"
_NOT_ZEROED: Final = "the gauge was not zeroed, or its hose valve is closed"
_OTHER_REFRIGERANT: Final = "another refrigerant is in the system than was given"

RULES: Final[tuple[Rule, ...]] = (
    Rule(
        "liquid_pressure",
        "suction_pressure",
        "The high side is never below the low side while the compressor runs.",
        ("the hoses are swapped", "the compressor does not run", _NOT_ZEROED),
    ),
    Rule(
        "suction_line_temperature",
        "evaporating_temperature",
        "Vapour is never colder than its dew temperature.",
        (_OFF_THE_PIPE, _NOT_ZEROED, _OTHER_REFRIGERANT),
    ),
    Rule(
        "evaporator_outlet_temperature",
        "evaporating_temperature",
        "Vapour is never colder than its dew temperature.",
        (_OFF_THE_PIPE, _NOT_ZEROED, _OTHER_REFRIGERANT),
    ),
    Rule(
        "condensing_midpoint",
        "liquid_line_temperature",
        "Liquid, even with some vapour in it, is never warmer than the middle of its glide.",
        (_OFF_THE_PIPE, _NOT_ZEROED, _OTHER_REFRIGERANT, "something narrows the line between port and clamp"),
    ),
    Rule(
        "condensing_temperature",
        "outdoor_air_temperature",
        "A condenser gives no heat to air that is warmer than it.",
        ("the air was taken in the sun or above the fan", _NOT_ZEROED, _OTHER_REFRIGERANT),
        _cooling,
    ),
    Rule(
        "discharge_line_temperature",
        "condensing_temperature",
        "Compressed gas is never colder than it condenses at.",
        (_OFF_THE_PIPE, "liquid is coming back to the compressor", _OTHER_REFRIGERANT),
    ),
    Rule(
        "return_air_dry_bulb",
        "return_air_wet_bulb",
        "A wet bulb is never above the dry bulb of the same air.",
        ("the two readings are swapped", "they were taken at different places or times"),
    ),
    Rule(
        "supply_air_dry_bulb",
        "supply_air_wet_bulb",
        "A wet bulb is never above the dry bulb of the same air.",
        ("the two readings are swapped", "they were taken at different places or times"),
    ),
    Rule(
        "return_air_dry_bulb",
        "supply_air_dry_bulb",
        "A coil that cools does not warm the air.",
        ("the two readings are swapped", "the system is heating, or a heater is on"),
        _no_heater,
    ),
    Rule(
        "condenser_leaving_air_temperature",
        "outdoor_air_temperature",
        "A condenser does not cool its air.",
        ("the two readings are swapped", "the air that enters was taken in the sun"),
        _cooling,
    ),
)

# What no working system reaches; a refrigerant that would mean more than this does not explain the readings.
# Common practice, no source.
_MOST: Final = {
    "superheat": 60 * KELVIN_PER_FAHRENHEIT,
    "evaporator_superheat": 60 * KELVIN_PER_FAHRENHEIT,
    "subcooling": 40 * KELVIN_PER_FAHRENHEIT,
    "condensing_over_ambient": 60 * KELVIN_PER_FAHRENHEIT,
}


def find_contradictions(sheet: Sheet) -> tuple[Contradiction, ...]:
    """Return every rule that what is known breaks beyond doubt."""
    broken = tuple(_find_broken(sheet))
    if not broken:
        return ()
    agreeing = _agreeing_refrigerants(sheet) if any(_OTHER_REFRIGERANT in rule.slips for rule in broken) else ()
    return tuple(
        Contradiction(rule, _readings(rule, sheet), agreeing if _OTHER_REFRIGERANT in rule.slips else ())
        for rule in broken
    )


def _find_broken(sheet: Sheet) -> Iterator[Rule]:
    for rule in RULES:
        if not rule.applies(sheet.known):
            continue
        higher = sheet.value(rule.higher)
        lower = None if higher is None else sheet.value(rule.lower)
        if higher is None or lower is None or doubt.nominal(higher) >= doubt.nominal(lower):
            continue
        gap = higher - lower
        if doubt.nominal(gap) < -doubt.expanded(gap):
            yield rule


def _readings(rule: Rule, sheet: Sheet) -> tuple[str, ...]:
    names = (*sheet.needs(rule.higher), *sheet.needs(rule.lower))
    return tuple(name for name in dict.fromkeys(names) if name in sheet.known.quantities)


def _agreeing_refrigerants(sheet: Sheet) -> tuple[str, ...]:
    """The listed refrigerants with which no rule is broken and no number is absurd.

    One pair of pressure and temperature fits many refrigerants, so nothing is said unless two can be tried.
    """
    known, worked = sheet.known, [name for name in _MOST if sheet.value(name) is not None]
    if len(worked) < 2:
        return ()
    found = []
    for other in all_refrigerants():
        if other.designation == known.choices.get("refrigerant"):
            continue
        tried = Sheet(replace(known, choices={**known.choices, "refrigerant": other.designation}))
        values = ((name, tried.value(name)) for name in worked)
        absurd = any(value is None or doubt.nominal(value) > _MOST[name] for name, value in values)
        if not absurd and not any(_find_broken(tried)):
            found.append(other.designation)
    return tuple(found)
