"""Conditions: what the grammar takes, what each test means, and that no text can break it."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.source.nodes import Scalar
from assistant.source.problem import Place
from assistant.tree.condition import Condition, check_condition, read_condition
from assistant.tree.expression import And, Compare, Is, Not, Or
from assistant.tree.grammar import GrammarError, parse

from .words import WORDS

PIECES = st.sampled_from(
    ["superheat", "filter_condition", "clean", "is", "not", "and", "or", "(", ")", "<", ">=", "+", "-", "12", "F",
     "psig", "change(", "one", "of", "[", "]",
     "[clean, dirty]", "limits.", "limits.flooding", "12 F", "=", ",", "≥", "'", "kPa abs", ".5", "\n",
     "ä", "suction_pressure"]
)  # fmt: skip


def condition(text: str) -> Condition:
    """A condition that has no mistake in its grammar."""
    found, problems = read_condition(Scalar(text, Place("c", 1, 1, len(text) + 1), "", text))
    assert not problems
    return found


def codes(text: str) -> list[str]:
    """The codes of everything that is wrong with a condition."""
    found, problems = read_condition(Scalar(text, Place("c", 1, 1, len(text) + 1), "", text))
    return [problem.code for problem in problems or check_condition(found, WORDS)]


def test_several_choices_stand_in_a_list() -> None:
    """`a is one of [x, y] and b is z` asks for a being x or y, and b being z."""
    root = parse("filter_condition is one of [clean, dirty] and frost_line is none")
    assert isinstance(root, And)
    first = root.parts[0]
    assert isinstance(first, Is)
    assert [choice.text for choice in first.choices] == ["clean", "dirty"]


def test_or_joins_tests_when_a_test_follows() -> None:
    """After `or`, a word that is itself tested begins a new test."""
    root = parse("filter_condition is clean or frost_line is none or superheat > 5 F")
    assert isinstance(root, Or)
    assert [type(part) for part in root.parts] == [Is, Is, Compare]


def test_and_binds_closer_than_or() -> None:
    """`a or b and c` is a, or both b and c."""
    root = parse("superheat > 5 F or superheat < 1 F and subcooling > 5 F")
    assert isinstance(root, Or)
    assert [type(part) for part in root.parts] == [Compare, And]


def test_not_binds_closest() -> None:
    """`not a and b` is the opposite of a, together with b."""
    root = parse("not filter_condition is clean and superheat > 5 F")
    assert isinstance(root, And)
    assert isinstance(root.parts[0], Not)


def test_names_of_refrigerants_are_choices() -> None:
    """Designations with hyphens and brackets can be named."""
    root = parse("refrigerant is one of [R-410A, R-1234ze(E)]")
    assert isinstance(root, Is)
    assert [choice.text for choice in root.choices] == ["R-410A", "R-1234ze(E)"]


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("filter_condition is clean or dirty", "filter_condition is one of [clean, dirty]"),
        ("frost_line is not none or at_valve or whole_coil", "frost_line is not one of [none, at_valve, whole_coil]"),
        ("filter_condition is [clean, dirty]", "filter_condition is one of [clean, dirty]"),
        ("filter_condition is one of [clean or dirty]", "filter_condition is one of [clean]"),
        ("filter_condition is one of clean, dirty", "filter_condition is one of [clean, dirty]"),
    ],
)
def test_another_spelling_of_a_list_is_told_the_right_one(old: str, new: str) -> None:
    """What was written before lists, or is written elsewhere, is answered with what to write."""
    with pytest.raises(GrammarError) as told:
        parse(old)
    assert told.value.code == "condition-choices"
    assert told.value.hint == f"write: {new}"
    parse(new)


@pytest.mark.parametrize(
    "text",
    [
        "superheat > 12 F",
        "superheat>12F",
        "superheat > 6.7 K",
        "superheat > superheat_target + limits.superheat_band",
        "superheat - superheat_target > -5 F",
        "outdoor_air_temperature < 55 F",
        "outdoor_air_temperature > -5 F",
        "65 F - outdoor_air_temperature > 3 F",
        "outdoor_air_temperature - 5 F < evaporating_temperature",
        "outdoor_air_temperature - evaporating_temperature >= 30 F",
        "suction_pressure < 100 psig",
        "suction_pressure < 100 psi",
        "suction_pressure < 20 inHg-vac",
        "suction_pressure < 800 kPa abs and superheat > 5 F",
        "liquid_pressure > limits.high_head",
        "liquid_pressure - suction_pressure < 50 psi",
        "change(suction_pressure) > 3 psi",
        "change(outdoor_air_temperature) > 3 F",
        "change(minutes_running) > 3 min",
        "external_static_pressure > 0.8 in wc",
        "compression_ratio < 2.0",
        "flash_gas_fraction > 20 %",
        "altitude > 5000 ft or minutes_running < 0.25 h",
        "compressor_current < 2 A",
        "not (filter_condition is clogged or superheat < limits.flooding)",
        "safety_group is not one of [A2L,A3]",
    ],
)
def test_conditions_of_one_kind_are_taken(text: str) -> None:
    """Names, kinds and units that fit give no problem."""
    assert codes(text) == []


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("superheat > 12", "kind-no-unit"),
        ("suction_pressure > 12", "kind-no-unit"),
        ("flash_gas_fraction > 20", "kind-no-unit"),
        ("superheat > 12 psi", "kind-unit"),
        ("superheat > 12 lightyears", "unit-unknown"),
        ("superheat > outdoor_air_temperature", "kind-mixed"),
        ("superheat > suction_pressure", "kind-mixed"),
        ("superheat + outdoor_air_temperature > superheat", "kind-mixed"),
        ("outdoor_air_temperature + return_air_dry_bulb > 3 F", "kind-mixed"),
        ("superheat - outdoor_air_temperature > 3 F", "kind-mixed"),
        ("outdoor_air_temperature + return_air_dry_bulb > outdoor_air_temperature + return_air_dry_bulb", "kind-mixed"),
        ("change(suction_pressure) > 3 psig", "kind-mixed"),
        ("external_static_pressure > 3 psig", "kind-mixed"),
        ("liquid_pressure > 3 in wc", "kind-mixed"),
        ("5 F > 3 F", "condition-constant"),
        ("superheat is low", "name-sort"),
        ("filter_condition > 3 F", "name-sort"),
        ("change(superheat) > 3 F", "name-sort"),
        ("change(suction) > 3 psi", "name-unknown"),
        ("superhot > 3 F", "name-unknown"),
        ("superheat > limits.flood", "name-unknown"),
        ("filter is clean", "name-unknown"),
        ("filter_condition is wet", "name-choice"),
    ],
)
def test_conditions_of_mixed_kinds_are_refused(text: str, code: str) -> None:
    """Names, kinds and units that do not fit give one problem."""
    assert codes(text) == [code]


def test_every_mistake_of_a_condition_is_found() -> None:
    """Several wrong tests in one condition each give their problem."""
    assert codes("superheat > 12 and filter_condition is wet and frost is none") == [
        "kind-no-unit",
        "name-choice",
        "name-unknown",
    ]


def test_needs_come_in_order_of_appearance() -> None:
    """What a condition is about is given once each, with its sort."""
    text = "change(suction_pressure) > 3 psi or superheat > 5 F and frost_line is none"
    found = condition(text).meaning(WORDS).needs
    assert [(need.name, need.sort) for need in found] == [
        ("suction_pressure", "change"),
        ("superheat", "number"),
        ("frost_line", "observation"),
    ]


@pytest.mark.parametrize("text", ["(" * 5000, "not " * 200 + "superheat > 5 F", "superheat > 5 F or " * 900, "-" * 999])
def test_long_and_deep_conditions_are_refused(text: str) -> None:
    """Nothing that could exhaust the stack is followed."""
    with pytest.raises(GrammarError):
        parse(text)


@settings(max_examples=400, deadline=None)
@given(st.lists(PIECES, max_size=12).map(" ".join) | st.text(max_size=40))
def test_any_text_gives_a_condition_or_a_problem(text: str) -> None:
    """No text raises, and every problem lies inside it."""
    scalar = Scalar(text, Place("c", 1, 1, len(text) + 1), "", text)
    found, problems = read_condition(scalar)
    for problem in (*problems, *check_condition(found, WORDS)):
        assert 1 <= problem.place.column <= len(text) + 1
        assert problem.message
