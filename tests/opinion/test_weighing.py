"""The arithmetic of weighing, against cases that are worked by hand."""

import math

import numpy as np
import pytest

from assistant.opinion.fits import READINGS, Hypothesis
from assistant.opinion.weighing import BAD_READING, FAR_OFF, WeighedReading, most_distance, shares_of, weigh

HERE = READINGS.index("liquid_line_temperature")
THERE = READINGS.index("suction_line_temperature")


def hypothesis(cause: str, value: float, variance: float, share: float = 1.0) -> Hypothesis:
    """Return a cause that makes one reading, and another one that hangs on nothing."""
    values, spread = np.zeros(len(READINGS)), np.eye(len(READINGS)) * variance
    values[HERE] = value
    still = np.zeros(len(READINGS))
    return Hypothesis(cause, cause, 0.0, 0.0, share, values, spread, still, (0.0, 0.0))


def test_two_hypotheses_and_one_reading_are_arithmetic() -> None:
    """One makes 10 K likely, the other 14 K, both with a variance of 3 K2; 11 K is read, with a variance of 1 K2.

    A good reading then has a variance of 4 K2, a bad one of 4 + 64 K2, and three in a hundred are bad.
    """
    both = (hypothesis("one", 10.0, 3.0), hypothesis("other", 14.0, 3.0))
    found = weigh(both, [WeighedReading("liquid_line_temperature", 11.0, 1.0)])

    def density(off: float) -> float:
        good = math.exp(-(off**2) / 8.0) / math.sqrt(8.0 * math.pi)
        bad = math.exp(-(off**2) / 136.0) / math.sqrt(136.0 * math.pi)
        return good + 0.03 / 0.97 * bad

    assert (BAD_READING, FAR_OFF) == (0.03, 8.0)
    assert math.exp(found.logs[0]) == pytest.approx(density(1.0))
    assert math.exp(found.logs[1]) == pytest.approx(density(3.0))
    # 0.1760 + 0.0015 against 0.0648 + 0.0014: with equal priors 72.8 in 100 for the first.
    share = math.exp(found.logs[0]) / (math.exp(found.logs[0]) + math.exp(found.logs[1]))
    assert share == pytest.approx(0.7285, abs=5e-4)


def test_a_reading_far_off_hardly_moves_the_evidence() -> None:
    """At 30 K off both a bad reading is all that is left, and that says next to nothing."""
    both = (hypothesis("one", 10.0, 3.0), hypothesis("other", 14.0, 3.0))
    found = weigh(both, [WeighedReading("liquid_line_temperature", 42.0, 1.0)])
    assert abs(found.logs[0] - found.logs[1]) < 2.0


def test_what_is_left_out_is_what_the_others_make_expected() -> None:
    """Of two readings that move together a good one tells what the other should be."""
    one = hypothesis("one", 10.0, 3.0)
    spread = one.spread.copy()
    spread[HERE, THERE] = spread[THERE, HERE] = 3.0
    tied = Hypothesis("one", "one", 0.0, 0.0, 1.0, one.values, spread, one.along, one.opens)
    found = weigh(
        [tied],
        [WeighedReading("suction_line_temperature", 2.0, 1.0), WeighedReading("liquid_line_temperature", 10.0, 1.0)],
    )
    # By the other one, 3 / 4 of 2 K more are expected: 11.5 K, with a variance of 4 - 9 / 4.
    assert found.left_out[0, 1] == pytest.approx(-1.5)
    assert found.left_out_spread[0, 1] ** 2 == pytest.approx(4.0 - 9.0 / 4.0)


def test_shares_follow_how_common_a_cause_is() -> None:
    """How many severities a cause is worked at does not make it likelier."""
    some = [hypothesis("one", 0.0, 1.0, 0.2), hypothesis("one", 1.0, 1.0, 0.6), hypothesis("other", 2.0, 1.0)]
    assert shares_of(some, {"one": 1.0, "other": 3.0}) == pytest.approx([0.0625, 0.1875, 0.75])


@pytest.mark.parametrize(("count", "most"), [(1, 9.69), (5, 19.0), (10, 27.9)])
def test_a_distance_that_nothing_fits(count: int, most: float) -> None:
    """Source: quantiles at 0.99813 of the chi-square distribution, by numerical integration of its density."""
    assert most_distance(count) == pytest.approx(most, rel=0.03)
