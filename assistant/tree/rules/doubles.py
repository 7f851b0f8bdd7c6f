"""Two branches of a decision with the same condition: the second is never taken."""

from collections.abc import Iterator

from assistant.source.problem import Problem
from assistant.tree.model import Step, Tree, When
from assistant.tree.vocabulary import Vocabulary


def check(tree: Tree, vocabulary: Vocabulary) -> Iterator[Problem]:
    """Report every condition that a branch above it in the same decision has."""
    for node in tree.nodes.values():
        seen: dict[str, When] = {}
        for branch in node.branches if isinstance(node, Step) else ():
            if not isinstance(branch, When) or not branch.condition.is_readable:
                continue
            first = seen.setdefault(" ".join(branch.condition.text.split()), branch)
            if first is not branch:
                message = f"this is the condition of line {first.condition.place.line} again, so it is never reached"
                yield Problem("tree-double", branch.condition.place, message, "delete this branch, or mend one of them")
