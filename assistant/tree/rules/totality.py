"""Nothing falls through: a decision ends in `otherwise`, or its branches name every choice there is.

Proven over the whole partition that the conditions draw: the message names values that find no branch.
"""

from collections.abc import Iterator

from assistant.source.problem import Problem
from assistant.tree.condition import tests
from assistant.tree.expression import Compare
from assistant.tree.linear import UnprovenError
from assistant.tree.model import Otherwise, Step, Tree, When
from assistant.tree.proof import MOST_TESTS, Effort, known, model_of
from assistant.tree.sayings import said
from assistant.tree.vocabulary import Vocabulary


def check(tree: Tree, vocabulary: Vocabulary) -> Iterator[Problem]:
    """Report every decision that may find no branch."""
    effort = Effort.for_tree(tree)
    for node in tree.nodes.values():
        if isinstance(node, Step) and node.whole and not _has_otherwise(node):
            missing = _missing(node, vocabulary, effort)
            if missing:
                yield Problem("tree-no-otherwise", node.place, missing, "add: - otherwise: NODE")
            elif _compares(node):
                # A close call turns one comparison alone, and so leaves the partition that the numbers themselves keep.
                message = "its branches take every value, but where a close call is turned, no way on is left"
                yield Problem("tree-no-otherwise", node.place, message, 'write "otherwise:" for the last branch')


def _has_otherwise(step: Step) -> bool:
    return any(isinstance(branch, Otherwise) for branch in step.branches)


def _compares(step: Step) -> bool:
    """Tell whether numbers are compared, in a decision that can be reasoned about."""
    return any(isinstance(test, Compare) for branch in _whens(step) for test in tests(branch.condition.root))


def _whens(step: Step) -> list[When]:
    return [branch for branch in step.branches if isinstance(branch, When)]


def _missing(step: Step, vocabulary: Vocabulary, effort: Effort) -> str:
    """Say what falls through; empty when nothing does, or when a mistake reported elsewhere hides the answer."""
    whens = _whens(step)
    decision = known(step, vocabulary)
    if decision is None:
        too_large = sum(1 for branch in whens for _ in tests(branch.condition.root)) > MOST_TESTS
        return "when no branch is true, this decision has no way on" if too_large or not whens else ""
    try:
        model = model_of([], [form for _, form in decision.branches], effort)
    except UnprovenError:
        return "when no branch is true, this decision has no way on"
    return "" if model is None else f"when {said(model, step, vocabulary)}, this decision has no way on"
