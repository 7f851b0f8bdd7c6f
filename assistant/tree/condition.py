"""Conditions of branches: read, and understood against a vocabulary once."""

from collections.abc import Iterator
from dataclasses import field
from typing import assert_never

from assistant.frozen import dataclass
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
    Unreadable,
    tests,
)
from assistant.tree.grammar import GrammarError, parse
from assistant.tree.kinds import ASKED_AS, understand_comparison
from assistant.tree.meaning import Broken, IsOneOf, Meaning, Mistake, Need, Part, Test, tests_in
from assistant.tree.vocabulary import Sort, Vocabulary

_CHOSEN: tuple[Sort, ...] = ("observation", "fact")


@dataclass(frozen=True, slots=True)
class Condition:
    """A condition as its author wrote it."""

    text: str
    root: Expression
    scalar: Scalar
    _understood: list[tuple[Vocabulary, Meaning]] = field(init=False, default_factory=list, compare=False, repr=False)

    @property
    def place(self) -> Place:
        """Where the condition stands."""
        return self.scalar.mark

    @property
    def is_readable(self) -> bool:
        """Whether the condition has no mistake in its grammar."""
        return not isinstance(self.root, Unreadable)

    @property
    def compares(self) -> bool:
        """Whether numbers are compared in it."""
        return any(isinstance(test, Compare) for test in tests(self.root))

    def place_of(self, span: Span) -> Place:
        """Give the place of a part."""
        return place_inside(self.scalar, span.start, span.end)

    def meaning(self, vocabulary: Vocabulary) -> Meaning:
        """Give what the condition means; it is worked out once for a vocabulary, all mistakes with it."""
        if not self._understood or self._understood[0][0] is not vocabulary:
            self._understood[:] = [(vocabulary, _understand(self, vocabulary))]
        return self._understood[0][1]


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
    for mistake in condition.meaning(vocabulary).mistakes:
        yield Problem(mistake.code, condition.place_of(mistake.span), mistake.message, mistake.hint)


def _understand(condition: Condition, vocabulary: Vocabulary) -> Meaning:
    mistakes: list[Mistake] = []
    root = _part(condition.root, condition.text, vocabulary, mistakes)
    needs = tuple(dict.fromkeys(need for test in tests(condition.root) for need in _needs(test, vocabulary)))
    return Meaning(root, needs, tuple(mistakes), tuple(tests_in(root)))


def _part(part: Expression, text: str, vocabulary: Vocabulary, mistakes: list[Mistake]) -> Part:
    match part:
        case Compare() | Is():
            found = _choice(part, vocabulary) if isinstance(part, Is) else understand_comparison(part, text, vocabulary)
            if not isinstance(found, list):
                return found
            mistakes.extend(found)
            return Broken(part.span)
        case Unreadable():
            return Broken(part.span)
        case Not():
            return Not(_part(part.part, text, vocabulary, mistakes), part.span)
        case And():
            return And(tuple(_part(inner, text, vocabulary, mistakes) for inner in part.parts), part.span)
        case Or():
            return Or(tuple(_part(inner, text, vocabulary, mistakes) for inner in part.parts), part.span)
        case _:
            assert_never(part)


def _choice(test: Is, vocabulary: Vocabulary) -> Test | list[Mistake]:
    mistakes = list(_mistaken_choices(test, vocabulary))
    if mistakes:
        return mistakes
    need = Need(test.name, ASKED_AS[vocabulary.sort_of(test.name)])
    return IsOneOf(need, tuple(choice.text for choice in test.choices), test.negated, test.span)


def _mistaken_choices(test: Is, vocabulary: Vocabulary) -> Iterator[Mistake]:
    sort = vocabulary.sort_of(test.name)
    if sort not in _CHOSEN or vocabulary.kind_of(test.name) is not None:
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
    sort = ASKED_AS.get(vocabulary.sort_of(name))
    if sort is not None:
        yield Need(name, sort)
