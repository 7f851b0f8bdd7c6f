"""Conditions of branches: read, checked against a vocabulary, and evaluated with what a call knows.

Evaluation is three-valued (Kleene): what is unknown stays unknown unless the rest settles it.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal, assert_never

from assistant.doubt import Uncertain, nominal
from assistant.quantity import Kind, Unit
from assistant.source.inside import place_inside
from assistant.source.nearest import nearest
from assistant.source.nodes import Scalar
from assistant.source.problem import Place, Problem
from assistant.tree.expression import (
    And,
    Change,
    Choice,
    Compare,
    Expression,
    Is,
    Limit,
    Not,
    Number,
    Or,
    Quantity,
    Span,
    Sum,
    Term,
    Unreadable,
)
from assistant.tree.grammar import GrammarError, parse
from assistant.tree.kinds import Mistake, Resolved, resolve
from assistant.tree.vocabulary import Sort, Values, Vocabulary

NeedSort = Literal["reading", "number", "observation", "fact", "change"]

_ASKED_AS: dict[str, NeedSort] = {
    "reading": "reading",
    "number": "number",
    "observation": "observation",
    "fact": "fact",
}
_CHOSEN: tuple[Sort, ...] = ("observation", "fact")

# Two sides that a person would write as the same number are the same, whatever the last bits of their sums say.
_SAME = 1e-9


@dataclass(frozen=True, slots=True)
class Condition:
    """A condition as its author wrote it, and what it means."""

    text: str
    root: Expression
    scalar: Scalar

    @property
    def place(self) -> Place:
        """Where the condition stands."""
        return self.scalar.mark

    def place_of(self, span: Span) -> Place:
        """Give the place of a part."""
        return place_inside(self.scalar, span.start, span.end)


@dataclass(frozen=True, slots=True)
class Need:
    """Something that must be known to settle a condition."""

    name: str
    sort: NeedSort


@dataclass(frozen=True, slots=True)
class Comparison:
    """How one comparison came out; everything is None while a part is unknown.

    `index` counts the comparisons of the condition from 0; `kind` is that of both sides; `left`, `right` and `margin`
    (left - right) are SI;
    `holds` is what the numbers say, before any flip.
    """

    index: int
    text: str
    kind: Kind
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


def read_condition(scalar: Scalar) -> tuple[Condition, list[Problem]]:
    """Read the condition in a scalar; one with a mistake comes back as unreadable, with the problem."""
    try:
        return Condition(scalar.text, parse(scalar.text), scalar), []
    except GrammarError as error:
        unreadable = Condition(scalar.text, Unreadable(Span(0, len(scalar.text))), scalar)
        place = unreadable.place_of(error.span)
        return unreadable, [Problem(error.code, place, error.message, error.hint)]


def check_condition(condition: Condition, vocabulary: Vocabulary) -> Iterator[Problem]:
    """Check names, choices, kinds and units."""
    for test in tests(condition.root):
        mistakes = check_test(test, condition.text, vocabulary)
        for mistake in mistakes:
            yield Problem(mistake.code, condition.place_of(mistake.span), mistake.message, mistake.hint)


def check_test(test: Compare | Is, text: str, vocabulary: Vocabulary) -> list[Mistake]:
    """Check one test of the condition `text`."""
    if isinstance(test, Is):
        return list(_check_choices(test, vocabulary))
    found = resolve(test, text, vocabulary)
    return [] if isinstance(found, Resolved) else found


def tests(expression: Expression) -> Iterator[Compare | Is]:
    """Give the tests of a condition in order of appearance."""
    match expression:
        case Compare() | Is():
            yield expression
        case Not():
            yield from tests(expression.part)
        case And() | Or():
            for part in expression.parts:
                yield from tests(part)
        case Unreadable():
            pass
        case _:
            assert_never(expression)


def needs(condition: Condition, vocabulary: Vocabulary) -> tuple[Need, ...]:
    """Give what a condition is about, each once, in order of appearance; unknown names are left out."""
    return tuple(dict.fromkeys(need for test in tests(condition.root) for need in _needs(test, vocabulary)))


def evaluate(
    condition: Condition, vocabulary: Vocabulary, values: Values, flipped: frozenset[int] = frozenset()
) -> Evaluation:
    """Work out a checked condition; comparisons whose index is in `flipped` count as their opposite.

    Raises:
        ValueError: the condition has mistakes, so it must not be used on a call.
    """
    worker = _Worker(condition.text, vocabulary, values, flipped)
    truth = worker.truth(condition.root)
    open_needs = () if truth is not None else tuple(dict.fromkeys(worker.open(condition.root)))
    comparisons = tuple(worker.compare(test) for test in tests(condition.root) if isinstance(test, Compare))
    return Evaluation(truth, comparisons, open_needs)


def _check_choices(test: Is, vocabulary: Vocabulary) -> Iterator[Mistake]:
    sort = vocabulary.sort_of(test.name)
    if sort not in ("observation", "fact") or vocabulary.kind_of(test.name) is not None:
        yield _no_choices(test, sort, vocabulary)
        return
    known = vocabulary.choices_of(test.name)
    seen: set[str] = set()
    for choice in test.choices:
        if choice.text in seen:
            yield Mistake("condition-repeat", f'"{choice.text}" is named twice', choice.span, "name it once")
        elif known is not None and choice.text not in known:
            yield _unknown_choice(test, choice, known)
        seen.add(choice.text)


def _no_choices(test: Is, sort: str | None, vocabulary: Vocabulary) -> Mistake:
    if sort is not None:
        hint = f"compare it: write {test.name} > ... or {test.name} < ..."
        return Mistake("name-sort", f'"{test.name}" is a number, not a choice', test.name_span, hint)
    known = [name for chosen in _CHOSEN for name in vocabulary.names(chosen)]
    near = nearest(test.name, known)
    suggestion = f"write: {' or '.join(near)}" if near else None
    return Mistake("name-unknown", f'there is no observation or fact called "{test.name}"', test.name_span, suggestion)


def _unknown_choice(test: Is, choice: Choice, known: tuple[str, ...]) -> Mistake:
    if choice.text in ("cannot_tell", "unknown"):
        message = '"cannot tell" is not a choice that a condition can name'
        return Mistake("name-choice", message, choice.span, "add a branch: - cannot_tell: NODE")
    near = nearest(choice.text, known, 1)
    message = f'"{choice.text}" is not a choice of {test.name}; its choices are {", ".join(known)}'
    return Mistake("name-choice", message, choice.span, f"write: {near[0]}" if near else None)


def _needs(test: Compare | Is, vocabulary: Vocabulary) -> Iterator[Need]:
    if isinstance(test, Is):
        yield from _need(test.name, vocabulary)
        return
    for _, term in (*test.left.terms, *test.right.terms):
        match term:
            case Quantity():
                yield from _need(term.name, vocabulary)
            case Change():
                yield Need(term.name, "change")
            case Limit() | Number():
                pass
            case _:
                assert_never(term)


def _need(name: str, vocabulary: Vocabulary) -> Iterator[Need]:
    sort = _ASKED_AS.get(vocabulary.sort_of(name) or "")
    if sort is not None:
        yield Need(name, sort)


@dataclass(frozen=True, slots=True)
class _Worker:
    text: str
    vocabulary: Vocabulary
    values: Values
    flipped: frozenset[int]

    def truth(self, part: Expression) -> bool | None:
        match part:
            case Compare():
                holds = self.compare(part).holds
                return not holds if holds is not None and part.index in self.flipped else holds
            case Is():
                made = self.values.choice(part.name)
                if made is None:
                    return None
                return (made in {choice.text for choice in part.choices}) is not part.negated
            case Not():
                inner = self.truth(part.part)
                return None if inner is None else not inner
            case And():
                return self._joined(part.parts, settles=False)
            case Or():
                return self._joined(part.parts, settles=True)
            case Unreadable():
                raise ValueError("a condition with mistakes cannot be evaluated")
            case _:
                assert_never(part)

    def _joined(self, parts: tuple[Expression, ...], *, settles: bool) -> bool | None:
        truths = [self.truth(part) for part in parts]
        if settles in truths:
            return settles
        return None if None in truths else not settles

    def open(self, part: Expression) -> Iterator[Need]:
        """Give what is unknown in the parts that are not settled."""
        if self.truth(part) is not None:
            return
        match part:
            case Compare() | Is():
                yield from (need for need in _needs(part, self.vocabulary) if self._lacks(need))
            case Not():
                yield from self.open(part.part)
            case And() | Or():
                for inner in part.parts:
                    yield from self.open(inner)
            case Unreadable():
                pass
            case _:
                assert_never(part)

    def _lacks(self, need: Need) -> bool:
        match need.sort:
            case "observation":
                return self.values.choice(need.name) is None
            case "change":
                return self.values.change(need.name) is None
            case "fact":
                quantity = self.vocabulary.kind_of(need.name) is not None
                known = self.values.quantity(need.name) if quantity else self.values.choice(need.name)
                return known is None
            case "reading" | "number":
                return self.values.quantity(need.name) is None
            case _:
                assert_never(need.sort)

    def compare(self, test: Compare) -> Comparison:
        resolved = resolve(test, self.text, self.vocabulary)
        if not isinstance(resolved, Resolved):
            raise ValueError("a condition with mistakes cannot be evaluated")
        said = self.text[test.span.start : test.span.end]
        left, right = self._sum(test.left, resolved), self._sum(test.right, resolved)
        if left is None or right is None:
            return Comparison(test.index, said, resolved.kind, left, right, None, None)
        margin = left - right
        difference = nominal(margin)
        if abs(difference) <= _SAME * max(abs(nominal(left)), abs(nominal(right))):
            difference = 0.0
        return Comparison(test.index, said, resolved.kind, left, right, margin, _holds(test, difference))

    def _sum(self, side: Sum, resolved: Resolved) -> Uncertain | None:
        total: Uncertain = 0.0
        for sign, term in side.terms:
            value = self._term(term, resolved)
            if value is None:
                return None
            total = total + value if sign > 0 else total - value
        return total

    def _term(self, term: Term, resolved: Resolved) -> Uncertain | None:
        match term:
            case Quantity():
                return self.values.quantity(term.name)
            case Change():
                return self.values.change(term.name)
            case Limit():
                return self.values.limit(term.name)
            case Number():
                return self._number(term, resolved.units[term.span])
            case _:
                assert_never(term)

    def _number(self, term: Number, unit: Unit) -> float | None:
        value = unit.to_si(term.number)
        if not unit.gauge:
            return value
        return None if self.values.atmosphere is None else value + self.values.atmosphere


def _holds(test: Compare, difference: float) -> bool:
    match test.operator:
        case "<":
            return difference < 0
        case "<=":
            return difference <= 0
        case ">":
            return difference > 0
        case ">=":
            return difference >= 0
        case _:
            assert_never(test.operator)
