"""Tables of keys as JSON Schemas, for editors and for the second look that a check takes at what was read."""

from collections.abc import Mapping
from typing import Any, Final

from assistant.source.keys import (
    Apart,
    AtLeastOne,
    ByName,
    Cases,
    Form,
    Key,
    KeyTable,
    Listed,
    Needs,
    OneOf,
    PlainNumber,
    Spelling,
    Text,
    Texts,
)

Schema = dict[str, Any]

_DIALECT: Final = "https://json-schema.org/draft/2020-12/schema"
_WRITTEN: Final = r"\S"


def schema_of_file(form: Form, title: str, says: str = "") -> Schema:
    """Return the schema of a file that holds a form."""
    described = {"description": says} if says else {}
    return {"$schema": _DIALECT, "title": title, **described, **schema_of_form(form)}


def schema_of_form(form: Form) -> Schema:
    """Return the schema of what may stand behind a key."""
    match form:
        case Text():
            return _text(form)
        case Texts():
            return _texts(form)
        case PlainNumber():
            return {"type": "integer" if form.whole else "number", "minimum": form.low, "maximum": form.high}
        case OneOf():
            return _one_of(form.names)
        case ByName():
            return _by_name(form)
        case Listed():
            return {"type": "array", "minItems": form.least, "items": schema_of_form(form.item)}
        case KeyTable():
            return {"type": "object", "minProperties": 1, **_table(form)}
        case Cases():
            return {"type": "object", "minProperties": 1, **_cases(form)}


def _text(form: Text) -> Schema:
    # An editor takes what looks like a number for one; the reader sees the text as it was typed.
    kinds = ["string", *(["number"] if form.numeric else []), *(["null"] if form.empty and form.numeric else [])]
    schema: Schema = {"type": kinds if len(kinds) > 1 else "string"}
    if not form.empty:
        schema["pattern"] = _WRITTEN
    if form.longest is not None:
        schema["maxLength"] = form.longest
    return schema


def _texts(form: Texts) -> Schema:
    one = _text(Text(form.numeric, longest=form.longest))
    listed: Schema = {"type": "array", "items": one, **({"minItems": form.least} if form.least else {})}
    if form.most is not None:
        listed["maxItems"] = form.most
    if not form.single:
        return listed
    alone = one["type"] if isinstance(one["type"], list) else [one["type"]]
    return {**listed, "type": [*alone, "array"], "pattern": _WRITTEN}


def _one_of(names: Mapping[str, str]) -> Schema:
    if not any(names.values()):
        return {"enum": list(names)}
    return {"oneOf": [{"const": name, "description": says} for name, says in names.items()]}


def _by_name(form: ByName) -> Schema:
    value = schema_of_form(form.value)
    schema: Schema = {"type": "object"}
    if form.least:
        schema["minProperties"] = form.least
    if form.name is not None:
        schema["propertyNames"] = _name(form.name)
    if form.known is None:
        schema["additionalProperties"] = value
    else:
        known = form.known.items()
        schema["properties"] = {name: {"description": says, **value} for name, says in known}
        schema["additionalProperties"] = False
    return {"anyOf": [{"const": form.word}, schema]} if form.word else schema


def _name(name: Spelling) -> Schema:
    return {"pattern": f"^{name.pattern.pattern}$"}


def _table(table: KeyTable) -> Schema:
    properties = {name: _key(key) for name, key in table.keys.items()}
    schema: Schema = {"properties": properties, "required": list(table.needed), "additionalProperties": False}
    return schema | _rules(table)


def _rules(table: KeyTable) -> Schema:
    rules: list[Schema] = []
    for rule in table.rules:
        match rule:
            case Apart():
                rules.append({"not": {"required": [rule.key, rule.other]}})
            case AtLeastOne():
                rules.append({"anyOf": [{"required": [name]} for name in rule.keys]})
            case Needs():
                rules.append({"dependentRequired": {rule.key: [rule.other]}})
    return {"allOf": rules} if rules else {}


def _key(key: Key) -> Schema:
    examples = {"examples": list(key.examples)} if key.examples else {}
    return {"description": key.says, **schema_of_form(key.form), **examples}


def _cases(form: Cases) -> Schema:
    """Choose by the first word that is there: errors then speak of that case alone, not of all.

    The last case names those words too, so that an editor offers them where none is written yet.
    """
    tables = dict(form.cases)
    last = form.otherwise or tables.popitem()[1]
    result = _table(last)
    words = {word: _key(table.keys[word]) for word, table in tables.items()}
    result["properties"] = {**result["properties"], **words}
    for word, table in reversed(tables.items()):
        result = {"if": {"required": [word]}, "then": _table(table), "else": result}
    return result
