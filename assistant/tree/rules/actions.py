"""What a tech is told to do they may be unable to do, so a step with `do` has a way on for that."""

from collections.abc import Iterator

from assistant.source.problem import Problem
from assistant.tree.model import CannotTell, Step, Tree
from assistant.tree.vocabulary import Vocabulary


def check(tree: Tree, vocabulary: Vocabulary) -> Iterator[Problem]:
    """Report steps with `do` and no `cannot_tell`; one whose conditions need it anyway is reported for that."""
    for node in tree.nodes.values():
        if not isinstance(node, Step) or not node.do or not node.whole:
            continue
        if not node.decision(vocabulary).needs and not any(isinstance(branch, CannotTell) for branch in node.branches):
            message = f'"{node.name}" may be answered with "cannot do", and there is no way on for that'
            hint = "decide with: - cannot_tell: NODE, and - otherwise: NODE"
            yield Problem("tree-no-cannot-do", node.place, message, hint)
