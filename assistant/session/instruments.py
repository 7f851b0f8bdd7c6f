"""The accuracy of the tech's own instruments: told once, used from then on, on this call and on the next ones.

It is kept as an answer of the call like any other, so that a call replays with the doubt it was made with.
"""

from collections.abc import Iterable, Mapping
from typing import Final

from assistant.call.answers import Answer, Measured, Written
from assistant.call.keys import PromptKey, entry_key
from assistant.call.replies import read_written, tidy
from assistant.call.state import OWN_ACCURACY, State, why_not_here
from assistant.catalogue.catalogue import Catalogue
from assistant.errors import CoilsideError, InputError
from assistant.frozen import dataclass
from assistant.quantity import Kind, UnitSystem, parse
from assistant.store.store import Store

OWN: Final = frozenset(OWN_ACCURACY.values())
"""The names under which own accuracies are answered."""

USUAL: Final = "usual"
"""What is said for the accuracy that the catalogue has."""
_KINDS: Final[Mapping[str, Kind]] = {"gauges": Kind.PRESSURE, "thermometers": Kind.TEMPERATURE}
_FORMS: Final = (
    "Type instruments gauges 1 psi, instruments thermometers 0.9 F, or the word usual in place of the number."
)


@dataclass(frozen=True, slots=True)
class OwnAccuracy:
    """What a tech said of an instrument: the accuracy, or `None` where the usual one is meant."""

    key: PromptKey
    accuracy: Measured | None


def carried_over(store: Store, catalogue: Catalogue) -> tuple[Answer, ...]:
    """The accuracies as they were told last, on whichever call; what was never told is as the catalogue has it set.

    Raises:
        StoreError: the record cannot be read.
    """
    answers: list[Answer] = []
    for name in sorted(OWN):
        line = store.latest_line(entry_key(name))
        usual = catalogue.facts[name].default if name in catalogue.facts else None
        if line is None and usual is not None:
            answers.append(read_written(Written(entry_key(name), usual), catalogue, "us"))
        elif line is not None and line.deed == "set":
            answers.append(read_written(line.answer, catalogue, "us"))
    return tuple(answers)


def told_accuracies(store: Store) -> Mapping[str, str]:
    """What was told last on a call, by the word for the instruments: an accuracy, or that the usual one is meant.

    Raises:
        StoreError: the record cannot be read.
    """
    lines = {word: store.latest_line(entry_key(OWN_ACCURACY[kind])) for word, kind in _KINDS.items()}
    return {word: line.answer.text if line.deed == "set" else USUAL for word, line in lines.items() if line}


def read_told(argument: str, state: State, system: UnitSystem) -> OwnAccuracy:
    """What `gauges 1 psi` or `thermometers usual` means; a bare number is in the unit that is shown.

    Raises:
        InputError: it names no instrument, or no accuracy that an instrument can have.
    """
    word, _, rest = tidy(argument).partition(" ")
    kind = next((kind for name, kind in _KINDS.items() if word and word in (name, name.removesuffix("s"))), None)
    if kind is None:
        raise InputError(f"Which instruments? {_FORMS}")
    name = OWN_ACCURACY[kind]
    if rest == USUAL:
        return OwnAccuracy(entry_key(name), None)
    fact = state.catalogue.facts[name]
    assert fact.kind is not None
    try:
        accuracy = Measured(parse(rest, fact.kind, fact.units[system].symbol))
    except CoilsideError as error:
        raise InputError(f"{error} {_FORMS}") from error
    unfit = why_not_here(state, name, accuracy)
    if unfit is not None:
        raise InputError(unfit)
    return OwnAccuracy(entry_key(name), accuracy)


def accuracy_lines(answers: Iterable[Answer], catalogue: Catalogue) -> tuple[str, ...]:
    """How accurate the instruments are taken to be, in words, and how to tell otherwise."""
    own = {answer.key.name: answer.text for answer in answers if answer.key.name in OWN}
    lines: list[str] = []
    for word, kind in _KINDS.items():
        text = own.get(OWN_ACCURACY[kind])
        if text is not None:
            lines.append(f"{word}: ± {text}, as you told")
            continue
        lines.append(f"{word}: not told; the usual accuracy of a field instrument is taken")
        usual: dict[str, list[str]] = {}
        for reading in catalogue.readings.values():
            if reading.kind is kind:
                usual.setdefault(reading.accuracy.text, []).append(reading.title.lower())
        lines.extend(f"  {text}: {', '.join(titles)}" for text, titles in usual.items())
    return (*lines, _FORMS)
