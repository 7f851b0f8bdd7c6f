"""The accuracy of the tech's own instruments: told once, used from then on, on this call and on the next ones.

It is kept as an answer of the call like any other, so that a call replays with the doubt it was made with.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final

from assistant.call.answers import Answer
from assistant.call.replies import tidy
from assistant.call.state import OWN_ACCURACY, State, is_usable
from assistant.catalogue.catalogue import Catalogue
from assistant.errors import CoilsideError, InputError
from assistant.quantity import Kind, UnitSystem, parse
from assistant.store.store import Store

OWN: Final = frozenset(OWN_ACCURACY.values())
"""The names under which own accuracies are answered."""

_USUAL: Final = "usual"
_KINDS: Final[Mapping[str, Kind]] = {"gauges": Kind.PRESSURE, "thermometers": Kind.TEMPERATURE}
_FORMS: Final = (
    "Type instruments gauges 1 psi, instruments thermometers 0.9 F, or the word usual in place of the number."
)


@dataclass(frozen=True, slots=True)
class Told:
    """What a tech said of an instrument: the accuracy as an answer, or that the usual one is meant."""

    answer: Answer
    is_usual: bool


def carried_over(store: Store, catalogue: Catalogue) -> tuple[Answer, ...]:
    """The accuracies as they were told last, on whichever call; what was never told is as the catalogue has it set.

    Raises:
        StoreError: the record cannot be read.
    """
    answers: list[Answer] = []
    for name in sorted(OWN):
        line = store.latest_line(name)
        usual = catalogue.facts[name].default if name in catalogue.facts else None
        if line is None and usual is not None:
            answers.append(Answer(name, usual))
        elif line is not None and line.deed == "set":
            answers.append(line.answer)
    return tuple(answers)


def told_accuracies(store: Store) -> Mapping[str, str]:
    """What was told last on a call, by the word for the instruments: an accuracy, or that the usual one is meant.

    Raises:
        StoreError: the record cannot be read.
    """
    lines = {word: store.latest_line(OWN_ACCURACY[kind]) for word, kind in _KINDS.items()}
    return {word: line.answer.text if line.deed == "set" else _USUAL for word, line in lines.items() if line}


def read_told(argument: str, state: State, system: UnitSystem) -> Told:
    """What `gauges 1 psi` or `thermometers usual` means; a bare number is in the unit that is shown.

    Raises:
        InputError: it names no instrument, or no accuracy that an instrument can have.
    """
    word, _, rest = tidy(argument).partition(" ")
    kind = next((kind for name, kind in _KINDS.items() if word and word in (name, name.removesuffix("s"))), None)
    if kind is None:
        raise InputError(f"Which instruments? {_FORMS}")
    name = OWN_ACCURACY[kind]
    if rest == _USUAL:
        return Told(Answer(name, _USUAL), True)
    fact = state.catalogue.facts[name]
    assert fact.kind is not None
    try:
        text = parse(rest, fact.kind, fact.units[system].symbol).text()
    except CoilsideError as error:
        raise InputError(f"{error} {_FORMS}") from error
    unfit = is_usable(state, name, text)
    if unfit is not None:
        raise InputError(unfit)
    return Told(Answer(name, text), False)


def accuracy_lines(answers: Iterable[Answer], catalogue: Catalogue) -> tuple[str, ...]:
    """How accurate the instruments are taken to be, in words, and how to tell otherwise."""
    own = {answer.name: answer.text for answer in answers if answer.name in OWN}
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
