"""Nothing falls through: a decision ends in `otherwise`, or its branches name every choice of one observation."""

from collections.abc import Iterator
from typing import assert_never

from assistant.source.problem import Problem
from assistant.tree.condition import tests
from assistant.tree.expression import And, Choice, Compare, Expression, Is, Not, Or, Unreadable
from assistant.tree.model import Otherwise, Step, Tree, When
from assistant.tree.vocabulary import Vocabulary


def check(tree: Tree, vocabulary: Vocabulary) -> Iterator[Problem]:
    """Report every decision that may find no branch."""
    for node in tree.nodes.values():
        if isinstance(node, Step) and node.whole and not _has_otherwise(node):
            missing = _missing(node, vocabulary)
            if missing:
                message = f"when {missing}, this decision has no way on"
                yield Problem("tree-no-otherwise", node.place, message, "add: - otherwise: NODE")


def _has_otherwise(step: Step) -> bool:
    return any(isinstance(branch, Otherwise) for branch in step.branches)


def _missing(step: Step, vocabulary: Vocabulary) -> str:
    """Say what falls through; empty when nothing does, or when a mistake reported elsewhere hides the answer."""
    roots = [branch.condition.root for branch in step.branches if isinstance(branch, When)]
    if any(isinstance(root, Unreadable) for root in roots):
        return ""
    names = {test.name if isinstance(test, Is) else "" for root in roots for test in tests(root)}
    if len(names) == 1 and (choices := vocabulary.choices_of(name := names.pop())):
        if any(choice.text not in choices for root in roots for choice in _named(root)):
            return ""
        left = [choice for choice in choices if not any(_true(root, choice) for root in roots)]
        return f"{name} is {' or '.join(left)}" if left else ""
    return "no branch is true"


def _named(expression: Expression) -> Iterator[Choice]:
    for test in tests(expression):
        yield from test.choices if isinstance(test, Is) else ()


def _true(expression: Expression, made: str) -> bool:
    """Evaluate a condition over one observation for one of its choices."""
    match expression:
        case Is():
            return (made in {choice.text for choice in expression.choices}) is not expression.negated
        case Not():
            return not _true(expression.part, made)
        case And():
            return all(_true(part, made) for part in expression.parts)
        case Or():
            return any(_true(part, made) for part in expression.parts)
        case Compare() | Unreadable():
            return False
        case _:
            assert_never(expression)
