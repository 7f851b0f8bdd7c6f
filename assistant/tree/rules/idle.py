"""An `otherwise` that nothing is left for: harmless, and a net for choices yet to come, so it is only noted."""

from collections.abc import Iterator

from assistant.source.problem import Problem
from assistant.tree.linear import UnprovenError
from assistant.tree.model import Otherwise, Step, Tree
from assistant.tree.proof import Effort, can_be, gather_known
from assistant.tree.vocabulary import Vocabulary


def check(tree: Tree, vocabulary: Vocabulary) -> Iterator[Problem]:
    """Note every `otherwise` behind branches that take every value."""
    effort = Effort.for_tree(tree)
    for node in tree.nodes.values():
        if not isinstance(node, Step):
            continue
        net = next((branch for branch in node.branches if isinstance(branch, Otherwise)), None)
        decision = None if net is None else gather_known(node, vocabulary)
        if net is None or decision is None:
            continue
        forms = [form for branch, form in decision.branches]
        try:
            # A condition that is always true by itself is reported as that.
            left = can_be([], forms, effort) or not all(can_be([], [form], effort) for form in forms)
        except UnprovenError:
            continue
        if not left:
            if any(condition.compares for condition in node.conditions):
                message = "the branches above take every value, so only the turned side of a close call comes here"
                hint = 'write "otherwise:" for the last branch instead'
            else:
                message = "the branches above name every choice there is, so nothing comes here"
                hint = "leave it out, or keep it in case a choice is added"
            yield Problem("note-otherwise", net.place, message, hint)
