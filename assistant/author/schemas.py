"""The schemas that editors read, with the catalogue's names in them to be completed and explained."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from assistant.catalogue.catalogue import DERIVED_CHOICES, Catalogue
from assistant.catalogue.entries import Cause, Caution, Fact, NumberEntry, Observation, Reading
from assistant.catalogue.keys import FILES
from assistant.catalogue.schema import catalogue_schema
from assistant.errors import UnknownNameError
from assistant.quantity import accepted_forms
from assistant.source.nearest import nearest
from assistant.thermo.refrigerants import all_refrigerants
from assistant.tree.calls_check import CANNOT_TELL
from assistant.tree.model import MODE
from assistant.tree.schema import SCHEMAS

Schema = dict[str, Any]
Words = Mapping[str, str]
"""Names, each with what an editor says about it."""

SORTS = (*SCHEMAS, *(f"catalogue/{file}" for file in FILES))
"""What there are schemas of, as an author names them."""

_LISTS = ("facts", "caution", "cautions", "joins", "do", "undo", "ask", "measure_again", "because")
_SINGLE = ("cause", "reaches", "use", "mode")


def schema_of(sort: str, catalogue: Catalogue | None, trees: Words | None = None) -> Schema:
    """Give the schema of a sort of file; with a catalogue, its names are completed, and no others taken.

    The same with `trees`, the titles of those that a node may use.

    Raises:
        UnknownNameError: there is no schema of that sort.
    """
    # A sort of the catalogue may be spread over files in a folder: catalogue/causes/airflow.yaml is of causes.
    parts = [part for part in sort.removesuffix(".yaml").split("/") if part != "catalogue"]
    wanted = f"catalogue/{parts[0]}" if parts and parts[0] in FILES else sort
    if wanted not in SORTS:
        raise UnknownNameError("schema", sort, nearest(sort, SORTS))
    schema = SCHEMAS[wanted] if wanted in SCHEMAS else catalogue_schema(wanted.removeprefix("catalogue/"))
    if catalogue is None:
        return schema
    words: dict[str, Words] = _words(catalogue) | ({"use": trees} if trees else {})
    if wanted == "catalogue/causes":
        # A repair may name acts that belong together as one.
        words["do"] = {**words["do"]} | {one.name: f"{one.title}." for one in catalogue.sequences.values()}
    if MODE in catalogue.facts:
        words["mode"] = catalogue.facts[MODE].choices
    named: Schema = _with_names(schema, catalogue, words)
    used = set(_references(named))
    return named | {"$defs": {key: _one_of(found) for key, found in words.items() if key in used}}


def _words(catalogue: Catalogue) -> dict[str, Words]:
    """Return the names that may stand behind each key, with what an editor says about them."""
    facts = {name: _asked_words(entry) for name, entry in catalogue.facts.items()}
    readings = {name: _asked_words(entry) for name, entry in catalogue.readings.items()}
    taken = readings | {name: _asked_words(entry) for name, entry in catalogue.observations.items()}
    numbers = {name: _number(entry) for name, entry in catalogue.numbers.items()}
    derived = {name: f"Follows from other facts: {', '.join(choices)}." for name, choices in DERIVED_CHOICES.items()}
    changes = {f"change({name})": f"What measure_again saw {name} change." for name in catalogue.readings}
    cautions = {name: _caution(entry) for name, entry in catalogue.cautions.items()}
    causes = {name: _cause(entry) for name, entry in catalogue.causes.items()}
    acts = {act.name: f"{act.title}. {act.how}" for act in catalogue.acts.values()}
    ends = {"no_fault": "The call ends with nothing wrong.", "undecided": "The call ends undecided."}
    return {
        "facts": facts,
        "caution": cautions,
        "cautions": cautions,
        "joins": cautions,
        "do": acts,
        "undo": acts,
        "ask": taken | facts,
        "measure_again": taken,
        "because": numbers | taken | facts | derived | changes,
        "cause": causes,
        "reaches": causes | ends,
    }


def _asked_words(entry: Fact | Reading | Observation) -> str:
    choices = (
        f" Choices: {', '.join(entry.choices)}." if isinstance(entry, Fact | Observation) and entry.choices else ""
    )
    return f"{entry.title}. {entry.question}{choices}"


def _number(entry: NumberEntry) -> str:
    return f"{entry.title}. {entry.tells}"


def _caution(entry: Caution) -> str:
    return f"{entry.title}. {entry.text}"


def _cause(entry: Cause) -> str:
    return f"{entry.title}. {entry.what}"


def _one_of(words: Words) -> Schema:
    return {"oneOf": [{"const": name, "description": says} for name, says in words.items()]}


def _with_names(schema: Any, catalogue: Catalogue, words: Mapping[str, Words]) -> Any:
    """Return the schema with each key that holds names of the catalogue told which."""
    if isinstance(schema, list):
        return [_with_names(item, catalogue, words) for item in schema]
    if not isinstance(schema, dict):
        return schema
    found = {key: _with_names(value, catalogue, words) for key, value in schema.items()}
    for name, key in found.get("properties", {}).items():
        by_name = key.get("type") == "object"
        if name in ("facts", "answers") and by_name:
            found["properties"][name] = key | {"properties": dict(_answers_schema(catalogue, name == "answers"))}
            if name == "facts":
                found["properties"][name]["additionalProperties"] = False
        elif name in _LISTS:
            reference = {"$ref": f"#/$defs/{name}"}
            listed = {"type": "array", "minItems": key.get("minItems", 0), "items": reference}
            found["properties"][name] = {"description": key["description"], "anyOf": [reference, listed]}
        elif name in _SINGLE and name in words:
            found["properties"][name] = {"description": key["description"], "allOf": [{"$ref": f"#/$defs/{name}"}]}
    return found


def _answers_schema(catalogue: Catalogue, several: bool) -> Iterator[tuple[str, Schema]]:
    """Yield the facts of a call, or with `several` all that can be answered, each with its values."""
    asked: list[Fact | Reading | Observation] = [*catalogue.facts.values()]
    if several:
        asked += [*catalogue.observations.values(), *catalogue.readings.values()]
    for entry in asked:
        value = _value(entry)
        listed = {"type": "array", "minItems": 1, "items": value}
        yield entry.name, {"description": _asked_words(entry), **({"anyOf": [value, listed]} if several else value)}


def _value(entry: Fact | Reading | Observation) -> Schema:
    """Return what may be answered: a choice, a refrigerant, or a quantity with its unit."""
    cannot = {"const": CANNOT_TELL, "description": "The tech cannot tell."}
    if isinstance(entry, Observation) or (isinstance(entry, Fact) and entry.choices):
        return {"oneOf": [*({"const": name, "description": says} for name, says in entry.choices.items()), cannot]}
    if entry.kind is None:
        return {"type": "string", "examples": [item.designation for item in all_refrigerants()]}
    return {"type": ["string", "number"], "description": f"{accepted_forms(entry.kind)}.".capitalize()}


def _references(schema: Any) -> Iterable[str]:
    if isinstance(schema, list):
        for item in schema:
            yield from _references(item)
    elif isinstance(schema, dict):
        for key, value in schema.items():
            if key == "$ref":
                yield value.rpartition("/")[2]
            else:
                yield from _references(value)
