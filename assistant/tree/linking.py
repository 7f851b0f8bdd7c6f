"""Linking: a tree that uses others becomes one flat tree, so that nothing else needs to know that it does.

The nodes of a used tree are copied in under the name of the node that uses it: `valve_bench/settle`. No author can
write such a name, so the same tree used at two places is two sets of nodes. Every node keeps the place where it was
written. Nothing here recurses: trees may use each other in a long chain.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from typing import assert_never

from assistant.tree.graph import loops
from assistant.tree.model import (
    Branch,
    CannotTell,
    Named,
    Node,
    NoFaultLeaf,
    Otherwise,
    Step,
    Tree,
    UndecidedLeaf,
    Use,
    When,
)

SEPARATOR = "/"
"""Stands between the node that uses a tree and the node of that tree."""
MOST_NODES = 10_000
"""Nodes of a linked tree: a few trees that use each other twice would otherwise grow beyond all bounds."""


def uses_of(tree: Tree) -> tuple[Use, ...]:
    """Give the nodes of a tree that use others, where it is known which."""
    return tuple(node for node in tree.nodes.values() if isinstance(node, Use) and node.tree.text)


def is_own(node: str) -> bool:
    """Tell whether a node of a linked tree is one of the tree itself, and not of a tree that it uses."""
    return SEPARATOR not in node


def own_name(node: str) -> str:
    """Give the name that the author of a node gave it."""
    return node.rpartition(SEPARATOR)[2]


def used_by(names: Iterable[str], trees: Mapping[str, Tree]) -> dict[str, tuple[str, ...]]:
    """Give the trees that each tree uses which can be come to from `names`, each once; a tree not there uses none."""
    along: dict[str, tuple[str, ...]] = {}
    waiting = list(names)
    while waiting:
        name = waiting.pop()
        if name not in along:
            tree = trees.get(name)
            along[name] = () if tree is None else tuple(dict.fromkeys(use.tree.text for use in uses_of(tree)))
            waiting.extend(along[name])
    return along


def ring_behind(name: str, trees: Mapping[str, Tree]) -> tuple[str, ...]:
    """Give the trees of a ring, each using the next and the last one the first, that a tree leads to; else nothing."""
    along = used_by([name], trees)
    rings = sorted(loops(along), key=lambda ring: name not in ring)
    if not rings:
        return ()
    first = rings[0].index(name) if name in rings[0] else 0
    return (*rings[0][first:], *rings[0][:first])


def size_of(tree: Tree, trees: Mapping[str, Tree]) -> int:
    """Count the nodes of a tree and of all that it uses, over and over where it does; there must be no ring."""
    sizes: dict[str, int] = {}
    for name in _inside_out(tree.name, trees):
        part = tree if name == tree.name else trees.get(name)
        if part is not None:
            sizes[name] = len(part.nodes) + sum(sizes.get(use.tree.text, 0) for use in uses_of(part))
    return sizes.get(tree.name, len(tree.nodes))


def can_be_linked(tree: Tree, trees: Mapping[str, Tree]) -> bool:
    """Tell whether all trees that a tree uses are there, none uses itself, and all together are not too large."""
    known = _With(tree, trees)
    along = used_by([tree.name], known)
    is_there = all(name in known for name in along)
    return is_there and not ring_behind(tree.name, known) and size_of(tree, known) <= MOST_NODES


def link(tree: Tree, trees: Mapping[str, Tree], done: dict[str, Tree] | None = None) -> Tree | None:
    """Give a tree with those that it uses linked in; None where it cannot be linked.

    `trees` are those that may be used, as they were read. A tree that uses none is given back as it is. Who links many
    of the same trees hands in `done`, in which those that are linked are kept.
    """
    if not uses_of(tree):
        return tree
    is_one_of_them = trees.get(tree.name) is tree
    if done is not None and is_one_of_them and tree.name in done:
        return done[tree.name]
    if not can_be_linked(tree, trees):
        return None
    known = _With(tree, trees)
    linked = done if done is not None and is_one_of_them else {}
    for name in _inside_out(tree.name, known):
        if name not in linked:
            linked[name] = _with_parts(known[name], linked)
    return linked[tree.name]


class _With(Mapping[str, Tree]):
    """Trees by name, one of them as it is at hand; those that cannot be read are left out."""

    def __init__(self, tree: Tree, trees: Mapping[str, Tree]) -> None:
        self._tree = tree
        self._trees = trees

    def __getitem__(self, name: str) -> Tree:
        return self._tree if name == self._tree.name else self._trees[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self._trees)

    def __len__(self) -> int:
        return len(self._trees)

    def __contains__(self, name: object) -> bool:
        return name == self._tree.name or self._trees.get(str(name)) is not None


def _inside_out(name: str, trees: Mapping[str, Tree]) -> list[str]:
    """Give a tree and those that it uses, each behind all that it uses itself; there must be no ring."""
    along = used_by([name], trees)
    done: dict[str, None] = {}
    waiting = [name]
    while waiting:
        lacking = [used for used in along[waiting[-1]] if used not in done]
        if lacking:
            waiting.extend(lacking)
        else:
            done[waiting.pop()] = None
    return list(done)


def _with_parts(tree: Tree, linked: Mapping[str, Tree]) -> Tree:
    uses = uses_of(tree)
    if not uses:
        return tree
    nodes: dict[str, Node] = {name: _handing_over(node, tree, linked) for name, node in tree.nodes.items()}
    parts: dict[str, int] = {}
    for use in uses:
        used = linked[use.tree.text]
        # The tree's own nodes stay in front: what goes round through a used tree is then told at one of them.
        nodes.update(_copied(used, use))
        parts |= {used.name: used.version, **dict(used.parts)}
    return replace(tree, nodes=nodes, parts=tuple(parts.items()))


def _handing_over(node: Node, tree: Tree, linked: Mapping[str, Tree]) -> Node:
    """A node, and one that uses a tree as a step that asks for the facts of that tree and goes on at its start."""
    if not isinstance(node, Use):
        return node
    used = linked.get(node.tree.text)
    known = {fact.text for fact in tree.facts}
    facts = tuple(fact for fact in used.facts if fact.text not in known) if used is not None else ()
    start = _inside(node.name, used.start.text if used is not None else "")
    step = _leading_on(node, node.say, Named(start, node.tree.place), is_whole=bool(start))
    return replace(step, ask=facts, title=node.title or (used.title if used is not None else None))


def _copied(used: Tree, use: Use) -> Iterator[tuple[str, Node]]:
    for name, node in used.nodes.items():
        inside = _inside(use.name, name)
        if isinstance(node, Use):
            yield inside, replace(node, name=inside)
            continue
        origin = node.written_in or used.name
        match node:
            case Step():
                ways = tuple(_moved(branch, use.name) for branch in node.branches)
                yield inside, replace(node, name=inside, written_in=origin, branches=ways)
            case NoFaultLeaf() if use.when_no_fault is not None:
                step = _leading_on(node, node.text, use.when_no_fault)
                yield inside, replace(step, name=inside, written_in=origin)
            case UndecidedLeaf() if use.when_undecided is not None:
                step = _leading_on(node, node.text, use.when_undecided)
                yield inside, replace(step, name=inside, written_in=origin)
            case _:
                yield inside, replace(node, name=inside, written_in=origin)


def _moved(branch: Branch, user: str) -> Branch:
    go = Named(_inside(user, branch.go.text), branch.go.place)
    match branch:
        case When(condition=condition):
            return When(condition, go, branch.say, branch.place)
        case CannotTell():
            return CannotTell(go, branch.say, branch.place)
        case Otherwise():
            return Otherwise(go, branch.say, branch.place)
        case _:
            assert_never(branch)


def _inside(user: str, name: str) -> str:
    return f"{user}{SEPARATOR}{name}" if name else ""


def _leading_on(node: Use | NoFaultLeaf | UndecidedLeaf, say: str | None, go: Named, *, is_whole: bool = True) -> Step:
    """A step that says something and goes on."""
    return Step(
        name=node.name,
        say=say,
        why=None,
        cautions=node.cautions,
        do=(),
        ask=(),
        measure_again=(),
        branches=(Otherwise(go, None, go.place),),
        whole=is_whole and bool(go.text),
        place=node.place,
        notes=node.notes,
        title=node.title,
        written_in="" if isinstance(node, Use) else node.written_in,
    )
