"""What each worked number may be worked from, over all of its formulas: for whoever reasons about trees."""

from collections.abc import Iterator

from assistant.worksheet.formulas import FORMULAS


def all_inputs() -> dict[str, frozenset[str]]:
    """Readings, facts and other numbers by the number that they may go into, directly or through another number."""
    return {name: frozenset(_behind(name)) for name in FORMULAS}


def _behind(name: str) -> Iterator[str]:
    for formula in FORMULAS[name]:
        for wanted in (*formula.inputs, *formula.asks, *formula.chosen_by):
            yield wanted
            # A target off the data plate has the name of the fact that it comes from.
            if wanted in FORMULAS and wanted != name:
                yield from _behind(wanted)
