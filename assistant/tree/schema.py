"""The JSON Schemas of tree files and of example-call files, for editors and for the shape pass."""

from typing import Any

from assistant.tree import keys

Schema = dict[str, Any]

_DIALECT = "https://json-schema.org/draft/2020-12/schema"

_SAYS: dict[str, str] = {
    "tree": "The tree's name: the name of this file without .yaml.",
    "version": "Whole number; raise it when calls made with the older tree should not be compared with this one.",
    "title": "What the tree is about, in a few words.",
    "complaints": "What customers say when this tree is the right one; the search over complaints reads these.",
    "mode": "Which way the system runs on this tree, cooling or heating: then nobody is asked for it.",
    "facts": "System facts asked at the start, in this order. Others are asked when a decision needs them.",
    "start": "The node where the tree begins.",
    "nodes": "The nodes by name: steps, which go on, and leaves, which end.",
    "say": "Shown to the tech.",
    "why": "Shown when the tech asks why, and above the worked number.",
    "caution": "Cautions from the catalogue; each is acknowledged before anything else at this node.",
    "do": "An action; the tech answers done or cannot do.",
    "ask": "Readings, observations or facts; readings and observations are asked anew each time this node is entered.",
    "measure_again": "Readings taken anew after `do`, so that change(reading) can tell what it did.",
    "decide": "Branches in order; the first true one is taken.",
    "go": "The node that comes next.",
    "use": "Another tree, which is walked from its start; a cause found there ends the call.",
    "when_no_fault": "The node to go on with when the used tree ends in no_fault; without it, the call ends there.",
    "when_undecided": "The node to go on with when the used tree ends undecided; without it, the call ends there.",
    "cause": "The cause that was found, from the catalogue.",
    "because": "The evidence to show: numbers, readings, observations, facts, change(reading).",
    "no_fault": "An end where nothing wrong was found: what to tell the customer.",
    "undecided": "An honest end: what is still open and what to do.",
    "when": "A condition, such as: superheat > superheat_target + 5 F and filter_condition is not clogged.",
    "cannot_tell": "The node to go to when what the decision needs was answered with cannot tell.",
    "otherwise": "The node to go to when no other branch is taken.",
    "note": "Notes to yourself, never shown on a call; `coilside trees check` lists them.",
    "name": "What the call is, in a few words.",
    "calls": "Example calls: stored answers with the end that they must reach.",
    "call_facts": "System facts by name.",
    "answers": "Answers by name; a list holds successive measurements. What is not here is answered with cannot tell.",
    "reaches": "The cause that the call must reach, or no_fault, or undecided.",
    "like": "The name of an earlier call of this file; its facts and answers hold here too, but for those given anew.",
    "at": "The end of the tree at which the call must come to it, where several nodes end alike.",
}

_EXAMPLES: dict[str, list[str]] = {
    "tree": ["poor_cooling"],
    "title": ["Runs, but cools poorly"],
    "complaints": ["not cooling enough", "air from the vents is warm"],
    "say": ["Air first. A choked coil reads like a fault of charge or valve."],
    "why": ["Superheat tells how much of the coil is fed with liquid."],
    "do": ["Hold the bulb in the bare hand for two minutes, then strap it back."],
    "when": [
        "filter_condition is clogged or missing",
        "superheat > superheat_target + limits.superheat_band",
        "minutes_running < 15 min",
        "change(suction_pressure) > 3 psi",
        "metering_device is txv and not (superheat < 5 F or subcooling > 14 F)",
    ],
    "undecided": ["What could not be measured leaves this open. Come back with it."],
    "no_fault": ["The coil is fed as it should be."],
    "reaches": ["undercharge", "no_fault", "undecided"],
}


def tree_schema() -> Schema:
    """Give the schema of a tree file."""
    node = _first_of(
        ("use", _mapping(keys.USE, {}, ("use",))),
        ("cause", _mapping(keys.CAUSE_LEAF, {}, ("cause",))),
        ("no_fault", _mapping(keys.NO_FAULT_LEAF, {}, ("no_fault",))),
        ("undecided", _mapping(keys.UNDECIDED_LEAF, {}, ("undecided",))),
        otherwise=_step(),
    )
    nodes = {
        "description": _SAYS["nodes"],
        "type": "object",
        "minProperties": 1,
        "propertyNames": {"pattern": "^[a-z][a-z0-9_]*$"},
        "additionalProperties": {"type": "object", "minProperties": 1, **node},
    }
    version = {"description": _SAYS["version"], "type": "integer", "minimum": 1, "maximum": 999_999_999}
    tree = _mapping(keys.TREE, {"nodes": nodes, "version": version}, keys.TREE_REQUIRED)
    return {"$schema": _DIALECT, "title": "A tree", "type": "object", "minProperties": 1, **tree}


def calls_schema() -> Schema:
    """Give the schema of a file of example calls."""
    call = _mapping(keys.CALL, _answers(), keys.CALL_REQUIRED)
    calls = {
        "description": _SAYS["calls"],
        "type": "array",
        "minItems": 1,
        "items": {"type": "object", "minProperties": 1, **call},
    }
    file = _mapping(keys.CALLS, {"calls": calls}, keys.CALLS)
    return {"$schema": _DIALECT, "title": "Example calls of a tree", "type": "object", "minProperties": 1, **file}


def answers_schema() -> Schema:
    """Give the schema of a file that holds the facts and answers of one call."""
    file = _mapping(keys.ANSWERS, _answers(), ())
    return {"$schema": _DIALECT, "title": "The answers of a call", "type": "object", "minProperties": 1, **file}


def _step() -> Schema:
    branch = _first_of(
        ("when", _mapping(keys.WHEN, {}, ("when", "go"))),
        ("cannot_tell", _mapping(keys.CANNOT_TELL, {}, ("cannot_tell",))),
        otherwise=_mapping(keys.OTHERWISE, {}, ("otherwise",)),
    )
    decide = {
        "description": _SAYS["decide"],
        "type": "array",
        "minItems": 1,
        "items": {"type": "object", "minProperties": 1, **branch},
    }
    step = _mapping(keys.STEP, {"decide": decide}, ())
    ways = {"if": {"required": ["decide"]}, "then": {"not": {"required": ["go"]}}, "else": {"required": ["go"]}}
    return {**step, **ways}


def _answers() -> dict[str, Schema]:
    # An editor takes what looks like a number for one; the reader sees the text as it was typed.
    scalar: Schema = {"type": ["string", "number"], "pattern": r"\S"}
    several: Schema = {"type": ["string", "number", "array"], "pattern": r"\S", "minItems": 1, "items": scalar}
    return {
        "facts": {"description": _SAYS["call_facts"], "type": "object", "additionalProperties": scalar},
        "answers": {"description": _SAYS["answers"], "type": "object", "additionalProperties": several},
    }


def _mapping(allowed: tuple[str, ...], special: dict[str, Schema], required: tuple[str, ...]) -> Schema:
    properties = {name: special.get(name) or _plain(name) for name in allowed}
    return {"properties": properties, "required": list(required), "additionalProperties": False}


def _plain(name: str) -> Schema:
    schema: Schema = {"description": _SAYS[name], "type": "string", "pattern": r"\S"}
    if name in _EXAMPLES:
        schema["examples"] = _EXAMPLES[name]
    if name in keys.LISTS:
        item: Schema = {"type": "string", "pattern": r"\S"}
        schema |= {"type": ["string", "array"], "minItems": 1, "items": item}
    return schema


def _first_of(*cases: tuple[str, Schema], otherwise: Schema) -> Schema:
    """Choose by the first key that is there: errors then speak of that case alone, not of all.

    The last case names those keys too, so that an editor offers them where none is written yet.
    """
    words = {word: _plain(word) for word, _ in cases}
    result: Schema = {**otherwise, "properties": {**otherwise["properties"], **words}}
    for word, schema in reversed(cases):
        result = {"if": {"required": [word]}, "then": schema, "else": result}
    return result
