"""Schemas with names: what is shipped fits them, what is misspelt does not, and names are explained."""

import json
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path
from typing import Any

import jsonschema
import pytest
import yaml

from assistant.author.schemas import SORTS, schema_of
from assistant.catalogue.catalogue import Catalogue
from assistant.errors import UnknownNameError
from assistant.source.shipped import shipped_folder

TREES = shipped_folder("trees")


class AsTyped(getattr(yaml, "CSafeLoader", yaml.SafeLoader)):  # type: ignore[misc]
    """Reads YAML 1.2 as an editor does, where yes and no are words."""


AsTyped.yaml_implicit_resolvers = {
    first: [(tag, expression) for tag, expression in found if tag != "tag:yaml.org,2002:bool"]
    for first, found in yaml.SafeLoader.yaml_implicit_resolvers.items()
}


def values_of(file: Path) -> Any:
    """A file as an editor takes it: what looks like a number is one."""
    return yaml.load(file.read_text(encoding="utf-8"), AsTyped)


def one_of(
    validator: jsonschema.Draft202012Validator, choices: list[dict[str, Any]], found: Any, schema: dict[str, Any]
) -> Iterator[jsonschema.ValidationError]:
    """`oneOf`, quick where it lists hundreds of names, each another one."""
    names = [choice.get("const") for choice in choices]
    only_names = all(choice.keys() == {"const", "description"} for choice in choices)
    if only_names and all(isinstance(name, str) for name in names) and len(set(names)) == len(names):
        if found not in names:
            yield jsonschema.ValidationError(f"{found!r} is none of the names")
    else:
        yield from jsonschema.Draft202012Validator.VALIDATORS["oneOf"](validator, choices, found, schema)


Validator = jsonschema.validators.extend(jsonschema.Draft202012Validator, {"oneOf": one_of})


Validate = Callable[..., Any]


@pytest.fixture(scope="module")
def validator(catalogue: Catalogue) -> Validate:
    """What an editor does with the schema of a sort; `named`, with the names of the catalogue."""
    return cache(lambda sort, named=True: Validator(schema_of(sort, catalogue if named else None)))


def sort_of(file: Path) -> str:
    """Which schema a shipped file is written after."""
    parts = file.relative_to(TREES).with_suffix("").parts
    if parts[0] == "catalogue":
        return "/".join(parts[:2])
    return "calls" if file.name.endswith(".calls.yaml") else "tree"


@pytest.mark.parametrize("named", [True, False], ids=["names", "no names"])
@pytest.mark.parametrize("file", sorted(TREES.rglob("*.yaml")), ids=lambda file: str(file.relative_to(TREES)))
def test_an_editor_finds_nothing_wrong_with_what_is_shipped(validator: Validate, file: Path, named: bool) -> None:
    """Trees, example calls and catalogue fit their schemas, with the catalogue's names and without."""
    found = [error.message for error in validator(sort_of(file), named).iter_errors(values_of(file))]
    assert found == []


STEP = {"caution": ["live_panels"], "ask": "suction_pressure", "go": "end"}


@pytest.mark.parametrize(
    ("node", "wrong"),
    [
        (STEP, {"caution": ["live_pannels"]}),
        (STEP, {"ask": ["suction_presure"]}),
        (STEP | {"do": "wait_settled", "measure_again": "suction_pressure"}, {"measure_again": "superheat"}),
        ({"cause": "undercharge", "because": ["superheat", "change(suction_pressure)"]}, {"cause": "overcharged"}),
        ({"cause": "undercharge", "because": ["superheat"]}, {"because": ["change(superheat)"]}),
    ],
)
def test_a_misspelt_name_is_marked_only_with_names(
    validator: Validate, node: dict[str, Any], wrong: dict[str, Any]
) -> None:
    """A name that the catalogue lacks is taken by the schema of the language, and not by that with names."""

    def fits(schema: Any, found: dict[str, Any]) -> bool:
        tree = {"tree": "t", "version": 1, "title": "t", "complaints": "t", "start": "a", "nodes": {"a": found}}
        return bool(schema.is_valid(tree))

    assert fits(validator("tree"), node)
    assert fits(validator("tree", False), node | wrong)
    assert not fits(validator("tree"), node | wrong)


def test_the_modes_of_a_tree_are_known(validator: Validate) -> None:
    """A tree for one mode names one that the catalogue knows."""
    tree = {
        "tree": "t",
        "version": 1,
        "title": "t",
        "complaints": "t",
        "start": "a",
        "nodes": {"a": {"undecided": "Open."}},
    }
    assert validator("tree").is_valid(tree | {"mode": "heating"})
    assert not validator("tree").is_valid(tree | {"mode": "heatng"})


def test_trees_to_use_are_known(catalogue: Catalogue) -> None:
    """With the trees of a folder, a node may use one of them and no other; without, any name is taken."""

    def fits(used: str, trees: dict[str, str] | None) -> bool:
        nodes = {"a": {"use": used, "when_no_fault": "b"}, "b": {"undecided": "Open."}}
        tree = {"tree": "t", "version": 1, "title": "t", "complaints": "t", "start": "a", "nodes": nodes}
        schema = schema_of("tree", catalogue, trees)
        return jsonschema.Draft202012Validator(schema).is_valid(tree)

    assert fits("airflow", {"airflow": "Indoor air"})
    assert not fits("airflows", {"airflow": "Indoor air"})
    assert fits("airflows", None)


def test_choices_of_answers_are_known(validator: Validate) -> None:
    """In a file of answers a choice is completed, a wrong one marked, and a step may be answered too."""
    schema = validator("answers")
    assert schema.is_valid({"facts": {"metering_device": "txv"}, "answers": {"filter_condition": ["clogged", "clean"]}})
    assert schema.is_valid({"answers": {"filter_condition": "cannot tell", "minutes_running": 20, "thaw": "done"}})
    assert not schema.is_valid({"answers": {"filter_condition": "dusty"}})
    assert not schema.is_valid({"facts": {"metering_devise": "txv"}})


def test_names_are_explained(catalogue: Catalogue) -> None:
    """Every name that an editor offers comes with its title and what it is."""
    known = schema_of("tree", catalogue)["$defs"]["caution"]["oneOf"]
    told = {item["const"]: item["description"] for item in known}
    assert set(told) == set(catalogue.cautions)
    assert told["brazing"].startswith("Brazing. Never a flame")


@pytest.mark.parametrize("sort", SORTS)
def test_schemas_hold_together(catalogue: Catalogue, sort: str) -> None:
    """Each is a schema, fit to be printed, whose references all lead somewhere."""
    schema = schema_of(sort, catalogue)
    jsonschema.Draft202012Validator.check_schema(schema)
    text = json.dumps(schema)
    for name in ("caution", "cause", "because", "facts", "joins", "reaches"):
        assert (f'"#/$defs/{name}"' in text) == (name in schema["$defs"])


def test_an_unknown_sort_suggests() -> None:
    """A misspelt sort names the nearest ones; a file of the catalogue may be named alone, with its ending."""
    with pytest.raises(UnknownNameError, match="catalogue/readings"):
        schema_of("catalogue/reading", None)
    for sort in ("readings.yaml", "catalogue/readings.yaml", "catalogue/readings/air.yaml"):
        assert schema_of(sort, None) == schema_of("catalogue/readings", None)


def test_quick_choice_of_names_is_the_validators_own(catalogue: Catalogue) -> None:
    """What these tests take for `oneOf` finds the same as the library's own, for a name, another one and no name."""
    schema = {"oneOf": schema_of("tree", catalogue)["$defs"]["caution"]["oneOf"]}
    for found, fits in (("brazing", True), ("brasing", False), (3, False), (["brazing"], False)):
        assert jsonschema.Draft202012Validator(schema).is_valid(found) is fits
        assert Validator(schema).is_valid(found) is fits
