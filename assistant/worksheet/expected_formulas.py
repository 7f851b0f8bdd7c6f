"""What a sound unit would read, as worked numbers of their own: `expected(superheat)` and the like.

Each rests on the weather alone, and on what the facts tell of the unit. A worked number of a sound unit is worked by
its own formula from what that unit would read, so both are told in the same way.
"""

from collections.abc import Mapping
from typing import Final

from assistant.doubt import Uncertain
from assistant.errors import InputError
from assistant.expecting import expected_name
from assistant.worksheet.air_formulas import AIR
from assistant.worksheet.circuit_formulas import CIRCUIT
from assistant.worksheet.formula import Formula
from assistant.worksheet.known import Known
from assistant.worksheet.sound import DRY, OUTDOOR, WET

READINGS: Final = (
    "suction_pressure",
    "liquid_pressure",
    "suction_line_temperature",
    "evaporator_outlet_temperature",
    "liquid_line_temperature",
    "discharge_line_temperature",
    "supply_air_dry_bulb",
    "condenser_leaving_air_temperature",
)
NUMBERS: Final = (
    "evaporating_temperature",
    "condensing_temperature",
    "superheat",
    "evaporator_superheat",
    "subcooling",
    "compression_ratio",
    "condensing_over_ambient",
    "evaporator_difference",
    "air_temperature_drop",
    "condenser_air_rise",
    "suction_line_gain",
    "discharge_superheat",
    "liquid_approach",
    "condensing_midpoint",
    "evaporating_midpoint",
)
"""Readings and worked numbers of which it is known what a sound unit has."""


def _work(name: str, sound: Known) -> Uncertain:
    """Return what a sound unit has of something, by the formulas of any unit.

    Raises:
        InputError: of that nothing is known in this mode.
    """
    if name in sound.quantities:
        return sound.quantities[name]
    formula = next((one for one in _FORMULAS.get(name, ()) if one.applies(sound)), None)
    if formula is None:
        raise InputError("What a sound unit reads there is not known in this mode.")
    return formula.compute({wanted: _work(wanted, sound) for wanted in formula.quantities}, sound)


_FORMULAS: Final[Mapping[str, tuple[Formula, ...]]] = {**CIRCUIT, **AIR}


def _formulas(name: str) -> tuple[Formula, ...]:
    def of(*inputs: str) -> Formula:
        told = ", ".join(f"{{{one}}}" for one in inputs)
        return Formula(
            ("refrigerant", *inputs),
            lambda _, known: _work(name, known.sound),
            f"what the simulated unit has with {{refrigerant}} at {told}",
            "surfaces fitted to the simulated unit; spreads of sound units in the manual",
            "Holds for a unit with nothing wrong; its doubt spans how sound units differ.",
            asks=("subcooling_target",),
            applies=lambda known: (
                known.choices.get("mode") == "heating" or _is_untold(known) if inputs == (OUTDOOR, DRY) else True
            ),
            chosen_by=("mode", "metering_device"),
        )

    return of(OUTDOOR, DRY), of(OUTDOOR, DRY, WET)


def _is_untold(known: Known) -> bool:
    """Tell whether the wet bulb was asked for in vain."""
    return WET in known.asked and WET not in known.quantities


EXPECTED: Final[Mapping[str, tuple[Formula, ...]]] = {
    expected_name(name): _formulas(name) for name in (*READINGS, *NUMBERS)
}
"""What is expected of readings and worked numbers."""
