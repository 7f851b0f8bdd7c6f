"""The schema and the loader must agree about catalogue files: what one takes, the other takes."""

import json
from functools import cache
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from assistant.catalogue.keys import FILES
from assistant.catalogue.loading import load_catalogue
from assistant.catalogue.schema import catalogue_schema
from assistant.source.keys import ByName, Form, KeyTable, Listed, OneOf, Text, Texts
from assistant.source.nodes import Mapping, Node, Scalar, read
from assistant.source.problem import render
from assistant.source.shipped import shipped_folder

SHIPPED = shipped_folder("trees") / "catalogue"
SHAPE = ("shape-", "kind-unknown")

WORDS = st.sampled_from(["superheat", "yes", "no", "true", "", "  ", "two words"])
ANYTHING: st.SearchStrategy[object] = st.recursive(
    WORDS,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from(["a", "B b", "cause"]), inner),
    max_leaves=4,
)
CHOICES = st.dictionaries(st.sampled_from(["clean", "R-410A", "not so", "iced"]), WORDS, max_size=3)
LOOK = st.fixed_dictionaries({}, optional={"cause": WORDS, "tell": WORDS, "say": WORDS})
QUANTITIES = st.sampled_from(["3", "3 psig", "0.1 % + 1 psi", "x", " "])


def fitting(form: Form) -> st.SearchStrategy[object]:
    """Values that mostly have a form."""
    match form:
        case Text():
            return QUANTITIES if form.numeric else WORDS
        case Texts():
            return st.lists(QUANTITIES if form.numeric else WORDS, max_size=3)
        case OneOf():
            return st.sampled_from([*form.names, "presure", "refrigerant"])
        case ByName():
            return CHOICES
        case Listed():
            return st.lists(LOOK, max_size=2)
        case _:
            raise AssertionError(form)


def plain(node: Node) -> Any:
    """The values of a file as an editor sees them where every scalar is a text."""
    match node:
        case Scalar():
            return node.text
        case Mapping():
            return {key.text: plain(value) for key, value in node.entries}
        case _:
            return [plain(item) for item in node.items]


def made(table: KeyTable) -> st.SearchStrategy[object]:
    """Entries with most of their keys, mostly of the form that fits."""
    values = {name: fitting(key.form) | fitting(key.form) | ANYTHING for name, key in table.keys.items()}
    needed = {name: value for name, value in values.items() if table.keys[name].needed}
    others = {name: value for name, value in values.items() if name not in needed} | {"titel": WORDS}
    return st.fixed_dictionaries(needed, optional=others) | st.fixed_dictionaries({}, optional=values)


def changed(file: str) -> st.SearchStrategy[dict[str, object]]:
    """Files of a few entries, some under a name that cannot be one."""
    names = st.sampled_from(["one", "two_2", "Three", "4", "a-b", ""])
    return st.dictionaries(names, made(FILES[file]) | ANYTHING, max_size=2)


@cache
def validator(file: str) -> jsonschema.Draft202012Validator:
    """What an editor does with the schema of a file."""
    return jsonschema.Draft202012Validator(catalogue_schema(file))


def told_of(folder: Path, file: str, text: str) -> list[str]:
    """What the loader says about the shape of one file."""
    (folder / f"{file}.yaml").write_text(text, encoding="utf-8")
    _, problems = load_catalogue(folder)
    return [render(problem) for problem in problems if problem.code.startswith(SHAPE)]


def shipped(file: str) -> dict[str, dict[str, object]]:
    """The shipped entries of a sort, those of its folder too."""
    found: dict[str, dict[str, object]] = {}
    for path in (SHIPPED / f"{file}.yaml", *sorted((SHIPPED / file).glob("*.yaml"))):
        node, problems = read(path) if path.exists() else (None, [])
        assert not problems
        found |= plain(node) if node is not None else {}
    return found


@pytest.mark.parametrize("file", FILES)
def test_the_shipped_files_fit_their_schema(file: str) -> None:
    """An editor finds nothing wrong with what is shipped."""
    values = shipped(file)
    assert values
    jsonschema.validate(values, catalogue_schema(file), cls=jsonschema.Draft202012Validator)


@pytest.mark.parametrize("file", FILES)
@settings(max_examples=50, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(data=st.data())
def test_loader_and_schema_give_the_same_verdict(
    tmp_path_factory: pytest.TempPathFactory, file: str, data: st.DataObject
) -> None:
    """For any keys and values, the loader finds a mistake of shape where the schema does, and only there."""
    values = data.draw(changed(file))
    folder = tmp_path_factory.getbasetemp() / f"schema_{file}"
    folder.mkdir(exist_ok=True)
    told = told_of(folder, file, json.dumps(values, ensure_ascii=False))
    assert bool(told) == bool(list(validator(file).iter_errors(values))), told


@pytest.mark.parametrize("file", FILES)
def test_dropping_or_misspelling_any_key_is_seen_by_both(tmp_path: Path, file: str) -> None:
    """Each key of the first shipped entry that has it, dropped or misspelt: loader and schema agree on each."""
    entries = shipped(file)
    for key in FILES[file].keys:
        name, entry = next((name, entry) for name, entry in entries.items() if key in entry)
        without = {other: value for other, value in entry.items() if other != key}
        for mutant in (without, without | {f"{key}x": entry[key]}, without | {key: ""}, without | {key: {"a": "b"}}):
            values = {name: mutant}
            told = told_of(tmp_path, file, json.dumps(values))
            assert bool(told) == bool(list(validator(file).iter_errors(values))), (key, mutant, told)


@pytest.mark.parametrize("file", FILES)
def test_schemas_are_schemas_and_describe_every_key(file: str) -> None:
    """Each keeps to JSON Schema 2020-12, and an editor has something to show for every key."""
    schema = catalogue_schema(file)
    jsonschema.Draft202012Validator.check_schema(schema)
    assert schema["description"]
    assert all(value["description"] for value in schema["additionalProperties"]["properties"].values())
