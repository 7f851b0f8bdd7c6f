"""Nothing falls through: a decision ends in `otherwise`, or its branches name every choice there is.

Proven over the whole partition that the conditions draw: the message names values that find no branch.
"""

from collections.abc import Iterator

from assistant.source.problem import Problem
from assistant.tree.linear import UnprovenError
from assistant.tree.model import Otherwise, Step, Tree
from assistant.tree.proof import MOST_TESTS, Effort, gather_known, model_of
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
            elif any(condition.compares for condition in node.conditions):
                # A close call turns one comparison alone, and so leaves the partition that the numbers themselves keep.
                message = "its branches take every value, but where a close call is turned, no way on is left"
                yield Problem("tree-no-otherwise", node.place, message, 'write "otherwise:" for the last branch')


def _has_otherwise(step: Step) -> bool:
    return any(isinstance(branch, Otherwise) for branch in step.branches)


def _missing(step: Step, vocabulary: Vocabulary, effort: Effort) -> str:
    """Say what falls through; empty when nothing does, or when a mistake reported elsewhere hides the answer."""
    decision = gather_known(step, vocabulary)
    if decision is None:
        too_large = sum(len(condition.meaning(vocabulary).tests) for condition in step.conditions) > MOST_TESTS
        return "when no branch is true, this decision has no way on" if too_large or not step.conditions else ""
    try:
        model = model_of([], [form for _, form in decision.branches], effort)
    except UnprovenError:
        return "when no branch is true, this decision has no way on"
    return "" if model is None else f"when {said(model, step, vocabulary)}, this decision has no way on"
