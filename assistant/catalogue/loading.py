"""Reading `catalogue/*.yaml` into a `Catalogue`, every mistake a problem with its place."""

import re
from collections.abc import Callable, Iterator
from collections.abc import Mapping as MappingOf
from pathlib import Path
from typing import Any, Final

from assistant.catalogue.catalogue import DERIVED_CHOICES, Catalogue
from assistant.catalogue.entries import (
    Accuracy,
    Act,
    ActSequence,
    Cause,
    CauseSigns,
    Caution,
    Entry,
    Fact,
    Limit,
    LookAlike,
    NumberEntry,
    Observation,
    Reading,
    SameWords,
    Taking,
    WrittenStep,
)
from assistant.catalogue.keys import FILES, REFRIGERANT
from assistant.catalogue.values import read_accuracy, read_kind, read_quantity, read_span, read_units
from assistant.errors import FileError
from assistant.quantity import Kind, unit_names
from assistant.source.keys import NAME
from assistant.source.nearest import most_alike, nearest
from assistant.source.nodes import Mapping, read
from assistant.source.problem import Place, Problem, render, shorten
from assistant.source.shape import find_mistakes_under, not_a_name, suggest_name

SOUND: Final = "sound"
"""The name under which the signs of a unit without a fault stand."""
_PLAIN: Final = re.compile(r"\d{1,6}(\.\d{1,6})?", re.ASCII)


def load_catalogue(folder: Path) -> tuple[Catalogue, list[Problem]]:
    """Read the catalogue files of a folder; what cannot be read is left out and reported. Never raises."""
    catalogue, problems = read_entries(folder)
    return catalogue, sorted([*problems, *name_problems(catalogue)])


def read_entries(folder: Path, *, strictly: bool = False) -> tuple[Catalogue, list[Problem]]:
    """Read the entries of a folder, which may refer to others that are not there; `strictly`, without any mistake."""
    problems: list[Problem] = []
    left_out: set[str] = set()
    read: dict[str, Any] = {name: _read_sort(folder, name, problems, left_out, strictly=strictly) for name in FILES}
    return Catalogue(**read, left_out=frozenset(left_out)), problems


def read_as_wanted(folder: Path) -> Catalogue:
    """Give the catalogue of a folder that is held to the checks by tests: each sort is read when it is first wanted.

    Wanting a sort raises a FileError where its file has a mistake; only a broken installation has such a one.
    """
    return _AsWanted(folder)


class _AsWanted(Catalogue):
    """A catalogue whose sorts come out of their files when they are first wanted."""

    def __init__(self, folder: Path, **given: Any) -> None:
        self.__dict__.update({"_folder": folder, "inputs": {}, "left_out": frozenset(), **given})

    def __getattr__(self, name: str) -> Any:
        if name not in FILES or "_folder" not in self.__dict__:
            raise AttributeError(name)
        problems: list[Problem] = []
        entries = _read_sort(self.__dict__["_folder"], name, problems, set(), strictly=False)
        if problems:
            told = "\n".join(map(render, sorted(problems)))
            raise FileError(f"The catalogue of this installation cannot be used.\n{told}")
        self.__dict__[name] = entries
        return entries

    def with_entries(self, sort: str, entries: MappingOf[str, Entry]) -> "Catalogue":
        """Give the same with other entries of a sort; the other sorts stay unread."""
        return _AsWanted(**{"folder": self.__dict__["_folder"], **self._own(), sort: entries})

    def _own(self) -> dict[str, Any]:
        return {name: value for name, value in self.__dict__.items() if name in self.__dataclass_fields__}

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Catalogue):
            return NotImplemented
        return all(getattr(self, name) == getattr(other, name) for name in (*FILES, "inputs"))

    __hash__ = None  # type: ignore[assignment]


def _read_sort(
    folder: Path, name: str, problems: list[Problem], left_out: set[str], *, strictly: bool
) -> MappingOf[str, Entry]:
    """Read the entries of one sort: of its file, then of the files in the folder of that name; none without either."""
    entries: dict[str, Entry] = {}
    for path in (folder / f"{name}.yaml", *sorted((folder / name).glob("*.yaml"))):
        if not path.is_file():
            continue
        node, found = read(path)
        problems.extend(found)
        if node is None:
            continue
        if not isinstance(node, Mapping):
            problems.append(Problem("shape-form", node.mark, f"{path.name} holds names with their keys", "name:"))
            continue
        for key, value in node.entries:
            is_name = NAME.pattern.fullmatch(key.text) is not None
            own = [] if is_name else [not_a_name(key, NAME)]
            own.extend(find_mistakes_under(key, value, FILES[name]))
            entry = _BUILDERS[name](key.text, value, own) if isinstance(value, Mapping) else None
            problems.extend(own)
            if key.text in entries:
                problems.append(_twice(key.text, key.mark))
            elif entry is not None and is_name and not (strictly and own):
                entries[key.text] = entry
            else:
                left_out.add(key.text if is_name else suggest_name(key.text))
    return entries


def _fact(name: str, keys: Mapping, problems: list[Problem]) -> Fact | None:
    choices, is_refrigerant = _choices(keys), keys.text("kind") == REFRIGERANT
    kind = None if keys.key("choices") is not None else read_kind(keys)
    fact = Fact(
        name,
        keys.line("title"),
        keys.line("question"),
        keys.line("how"),
        kind,
        read_units(keys, kind, problems) if kind else {},
        choices,
        keys.line("default") or None,
        keys.mark,
    )
    return fact if kind or choices or is_refrigerant else None


def _reading(name: str, keys: Mapping, problems: list[Problem]) -> Reading | None:
    title, question, how, spoils = (keys.line(key) for key in ("title", "question", "how", "spoils"))
    source = keys.line("accuracy_source")
    kind = read_kind(keys)
    if kind is None:
        return None
    span, units = read_span(keys, "plausible", kind, problems), read_units(keys, kind, problems)
    accuracy = read_accuracy(keys, "accuracy", kind, source, problems) or Accuracy(0.0, 0.0, "exact", source)
    again = read_accuracy(keys, "repeatability", kind, source, problems)
    if span is None:
        return None
    taking = _taking(keys)
    return Reading(
        name, title, question, how, spoils, kind, units, span[0], span[1], accuracy, again, keys.mark, taking
    )


def _observation(name: str, keys: Mapping, _problems: list[Problem]) -> Observation:
    title, question, how = keys.line("title"), keys.line("question"), keys.line("how")
    return Observation(name, title, question, how, _choices(keys), keys.mark, _taking(keys))


def _act(name: str, keys: Mapping, _problems: list[Problem]) -> Act:
    taking, made = _taking(keys), keys.inside("makes")
    return Act(
        name,
        keys.line("title"),
        keys.line("how"),
        taking.minutes,
        taking.who,
        taking.needs,
        taking.cautions,
        {dimension.text: made.text(dimension.text) for dimension, _ in made.entries},
        keys.line("leaves"),
        keys.lines("undo"),
        keys.lines("changes"),
        keys.text("between") == "yes",
        keys.line("source"),
        keys.mark,
    )


def _taking(keys: Mapping) -> Taking:
    """Return what it asks for to take or to do something; what is not said asks for nothing.

    Minutes that are no number are less than none.
    """
    needs, minutes = keys.inside("needs"), keys.text("minutes")
    return Taking(
        {dimension.text: needs.lines(dimension.text) for dimension, _ in needs.entries},
        keys.lines("who"),
        float(minutes) if _PLAIN.fullmatch(minutes) else -1.0 if minutes else 0.0,
        keys.lines("cautions"),
    )


def _number(name: str, keys: Mapping, problems: list[Problem]) -> NumberEntry | None:
    kind = read_kind(keys)
    if kind is None:
        return None
    units = read_units(keys, kind, problems)
    return NumberEntry(name, keys.line("title"), kind, units, keys.line("tells"), keys.mark)


def _limit(name: str, keys: Mapping, problems: list[Problem]) -> Limit | None:
    kind, value = read_kind(keys), keys.scalar("value")
    if kind is None or value is None:
        return None
    bare = unit_names(Kind.RATIO)[0] if kind is Kind.RATIO else None
    quantity = read_quantity(value, kind, problems, bare)
    return Limit(name, quantity, keys.line("what"), keys.line("source"), keys.mark) if quantity else None


def _caution(name: str, keys: Mapping, _problems: list[Problem]) -> Caution:
    return Caution(
        name,
        keys.line("title"),
        keys.line("text"),
        keys.line("rule"),
        keys.lines("joins"),
        keys.lines("safety_groups"),
        keys.lines("words"),
        keys.text("irreversible") == "yes",
        keys.mark,
    )


def _cause(name: str, keys: Mapping, _problems: list[Problem]) -> Cause:
    looks = (item for item in keys.items("looks_like") if isinstance(item, Mapping))
    return Cause(
        name,
        keys.line("title"),
        keys.line("what"),
        keys.line("why"),
        tuple(LookAlike(look.line("cause"), look.line("tell")) for look in looks),
        _deeds(keys, "repair"),
        _deeds(keys, "prove"),
        keys.line("licence"),
        keys.line("source"),
        keys.mark,
    )


def _deeds(keys: Mapping, key: str) -> tuple[WrittenStep, ...]:
    """Return the steps of a repair or its proof; prose in the place of one is none."""
    steps = (item for item in keys.items(key) if isinstance(item, Mapping))
    return tuple(WrittenStep(step.line("do"), step.line("say")) for step in steps)


def _sequence(name: str, keys: Mapping, _problems: list[Problem]) -> ActSequence:
    return ActSequence(name, keys.line("title"), keys.lines("acts"), keys.mark)


def _signs(name: str, keys: Mapping, _problems: list[Problem]) -> CauseSigns:
    shows = keys.inside("shows")
    seen = {}
    for observation, value in shows.entries:
        choices = value.entries if isinstance(value, Mapping) else ()
        seen[observation.text] = {
            choice.text: shows.inside(observation.text).text(choice.text) for choice, _ in choices
        }
    return CauseSigns(
        name, keys.text("reads_like") or name, keys.text("common") or "at_times", seen, keys.line("source"), keys.mark
    )


def _same_words(name: str, keys: Mapping, _problems: list[Problem]) -> SameWords:
    return SameWords(name, keys.lines("same"), keys.mark)


_BUILDERS: Final[MappingOf[str, Callable[[str, Mapping, list[Problem]], Entry | None]]] = {
    "facts": _fact,
    "readings": _reading,
    "observations": _observation,
    "acts": _act,
    "numbers": _number,
    "limits": _limit,
    "cautions": _caution,
    "sequences": _sequence,
    "causes": _cause,
    "signs": _signs,
    "words": _same_words,
}


def _choices(keys: Mapping) -> dict[str, str]:
    """Return the names of choices with the words that a tech sees."""
    choices = keys.inside("choices")
    return {name.text: choices.line(name.text) for name, _ in choices.entries}


def name_problems(catalogue: Catalogue) -> list[Problem]:
    """Names that stand twice over the files, and references that lead nowhere."""
    problems: list[Problem] = []
    seen: dict[str, Place] = {}
    asked: list[Fact | Reading | Observation] = [*catalogue.facts.values(), *catalogue.readings.values()]
    asked.extend(catalogue.observations.values())
    for entry in asked:
        if entry.name in seen or entry.name in DERIVED_CHOICES:
            problems.append(_twice(entry.name, entry.place))
        seen[entry.name] = entry.place
    for number in catalogue.numbers.values():
        if number.name in seen and number.name not in catalogue.facts:
            problems.append(_twice(number.name, number.place))
    cautions, causes = catalogue.cautions, catalogue.causes
    for caution in cautions.values():
        problems.extend(
            _unknown(name, "caution", cautions, caution.place) for name in caution.joins if name not in cautions
        )
    takings = [(entry.taking.cautions, entry.place) for entry in asked if not isinstance(entry, Fact)]
    takings += [(act.cautions, act.place) for act in catalogue.acts.values()]
    for names, place in takings:
        problems.extend(_unknown(name, "caution", cautions, place) for name in names if name not in cautions)
    for act in catalogue.acts.values():
        acts = catalogue.acts
        problems.extend(_unknown(name, "act", acts, act.place) for name in act.undo if name not in acts)
        problems.extend(
            _unknown(name, "reading or observation", catalogue.taking_order, act.place)
            for name in act.changes
            if name not in catalogue.readings and name not in catalogue.observations
        )
    for sequence in catalogue.sequences.values():
        if sequence.name in catalogue.acts:
            problems.append(_twice(sequence.name, sequence.place))
        problems.extend(
            _unknown(name, "act", catalogue.acts, sequence.place)
            for name in sequence.acts
            if name not in catalogue.acts
        )
    for cause in causes.values():
        problems.extend(_deed_problems(catalogue, cause))
        others = (look.cause for look in cause.looks_like)
        problems.extend(_unknown(name, "cause", causes, cause.place) for name in others if name and name not in causes)
    for sign in catalogue.signs.values():
        problems.extend(_sign_problems(catalogue, sign))
    return problems


def _deed_problems(catalogue: Catalogue, cause: Cause) -> Iterator[Problem]:
    """Steps of a repair or its proof that name no act: a name that is not there, or words in its place."""
    acts = {**catalogue.acts, **catalogue.sequences}
    for deed in (*cause.repair, *cause.prove):
        if not deed.do or deed.do in acts:
            continue
        if NAME.pattern.fullmatch(deed.do):
            yield _unknown(deed.do, "act", acts, cause.place)
            continue
        near = most_alike(deed.do, {act.name: f"{act.title} {act.how}" for act in catalogue.acts.values()})
        message = f'"{shorten(deed.do, 40)}" of {cause.name} is no act; words of your own go into "say", beside the act'
        yield Problem("name-act", cause.place, message, f"write: do: {' or do: '.join(near)}" if near else None)


def _sign_problems(catalogue: Catalogue, sign: CauseSigns) -> Iterator[Problem]:
    """Names in the signs of a cause that lead nowhere."""
    for cause in {sign.name, sign.reads_like} - {SOUND}:
        if cause not in catalogue.causes:
            yield _unknown(cause, "cause", catalogue.causes, sign.place)
    for name, choices in sign.shows.items():
        if name not in catalogue.observations:
            yield _unknown(name, "observation", catalogue.observations, sign.place)
            continue
        known = catalogue.observations[name].choices
        yield from (
            _unknown(choice, f"choice of {name}", known, sign.place) for choice in choices if choice not in known
        )


def _twice(name: str, place: Place) -> Problem:
    return Problem("name-repeat", place, f"{name} is already a name", "choose another name")


def _unknown(name: str, what: str, known: MappingOf[str, object], place: Place) -> Problem:
    near = nearest(name, known)
    return Problem(
        "name-unknown", place, f"there is no {what} {name!r}", f"write {' or '.join(near)}" if near else None
    )
