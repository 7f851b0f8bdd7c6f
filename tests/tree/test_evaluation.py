"""Conditions worked out with what a call knows."""

import itertools

import pytest

from assistant.doubt import is_close, nominal, within
from assistant.quantity import PSI, SEA_LEVEL
from assistant.source.nodes import Scalar
from assistant.source.problem import Place
from assistant.tree.condition import read_condition
from assistant.tree.evaluation import Evaluation, evaluate
from assistant.tree.meaning import Need, alone

from .words import WORDS, Known

F = 5 / 9


def worked(text: str, known: Known, flipped: frozenset[int] = frozenset()) -> Evaluation:
    """Evaluate a condition without mistakes."""
    found, problems = read_condition(Scalar(text, Place("c", 1, 1, len(text) + 1), "", text))
    assert not problems
    return evaluate(found.meaning(WORDS), known, flipped)


@pytest.mark.parametrize(
    ("text", "truth"),
    [
        ("superheat > 12 F", True),
        ("superheat > 14 F", False),
        ("superheat >= 14 F", True),
        ("superheat <= 14 F", True),
        ("superheat < 14 F", False),
        ("superheat > superheat_target + 3 F", True),
        ("superheat > superheat_target + 5 F", False),
        ("superheat > superheat_target + limits.superheat_band", False),
        ("outdoor_air_temperature > 95 F", False),
        ("outdoor_air_temperature >= 95 F", True),
        ("outdoor_air_temperature > 34.9 C", True),
        ("outdoor_air_temperature - evaporating_temperature > 54 F", True),
        ("outdoor_air_temperature - 55 F > evaporating_temperature", False),
        ("outdoor_air_temperature > evaporating_temperature + 54 F", True),
    ],
)
def test_comparisons_hold_as_a_tech_would_say(text: str, truth: bool) -> None:
    """With 14 F superheat against a target of 10 F, 95 F outdoors and 40 F evaporating, comparisons come out right."""
    known = Known(
        {
            "superheat": 14 * F,
            "superheat_target": 10 * F,
            "outdoor_air_temperature": (95 + 459.67) * F,
            "evaporating_temperature": (40 + 459.67) * F,
        }
    )
    assert worked(text, known).truth is truth


def test_equal_on_paper_is_equal() -> None:
    """95 F less 40 F is 55 F for every such pair, whatever the last bits of the arithmetic say."""
    for low, high in itertools.combinations(range(-20, 130, 7), 2):
        known = Known(
            {"evaporating_temperature": (low + 459.67) * F, "outdoor_air_temperature": (high + 459.67) * F},
        )
        difference = f"outdoor_air_temperature - evaporating_temperature {{}} {high - low} F"
        assert worked(difference.format(">="), known).truth is True
        assert worked(difference.format(">"), known).truth is False
        assert worked(difference.format("<"), known).truth is False


def test_gauge_pressures_need_the_atmosphere() -> None:
    """118 psig at sea level is 132.7 psia; in thin air the same gauge reading is less, and unknown without altitude."""
    pressure = 132.7 * PSI
    assert worked("suction_pressure > 117.9 psig", Known({"suction_pressure": pressure})).truth is True
    assert worked("suction_pressure > 118.1 psig", Known({"suction_pressure": pressure})).truth is False
    thin = Known({"suction_pressure": pressure}, atmosphere=0.8 * SEA_LEVEL)
    assert worked("suction_pressure > 118.1 psig", thin).truth is True
    assert worked("suction_pressure > 118 psig", Known({"suction_pressure": pressure}, atmosphere=None)).truth is None
    assert worked("suction_pressure > 132.6 psia", Known({"suction_pressure": pressure}, atmosphere=None)).truth is True


def test_a_vacuum_is_below_the_atmosphere() -> None:
    """10 inches of vacuum is 19.9 inHg absolute: a perfect vacuum lies below it, the atmosphere above."""
    assert worked("suction_pressure < 10 inHg-vac", Known({"suction_pressure": 0.5 * SEA_LEVEL})).truth is True
    assert worked("suction_pressure < 10 inHg-vac", Known({"suction_pressure": SEA_LEVEL})).truth is False


def test_changes_are_differences() -> None:
    """A rise of 4 psi is more than 3 psi, whatever the atmosphere."""
    known = Known(changes={"suction_pressure": 4 * PSI}, atmosphere=None)
    assert worked("change(suction_pressure) > 3 psi", known).truth is True


def test_what_is_unknown_stays_unknown_unless_the_rest_settles_it() -> None:
    """And, or and not follow Kleene's strong tables.

    Source: S. C. Kleene, Introduction to Metamathematics (1952), section 64; from memory.
    """
    tests = {True: "superheat > 1 F", False: "superheat > 99 F", None: "subcooling > 1 F"}
    known = Known({"superheat": 5.0})
    for left, right in itertools.product(tests, tests):
        both = worked(f"{tests[left]} and {tests[right]}", known).truth
        either = worked(f"{tests[left]} or {tests[right]}", known).truth
        assert both is (False if False in (left, right) else None if None in (left, right) else True)
        assert either is (True if True in (left, right) else None if None in (left, right) else False)
    assert worked(f"not {tests[None]}", known).truth is None
    assert worked(f"not {tests[True]}", known).truth is False


def test_a_choice_is_one_of_those_named() -> None:
    """`is` takes any of its choices, `is not` all others, and neither takes what was not answered."""
    dirty = Known(choices={"filter_condition": "dirty"})
    assert worked("filter_condition is one of [clean, dirty]", dirty).truth is True
    assert worked("filter_condition is clean", dirty).truth is False
    assert worked("filter_condition is not clean", dirty).truth is True
    assert worked("filter_condition is not clean", Known()).truth is None


def test_only_what_could_still_settle_it_is_open() -> None:
    """A part that is settled asks for nothing more."""
    text = "filter_condition is clogged and superheat > 5 F or frost_line is none"
    clean = worked(text, Known(choices={"filter_condition": "clean"}))
    assert clean.open == (Need("frost_line", "observation"),)
    clogged = worked(text, Known(choices={"filter_condition": "clogged"}))
    assert clogged.open == (Need("superheat", "number"), Need("frost_line", "observation"))
    assert worked(text, Known(choices={"frost_line": "none"})).open == ()


def test_comparisons_carry_their_margin_and_doubt() -> None:
    """14 F with 2 F of doubt against 12 F is a close call; the comparison says by how much."""
    evaluation = worked("filter_condition is clean or superheat > 12 F", Known({"superheat": within(14 * F, 3 * F)}))
    (comparison,) = evaluation.comparisons
    assert alone(comparison.test.left) == "superheat"
    assert comparison.test.index == 0
    assert comparison.holds is True
    assert nominal(comparison.margin) == pytest.approx(2 * F)
    assert is_close(comparison.margin)


def test_a_flip_turns_one_comparison_only() -> None:
    """A flipped comparison counts as its opposite, and the others stay."""
    known = Known({"superheat": 14 * F, "subcooling": 2 * F})
    text = "superheat > 12 F and subcooling > 5 F"
    assert worked(text, known).truth is False
    assert worked(text, known, frozenset({0})).truth is False
    assert worked(text, known, frozenset({1})).truth is True
    assert worked(text, known, frozenset({0, 1})).truth is False
    assert [comparison.holds for comparison in worked(text, known, frozenset({0})).comparisons] == [True, False]


def test_a_flip_does_not_make_the_unknown_known() -> None:
    """A comparison that is unknown stays so when flipped."""
    assert worked("superheat > 12 F", Known(), frozenset({0})).truth is None


def test_a_broken_condition_is_never_evaluated() -> None:
    """A condition with a mistake cannot decide anything on a call."""
    broken, problems = read_condition(Scalar("superheat >", Place("c", 1, 1, 12), "", "superheat >"))
    assert problems
    with pytest.raises(ValueError, match="mistakes"):
        evaluate(broken.meaning(WORDS), Known())
    wrong, problems = read_condition(Scalar("superheat > 3 psi", Place("c", 1, 1, 18), "", "superheat > 3 psi"))
    assert not problems
    with pytest.raises(ValueError, match="mistakes"):
        evaluate(wrong.meaning(WORDS), Known({"superheat": 5.0}))
