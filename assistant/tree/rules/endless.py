"""A loop must pass a fresh answer: without one, the same answers would lead round it for ever."""

from collections.abc import Iterator

from assistant.source.problem import Problem
from assistant.tree.graph import links, loops, ways
from assistant.tree.model import Step, Tree
from assistant.tree.vocabulary import Vocabulary


def check(tree: Tree, vocabulary: Vocabulary) -> Iterator[Problem]:
    """Report one loop of every group of steps that lead to each other without asking anything anew."""
    stale = {
        name for name, node in tree.nodes.items() if isinstance(node, Step) and not (node.ask or node.measure_again)
    }
    along = {name: tuple(t for t in targets if t in stale) for name, targets in links(tree).items() if name in stale}
    for loop in loops(along):
        go = next(go for go in ways(tree.nodes[loop[-1]]) if go.text == loop[0])
        if len(loop) == 1:
            said = f'"{loop[0]}" leads back to itself'
        else:
            shown = [*loop[:4], "...", *loop[-1:]] if len(loop) > 5 else loop
            said = f"this goes round in a circle ({', '.join((*shown, loop[0]))})"
        message = f"{said} without a fresh answer"
        yield Problem("tree-endless", go.place, message, 'write "ask:" or "measure_again:" in a step of the circle')
