"""What a leaf names as its evidence, said in words or found again as readings."""

from collections.abc import Iterable, Iterator

from assistant.call.state import State
from assistant.tree.model import Evidence
from assistant.worksheet.formulas import FORMULAS
from assistant.worksheet.showing import Display


def evidence_lines(because: Iterable[Evidence], state: State, display: Display) -> Iterator[str]:
    """The readings, observations and numbers that a leaf names, as far as they are known."""
    catalogue = state.catalogue
    for item in because:
        title = catalogue.title_of(item.name)
        moved = state.change(item.name) if item.change else None
        known = None if item.change else known_text(item.name, state, display)
        if moved is not None:
            yield f"{title} changed by {display.change(item.name, moved)}"
        elif known is not None:
            yield f"{title}: {known}"


def known_text(name: str, state: State, display: Display) -> str | None:
    """What is known of a name, with its doubt or in the words of the choice; `None` when nothing is."""
    choice = state.choice(name)
    if choice is not None:
        entry = state.catalogue.observations.get(name) or state.catalogue.facts.get(name)
        return entry.choices.get(choice, choice) if entry else choice
    value = state.quantity(name)
    return None if value is None else display.with_doubt(name, value)


def measured(because: Iterable[Evidence], state: State) -> tuple[str, ...]:
    """The readings behind the evidence that were taken on this call, in the order in which a tech takes them.

    Where the evidence holds no reading, the observations in it: what was seen is looked at again.
    """
    catalogue = state.catalogue
    named = [item.name for item in because]
    inputs = {needed for name in named for needed in (state.sheet.needs(name) if name in FORMULAS else (name,))}
    readings = tuple(name for name in catalogue.readings if name in inputs and name in state.quantities)
    if readings:
        return readings
    return tuple(name for name in catalogue.observations if name in named and name in state.choices)
