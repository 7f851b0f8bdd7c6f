"""What an act says of the unit's state is sound: its values exist, what it changes is guarded, what it leaves goes."""

from collections.abc import Iterator, Mapping
from typing import Final

from assistant.catalogue.catalogue import Catalogue
from assistant.catalogue.entries import Act, Observation, Reading
from assistant.catalogue.keys import WHO
from assistant.catalogue.rules.deeds import Makers, cautions_of_needs, find_makers
from assistant.catalogue.unit_state import DIMENSIONS, FOUND, find_wrong_values
from assistant.source.phrases import find_unguarded, guards
from assistant.source.problem import Place, Problem, shorten

_GUARDED: Final[Mapping[str, frozenset[str]]] = {
    "panel": frozenset({"open"}),
    "circuit": frozenset({"hoses", "recovered", "opened"}),
    "power": frozenset({"locked", "running"}),
}
"""What no act makes without a caution: it lays open what hurts, or lets it move."""
_REFRIGERANT_WORK: Final = frozenset({"hoses", "recovered", "opened"})


def check(catalogue: Catalogue) -> Iterator[Problem]:
    """Report what acts, readings and observations say of the state that cannot be, or is not guarded."""
    taken: tuple[Reading | Observation, ...] = (*catalogue.readings.values(), *catalogue.observations.values())
    for entry in taken:
        yield from _values(entry.name, entry.taking.needs, entry.place)
        yield from _who(entry.name, entry.taking.who, entry.place)
        yield from _minutes(entry.name, entry.taking.minutes, entry.place)
    makers = find_makers(catalogue)
    # What comes along with others by the refrigerant comes along here as well.
    kept_by = guards({one.name: one.words for one in catalogue.cautions.values() if not one.joins})
    for act in catalogue.acts.values():
        yield from _values(act.name, act.needs, act.place)
        yield from _values(act.name, {name: (value,) for name, value in act.makes.items()}, act.place)
        yield from _who(act.name, act.who, act.place)
        yield from _minutes(act.name, act.minutes, act.place)
        yield from _of_act(act, catalogue, makers, kept_by)


def _values(name: str, values: Mapping[str, tuple[str, ...]], place: Place) -> Iterator[Problem]:
    for dimension, value in find_wrong_values(values):
        if not value:
            message = f'"{shorten(dimension, 40)}" of {name} is nothing that a state tells'
            yield Problem("catalogue-state", place, message, f"write one of: {', '.join(DIMENSIONS)}")
        else:
            message = f'"{shorten(value, 40)}" of {name} is no value of {dimension}'
            yield Problem("catalogue-state", place, message, f"write one of: {', '.join(DIMENSIONS[dimension])}")


def _who(name: str, who: tuple[str, ...], place: Place) -> Iterator[Problem]:
    for one in who:
        if one not in WHO:
            message = f'"{shorten(one, 40)}" may not do {name}: nobody is called so'
            yield Problem("catalogue-act", place, message, f"write: who: {', or who: '.join(WHO)}")


def _minutes(name: str, minutes: float, place: Place) -> Iterator[Problem]:
    if minutes < 0.0:
        yield Problem("catalogue-act", place, f"the minutes of {name} are no plain number", "write: minutes: 5")


def _of_act(act: Act, catalogue: Catalogue, makers: Makers, kept_by: Mapping[str, frozenset[str]]) -> Iterator[Problem]:
    made = [f"{name}: {act.makes[name]}" for name, values in _GUARDED.items() if act.makes.get(name) in values]
    if made and not act.cautions:
        message = f"{act.name} makes {made[0]} without a caution"
        yield Problem("catalogue-act", act.place, message, "write: cautions: [live_panels], or those that fit")
    if act.makes.get("circuit") in _REFRIGERANT_WORK and not {"refrigerant", "licence"} & set(act.who):
        message = f"{act.name} makes circuit: {act.makes['circuit']}, and anyone may do it"
        yield Problem("catalogue-act", act.place, message, "write: who: refrigerant")
    if act.leaves and not act.undo:
        message = f"{act.name} leaves {act.leaves} behind, and nothing undoes it"
        yield Problem("catalogue-act", act.place, message, "write: undo: ACT")
    if not act.leaves:
        yield from _undoing(act, catalogue)
    yield from _words(act, makers, kept_by)


def _undoing(act: Act, catalogue: Catalogue) -> Iterator[Problem]:
    """Report an undo after which what the act has made still holds."""
    made = {name: value for name, value in act.makes.items() if name != "settled"}
    undo = [catalogue.acts[name] for name in act.undo if name in catalogue.acts]
    after = FOUND.make(made)
    if made and undo and all(after.make(one.makes) == after for one in undo):
        message = f"{act.undo[0]} is to undo {act.name}, and leaves {', '.join(map(': '.join, made.items()))}"
        yield Problem("catalogue-act", act.place, message, "name an act that makes something else of it")


def _words(act: Act, makers: Makers, kept_by: Mapping[str, frozenset[str]]) -> Iterator[Problem]:
    """Report words that ask for a caution which neither the act has nor what makes the state that it needs."""
    given = {*act.cautions, *cautions_of_needs(act.needs, makers)}
    for text in (act.title, act.how):
        for words, wanted in find_unguarded(text, kept_by, frozenset(given)):
            names = " or ".join(sorted(wanted))
            message = f'{act.name} says "{shorten(words, 40)}" without the caution {names}'
            yield Problem(
                "catalogue-caution", act.place, message, f"write: cautions: [{', '.join((*act.cautions, names))}]"
            )
