"""Reading `catalogue/*.yaml` into a `Catalogue`, every mistake a problem with its place."""

import re
from collections.abc import Callable
from collections.abc import Mapping as MappingOf
from dataclasses import replace
from pathlib import Path
from typing import TypeVar

from assistant.catalogue.catalogue import DERIVED_CHOICES, Catalogue
from assistant.catalogue.entries import (
    Accuracy,
    Cause,
    Caution,
    Entry,
    Fact,
    Limit,
    LookAlike,
    NumberEntry,
    Observation,
    Reading,
    SameWords,
)
from assistant.catalogue.fields import NAME, Fields
from assistant.catalogue.keys import FILES, LOOK_ALIKE, REFRIGERANT
from assistant.quantity import Kind, unit_names
from assistant.source.nearest import nearest
from assistant.source.nodes import Mapping, Scalar, Sequence, read
from assistant.source.problem import Place, Problem, shortened

_E = TypeVar("_E", bound=Entry)


def load_catalogue(folder: Path) -> tuple[Catalogue, list[Problem]]:
    """Read the catalogue files of a folder; what cannot be read is left out and reported. Never raises."""
    catalogue, problems = read_entries(folder)
    return catalogue, sorted([*problems, *name_problems(catalogue)])


def read_entries(folder: Path, *, strictly: bool = False) -> tuple[Catalogue, list[Problem]]:
    """Read the entries of a folder, which may refer to others that are not there; `strictly`, without any mistake."""
    problems: list[Problem] = []
    left_out: set[str] = set()

    def file(name: str, build: Callable[[str, Fields], _E | None]) -> MappingOf[str, _E]:
        return _file(folder, name, build, problems, left_out, strictly=strictly)

    catalogue = Catalogue(
        facts=file("facts", _fact),
        readings=file("readings", _reading),
        observations=file("observations", _observation),
        numbers=file("numbers", _number),
        limits=file("limits", _limit),
        cautions=file("cautions", _caution),
        causes=file("causes", _cause),
        words=file("words", _same_words),
    )
    return replace(catalogue, left_out=frozenset(left_out)), problems


def _file(
    folder: Path,
    name: str,
    build: Callable[[str, Fields], _E | None],
    problems: list[Problem],
    left_out: set[str],
    *,
    strictly: bool,
) -> MappingOf[str, _E]:
    """The entries of one sort: of its file, then of the files in the folder of that name; none where neither is."""
    entries: dict[str, _E] = {}
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
            own: list[Problem] = []
            is_name = NAME.fullmatch(key.text) is not None
            if not is_name:
                own.append(_not_a_name(key))
            fields = Fields(key.text, value, own, FILES[name])
            fields.check_keys()
            entry = build(key.text, fields)
            problems.extend(own)
            if key.text in entries:
                problems.append(_twice(key.text, key.mark))
            elif entry is not None and is_name and not (strictly and own):
                entries[key.text] = entry
            else:
                left_out.add(key.text if is_name else _meant(key.text))
    return entries


def _fact(name: str, fields: Fields) -> Fact | None:
    choices = fields.choices()
    kind_node, chosen = fields.node.get("kind"), fields.node.get("choices") is not None
    if kind_node is not None and chosen:
        message = f"{name} has choices and a kind, and could only be answered by one of them"
        fields.problems.append(Problem("shape-form", kind_node.mark, message, "drop one of the two"))
    is_refrigerant = isinstance(kind_node, Scalar) and kind_node.text == REFRIGERANT
    kind = None if chosen or is_refrigerant else fields.kind()
    fact = Fact(
        name,
        fields.text("title"),
        fields.text("question"),
        fields.text("how"),
        kind,
        fields.units(kind) if kind else {},
        choices,
        fields.text("default") or None,
        fields.place,
    )
    return fact if kind or choices or is_refrigerant else None


def _reading(name: str, fields: Fields) -> Reading | None:
    title, question, how, spoils = (fields.text(key) for key in ("title", "question", "how", "spoils"))
    source = fields.text("accuracy_source")
    kind = fields.kind()
    if kind is None:
        return None
    span, units = fields.span("plausible", kind), fields.units(kind)
    accuracy = fields.accuracy("accuracy", kind, source) or Accuracy(0.0, 0.0, "exact", source)
    again = fields.accuracy("repeatability", kind, source)
    if span is None:
        return None
    return Reading(name, title, question, how, spoils, kind, units, span[0], span[1], accuracy, again, fields.place)


def _observation(name: str, fields: Fields) -> Observation:
    title, question, how = fields.text("title"), fields.text("question"), fields.text("how")
    return Observation(name, title, question, how, fields.choices(), fields.place)


def _number(name: str, fields: Fields) -> NumberEntry | None:
    title, tells, kind = fields.text("title"), fields.text("tells"), fields.kind()
    return NumberEntry(name, title, kind, fields.units(kind), tells, fields.place) if kind else None


def _limit(name: str, fields: Fields) -> Limit | None:
    kind = fields.kind()
    bare = unit_names(Kind.RATIO)[0] if kind is Kind.RATIO else None
    quantity = fields.quantity("value", kind, bare) if kind else None
    what, source = fields.text("what"), fields.text("source")
    return Limit(name, quantity, what, source, fields.place) if quantity else None


def _caution(name: str, fields: Fields) -> Caution:
    return Caution(
        name,
        fields.text("title"),
        fields.text("text"),
        fields.text("rule"),
        fields.texts("joins"),
        fields.texts("safety_groups"),
        fields.texts("words"),
        fields.flag("irreversible"),
        fields.place,
    )


def _cause(name: str, fields: Fields) -> Cause:
    return Cause(
        name,
        fields.text("title"),
        fields.text("what"),
        fields.text("why"),
        _look_alikes(fields),
        fields.texts("repair"),
        fields.texts("cautions"),
        fields.text("prove"),
        fields.text("licence"),
        fields.text("source"),
        fields.place,
    )


def _same_words(name: str, fields: Fields) -> SameWords:
    return SameWords(name, fields.texts("same"), fields.place)


def _look_alikes(fields: Fields) -> tuple[LookAlike, ...]:
    found = fields.node.get("looks_like")
    if found is not None and not isinstance(found, Sequence):
        message = f"looks_like of {fields.name} is a list of causes, each with what tells it apart"
        fields.problems.append(Problem("shape-form", found.mark, message, "- cause: ..."))
    items = found.items if isinstance(found, Sequence) else ()
    parts = [Fields(f"looks_like of {fields.name}", item, fields.problems, LOOK_ALIKE) for item in items]
    for part in parts:
        part.check_keys()
    return tuple(LookAlike(part.text("cause"), part.text("tell")) for part in parts)


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
    for cause in causes.values():
        problems.extend(
            _unknown(name, "caution", cautions, cause.place) for name in cause.cautions if name not in cautions
        )
        others = (look.cause for look in cause.looks_like)
        problems.extend(_unknown(name, "cause", causes, cause.place) for name in others if name and name not in causes)
    return problems


def _meant(text: str) -> str:
    """The name that stands where one cannot be: `Box temperature` is meant as box_temperature."""
    return "_".join(re.findall(r"[a-z0-9]+", text.lower()))


def _not_a_name(key: Scalar) -> Problem:
    message = f"{shortened(key.text)!r} cannot be a name: small letters, digits and _ make one, a letter first"
    meant = _meant(key.text)
    return Problem("shape-name", key.mark, message, f"write: {meant}" if NAME.fullmatch(meant) else None)


def _twice(name: str, place: Place) -> Problem:
    return Problem("name-repeat", place, f"{name} is already a name", "choose another name")


def _unknown(name: str, what: str, known: MappingOf[str, object], place: Place) -> Problem:
    near = nearest(name, known)
    return Problem(
        "name-unknown", place, f"there is no {what} {name!r}", f"write {' or '.join(near)}" if near else None
    )
