"""What is asked must be of use: a question costs the tech a minute and some trust."""

from collections.abc import Iterator

from assistant.source.problem import Problem
from assistant.tree.model import Named, Step, Tree, Use
from assistant.tree.vocabulary import Vocabulary


def check(tree: Tree, vocabulary: Vocabulary) -> Iterator[Problem]:
    """Report observations and readings that are asked, and that no condition, evidence or worked number there uses."""
    used: set[str] = set()
    for node in tree.nodes.values():
        if isinstance(node, Use):
            continue
        if not isinstance(node, Step):
            used.update(evidence.name for evidence in node.because)
            continue
        # What a condition with a mistake is about is not known.
        if not all(condition.is_readable for condition in node.conditions):
            return
        used.update(need.name for need in node.decision(vocabulary).needs)
    behind, known = _behind(used, vocabulary)
    for name in _asked(tree):
        sort = vocabulary.sort_of(name.text)
        if name.text not in used | behind and (sort == "observation" or (sort == "reading" and known)):
            message = f'"{name.text}" is asked, but no condition, evidence or worked number uses it'
            yield Problem("tree-unused", name.place, message, "use it, or do not ask")


def _behind(used: set[str], vocabulary: Vocabulary) -> tuple[set[str], bool]:
    """Give what the numbers in use are worked from, and whether that is known of every one of them."""
    behind: set[str] = set()
    known = True
    for name in used:
        inputs = vocabulary.inputs_of(name)
        known = known and inputs is not None
        behind.update(inputs or ())
    return behind, known


def _asked(tree: Tree) -> Iterator[Named]:
    for node in tree.nodes.values():
        if isinstance(node, Step):
            yield from node.ask
            yield from node.measure_again
