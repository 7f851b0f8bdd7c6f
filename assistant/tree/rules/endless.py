"""A loop must pass a fresh answer that can lead out of it: the same answers would lead round it for ever."""

from collections.abc import Iterator

from assistant.source.problem import Problem
from assistant.tree.graph import Links, groups, links, loops, ways
from assistant.tree.model import Step, Tree
from assistant.tree.vocabulary import Vocabulary


def check(tree: Tree, vocabulary: Vocabulary) -> Iterator[Problem]:
    """Report one loop of every group of steps that lead to each other without a fresh answer that any of them uses."""
    steps = {name: node for name, node in tree.nodes.items() if isinstance(node, Step)}
    every = links(tree)
    stale = set(steps) - _freshened(steps, every, vocabulary)
    along = {name: tuple(t for t in targets if t in stale) for name, targets in every.items() if name in stale}
    for loop in loops(along):
        go = next(go for go in ways(tree.nodes[loop[-1]]) if go.text == loop[0])
        if len(loop) == 1:
            said = f'"{loop[0]}" leads back to itself'
        else:
            shown = [*loop[:4], "...", *loop[-1:]] if len(loop) > 5 else loop
            said = f"this goes round in a circle ({', '.join((*shown, loop[0]))})"
        asked = sorted({name for step in loop for name in _fresh(steps[step])})
        if asked:
            message = f"{said}, and what is asked anew ({', '.join(asked[:3])}) decides nothing on it"
            yield Problem("tree-endless", go.place, message, "ask anew for what its conditions need")
        else:
            message = f"{said} without a fresh answer"
            yield Problem("tree-endless", go.place, message, 'write "ask:" or "measure_again:" in a step of the circle')


def _freshened(steps: dict[str, Step], along: Links, vocabulary: Vocabulary) -> set[str]:
    """Give the steps that ask anew for something that a decision on a circle with them needs."""
    found: set[str] = set()
    for group in groups(along):
        asking = [name for name in group if name in steps and _fresh(steps[name])]
        if asking and (len(group) > 1 or group[0] in along[group[0]]):
            used = _used([steps[name] for name in group], vocabulary)
            found.update(
                name for name in asking if used is None or _may_lead_out(_fresh(steps[name]), used, vocabulary)
            )
    return found


def _may_lead_out(fresh: set[str], used: set[str], vocabulary: Vocabulary) -> bool:
    # A circle that decides nothing has no end, and a misspelt name may be what it needs: both are reported as that.
    return not used or bool(used & fresh) or any(vocabulary.sort_of(name) is None for name in fresh)


def _fresh(step: Step) -> set[str]:
    return {name.text for name in (*step.ask, *step.measure_again)}


def _used(steps: list[Step], vocabulary: Vocabulary) -> set[str] | None:
    """Give all that some decisions are worked from; None when that is not known."""
    used: set[str] = set()
    for step in steps:
        if not all(condition.is_readable for condition in step.conditions):
            return None
        for need in step.decision(vocabulary).needs:
            inputs = vocabulary.inputs_of(need.name)
            if inputs is None:
                return None
            used.update((need.name, *inputs))
    return used
