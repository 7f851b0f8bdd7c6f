"""Conditions as exact forms, in which truth can be decided: choices out of a set, linear inequalities, all, any.

Every reading, worked number and change is a variable of its own, although some are worked from each other. That can
only make more combinations seem possible than there are, so what is proven impossible truly is.
"""

from collections.abc import Mapping
from fractions import Fraction
from functools import lru_cache
from typing import assert_never

from assistant.frozen import dataclass
from assistant.quantity import Unit
from assistant.tree.expression import And, Not, Or
from assistant.tree.linear import Row, row
from assistant.tree.meaning import Broken, Compared, Constant, IsOneOf, Moved, Part, Term, ValueOf
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


def form_of(part: Part, vocabulary: Vocabulary, free: Mapping[str, tuple[str, ...]]) -> Form:
    """Give the form of a condition; `free` holds the texts named of facts that take any.

    Raises:
        NoFormError: the condition has a mistake.
    """
    match part:
        case Compared():
            return _row(part)
        case IsOneOf():
            return _pick(part, vocabulary, free)
        case Not():
            return opposite(form_of(part.part, vocabulary, free))
        case And():
            return All(tuple(form_of(inner, vocabulary, free) for inner in part.parts))
        case Or():
            return Any(tuple(form_of(inner, vocabulary, free) for inner in part.parts))
        case Broken():
            raise NoFormError
        case _:
            assert_never(part)


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


@lru_cache(maxsize=1000)
def exact(value: float, unit: Unit) -> Fraction:
    """Give a number typed in a unit in SI, without the rounding of floats."""
    return (_decimal(value) + _decimal(unit.offset)) * _decimal(unit.factor)


def from_exact(value: Fraction, unit: Unit) -> Fraction:
    """Give the number in a unit of an exact SI value; of a gauge unit, of a gauge pressure."""
    return value / _decimal(unit.factor) - _decimal(unit.offset)


def _pick(test: IsOneOf, vocabulary: Vocabulary, free: Mapping[str, tuple[str, ...]]) -> Pick:
    name = test.need.name
    known = vocabulary.choices_of(name)
    every = known if known is not None else (*free[name], OTHER)
    named = frozenset(test.choices)
    return Pick(name, frozenset(every) - named if test.negated else named, every)


def _row(test: Compared) -> Row:
    times: dict[str, int] = {}
    constant = Fraction(0)
    turned = -1 if test.operator in (">", ">=") else 1
    for side, turn in ((test.left, turned), (test.right, -turned)):
        for sign, term in side:
            name = variable(term)
            if name:
                times[name] = times.get(name, 0) + sign * turn
            if isinstance(term, Constant):
                constant += sign * turn * exact(term.number, term.unit)
    terms = {name: Fraction(factor) for name, factor in times.items()}
    return row(terms, constant, strict=test.operator in ("<", ">"))


def variable(term: Term) -> str:
    """Give the variable that a term adds; empty for a fixed value."""
    match term:
        case ValueOf():
            return term.need.name
        case Moved():
            return f"change({term.need.name})"
        case Constant():
            return ATMOSPHERE if term.unit.gauge else ""
        case _:
            assert_never(term)


@lru_cache(maxsize=1000)
def _decimal(value: float) -> Fraction:
    """Give a float as the short fraction or decimal that it was meant to be."""
    short = Fraction(value).limit_denominator(1000)
    return short if float(short) == value else Fraction(repr(value))
