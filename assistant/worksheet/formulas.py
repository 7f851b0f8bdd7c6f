"""Every worked number with its formulas."""

from collections.abc import Iterator, Mapping
from typing import Final

from assistant.worksheet.air_formulas import AIR
from assistant.worksheet.circuit_formulas import CIRCUIT
from assistant.worksheet.expected_formulas import EXPECTED
from assistant.worksheet.formula import Formula
from assistant.worksheet.known import Known

FORMULAS: Final[Mapping[str, tuple[Formula, ...]]] = {**CIRCUIT, **AIR, **EXPECTED}
"""Every worked number: its formulas, of which the first that applies is used."""


def formula_for(name: str, known: Known) -> Formula:
    """Return the formula that applies on this system.

    Raises:
        KeyError: no worked number of that name.
    """
    for formula in FORMULAS[name]:
        if formula.applies(known):
            return formula
    raise LookupError(name)


def all_inputs() -> dict[str, frozenset[str]]:
    """Return the readings, facts and numbers by the number that they may go into, directly or through another."""
    return {name: frozenset(_behind(name)) for name in FORMULAS}


def _behind(name: str) -> Iterator[str]:
    for formula in FORMULAS[name]:
        for wanted in (*formula.inputs, *formula.asks, *formula.chosen_by):
            yield wanted
            # A target off the data plate has the name of the fact that it comes from.
            if wanted in FORMULAS and wanted != name:
                yield from _behind(wanted)
