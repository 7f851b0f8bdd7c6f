"""The JSON Schema of a trainer's list, for editors; made from the tables that the reader follows."""

from collections.abc import Mapping
from typing import Any

from assistant.practice.training.exercises import EXERCISE, NONE, SYSTEM, WEATHER, Key
from assistant.practice.visit.site import guises
from assistant.simulator.vapour import modelled


def exercises_schema() -> dict[str, Any]:
    """The JSON Schema of a list, for editors; made from the tables that the reader follows."""
    exercise = _object(EXERCISE)
    shares = {"type": ["string", "number", "null"], "description": "A share such as 20%, or usual."}
    causes = dict.fromkeys((one.cause for one in guises(heat_pump=True)), shares)
    exercise["properties"] |= {
        "system": _object(SYSTEM),
        "weather": _object(WEATHER),
        "faults": {
            "description": EXERCISE["faults"].says,
            "anyOf": [{"const": NONE}, {"type": "object", "properties": causes, "additionalProperties": False}],
        },
    }
    exercise["anyOf"] = [{"required": ["seed"]}, {"required": ["faults"]}]
    exercise["dependentRequired"] = {"system": ["faults"], "weather": ["faults"]}
    exercise["not"] = {"required": ["difficulty", "faults"]}
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "A list of practice calls",
        "type": "object",
        "properties": {
            "practice": {"type": "string", "pattern": r"\S", "description": "What the list is called."},
            "exercises": {"type": "array", "minItems": 1, "items": exercise},
        },
        "required": ["practice", "exercises"],
        "additionalProperties": False,
    }


def _object(keys: Mapping[str, Key]) -> dict[str, Any]:
    properties = {name: {**_form(key), "description": key.says} for name, key in keys.items()}
    return {"type": "object", "minProperties": 1, "properties": properties, "additionalProperties": False}


def _form(key: Key) -> dict[str, Any]:
    match key.sort:
        case "choice":
            return {"enum": list(key.choices)}
        case "whole" | "number":
            kind = "integer" if key.sort == "whole" else "number"
            return {"type": kind, "minimum": key.low, "maximum": key.high}
        case "refrigerant":
            return {"enum": list(modelled())}
        case _:
            return {"type": ["string", "number"], "pattern": r"\S"}
