"""Branches that no values can ever take, and conditions that leave nothing behind them: proven, not guessed."""

from collections.abc import Iterator

from assistant.source.problem import Problem
from assistant.tree.forms import Form
from assistant.tree.linear import UnprovenError
from assistant.tree.model import Otherwise, Step, Tree, When
from assistant.tree.proof import Effort, can_be, gather_known, shadows
from assistant.tree.vocabulary import Vocabulary


def check(tree: Tree, vocabulary: Vocabulary) -> Iterator[Problem]:
    """Report every condition that is never or always true, and every branch that those above it leave nothing to."""
    effort = Effort.for_tree(tree)
    for node in tree.nodes.values():
        if isinstance(node, Step):
            decision = gather_known(node, vocabulary)
            if decision is not None:
                yield from _of_step(node, decision.branches, effort)


def _of_step(step: Step, branches: tuple[tuple[When, Form], ...], effort: Effort) -> Iterator[Problem]:
    earlier: list[tuple[When, Form]] = []
    seen: set[str] = set()
    ends = next((branch.place for branch in step.branches if isinstance(branch, Otherwise)), None)
    for branch, form in branches:
        text = " ".join(branch.condition.text.split())
        # What stands behind "otherwise", and what is written twice, is reported as that.
        if text in seen or (ends is not None and branch.place.line > ends.line):
            continue
        seen.add(text)
        try:
            problem = _of_branch(branch, form, earlier, effort)
        except UnprovenError:
            problem = None
        if problem is None:
            earlier.append((branch, form))
        else:
            yield problem


def _of_branch(branch: When, form: Form, earlier: list[tuple[When, Form]], effort: Effort) -> Problem | None:
    place = branch.condition.place
    if not can_be([form], [], effort):
        message = "this can never be true: its parts contradict each other, so this branch is never taken"
        return Problem("condition-never", place, message, "mend it, or delete this branch")
    if not can_be([], [form], effort):
        message = "this is always true, so nothing is ever left for the branches behind it"
        return Problem("condition-always", place, message, 'mend it, or write "otherwise:" instead')
    above = shadows(earlier, form, effort)
    if above is None:
        return None
    lines = [str(other.condition.place.line) for other in above]
    who = f"the branch on line {lines[0]} takes" if len(lines) == 1 else f"those on lines {_and(lines)} take"
    message = f"this branch is never taken: {who} everything that it would"
    return Problem("tree-shadowed", place, message, "move it above, narrow what is above, or delete it")


def _and(lines: list[str]) -> str:
    return f"{', '.join(lines[:-1])} and {lines[-1]}"
