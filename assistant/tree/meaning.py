"""What a condition means, worked out once against a vocabulary: terms with kind, unit and value, tests, and groups.

Evaluation, wording, bands, proofs and drawings read these values and look at no text again.
"""

from collections.abc import Iterable, Iterator
from typing import Literal, assert_never

from assistant.frozen import dataclass
from assistant.quantity import Kind, Unit
from assistant.tree.expression import And, Not, Operator, Or, Span

NeedSort = Literal["reading", "number", "observation", "fact", "change"]


@dataclass(frozen=True, slots=True)
class Need:
    """Something that must be known to settle a condition."""

    name: str
    sort: NeedSort


@dataclass(frozen=True, slots=True)
class ValueOf:
    """A reading, a worked number or a fact that is a quantity."""

    need: Need
    kind: Kind


@dataclass(frozen=True, slots=True)
class Moved:
    """What a reading has changed by; `kind` is that of the difference."""

    need: Need
    kind: Kind


@dataclass(frozen=True, slots=True)
class Constant:
    """A number in the unit in which its author typed it, as `value` in SI; a gauge pressure stays gauge [Pa].

    `limit` is its name in the list of limits, empty for a number that stands in the condition itself.
    """

    number: float
    unit: Unit
    value: float
    limit: str = ""

    @property
    def kind(self) -> Kind:
        """The kind of the number."""
        return self.unit.kind


Term = ValueOf | Moved | Constant
Sum = tuple[tuple[int, Term], ...]
"""Terms with their signs, +1 or -1."""


@dataclass(frozen=True, slots=True)
class Compared:
    """Two sums of one `kind` compared; `index` counts the comparisons of a condition from 0."""

    left: Sum
    operator: Operator
    right: Sum
    kind: Kind
    index: int
    span: Span

    @property
    def terms(self) -> Iterator[Term]:
        """The terms of both sides."""
        return (term for _, term in (*self.left, *self.right))


@dataclass(frozen=True, slots=True)
class IsOneOf:
    """An observation or fact tested for one of some choices; `negated`, for none of them."""

    need: Need
    choices: tuple[str, ...]
    negated: bool
    span: Span


@dataclass(frozen=True, slots=True)
class Broken:
    """Stands for what has a mistake: no call may rest on it."""

    span: Span


Test = Compared | IsOneOf | Broken
Part = Test | Not["Part"] | And["Part"] | Or["Part"]


@dataclass(frozen=True, slots=True)
class Mistake:
    """What is wrong with a part of a condition."""

    code: str
    message: str
    span: Span
    hint: str | None = None


@dataclass(frozen=True, slots=True)
class Meaning:
    """A condition understood: `needs` in order of appearance, those of a test with a mistake among them."""

    root: Part
    needs: tuple[Need, ...]
    mistakes: tuple[Mistake, ...]
    tests: tuple[Test, ...]

    @property
    def comparisons(self) -> Iterator[Compared]:
        """The comparisons in order of appearance."""
        return (test for test in self.tests if isinstance(test, Compared))


def tests_in(part: Part) -> Iterator[Test]:
    """Give the tests of a condition in order of appearance."""
    match part:
        case Compared() | IsOneOf() | Broken():
            yield part
        case Not():
            yield from tests_in(part.part)
        case And() | Or():
            for inner in part.parts:
                yield from tests_in(inner)
        case _:
            assert_never(part)


def alone(side: Sum) -> str | None:
    """Give the name of the reading or number that makes up a side by itself; None for any other side."""
    if len(side) == 1 and side[0][0] > 0 and isinstance(side[0][1], ValueOf):
        return side[0][1].need.name
    return None


def names_of(terms: Iterable[Term]) -> tuple[str, ...]:
    """Give the readings and numbers among some terms, each once."""
    return tuple(dict.fromkeys(term.need.name for term in terms if not isinstance(term, Constant)))
