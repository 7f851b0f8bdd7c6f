"""Conditions as exact forms, in which truth can be decided: choices out of a set, linear inequalities, all, any.

Every reading, worked number and change is a variable of its own, although some are worked from each other. That can
only make more combinations seem possible than there are, so what is proven impossible truly is.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import assert_never

from assistant.quantity import Kind, Unit, unit_named, unit_names
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
    Term,
    Unreadable,
)
from assistant.tree.kinds import Resolved, resolve
from assistant.tree.linear import Row, row
from assistant.tree.vocabulary import Vocabulary

ATMOSPHERE = "the atmosphere"
"""The variable that turns a gauge pressure into an absolute one; the height of the site is not known here."""
OTHER = ""
"""Stands for every text that a decision does not name, where any text will do."""


@dataclass(frozen=True, slots=True)
class Pick:
    """An observation or fact is one of `allowed`, out of `all`."""

    name: str
    allowed: frozenset[str]
    all: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class All:
    """Every part holds."""

    parts: "tuple[Form, ...]"


@dataclass(frozen=True, slots=True)
class Any:
    """At least one part holds."""

    parts: "tuple[Form, ...]"


Form = Row | Pick | All | Any


class NoFormError(Exception):
    """A condition has a mistake that is reported elsewhere; caught where forms are made."""


def form_of(root: Expression, text: str, vocabulary: Vocabulary, free: Mapping[str, tuple[str, ...]]) -> Form:
    """Give the form of the condition `text`; `free` holds the texts named of facts that take any.

    Raises:
        NoFormError: the condition has a mistake.
    """
    match root:
        case Compare():
            return _row(root, text, vocabulary)
        case Is():
            return _pick(root, vocabulary, free)
        case Not():
            return opposite(form_of(root.part, text, vocabulary, free))
        case And():
            return All(tuple(form_of(part, text, vocabulary, free) for part in root.parts))
        case Or():
            return Any(tuple(form_of(part, text, vocabulary, free) for part in root.parts))
        case Unreadable():
            raise NoFormError
        case _:
            assert_never(root)


def opposite(form: Form) -> Form:
    """Give what holds when a form does not."""
    match form:
        case Row():
            return form.opposite
        case Pick():
            return Pick(form.name, frozenset(form.all) - form.allowed, form.all)
        case All():
            return Any(tuple(opposite(part) for part in form.parts))
        case Any():
            return All(tuple(opposite(part) for part in form.parts))
        case _:
            assert_never(form)


def names_in(form: Form) -> frozenset[str]:
    """Give the variables and choices that a form is about."""
    match form:
        case Row():
            return frozenset(name for name, _ in form.terms)
        case Pick():
            return frozenset((form.name,))
        case All() | Any():
            return frozenset().union(*(names_in(part) for part in form.parts))
        case _:
            assert_never(form)


def exact(value: float, unit: Unit) -> Fraction:
    """Give a number typed in a unit in SI, without the rounding of floats."""
    return (_decimal(value) + _decimal(unit.offset)) * _decimal(unit.factor)


def from_exact(value: Fraction, unit: Unit) -> Fraction:
    """Give the number in a unit of an exact SI value; of a gauge unit, of a gauge pressure."""
    return value / _decimal(unit.factor) - _decimal(unit.offset)


def _pick(test: Is, vocabulary: Vocabulary, free: Mapping[str, tuple[str, ...]]) -> Pick:
    known = vocabulary.choices_of(test.name)
    if vocabulary.sort_of(test.name) not in ("observation", "fact") or vocabulary.kind_of(test.name) is not None:
        raise NoFormError
    every = known if known is not None else (*free[test.name], OTHER)
    named = _named(test.choices)
    if not named <= set(every):
        raise NoFormError
    return Pick(test.name, frozenset(every) - named if test.negated else named, every)


def _named(choices: tuple[Choice, ...]) -> frozenset[str]:
    return frozenset(choice.text for choice in choices)


def _row(test: Compare, text: str, vocabulary: Vocabulary) -> Row:
    resolved = resolve(test, text, vocabulary)
    if not isinstance(resolved, Resolved):
        raise NoFormError
    terms: dict[str, Fraction] = {}
    constant = Fraction(0)
    for side, turn in ((test.left, 1), (test.right, -1)):
        for sign, term in side.terms:
            name, value = _term(term, resolved, vocabulary)
            constant += sign * turn * value
            for part in name:
                terms[part] = terms.get(part, Fraction(0)) + sign * turn
    if test.operator in (">", ">="):
        terms, constant = {name: -factor for name, factor in terms.items()}, -constant
    return row(terms, constant, strict=test.operator in ("<", ">"))


def _term(term: Term, resolved: Resolved, vocabulary: Vocabulary) -> tuple[tuple[str, ...], Fraction]:
    """Give the variables that a term adds, each once, and the fixed value."""
    match term:
        case Quantity():
            return (term.name,), Fraction(0)
        case Change():
            return (f"change({term.name})",), Fraction(0)
        case Number():
            unit = resolved.units[term.span]
            return ((ATMOSPHERE,) if unit.gauge else ()), exact(term.number, unit)
        case Limit():
            found = vocabulary.limit(term.name)
            if found is None:
                raise NoFormError
            value, kind = found
            # Whether such a limit is a gauge pressure is not told, so it may be any pressure.
            return ((f"limits.{term.name}",), Fraction(0)) if kind is Kind.PRESSURE else ((), _limit(value, kind))
        case _:
            assert_never(term)


@lru_cache(maxsize=1000)
def _limit(value: float, kind: Kind) -> Fraction:
    """Give a limit [SI] exactly as its author must have typed it, in whichever unit that is a short number."""
    for symbol in unit_names(kind):
        unit = unit_named(symbol, kind)
        if unit is not None:
            typed = round(unit.from_si(value), 6)
            if abs(unit.to_si(typed) - value) <= 1e-12 * abs(value):
                return exact(typed, unit)
    return _decimal(value)


@lru_cache(maxsize=1000)
def _decimal(value: float) -> Fraction:
    """Give a float as the short fraction or decimal that it was meant to be."""
    short = Fraction(value).limit_denominator(1000)
    return short if float(short) == value else Fraction(repr(value))
