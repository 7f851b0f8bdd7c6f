"""The JSON Schemas of catalogue files, for editors; made from the same table that the loader reads by."""

from typing import Any

from assistant.catalogue.fields import CHOICE, NAME
from assistant.catalogue.keys import FILES, LOOK_ALIKE, REFRIGERANT, SAYS, Key, Keys
from assistant.quantity import Kind, accepted_forms, unit_names

Schema = dict[str, Any]

_DIALECT = "https://json-schema.org/draft/2020-12/schema"


def catalogue_schema(file: str) -> Schema:
    """Give the schema of a file of the catalogue: `readings` for readings.yaml.

    Raises:
        KeyError: there is no such file.
    """
    entry = _entry(FILES[file])
    if file == "facts":
        entry |= {
            "anyOf": [{"required": ["choices"]}, {"required": ["kind"]}],
            "not": {"required": ["choices", "kind"]},
        }
    return {
        "$schema": _DIALECT,
        "title": f"Catalogue: {file}",
        "description": SAYS[file],
        "type": "object",
        "propertyNames": {"pattern": f"^{NAME.pattern}$"},
        "additionalProperties": entry,
    }


def _entry(keys: Keys) -> Schema:
    entry: Schema = {
        "type": "object",
        "properties": {name: _key(key) for name, key in keys.items()},
        "required": [name for name, key in keys.items() if key.needed],
        "additionalProperties": False,
    }
    if "unit" in keys:
        entry["allOf"] = [_units_of(kind) for kind in Kind]
    return entry


def _units_of(kind: Kind) -> Schema:
    """Name the units of a kind where an entry is of that kind; any other way to write one is left to the check."""
    units = {"examples": list(unit_names(kind)), "description": f"A unit of {kind.words}."}
    condition = {"properties": {"kind": {"const": kind.value}}, "required": ["kind"]}
    return {"if": condition, "then": {"properties": {"unit": units, "si_unit": units}}}


def _key(key: Key) -> Schema:
    schema: Schema = {"description": key.says, **_form(key)}
    if key.examples:
        schema["examples"] = list(key.examples)
    return schema


def _form(key: Key) -> Schema:
    text: Schema = {"type": "string", "pattern": r"\S"}
    # An editor takes what looks like a number for one; the loader sees the text as it was typed.
    value: Schema = {"type": ["string", "number"], "pattern": r"\S"}
    match key.form:
        case "text":
            return text
        case "texts":
            listed: Schema = {"type": ["string", "array"], "pattern": r"\S", "items": text}
            return listed | {"minItems": 1} if key.needed else listed
        case "flag":
            return {"type": "string", "enum": ["yes", "no"]}
        case "choices":
            names = {"pattern": f"^{CHOICE.pattern}$"}
            return {"type": "object", "minProperties": 2, "propertyNames": names, "additionalProperties": text}
        case "kind":
            return {"oneOf": _kinds()}
        case "fact_kind":
            refrigerant = {"const": REFRIGERANT, "description": "The designation of a refrigerant, such as R-410A."}
            return {"oneOf": [*_kinds(), refrigerant]}
        case "unit":
            return {"type": "string"}
        case "quantity" | "accuracy":
            return value
        case "span":
            return {"type": "array", "minItems": 2, "maxItems": 2, "items": value}
        case "look_alikes":
            return {"type": "array", "items": _entry(LOOK_ALIKE)}


def _kinds() -> list[Schema]:
    return [{"const": kind.value, "description": f"{accepted_forms(kind)}.".capitalize()} for kind in Kind]
