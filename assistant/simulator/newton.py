"""Newton's method for three balances and three unknowns, with a step that is cut until it helps.

Slopes are carried on by Broyden's update while the steps help. The unknowns are ln of two pressures and an enthalpy
[J/kg]; what must vanish is told in parts of its usual size.
"""

import math
from collections.abc import Callable, Sequence
from typing import TypeVar

from assistant.errors import PhysicsError

Point = tuple[float, float, float]
Slopes = Sequence[Sequence[float]]
T = TypeVar("T")

_SMALL, _GOOD_ENOUGH = 1e-7, 1e-5
_STEPS = (0.12, 0.08, 8e3)
_NUDGES = (1e-5, 1e-5, 3.0)
_ROUNDS = 60


def newton(
    work: Callable[[Point], T], apart: Callable[[T], Point], point: Point, slopes: Slopes | None = None
) -> tuple[Point, T]:
    """Return the point where nothing is apart, and what is worked there; from a point nearby.

    `slopes` are those of something alike, to begin with; where they do not help they are worked anew.

    Raises:
        PhysicsError: nothing can be worked at the first point, or the balances stay apart.
    """
    found = work(point)
    missed = apart(found)
    fresh = slopes is None
    if slopes is None:
        slopes = slopes_at(work, apart, point, missed)
    for _ in range(_ROUNDS):
        if max(map(abs, missed)) < _SMALL:
            return point, found
        step = _step(slopes, missed)
        best = _shorten_step(work, apart, (point, missed), step, 8 if fresh else 2)
        if best is None and fresh:
            break
        if best is None:
            slopes, fresh = slopes_at(work, apart, point, missed), True
            continue
        before, missed_before = point, missed
        point, found, missed = best
        slopes, fresh = _update_slopes(slopes, before, point, missed_before, missed), False
    if max(map(abs, missed)) < _GOOD_ENOUGH:
        return point, found
    raise PhysicsError(f"the balances stay apart by {max(map(abs, missed)):.1e}")


def _shorten_step(
    work: Callable[[Point], T], apart: Callable[[T], Point], start: tuple[Point, Point], step: Point, times: int
) -> tuple[Point, T, Point] | None:
    """Return where a step leads, halved until it is better; `None` when it does not get better."""
    point, missed = start
    scale = min(1.0, *(most / max(abs(part), 1e-30) for most, part in zip(_STEPS, step, strict=True)))
    size_before = math.hypot(*missed)
    for _ in range(times):
        tried = (point[0] + scale * step[0], point[1] + scale * step[1], point[2] + scale * step[2])
        try:
            candidate = work(tried)
        except PhysicsError:
            scale /= 2.0
            continue
        left = apart(candidate)
        if math.hypot(*left) < size_before * (1.0 - 0.05 * scale):
            return tried, candidate, left
        scale /= 2.0
    return None


def slopes_at(work: Callable[[Point], T], apart: Callable[[T], Point], point: Point, missed: Point) -> Slopes:
    """Return the derivatives of what is apart by differences, one column an unknown; `missed` is apart at the point."""
    columns = []
    for i, nudge in enumerate(_NUDGES):
        moved = list(point)
        moved[i] += nudge
        other = apart(work((moved[0], moved[1], moved[2])))
        columns.append([(b - a) / nudge for a, b in zip(missed, other, strict=True)])
    return columns


def _update_slopes(columns: Slopes, before: Point, after: Point, missed_before: Point, missed: Point) -> Slopes:
    """Slopes that agree with the last step, by Broyden's rule with each unknown in its own scale."""
    step = [(b - a) / most for a, b, most in zip(before, after, _STEPS, strict=True)]
    length = sum(part * part for part in step)
    told = [sum(columns[i][k] * step[i] * _STEPS[i] for i in range(3)) for k in range(3)]
    gap = [missed[k] - missed_before[k] - told[k] for k in range(3)]
    return [[columns[i][k] + gap[k] * step[i] / length / _STEPS[i] for k in range(3)] for i in range(3)]


def _step(columns: Slopes, missed: Point) -> Point:
    """Newton's step, by Cramer's rule."""
    whole = _determinant(columns)
    if whole == 0.0:
        raise PhysicsError("the balances do not depend on what is sought")
    against = [-part for part in missed]
    first, second, third = (
        _determinant([against if k == i else column for k, column in enumerate(columns)]) / whole for i in range(3)
    )
    return first, second, third


def _determinant(columns: Slopes) -> float:
    (a, b, c), (d, e, f), (g, h, i) = columns
    return a * (e * i - f * h) - d * (b * i - c * h) + g * (b * f - c * e)
