"""Numbers that know their doubt, against the GUM."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant import doubt

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
    assert doubt.probability_positive(doubt.exact(-1.0)) == 0
    assert doubt.probability_positive(doubt.exact(0.0)) == 0.5


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
    square = doubt.lift(lambda x: x * x, lambda x: 2 * x)
    assert doubt.standard(square(doubt.within(3.0, math.sqrt(3)))) == pytest.approx(6.0)
