"""Every worked number with its formulas."""

from collections.abc import Mapping
from typing import Final

from assistant.worksheet.air_formulas import AIR
from assistant.worksheet.circuit_formulas import CIRCUIT
from assistant.worksheet.formula import Formula
from assistant.worksheet.known import Known

FORMULAS: Final[Mapping[str, tuple[Formula, ...]]] = {**CIRCUIT, **AIR}
"""Every worked number: its formulas, of which the first that applies is used."""


def formula_for(name: str, known: Known) -> Formula:
    """The formula that applies on this system.

    Raises:
        KeyError: no worked number of that name.
    """
    return next(formula for formula in FORMULAS[name] if formula.applies(known))
