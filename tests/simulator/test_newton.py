"""The search for the balance of a practice system, on equations whose answer is known."""

import math

import pytest

from assistant.errors import PhysicsError
from assistant.simulator.newton import Point, newton


def test_it_finds_the_point_where_nothing_is_apart() -> None:
    """Three curved equations with one common root are met at it, whatever is worked on the way."""

    def work(point: Point) -> Point:
        low, high, enthalpy = point
        return math.exp(low) - 2.0, high**2 + low - 4.0 - math.log(2.0), enthalpy / 1e4 + high - 6.0

    point, found = newton(work, lambda at: at, (0.1, 1.0, 2e4))
    assert point == pytest.approx((math.log(2.0), 2.0, 4e4), rel=1e-6)
    assert max(map(abs, found)) < 1e-6


def test_a_step_into_what_cannot_be_is_cut() -> None:
    """Where a full step leads to what cannot be worked, a shorter one is taken."""

    def work(point: Point) -> Point:
        if point[0] > 1.0:
            raise PhysicsError("no such state")
        return math.sqrt(1.0 - point[0]) - 0.1, point[1], point[2] / 1e4

    point, _ = newton(work, lambda at: at, (0.0, 0.0, 0.0))
    assert point[0] == pytest.approx(0.99, abs=1e-6)


def test_balances_that_never_close_are_refused() -> None:
    """Without a root it says how far the balances stay apart, and where nothing depends on an unknown that too."""
    with pytest.raises(PhysicsError, match="apart"):
        newton(lambda at: (at[0] ** 2 + 1.0, at[1], at[2] / 1e4), lambda at: at, (0.5, 0.1, 10.0))
    with pytest.raises(PhysicsError, match="do not depend"):
        newton(lambda at: (1.0, at[1], at[2] / 1e4), lambda at: at, (0.5, 0.1, 10.0))
