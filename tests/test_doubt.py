"""Numbers that know their doubt, against the GUM."""

import math
from typing import Any

import pytest
import uncertainties
from hypothesis import given
from hypothesis import strategies as st

from assistant import doubt
from assistant.errors import ImpossibleError, OutOfRangeError

_VALUES = st.floats(-1e4, 1e4)
_ACCURACIES = st.floats(0, 1e3)


def test_accuracy_is_a_rectangle() -> None:
    """An accuracy of ± a has a standard uncertainty of a/√3. Source: JCGM 100:2008, 4.3.7."""
    assert doubt.standard(doubt.within(10.0, 3.0)) == pytest.approx(3 / math.sqrt(3))


def test_independent_readings_add_in_squares() -> None:
    """Source: JCGM 100:2008, 5.1.2, equation (10)."""
    total = doubt.within(1.0, 3.0) + doubt.within(2.0, 4.0)
    assert doubt.standard(total) == pytest.approx(5 / math.sqrt(3))


@given(_VALUES, _ACCURACIES)
def test_a_number_minus_itself_is_certain(value: float, accuracy: float) -> None:
    """Correlations are kept: x - x has no doubt at all."""
    x = doubt.within(value, accuracy)
    assert doubt.nominal(x - x) == 0
    assert doubt.standard(x - x) == 0


@given(_VALUES, _ACCURACIES, _VALUES, _ACCURACIES)
def test_doubt_is_never_negative(a: float, b: float, c: float, d: float) -> None:
    """No arithmetic makes a negative doubt."""
    assert doubt.expanded(doubt.within(a, b) - 2 * doubt.within(c, d)) >= 0


def test_probability_is_that_of_the_normal_distribution() -> None:
    """One standard uncertainty above a limit: 84.13 %. Source: tables of the normal distribution."""
    assert doubt.probability_positive(doubt.within(1.0, math.sqrt(3))) == pytest.approx(0.8413, abs=1e-4)
    assert doubt.probability_positive(-1.0) == 0
    assert doubt.probability_positive(0.0) == 0.5


@given(st.floats(0.01, 100), st.floats(0.01, 100), st.floats(0, 1))
def test_a_better_instrument_never_flips_a_definite_verdict(margin: float, accuracy: float, better: float) -> None:
    """What is decided beyond doubt stays decided when the accuracy narrows."""
    if not doubt.is_close(doubt.within(margin, accuracy)):
        assert not doubt.is_close(doubt.within(margin, accuracy * better))


def test_shares_name_where_doubt_comes_from() -> None:
    """The parts of a variance add to one, the largest first."""
    difference = doubt.within(50.0, 2.0, "line") - 2 * doubt.within(20.0, 2.0, "pressure")
    shares = doubt.shares(difference)
    assert list(shares) == ["pressure", "line"]
    assert shares == pytest.approx({"pressure": 0.8, "line": 0.2})


def test_lifted_functions_carry_doubt_by_their_slope() -> None:
    """A function with a slope of 2x doubles and more: first order. Source: JCGM 100:2008, 5.1.3."""
    square = doubt.lift(lambda x: (x * x, 2 * x))
    assert doubt.standard(square(doubt.within(3.0, math.sqrt(3)))) == pytest.approx(6.0)


_READINGS = [(3.0, 0.2), (-2.0, 0.05), (7.0, 1.0), (0.5, 0.0)]
_operations = st.lists(
    st.tuples(st.sampled_from("+-*/n"), st.integers(0, 5), st.integers(0, 5), st.floats(0.1, 9.0)),
    min_size=1,
    max_size=8,
)


def worked(readings: list[Any], steps: list[tuple[str, int, int, float]]) -> list[Any]:
    """The readings, and every number that a list of steps makes of them and of one another."""
    numbers = list(readings)
    for sign, first, second, factor in steps:
        a, b = numbers[-1 - first % len(numbers)], numbers[-1 - second % len(numbers)]
        match sign:
            case "+":
                numbers += [a + b, a + factor, factor + a]
            case "-":
                numbers += [a - b, a - factor, factor - a]
            case "*":
                numbers += [a * b, a * factor, factor * a]
            case "/":
                numbers += [a / (b * b + factor), a / factor, factor / (a * a + 1.0)]
            case _:
                numbers += [-a]
    return numbers


@given(_operations)
def test_random_arithmetic_agrees_with_another_library(steps: list[tuple[str, int, int, float]]) -> None:
    """Values and uncertainties of any expression, its correlations kept, are those of the `uncertainties` package."""
    ours = worked([doubt.within(value, spread) for value, spread in _READINGS], steps)
    theirs = worked(
        [uncertainties.ufloat(value, spread / math.sqrt(3)) for value, spread in _READINGS[:3]] + [0.5], steps
    )
    for mine, other in zip(ours, theirs, strict=True):
        assert doubt.nominal(mine) == pytest.approx(uncertainties.nominal_value(other), rel=1e-9, abs=1e-9)
        assert doubt.standard(mine) == pytest.approx(uncertainties.std_dev(other), rel=1e-9, abs=1e-9)


@given(st.floats(1.0, 9.0), st.floats(1.0, 9.0), st.floats(0.01, 0.5))
def test_functions_of_several_numbers_agree_with_another_library(a: float, b: float, spread: float) -> None:
    """What is lifted by differences has the uncertainty that `uncertainties` gives, shared parts kept."""

    def function(x: float, y: float) -> float:
        return math.exp(-x / 3) * y + math.sqrt(x * y)

    x, y = doubt.within(a, spread), doubt.within(b, spread)
    u, v = (uncertainties.ufloat(value, spread / math.sqrt(3)) for value in (a, b))
    ours, theirs = doubt.lift_many(function)(x, y + x), uncertainties.wrap(function)(u, v + u)
    assert doubt.nominal(ours) == pytest.approx(theirs.nominal_value)
    assert doubt.standard(ours) == pytest.approx(theirs.std_dev, rel=1e-4)


def test_at_the_end_of_its_range_a_function_still_carries_doubt() -> None:
    """Where one side cannot be worked the derivative comes from the other; where none can, the reason is told."""

    def root(x: float) -> float:
        if x < 0:
            raise OutOfRangeError("x", x, "", 0.0, None, "definition")
        return x * (2 + x)

    at_the_end = doubt.lift_many(root)(doubt.within(0.0, 0.1 * math.sqrt(3)))
    assert doubt.standard(at_the_end) == pytest.approx(0.2, rel=0.01)
    mirrored = doubt.lift_many(lambda x: root(-x))(doubt.within(0.0, 0.1 * math.sqrt(3)))
    assert doubt.standard(mirrored) == pytest.approx(0.2, rel=0.01)

    def only_at_zero(x: float) -> float:
        if x:
            raise ImpossibleError("nowhere else")
        return 1.0

    with pytest.raises(ImpossibleError, match="nowhere else"):
        doubt.lift_many(only_at_zero)(doubt.within(0.0, 0.1))


def test_what_has_no_doubt_stays_a_plain_number() -> None:
    """An exact instrument and functions of exact numbers give floats; a negative accuracy is refused."""
    assert type(doubt.within(3.0, 0.0)) is float
    assert type(doubt.lift(lambda x: (2 * x, 2.0))(3.0)) is float
    assert type(doubt.lift_many(lambda x, y: x * y)(3.0, 2.0)) is float
    with pytest.raises(ValueError, match="accuracy"):
        doubt.within(3.0, -0.1)
