"""What the checker claims about decisions is proven: never a false claim, and the values that it names are real."""

import itertools
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.quantity import Kind, parse, preferred_unit
from assistant.tree.evaluation import evaluate
from assistant.tree.linear import MOST_ROWS, Bounds, Row, UnprovenError, feasible, row, sample
from assistant.tree.model import Step, When
from assistant.tree.proof import Effort, can_be, gather_known, model_of, shadows
from assistant.tree.proof import Known as Decision
from assistant.tree.reader import read_tree_string
from assistant.tree.sayings import said

from .words import WORDS, Known, Words

VARIABLES = ("a", "b", "c")
GRID = [Fraction(n, 2) for n in range(-8, 9)]

ROWS = st.lists(
    st.builds(
        lambda factors, constant, strict: row(
            dict(zip(VARIABLES, map(Fraction, factors), strict=True)), Fraction(constant), strict=strict
        ),
        st.tuples(*[st.integers(-2, 2)] * 3),
        st.integers(-4, 4),
        st.booleans(),
    ),
    max_size=6,
)


def holds(item: Row, values: dict[str, Fraction]) -> bool:
    """Whether an inequality holds."""
    total = item.constant + sum(factor * values.get(name, Fraction(0)) for name, factor in item.terms)
    return total < 0 if item.strict else total <= 0


def middle(name: str, bounds: Bounds) -> Fraction:
    """Some value within bounds."""
    low, high = bounds.low, bounds.high
    if low is None and high is None:
        return Fraction(0)
    if low is None or high is None:
        return low + 1 if low is not None else (high or Fraction(0)) - 1
    return (low + high) / 2


@given(rows=ROWS)
@settings(max_examples=300, deadline=None)
def test_inequalities_are_decided_as_trying_values_does(rows: list[Row]) -> None:
    """Where some value of a grid fits, nothing is called impossible; where values are named, they fit."""
    found = sample(rows, middle)
    if found is not None:
        assert all(holds(item, found) for item in rows)
    else:
        for point in itertools.product(GRID[::2], repeat=3):
            assert not all(holds(item, dict(zip(VARIABLES, point, strict=True))) for item in rows)


def test_too_many_inequalities_are_left_undecided() -> None:
    """Beyond the bound nothing is claimed."""
    size = MOST_ROWS // 2
    many = [
        row({"x": Fraction(sign), f"y{n}": Fraction(1)}, Fraction(n), strict=False) for n in range(size)
        for sign in (1, -1)
    ]  # fmt: skip
    crossed = [item for item in many for _ in (0,)] + [
        row({f"y{n}": Fraction(-1)}, Fraction(0), strict=True) for n in range(size)
    ]
    with pytest.raises(UnprovenError):
        feasible(crossed)


def step_of(*conditions: str) -> Step:
    """A step that decides by conditions."""
    branches = "".join(f"      - when: {text}\n        go: end\n" for text in conditions)
    head = "tree: t\nversion: 1\ntitle: t\ncomplaints: [t]\nstart: first\nnodes:\n  first:\n    decide:\n"
    tree, problems = read_tree_string(head + branches + "  end:\n    undecided: t\n", "t.yaml")
    assert tree is not None
    assert problems == []
    node = tree.nodes["first"]
    assert isinstance(node, Step)
    return node


def decision(*conditions: str) -> Decision:
    """The conditions of a step as forms."""
    found = gather_known(step_of(*conditions), WORDS)
    assert found is not None
    return found


def falls_through(*conditions: str) -> str | None:
    """The values that find no branch, in words."""
    model = model_of([], [form for _, form in decision(*conditions).branches], Effort())
    return None if model is None else said(model, step_of(*conditions), WORDS)


@pytest.mark.parametrize(
    ("conditions", "values"),
    [
        (("superheat > 12 F", "superheat < 5 F"), "superheat is 10 F"),
        (("superheat > 12 F", "superheat < 12 F"), "superheat is 12 F"),
        (("superheat > 12 F", "superheat <= 12 F"), None),
        (("superheat > 6 K", "superheat < 2 K"), "superheat is 5 K"),
        (("superheat >= limits.superheat_band", "superheat < 5 F"), None),
        (("suction_pressure > 100 psig", "suction_pressure < 60 psig"), "suction_pressure is 99 psig"),
        (("suction_pressure < 10 inHg vac", "suction_pressure >= 0 psig"), "suction_pressure is 1 inHg vac"),
        (("flash_gas_fraction > 20 %", "flash_gas_fraction < 20 %"), "flash_gas_fraction is 20 %"),
        (("compression_ratio > 4", "compression_ratio < 2.5"), "compression_ratio is 3"),
        (("change(liquid_pressure) > 3 psi", "change(liquid_pressure) < -3 psi"), "change(liquid_pressure) is 2 psi"),
        (("outdoor_air_temperature > 95 F", "outdoor_air_temperature < 25 C"), "outdoor_air_temperature is 78 F"),
        (("refrigerant is R-410A", "refrigerant is R-32"), "refrigerant is not one of [R-410A, R-32]"),
        (("refrigerant is R-410A", "refrigerant is not R-410A"), None),
        (
            ("filter_condition is clean", "filter_condition is dirty and superheat > 12 F"),
            "filter_condition is clogged",
        ),
        (
            ("superheat > superheat_target + 5 F", "superheat < superheat_target - 5 F"),
            "superheat is 10 F and superheat_target is 10 F",
        ),
    ],
)  # fmt: skip
def test_values_that_fall_through_are_named_in_the_units_of_the_author(
    conditions: tuple[str, ...], values: str | None
) -> None:
    """The example is one that a tech could meet, and there is none where every value is taken."""
    assert falls_through(*conditions) == values


@pytest.mark.parametrize("kind", Kind)
def test_numbers_of_every_kind_can_be_compared(kind: Kind) -> None:
    """Whatever the kind, what falls through is named with a value and the usual unit of that kind."""

    class OfKind(Words):
        def kind_of(self, name: str) -> Kind | None:
            return kind if name in ("superheat", "subcooling") else super().kind_of(name)

    conditions = ("superheat > subcooling", "superheat < subcooling")
    decided = gather_known(step_of(*conditions), OfKind())
    assert decided is not None
    model = model_of([], [form for _, form in decided.branches], Effort())
    assert model is not None
    told = said(model, step_of(*conditions), OfKind())
    value = told.removeprefix("superheat is ").partition(" and ")[0]
    assert told == f"superheat is {value} and subcooling is {value}"
    assert parse(value, kind).unit == preferred_unit(kind, "us")


@pytest.mark.parametrize(
    ("conditions", "by"),
    [
        (("superheat > 5 F", "superheat > 12 F"), [0]),
        (("superheat > 12 F", "superheat > 5 F"), None),
        (("superheat > 5 F", "superheat < 9 F", "subcooling > 3 F"), [0, 1]),
        (("superheat > 5 F and filter_condition is clean", "filter_condition is not clean", "superheat > 9 F"), [0, 1]),
        (("subcooling > 5 F", "superheat > 5 F", "superheat > 12 F"), [1]),
        (("superheat > superheat_target", "superheat_target < 5 F and superheat > 5 F"), [0]),
        (("outdoor_air_temperature - evaporating_temperature >= 55 F",
          "outdoor_air_temperature >= 95 F and evaporating_temperature <= 40 F"), [0]),
        (("outdoor_air_temperature - evaporating_temperature > 55 F",
          "outdoor_air_temperature >= 95 F and evaporating_temperature <= 40 F"), None),
        # A number and what it is worked from are taken as independent, so nothing is claimed.
        (("evaporating_temperature > 40 F", "suction_pressure > 400 psig"), None),
        # In thin air 100 psig is less than 114 psia, so the second is not taken whole by the first.
        (("suction_pressure < 100 psig", "suction_pressure < 110 psia"), None),
    ],
)  # fmt: skip
def test_a_branch_is_called_shadowed_only_where_those_above_take_everything(
    conditions: tuple[str, ...], by: list[int] | None
) -> None:
    """The last branch is compared with those above it; the ones named are as few as will do."""
    branches = list(decision(*conditions).branches)
    found = shadows(branches[:-1], branches[-1][1], Effort())
    order = [branch for branch, _ in branches]
    assert (None if found is None else [order.index(branch) for branch in found]) == by


def test_a_question_made_to_be_hard_is_given_up() -> None:
    """What only trying everything could settle is left undecided when the effort granted is spent."""
    names = ("superheat", "subcooling", "superheat_target")
    clauses = [
        " or ".join(f"{name} {sign} 5 F" for name, sign in zip(names, signs, strict=True))
        for signs in itertools.product("<>", repeat=3)
    ]
    forms = [form for _, form in decision(*clauses).branches]
    assert not can_be(forms, [], Effort())
    with pytest.raises(UnprovenError):
        can_be(forms, [], Effort(10))


TESTS = st.sampled_from(
    ["superheat > 5 F", "superheat <= 9 F", "superheat < superheat_target", "superheat_target > 7 F",
     "superheat - superheat_target >= 2 F", "filter_condition is clean", "filter_condition is not dirty",
     "not superheat > 7 F", "frost_line is one of [none, at_valve]", "superheat_target <= superheat + 1 F"]
)  # fmt: skip
CONDITIONS = st.recursive(
    TESTS,
    lambda inner: st.tuples(inner, st.sampled_from(["and", "or"]), inner).map(lambda part: f"({' '.join(part)})"),
    max_leaves=4,
)  # fmt: skip


def choose(step: Step, known_values: Known) -> int | None:
    """Which branch a call would take first."""
    for index, branch in enumerate(step.branches):
        assert isinstance(branch, When)
        if evaluate(branch.condition.meaning(WORDS), known_values).truth:
            return index
    return None


@given(conditions=st.lists(CONDITIONS, min_size=1, max_size=4).map(tuple))
@settings(max_examples=60, deadline=None)
def test_the_proof_agrees_with_what_calls_do(conditions: tuple[str, ...]) -> None:
    """No call takes a branch that is called shadowed, none falls through what is called total."""
    step = step_of(*conditions)
    branches = list(decision(*conditions).branches)
    total = falls_through(*conditions) is None
    dead = {
        index for index in range(len(branches)) if shadows(branches[:index], branches[index][1], Effort()) is not None
    }
    numbers = [n * 5 / 9 for n in (4, 5, 6, 7, 8, 9, 10)]
    filters, frosts = ("clean", "dirty", "clogged"), ("none", "whole_coil")
    for superheat, target, seen, frost in itertools.product(numbers, numbers, filters, frosts):
        values = Known(
            {"superheat": superheat, "superheat_target": target}, {"filter_condition": seen, "frost_line": frost}
        )
        taken = choose(step, values)
        assert taken not in dead
        assert taken is not None or not total
