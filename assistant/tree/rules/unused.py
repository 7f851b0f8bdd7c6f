"""An observation that is asked must be of use: a question costs the tech a minute and some trust."""

from collections.abc import Iterator

from assistant.source.problem import Problem
from assistant.tree.condition import needs
from assistant.tree.expression import Unreadable
from assistant.tree.model import Named, Step, Tree, When
from assistant.tree.vocabulary import Vocabulary


def check(tree: Tree, vocabulary: Vocabulary) -> Iterator[Problem]:
    """Report observations that are asked and that no condition or evidence names.

    A reading may serve a worked number, of which the language does not know how it is worked. So an unused reading
    is reported only where a tree has no worked number at all.
    """
    used: set[str] = set()
    numbers = False
    for node in tree.nodes.values():
        if not isinstance(node, Step):
            used.update(evidence.name for evidence in node.because)
            continue
        for branch in node.branches:
            if isinstance(branch, When):
                # What a condition with a mistake is about is not known.
                if isinstance(branch.condition.root, Unreadable):
                    return
                found = needs(branch.condition, vocabulary)
                used.update(need.name for need in found)
                numbers = numbers or any(need.sort == "number" for need in found)
    numbers = numbers or any(vocabulary.sort_of(name) == "number" for name in used)
    for name in _asked(tree):
        sort = vocabulary.sort_of(name.text)
        if name.text not in used and (sort == "observation" or (sort == "reading" and not numbers)):
            message = f'"{name.text}" is asked, but no condition or evidence uses it'
            yield Problem("tree-unused", name.place, message, "use it, or do not ask")


def _asked(tree: Tree) -> Iterator[Named]:
    for node in tree.nodes.values():
        if isinstance(node, Step):
            yield from node.ask
            yield from node.measure_again
