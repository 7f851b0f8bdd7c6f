"""The order of branches, and the honest "cannot tell"."""

from collections.abc import Iterator

from assistant.source.problem import Problem
from assistant.tree.model import Branch, CannotTell, Otherwise, Step, Tree, When
from assistant.tree.vocabulary import Vocabulary


def check(tree: Tree, vocabulary: Vocabulary) -> Iterator[Problem]:
    """Check the branches of every step."""
    for node in tree.nodes.values():
        if isinstance(node, Step) and node.whole:
            yield from _order(node.branches)
            yield from _cannot_tell(node, vocabulary)


def _order(branches: tuple[Branch, ...]) -> Iterator[Problem]:
    otherwise: Otherwise | None = None
    cannot_tell: CannotTell | None = None
    for branch in branches:
        match branch:
            case When() if otherwise is not None:
                message = f'this branch is never taken: "otherwise" on line {otherwise.place.line} takes everything'
                yield Problem("tree-after-otherwise", branch.place, message, 'move it above "otherwise"')
            case Otherwise() if otherwise is not None:
                message = f'there is a second "otherwise"; the first is on line {otherwise.place.line}'
                yield Problem("tree-second", branch.place, message, "keep one")
            case CannotTell() if cannot_tell is not None:
                message = f'there is a second "cannot_tell"; the first is on line {cannot_tell.place.line}'
                yield Problem("tree-second", branch.place, message, "keep one")
            case Otherwise():
                otherwise = branch
            case CannotTell():
                cannot_tell = branch
            case When():
                pass


def _cannot_tell(step: Step, vocabulary: Vocabulary) -> Iterator[Problem]:
    if any(isinstance(branch, CannotTell) for branch in step.branches):
        return
    needs = step.decision(vocabulary).needs
    unsure = next((need.name for need in needs if vocabulary.sort_of(need.name) is not None), None)
    if unsure is not None:
        message = f'"{unsure}" may be answered with "cannot tell", and this decision has no branch for that'
        yield Problem("tree-no-cannot-tell", step.place, message, "add: - cannot_tell: NODE")
