"""Conditions worked out with what a call knows.

Evaluation is three-valued (Kleene): what is unknown stays unknown unless the rest settles it.
"""

from dataclasses import field
from typing import assert_never

from assistant.doubt import Uncertain, nominal
from assistant.frozen import dataclass
from assistant.tree.expression import And, Not, Operator, Or
from assistant.tree.meaning import Broken, Compared, Constant, IsOneOf, Meaning, Moved, Need, Part, Sum, Term, ValueOf
from assistant.tree.vocabulary import Values

# Two sides that a person would write as the same number are the same, whatever the last bits of their sums say.
_SAME = 1e-9


@dataclass(frozen=True, slots=True)
class Comparison:
    """How one comparison came out; everything is None while a part is unknown.

    `left`, `right` and `margin` (left - right) are SI; `holds` is what the numbers say, before any flip.
    """

    test: Compared
    left: Uncertain | None
    right: Uncertain | None
    margin: Uncertain | None
    holds: bool | None


@dataclass(frozen=True, slots=True)
class Evaluation:
    """How a condition came out: `truth` is None when it is not settled, `open` is what could still settle it."""

    truth: bool | None
    comparisons: tuple[Comparison, ...]
    open: tuple[Need, ...]


def evaluate(meaning: Meaning, values: Values, flipped: frozenset[int] = frozenset()) -> Evaluation:
    """Work out a condition; comparisons whose index is in `flipped` count as their opposite.

    Raises:
        ValueError: the condition has mistakes, so it must not be used on a call.
    """
    worker = _Worker(values, flipped)
    truth, lacking = worker.work(meaning.root)
    return Evaluation(truth, tuple(worker.comparisons), tuple(dict.fromkeys(lacking)))


def total(side: Sum, values: Values) -> Uncertain | None:
    """Give the sum of one side [SI, pressures absolute]; None while a term is unknown."""
    return _added(side, [_value(term, values) for _, term in side])


@dataclass(slots=True)
class _Worker:
    values: Values
    flipped: frozenset[int]
    comparisons: list[Comparison] = field(default_factory=list)

    def work(self, part: Part) -> tuple[bool | None, tuple[Need, ...]]:
        """Give the truth of a part, and what is unknown in it while it is not settled."""
        match part:
            case Compared():
                return self.compare(part)
            case IsOneOf():
                made = self.values.choice(part.need.name)
                return (None, (part.need,)) if made is None else ((made in part.choices) is not part.negated, ())
            case Not():
                truth, lacking = self.work(part.part)
                return (None if truth is None else not truth), lacking
            case And():
                return self.join(part.parts, settles=False)
            case Or():
                return self.join(part.parts, settles=True)
            case Broken():
                raise ValueError("a condition with mistakes cannot be evaluated")
            case _:
                assert_never(part)

    def join(self, parts: tuple[Part, ...], *, settles: bool) -> tuple[bool | None, tuple[Need, ...]]:
        found = [self.work(part) for part in parts]
        if any(truth is settles for truth, _ in found):
            return settles, ()
        lacking = tuple(need for _, needs in found for need in needs)
        return (None if any(truth is None for truth, _ in found) else not settles), lacking

    def compare(self, test: Compared) -> tuple[bool | None, tuple[Need, ...]]:
        sides = (test.left, test.right)
        found = [[_value(term, self.values) for _, term in side] for side in sides]
        left, right = (_added(side, values) for side, values in zip(sides, found, strict=True))
        if left is None or right is None:
            self.comparisons.append(Comparison(test, left, right, None, None))
            values = (*found[0], *found[1])
            return None, tuple(
                term.need
                for term, value in zip(test.terms, values, strict=True)
                if value is None and not isinstance(term, Constant)
            )
        margin = left - right
        difference = nominal(margin)
        if abs(difference) <= _SAME * max(abs(nominal(left)), abs(nominal(right))):
            difference = 0.0
        holds = _holds(test.operator, difference)
        self.comparisons.append(Comparison(test, left, right, margin, holds))
        return holds is not (test.index in self.flipped), ()


def _value(term: Term, values: Values) -> Uncertain | None:
    match term:
        case ValueOf():
            return values.quantity(term.need.name)
        case Moved():
            return values.change(term.need.name)
        case Constant():
            if not term.unit.gauge:
                return term.value
            return None if values.atmosphere is None else term.value + values.atmosphere
        case _:
            assert_never(term)


def _added(side: Sum, values: list[Uncertain | None]) -> Uncertain | None:
    # The grammar lets no sum begin with a minus in front of a name.
    result = values[0]
    for (sign, _), value in zip(side[1:], values[1:], strict=True):
        if result is None or value is None:
            return None
        result = result + value if sign > 0 else result - value
    return result


def _holds(operator: Operator, difference: float) -> bool:
    match operator:
        case "<":
            return difference < 0
        case "<=":
            return difference <= 0
        case ">":
            return difference > 0
        case ">=":
            return difference >= 0
        case _:
            assert_never(operator)
