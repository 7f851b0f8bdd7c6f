"""Linear inequalities over named variables: whether all of several can hold at once, and values with which they do.

Decided exactly, by Fourier and Motzkin's elimination over fractions: a claim that nothing can hold must never rest on
the last bit of a float. Source: any text on linear inequalities, such as A. Schrijver, Theory of Linear and Integer
Programming (1986), section 12.2; from memory.
"""

from collections.abc import Callable, Iterable, Mapping
from fractions import Fraction

from assistant.frozen import dataclass

MOST_ROWS = 200
"""Inequalities at one time, beyond which nothing is claimed: elimination can square their number with each variable."""


class UnprovenError(Exception):
    """A question is too large to be decided; caught where the question was put, and nothing is claimed then."""


@dataclass(frozen=True, slots=True)
class Row:
    """One inequality: the sum of `terms` (variable, factor) plus `constant` is below zero, or at most zero."""

    terms: tuple[tuple[str, Fraction], ...]
    constant: Fraction
    strict: bool

    @property
    def opposite(self) -> "Row":
        """What holds when this does not."""
        return Row(tuple((name, -factor) for name, factor in self.terms), -self.constant, not self.strict)

    def factor(self, name: str) -> Fraction:
        """The factor of a variable, zero where it is not in the sum."""
        return next((factor for other, factor in self.terms if other == name), _ZERO)

    def rest(self, name: str, values: Mapping[str, Fraction]) -> Fraction:
        """The sum without one variable, all others having values."""
        return self.constant + sum((f * values[other] for other, f in self.terms if other != name), _ZERO)


@dataclass(frozen=True, slots=True)
class Bounds:
    """Where a variable may lie; a missing bound is None, and a bound that is itself allowed is closed."""

    low: Fraction | None
    low_closed: bool
    high: Fraction | None
    high_closed: bool

    def allow(self, value: Fraction) -> bool:
        """Whether a value lies inside."""
        above = self.low is None or value > self.low or (self.low_closed and value == self.low)
        below = self.high is None or value < self.high or (self.high_closed and value == self.high)
        return above and below


Guess = Callable[[str, Bounds], Fraction]
"""Chooses a value of a variable within its bounds."""

_ZERO = Fraction(0)
_FREE = Bounds(None, False, None, False)
_Level = tuple[str, tuple[Row, ...]]


def row(terms: Mapping[str, Fraction], constant: Fraction, *, strict: bool) -> Row:
    """Make an inequality, scaled so that equal ones are equal."""
    kept = sorted((name, factor) for name, factor in terms.items() if factor)
    if not kept:
        return Row((), constant, strict)
    scale = abs(kept[0][1])
    if scale == 1:
        return Row(tuple(kept), constant, strict)
    return Row(tuple((name, factor / scale) for name, factor in kept), constant / scale, strict)


def feasible(rows: Iterable[Row]) -> bool:
    """Tell whether all of several inequalities can hold at once.

    Raises:
        UnprovenError: there are too many to decide.
    """
    return _eliminate(rows, ()) is not None


def sample(rows: Iterable[Row], guess: Guess, first: tuple[str, ...] = ()) -> dict[str, Fraction] | None:
    """Give values with which all inequalities hold, or None; variables in `first` get theirs before the others.

    Raises:
        UnprovenError: there are too many to decide.
    """
    levels = _eliminate(rows, first)
    if levels is None:
        return None
    values: dict[str, Fraction] = {}
    for name, level in reversed(levels):
        # What dropped out together with this variable was left free by all that remained.
        for other in dict.fromkeys(other for item in level for other, _ in item.terms if other != name):
            if other not in values:
                values[other] = guess(other, _FREE)
        values[name] = guess(name, _bounds(name, level, values))
    return values


def _eliminate(rows: Iterable[Row], last: tuple[str, ...]) -> list[_Level] | None:
    """Remove one variable after another; None when a contradiction is left, else who was bound by what."""
    levels: list[_Level] = []
    waiting = set(rows)
    while True:
        if any(_is_false(item) for item in waiting if not item.terms):
            return None
        waiting = {item for item in waiting if item.terms}
        if not waiting:
            return levels
        name, above, below = _next(waiting, last)
        others = {item for item in waiting if not item.factor(name)}
        levels.append((name, (*above, *below)))
        if len(others) + len(above) * len(below) > MOST_ROWS:
            raise UnprovenError
        waiting = others | {_joined(name, one, other) for one in above for other in below}


def _next(rows: set[Row], last: tuple[str, ...]) -> tuple[str, list[Row], list[Row]]:
    """Choose the variable whose removal leaves the fewest inequalities; give the rows in which it is + and -."""
    signs: dict[str, tuple[list[Row], list[Row]]] = {}
    for item in rows:
        for name, factor in item.terms:
            signs.setdefault(name, ([], []))[factor < 0].append(item)
    best = min(signs, key=lambda name: (name in last, len(signs[name][0]) * len(signs[name][1]), name))
    return best, *signs[best]


def _joined(name: str, above: Row, below: Row) -> Row:
    """Add two inequalities so that a variable drops out."""
    up, down = above.factor(name), -below.factor(name)
    terms: dict[str, Fraction] = {}
    for item, scale in ((above, down), (below, up)):
        for other, factor in item.terms:
            terms[other] = terms.get(other, _ZERO) + factor * scale
    terms.pop(name)
    return row(terms, above.constant * down + below.constant * up, strict=above.strict or below.strict)


def _bounds(name: str, rows: Iterable[Row], values: Mapping[str, Fraction]) -> Bounds:
    low: tuple[Fraction, bool] | None = None
    high: tuple[Fraction, bool] | None = None
    for item in rows:
        factor = item.factor(name)
        edge = -item.rest(name, values) / factor
        # Of two equal bounds, the one that is not itself allowed is the narrower.
        if factor > 0 and (high is None or (edge, not item.strict) < high):
            high = (edge, not item.strict)
        elif factor < 0 and (low is None or (edge, item.strict) > (low[0], not low[1])):
            low = (edge, not item.strict)
    return Bounds(
        low[0] if low else None, low[1] if low else False, high[0] if high else None, high[1] if high else False
    )


def _is_false(item: Row) -> bool:
    return item.constant >= 0 if item.strict else item.constant > 0
