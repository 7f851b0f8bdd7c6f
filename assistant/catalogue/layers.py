"""Catalogues in layers: a shop's own entries over those that are shipped, each by its name; the later one counts.

Of an upper layer only what is whole is taken: for an entry with a mistake, the one below stands. The rules of the
catalogue hold here, so nothing that breaks them is ever part of a call; what is shipped is held to them by tests. A
layer may add to a caution, an act or what a cause asks for, and never thins them.
"""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any, Final

from assistant.catalogue.catalogue import Catalogue
from assistant.catalogue.entries import (
    Act,
    Caution,
    Entry,
    Fact,
    Limit,
    NumberEntry,
    Observation,
    Reading,
    Taking,
)
from assistant.catalogue.keys import FILES
from assistant.catalogue.loading import name_problems, read_entries
from assistant.catalogue.unit_state import Needs
from assistant.frozen import dataclass
from assistant.source.problem import Place, Problem
from assistant.source.shipped import catalogue_of, shipped_folder

SORTS: Final[Mapping[str, str]] = {
    "facts": "fact",
    "readings": "reading",
    "observations": "observation",
    "acts": "act",
    "numbers": "worked number",
    "limits": "limit",
    "cautions": "caution",
    "sequences": "sequence of acts",
    "causes": "cause",
    "signs": "signs of a cause",
    "words": "group of words",
}
"""What an entry of each file is."""
_ASKED: Final = ("facts", "readings", "observations")


@dataclass(frozen=True, slots=True)
class Replaced:
    """Something of an upper layer that stands for what a lower one has under the same name."""

    name: str
    what: str
    place: Place
    below: Place


def notes_on_replaced(replaced: Iterable[Replaced]) -> Iterator[Problem]:
    """Note what stands for something else of the same name: meant or not, its author should know."""
    for item in replaced:
        message = f"{item.name} ({item.what}) replaces the one at {item.below}"
        yield Problem("note-replaced", item.place, message)


def tell_replaced(replaced: Sequence[Replaced], most: int | None = None) -> str:
    """Return what a shop's folder has in the place of what lies below it, on one line; of many, `most` by name."""
    named = [f"{item.name} ({item.what})" for item in replaced[:most]]
    more = [f"{len(replaced) - len(named)} more"] if len(replaced) > len(named) else []
    return f"Your shop's folder replaces: {', '.join([*named, *more])}."


def load_layers(folders: Sequence[Path]) -> tuple[Catalogue, list[Problem], tuple[Replaced, ...]]:
    """Read the catalogues of several folders, the lowest first; tell what is left out, and what replaces what."""
    catalogue, problems = read_entries(folders[0])
    problems.extend(name_problems(catalogue))
    if folders[0] != catalogue_of(shipped_folder("trees")):
        broken = _broken_rules(catalogue, {file: _entries(catalogue, file) for file in FILES})
        problems.extend(broken)
        catalogue = _without(catalogue, {problem.place for problem in broken})
    replaced: dict[tuple[str, str], Replaced] = {}
    for folder in folders[1:]:
        layer, found = read_entries(folder, strictly=True)
        problems.extend(found)
        below = catalogue
        catalogue, found = _lay_over(below, layer)
        problems.extend(found)
        replaced |= {(item.what, item.name): item for item in _find_replaced(below, catalogue)}
    return catalogue, sorted(problems), tuple(replaced.values())


def _lay_over(below: Catalogue, layer: Catalogue) -> tuple[Catalogue, list[Problem]]:
    """Lay the entries of a layer over those below, without those that do not fit or refer to what is not there."""
    known = {problem.place for problem in name_problems(below)}
    entries = {file: _entries(layer, file) for file in FILES}
    problems = list(_misfits(below, entries))
    while True:
        bad = {problem.place for problem in problems}
        left = {file: {n: e for n, e in own.items() if e.place not in bad} for file, own in entries.items()}
        merged: dict[str, Any] = {file: {**_entries(below, file), **own} for file, own in left.items()}
        dropped = {name for file, own in entries.items() for name in own if name not in left[file]}
        catalogue = replace(below, **merged, left_out=below.left_out | layer.left_out | dropped)
        fresh = [problem for problem in name_problems(catalogue) if problem.place not in bad | known]
        fresh.extend(_broken_rules(catalogue, left))
        if not fresh:
            return catalogue, problems
        problems.extend(fresh)


def _broken_rules(catalogue: Catalogue, own: Mapping[str, Mapping[str, Entry]]) -> list[Problem]:
    """Report where some entries of a catalogue break its rules; only who has entries of their own waits for that."""
    if not any(own.values()):
        return []
    from assistant.catalogue.rules import check_catalogue  # the first question of a shipped tree does not wait for it

    # Rules look up acts and cautions; all else they look at one by one.
    looked_at: dict[str, Any] = {file: entries for file, entries in own.items() if file not in ("acts", "cautions")}
    places = {entry.place for entries in own.values() for entry in entries.values()}
    return [problem for problem in check_catalogue(replace(catalogue, **looked_at)) if problem.place in places]


def _without(catalogue: Catalogue, places: Collection[Place]) -> Catalogue:
    """Give a catalogue without the entries at some places."""
    left: dict[str, Any] = {}
    dropped: set[str] = set()
    for file in FILES:
        entries = _entries(catalogue, file)
        left[file] = {name: entry for name, entry in entries.items() if entry.place not in places}
        dropped.update(name for name in entries if name not in left[file])
    return replace(catalogue, **left, left_out=catalogue.left_out | dropped) if dropped else catalogue


def _entries(catalogue: Catalogue, file: str) -> Mapping[str, Entry]:
    entries: Mapping[str, Entry] = getattr(catalogue, file)
    return entries


def _misfits(below: Catalogue, entries: Mapping[str, Mapping[str, Entry]]) -> Iterator[Problem]:
    """Report entries that cannot take the place of the ones below: trees rely on what these are."""
    for file, own in entries.items():
        for name, entry in own.items():
            other = next((sort for sort in _ASKED if sort != file and name in _entries(below, sort)), None)
            if file in _ASKED and other is not None:
                message = f"{name} is a {SORTS[other]} already, and cannot be a {SORTS[file]} as well"
                yield Problem("catalogue-layer", entry.place, message, "choose another name")
            old = _entries(below, file).get(name)
            if old is not None:
                yield from _not_in_place_of(name, old, entry)


def _not_in_place_of(name: str, old: Entry, new: Entry) -> Iterator[Problem]:
    where = f"{Path(old.place.path).name}, line {old.place.line}"
    if _kind(old) != _kind(new):
        message = f"{name} is of another kind than the one that it replaces ({where}), and trees rely on that"
        yield Problem("catalogue-layer", new.place, message, "keep its kind, or choose another name")
    if isinstance(old, Fact | Observation) and isinstance(new, Fact | Observation):
        lacking = [choice for choice in old.choices if choice not in new.choices]
        if lacking:
            message = f"{name} lacks {', '.join(lacking)}, a choice of the one that it replaces ({where})"
            yield Problem("catalogue-layer", new.place, message, "keep every choice; more may be added")
    for lost, keep in _thinned(old, new):
        message = f"{name} lacks {lost} of the one that it replaces ({where}), and nobody thins what guards"
        yield Problem("catalogue-layer", new.place, message, f"{keep}; more may be added")


def _thinned(old: Entry, new: Entry) -> Iterator[tuple[str, str]]:
    """Give what an entry has lost of what guards a tech, and what to write."""
    match old, new:
        case Caution(), Caution():
            yield from _lost("words", old.words, new.words)
            yield from _lost("joins", old.joins, new.joins)
            yield from _lost("safety_groups", old.safety_groups, new.safety_groups)
            yield from _lost_text("text", old.text, new.text)
            if old.irreversible and not new.irreversible:
                yield "irreversible", "write: irreversible: yes"
        case Act(), Act():
            yield from _lost_taking(_taking(old), _taking(new))
            for what, value in old.makes.items():
                if new.makes.get(what) != value:
                    yield f"makes {what}: {value}", f"write: makes: {{{what}: {value}}}"
            if old.leaves != new.leaves and old.leaves:
                yield f"leaves: {old.leaves}", f"write: leaves: {old.leaves}"
            yield from _lost("undo", old.undo, new.undo)
            yield from _lost_text("how", old.how, new.how)
        case Reading() | Observation(), Reading() | Observation():
            yield from _lost_taking(old.taking, new.taking)


def _taking(act: Act) -> Taking:
    return Taking(act.needs, act.who, act.minutes, act.cautions)


def _lost_taking(old: Taking, new: Taking) -> Iterator[tuple[str, str]]:
    yield from _lost("who", [one for one in old.who if one != "anyone"], new.who)
    yield from _lost("cautions", old.cautions, new.cautions)
    for what, values in old.needs.items():
        if not set(new.needs.get(what, ())) or not set(new.needs[what]) <= set(values):
            wanted = values[0] if len(values) == 1 else f"[{', '.join(values)}]"
            yield f"needs {what}: {wanted}", f"write: needs: {{{_needs_text({**new.needs, what: values})}}}"


def _needs_text(needs: Needs) -> str:
    return ", ".join(
        f"{what}: {values[0] if len(values) == 1 else '[' + ', '.join(values) + ']'}" for what, values in needs.items()
    )


def _lost(key: str, old: Sequence[str], new: Sequence[str]) -> Iterator[tuple[str, str]]:
    lost = [one for one in old if one not in new]
    if lost:
        yield (
            f"{', '.join(lost)} in {key}",
            f"write: {key}: [{', '.join([*old, *(one for one in new if one not in old)])}]",
        )


def _lost_text(key: str, old: str, new: str) -> Iterator[tuple[str, str]]:
    if " ".join(old.split()) not in " ".join(new.split()):
        yield f"words in {key}", f'keep the {key} whole, and write your own behind it: "{old}"'


def _kind(entry: Entry) -> object:
    match entry:
        case Reading() | NumberEntry():
            return entry.kind
        case Fact():
            return entry.kind, entry.is_refrigerant
        case Limit():
            return entry.quantity.kind
        case _:
            return None


def _find_replaced(below: Catalogue, above: Catalogue) -> Iterator[Replaced]:
    for file, what in SORTS.items():
        old, new = _entries(below, file), _entries(above, file)
        for name, entry in old.items():
            if new[name] is not entry:
                yield Replaced(name, what, new[name].place, entry.place)
