"""The schema and the reader must agree: what one takes, the other takes, and both find the same mistakes."""

import json

import jsonschema
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from assistant.source.nodes import read_string
from assistant.source.problem import Problem
from assistant.tree import keys
from assistant.tree.examples import build_calls
from assistant.tree.reader import build_tree
from assistant.tree.schema import answers_schema, calls_schema, tree_schema
from assistant.tree.shape import check_shape

TEXT = st.sampled_from(["superheat", "fine", "superheat > 12 F", "1", "01", "no", "", "  ", "two words", "Über"])
VALUE = st.recursive(
    TEXT,
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from(["a", "go", "fine"]), inner, max_size=2)
    ),
    max_leaves=4,
)


def mapping(allowed: tuple[str, ...], **special: st.SearchStrategy[object]) -> st.SearchStrategy[dict[str, object]]:
    """Mappings that mostly use the allowed keys, in any order, each with a value of some form."""
    names = st.sampled_from([*allowed, allowed[0] + "x", "say", "go", "cause"])
    return st.lists(names, unique=True, max_size=6).flatmap(
        lambda chosen: st.fixed_dictionaries({name: special.get(name, VALUE) for name in chosen})
    )


BRANCH = mapping((*keys.BRANCH_WORDS, "go", "say")) | VALUE
DECIDE = st.lists(BRANCH, max_size=3) | VALUE
NODE = (
    mapping(keys.STEP, decide=DECIDE)
    | mapping((*keys.LEAF_WORDS, *keys.CAUSE_LEAF))
    | mapping((*keys.USE, "ask"))
    | VALUE
)
NODES = st.dictionaries(st.sampled_from(["fine", "settle", "No", "1a", "a-b", "ä"]), NODE, max_size=3) | VALUE
TREE = mapping(keys.TREE, nodes=NODES) | VALUE
GIVEN = st.dictionaries(st.sampled_from(["superheat", "refrigerant"]), VALUE, max_size=2) | VALUE
CALL = mapping(keys.CALL, facts=GIVEN, answers=GIVEN) | VALUE
CALLS = mapping(("calls",), calls=st.lists(CALL, max_size=3) | VALUE) | VALUE

LENIENT = settings(max_examples=300, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def of_shape(problems: list[Problem]) -> set[Problem]:
    """Those problems that are about shape."""
    return {problem for problem in problems if problem.code.startswith("shape-")}


@LENIENT
@given(TREE)
def test_reader_and_schema_find_the_same_mistakes_in_trees(values: object) -> None:
    """For any keys and values, reading a tree and its schema give equal problems of shape."""
    root, problems = read_string(json.dumps(values, ensure_ascii=False), "t.yaml")
    assert root is not None
    assert not problems
    assert of_shape(build_tree(root, "t.yaml", [])[1]) == set(check_shape(root, "tree"))


@LENIENT
@given(CALLS)
def test_reader_and_schema_find_the_same_mistakes_in_calls(values: object) -> None:
    """For any keys and values, reading example calls and their schema give equal problems of shape."""
    root, problems = read_string(json.dumps(values, ensure_ascii=False), "t.calls.yaml")
    assert root is not None
    assert not problems
    assert of_shape(build_calls(root, "t.calls.yaml", [])[1]) == set(check_shape(root, "calls"))


def test_schemas_are_schemas() -> None:
    """The schemas themselves keep to JSON Schema 2020-12."""
    for schema in (tree_schema(), calls_schema(), answers_schema()):
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

    assert undescribed([tree_schema(), calls_schema(), answers_schema()]) == []


def test_no_message_speaks_schema() -> None:
    """What an author is told never contains the words of JSON Schema."""
    text = json.dumps({"tree": [], "version": "x", "nodes": {"a": {"decide": [{"go": "b"}, 3]}, "b": "c"}, "x": "y"})
    root, _ = read_string(text, "t.yaml")
    assert root is not None
    told = " ".join(f"{problem.message} {problem.hint}" for problem in check_shape(root, "tree"))
    for word in ("schema", "object", "array", "string", "additional", "property", "required", "pattern", "valid"):
        assert word not in told
