"""The names that a tree may use, found by a word: what an author would otherwise look for in the catalogue's files."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from assistant.catalogue.catalogue import DERIVED_CHOICES, DERIVED_FROM, Catalogue
from assistant.catalogue.entries import Act, Cause, Caution, Fact, Limit, NumberEntry, Observation, Reading
from assistant.catalogue.keys import REFRIGERANT
from assistant.worksheet.formulas import all_inputs

_Named = Fact | Reading | Observation | Act | NumberEntry | Limit | Caution | Cause


@dataclass(frozen=True, slots=True)
class Name:
    """One name as a tree writes it, and what it holds: kind, choices, value, the readings that it is worked from."""

    sort: str
    name: str
    title: str
    holds: str
    question: str = ""


def names_of(catalogue: Catalogue, words: str = "") -> tuple[Name, ...]:
    """Give the names of the catalogue by sort: all, or those that each word finds in name, title, choice, question."""
    wanted = _words(words)
    return tuple(name for name in _all(catalogue) if all(_holds_word(name, word) for word in wanted))


def _holds_word(name: Name, beginning: str) -> bool:
    """Tell whether a word of it begins so: `ice` finds iced and no device."""
    text = f"{name.sort} {name.name} {name.title} {name.holds} {name.question}"
    return any(word.startswith(beginning) for word in _words(text))


def _words(text: str) -> list[str]:
    return re.findall(r"[^\W_]+", text.lower())


def _all(catalogue: Catalogue) -> Iterator[Name]:
    for entry in catalogue.facts.values():
        yield Name("facts", entry.name, entry.title, _holds(entry), entry.question)
    for derived, choices in DERIVED_CHOICES.items():
        held = f"{', '.join(choices)}; never asked, follows from {', '.join(DERIVED_FROM[derived])}"
        yield Name("facts", derived, derived.replace("_", " ").capitalize(), held)
    sorts: dict[str, Mapping[str, _Named]] = {
        "readings": catalogue.readings,
        "observations": catalogue.observations,
        "numbers": catalogue.numbers,
        "limits": catalogue.limits,
        "cautions": catalogue.cautions,
        "causes": catalogue.causes,
        "acts": catalogue.acts,
    }
    inputs = all_inputs()
    for sort, entries in sorts.items():
        for found in entries.values():
            if isinstance(found, Limit):
                yield Name(sort, f"limits.{found.name}", found.what, _holds(found))
            elif isinstance(found, NumberEntry):
                needs = [name for name in catalogue.readings if name in inputs.get(found.name, ())]
                needed = f"; worked from {', '.join(needs)}" if needs else ""
                yield Name(sort, found.name, found.title, _holds(found) + needed)
            else:
                question = found.question if isinstance(found, Reading | Observation | Fact) else ""
                yield Name(sort, found.name, found.title, _holds(found), question)


def _holds(entry: _Named) -> str:
    match entry:
        case Observation():
            return ", ".join(entry.choices)
        case Fact():
            kind = entry.kind.value.replace("_", " ") if entry.kind else REFRIGERANT
            return ", ".join(entry.choices) or kind
        case Reading() | NumberEntry():
            return entry.kind.value.replace("_", " ")
        case Limit():
            return entry.quantity.text()
        case Act():
            return ", ".join(f"{what} {value}" for what, value in entry.makes.items())
        case Caution() | Cause():
            return ""
