"""Which ways example calls take through a tree, branch by branch: the path of one call, and how many take each.

A walk runs over linked trees, where the nodes of a used tree stand under the node that uses it. A drawing may show
that node alone; what happens inside of it then counts as its own.
"""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from assistant.author.picture import Way
from assistant.call.turns import Decided
from assistant.call.walk import Conversation
from assistant.tree.linking import SEPARATOR
from assistant.tree.model import Node, NoFaultLeaf, Step, Tree, Use


@dataclass(frozen=True)
class Coverage:
    """How many calls take each way of a tree, and how many end in each node."""

    taken: Mapping[Way, int]
    ends: Mapping[str, int]
    calls: int


def path_of(conversation: Conversation, shown: Tree, trees: Mapping[str, Tree]) -> tuple[tuple[Way, ...], str]:
    """The ways that a call took through a tree as it is `shown`, in order, and the node at which it stands at its end.

    `trees` are the trees as they were read, without those that they use.
    """
    linked = conversation.tree
    if linked is None:
        return (), shown.start.text
    ways: list[Way] = []
    at = linked.start.text
    for turn in conversation.turns:
        if not isinstance(turn, Decided):
            continue
        at = turn.go
        node = shown.nodes.get(turn.node)
        if isinstance(node, Step):
            ways.append((turn.node, turn.branch))
        elif node is None:
            outer = _outer(turn.node, shown)
            if outer is not None and _outer(turn.go, shown) != outer:
                ways.append((outer.name, _way_out(outer, turn, trees)))
    if at not in shown.nodes:
        outer = _outer(at, shown)
        at = at if outer is None else outer.name
    return tuple(ways), at


def coverage(conversations: Iterable[Conversation], shown: Tree, trees: Mapping[str, Tree]) -> Coverage:
    """Return how often calls take each way; a call that takes a way twice counts once."""
    taken: Counter[Way] = Counter()
    ends: Counter[str] = Counter()
    calls = 0
    for conversation in conversations:
        ways, end = path_of(conversation, shown, trees)
        taken.update(set(ways))
        ends[end] += 1
        calls += 1
    return Coverage(taken, ends, calls)


def _outer(name: str, shown: Tree) -> Use | None:
    """Return the node of a shown tree inside of which a node of a linked one lies."""
    parts = name.split(SEPARATOR)
    for count in range(len(parts) - 1, 0, -1):
        node: Node | None = shown.nodes.get(SEPARATOR.join(parts[:count]))
        if isinstance(node, Use):
            return node
    return None


def _way_out(use: Use, turn: Decided, trees: Mapping[str, Tree]) -> int:
    """Return the place of the way by which a call left a used tree: without a fault, or undecided."""
    inside = trees.get(use.tree.text)
    leaf = inside.nodes.get(turn.node.removeprefix(use.name + SEPARATOR)) if inside else None
    if use.when_no_fault is None:
        return 0
    return 0 if isinstance(leaf, NoFaultLeaf) else 1
