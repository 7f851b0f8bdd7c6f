"""The way through a tree as a graph: where a node leads, what can be reached, and which nodes go round in circles.

Nothing here recurses: a chain of nodes may be longer than Python's stack.
"""

from collections.abc import Iterable, Iterator, Mapping

from assistant.tree.model import Named, Node, Step, Tree, Use

Links = Mapping[str, tuple[str, ...]]


def ways(node: Node) -> tuple[Named, ...]:
    """Give the names of the nodes that a node can lead to, where they are written; none for a leaf."""
    match node:
        case Step():
            found = tuple(branch.go for branch in node.branches)
        case Use():
            found = tuple(way for way in (node.when_no_fault, node.when_undecided) if way is not None)
        case _:
            found = ()
    return tuple(go for go in found if go.text)


def links(tree: Tree) -> dict[str, tuple[str, ...]]:
    """Give, for every node, the known nodes that it leads to, each once."""
    return {
        name: tuple(dict.fromkeys(go.text for go in ways(node) if go.text in tree.nodes))
        for name, node in tree.nodes.items()
    }


def reached(starts: Iterable[str], along: Links) -> set[str]:
    """Give every node that can be reached from some nodes, these among them."""
    seen = set(starts)
    waiting = list(seen)
    while waiting:
        for name in along.get(waiting.pop(), ()):
            if name not in seen:
                seen.add(name)
                waiting.append(name)
    return seen


def turned_around(along: Links) -> dict[str, tuple[str, ...]]:
    """Give the links in the other direction."""
    back: dict[str, list[str]] = {name: [] for name in along}
    for name, targets in along.items():
        for target in targets:
            back.setdefault(target, []).append(name)
    return {name: tuple(sources) for name, sources in back.items()}


def loops(along: Links) -> Iterator[tuple[str, ...]]:
    """Give one loop out of every group of nodes that lead to each other, as the names along it.

    Every node that is led to must have an entry of its own.
    """
    for group in groups(along):
        first = group[0]
        members = set(group)
        if len(group) > 1 or first in along.get(first, ()):
            yield _loop_through(first, members, along)


def _loop_through(first: str, members: set[str], along: Links) -> tuple[str, ...]:
    """Find the shortest way from a node back to itself."""
    came_from: dict[str, str] = {}
    waiting = [first]
    for name in waiting:
        for target in along.get(name, ()):
            if target == first:
                path = [name]
                while path[-1] != first:
                    path.append(came_from[path[-1]])
                return tuple(reversed(path))
            if target in members and target not in came_from:
                came_from[target] = name
                waiting.append(target)
    raise AssertionError(f"{first} is in no loop")


def groups(along: Links) -> Iterator[list[str]]:
    """Give the groups of nodes that lead to each other (strongly connected, after Kosaraju), in order of the file."""
    finished: list[str] = []
    seen: set[str] = set()
    for root in along:
        if root in seen:
            continue
        seen.add(root)
        stack = [(root, iter(along[root]))]
        while stack:
            name, targets = stack[-1]
            target = next((t for t in targets if t not in seen), None)
            if target is None:
                finished.append(name)
                stack.pop()
            else:
                seen.add(target)
                stack.append((target, iter(along[target])))
    back = turned_around(along)
    rank = {name: number for number, name in enumerate(along)}
    taken: set[str] = set()
    groups = []
    for root in reversed(finished):
        if root in taken:
            continue
        group = [root]
        taken.add(root)
        for name in group:
            for source in back[name]:
                if source not in taken:
                    taken.add(source)
                    group.append(source)
        groups.append(sorted(group, key=rank.__getitem__))
    yield from sorted(groups, key=lambda names: rank[names[0]])
