"""The schema and the reader must agree: what one takes, the other takes."""

import json
from collections.abc import Iterable
from pathlib import Path

import jsonschema
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from assistant.source.keys import Form
from assistant.source.nodes import Node, read_string
from assistant.source.problem import Problem
from assistant.source.shape import find_mistakes
from assistant.tree import keys
from assistant.tree.check import check_file
from assistant.tree.examples import build_calls
from assistant.tree.reader import build_tree
from assistant.tree.schema import SCHEMAS, look_again

from .words import WORDS

SOUND = """\
tree: t
version: 1
title: t
complaints: [t]
start: first
nodes:
  first:
    say: Air first.
    go: second
  second:
    say: Alike, so looked at once.
    go: fine
  fine:
    no_fault: t
"""
TEXT = st.sampled_from(["superheat", "fine", "superheat > 12 F", "1", "01", "no", "", "  ", "two words", "Über"])
VALUE = st.recursive(
    TEXT,
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from(["a", "go", "fine"]), inner, max_size=2)
    ),
    max_leaves=4,
)


def mapping(allowed: Iterable[str], **special: st.SearchStrategy[object]) -> st.SearchStrategy[dict[str, object]]:
    """Mappings that mostly use the allowed keys, in any order, each with a value of some form."""
    allowed = tuple(allowed)
    names = st.sampled_from([*allowed, allowed[0] + "x", "say", "go", "cause"])
    return st.lists(names, unique=True, max_size=6).flatmap(
        lambda chosen: st.fixed_dictionaries({name: special.get(name, VALUE) for name in chosen})
    )


BRANCH = mapping((*keys.BRANCH_WORDS, "go", "say")) | VALUE
DECIDE = st.lists(BRANCH, max_size=3) | VALUE
NODE = (
    mapping(keys.STEP.keys, decide=DECIDE)
    | mapping((*keys.LEAF_WORDS, *keys.CAUSE_LEAF.keys))
    | mapping((*keys.USE.keys, "ask"))
    | VALUE
)
NODES = st.dictionaries(st.sampled_from(["fine", "settle", "No", "1a", "a-b", "ä"]), NODE, max_size=3) | VALUE
TREE = mapping(keys.TREE.keys, nodes=NODES) | VALUE
GIVEN = st.dictionaries(st.sampled_from(["superheat", "refrigerant"]), VALUE, max_size=2) | VALUE
CALL = mapping(keys.CALL.keys, facts=GIVEN, answers=GIVEN) | VALUE
CALLS = mapping(("calls",), calls=st.lists(CALL, max_size=3) | VALUE) | VALUE

LENIENT = settings(max_examples=300, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def of_shape(problems: list[Problem]) -> set[Problem]:
    """Those problems that are about shape."""
    return {problem for problem in problems if problem.code.startswith("shape-")}


def told(values: object, form: Form) -> tuple[Node, list[Problem]]:
    """A file with these values, and the mistakes of shape in it."""
    root, problems = read_string(json.dumps(values, ensure_ascii=False), "t.yaml")
    assert root is not None
    assert not problems
    return root, find_mistakes(root, form)


def as_whole_number(values: object) -> object:
    """Values as the schema wants them: the version of a tree a number, where it could be one."""
    if isinstance(values, dict) and isinstance(values.get("version"), str) and values["version"].isdigit():
        version = values["version"]
        return values | {"version": int(version) if version[0] != "0" else 0}
    return values


@LENIENT
@given(TREE)
def test_reader_and_schema_take_the_same_trees(values: object) -> None:
    """For any keys and values, the reader finds a mistake in a tree where its schema does, and only there."""
    root, problems = told(values, keys.TREE)
    refused = not jsonschema.Draft202012Validator(SCHEMAS["tree"]).is_valid(as_whole_number(values))
    assert bool(problems) == refused, problems
    assert of_shape(build_tree(root, "t.yaml", [])[1]) == set(problems)
    if not problems:
        assert look_again(root, "tree") == []


@LENIENT
@given(CALLS)
def test_reader_and_schema_take_the_same_calls(values: object) -> None:
    """For any keys and values, the reader finds a mistake in example calls where their schema does, and only there."""
    root, problems = told(values, keys.CALLS)
    assert bool(problems) == (not jsonschema.Draft202012Validator(SCHEMAS["calls"]).is_valid(values)), problems
    assert of_shape(build_calls(root, "t.yaml", [])[1]) == set(problems)


@LENIENT
@given(mapping(keys.ANSWERS.keys, facts=GIVEN, answers=GIVEN) | VALUE)
def test_reader_and_schema_take_the_same_answers(values: object) -> None:
    """For any keys and values, the reader finds a mistake in answers where their schema does, and only there."""
    _, problems = told(values, keys.ANSWERS)
    assert bool(problems) == (not jsonschema.Draft202012Validator(SCHEMAS["answers"]).is_valid(values)), problems


def test_a_check_tells_where_an_editor_would_mark_what_the_reader_takes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The check looks at each form of node by the schema as well, at its place in the file."""
    (tmp_path / "t.yaml").write_text(SOUND, encoding="utf-8")
    assert check_file(tmp_path / "t.yaml", WORDS) == []
    step = SCHEMAS["tree"]["properties"]["nodes"]["additionalProperties"]
    while "else" in step:
        step = step["else"]
    monkeypatch.delitem(step["properties"], "say")
    found = check_file(tmp_path / "t.yaml", WORDS)
    assert [(problem.code, problem.place.line) for problem in found] == [("shape-schema", 7)]


def test_schemas_are_schemas() -> None:
    """The schemas themselves keep to JSON Schema 2020-12."""
    for schema in SCHEMAS.values():
        jsonschema.Draft202012Validator.check_schema(schema)


def test_every_key_is_described() -> None:
    """An editor can show a description for every key of a tree, a step, a leaf and a branch."""

    def undescribed(schema: object) -> list[str]:
        if isinstance(schema, list):
            return [name for item in schema for name in undescribed(item)]
        if not isinstance(schema, dict):
            return []
        own = [name for name, value in schema.get("properties", {}).items() if not value.get("description")]
        return own + [name for value in schema.values() for name in undescribed(value)]

    assert undescribed([*SCHEMAS.values()]) == []


def test_no_message_speaks_schema() -> None:
    """What an author is told never contains the words of JSON Schema."""
    text = json.dumps({"tree": [], "version": "x", "nodes": {"a": {"decide": [{"go": "b"}, 3]}, "b": "c"}, "x": "y"})
    root, _ = read_string(text, "t.yaml")
    assert root is not None
    said = " ".join(f"{problem.message} {problem.hint}" for problem in find_mistakes(root, keys.TREE))
    for word in ("schema", "object", "array", "string", "additional", "property", "required", "pattern", "valid"):
        assert word not in said
