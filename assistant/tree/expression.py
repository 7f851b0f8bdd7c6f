"""What a condition consists of: frozen values, each of which knows its span in the text."""

from collections.abc import Iterator
from typing import Generic, Literal, NamedTuple, TypeVar, assert_never

from assistant.frozen import dataclass

_Part = TypeVar("_Part")

Operator = Literal["<", "<=", ">", ">="]


class Span(NamedTuple):
    """A stretch of the condition's text, from `start` up to but without `end`."""

    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Quantity:
    """A reading, worked number or fact, by its name."""

    name: str
    span: Span


@dataclass(frozen=True, slots=True)
class Change:
    """What a reading has changed by since the measurement before."""

    name: str
    span: Span


@dataclass(frozen=True, slots=True)
class Limit:
    """A limit, by its name in the list of limits."""

    name: str
    span: Span


@dataclass(frozen=True, slots=True)
class Number:
    """A number with the unit that stands behind it; which kind it is depends on what it stands beside."""

    number: float
    unit: str
    span: Span


Term = Quantity | Change | Limit | Number


@dataclass(frozen=True, slots=True)
class Sum:
    """Terms with their signs, +1 or -1."""

    terms: tuple[tuple[int, Term], ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Compare:
    """Two sums compared; `index` counts the comparisons of a condition from 0."""

    left: Sum
    operator: Operator
    right: Sum
    index: int
    span: Span


@dataclass(frozen=True, slots=True)
class Choice:
    """One of the choices that a test names."""

    text: str
    span: Span


@dataclass(frozen=True, slots=True)
class Is:
    """An observation or fact tested for one of some choices."""

    name: str
    name_span: Span
    choices: tuple[Choice, ...]
    negated: bool
    span: Span


@dataclass(frozen=True, slots=True)
class Unreadable:
    """Stands for a condition with a mistake in its grammar, so that the rest of the tree can still be checked."""

    span: Span


@dataclass(frozen=True, slots=True)
class Not(Generic[_Part]):
    """The opposite of a condition."""

    part: _Part
    span: Span


@dataclass(frozen=True, slots=True)
class And(Generic[_Part]):
    """All of several conditions."""

    parts: tuple[_Part, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Or(Generic[_Part]):
    """Any of several conditions."""

    parts: tuple[_Part, ...]
    span: Span


Expression = Compare | Is | Unreadable | Not["Expression"] | And["Expression"] | Or["Expression"]


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
