"""A tree that is used is there, does not come round to itself, and can end in the way that is waited for."""

from collections.abc import Iterator, Mapping

from assistant.source.nearest import nearest
from assistant.source.problem import Problem, shorten
from assistant.tree.expression import Is, tests
from assistant.tree.linking import MOST_NODES, link, ring_behind, size_of, uses_of
from assistant.tree.model import MODE, Node, NoFaultLeaf, Step, Tree, UndecidedLeaf, Use


def check(tree: Tree, trees: Mapping[str, Tree], linked: dict[str, Tree] | None = None) -> Iterator[Problem]:
    """Report every `use` that cannot be meant so; `trees` are those that can be used, `linked` as `link` takes it."""
    uses = uses_of(tree)
    for use in uses:
        if use.tree.text not in trees and use.tree.text != tree.name:
            near = nearest(use.tree.text, trees)
            message = f'there is no tree called "{shorten(use.tree.text, 40)}"'
            yield Problem("name-unknown", use.tree.place, message, f"write: {' or '.join(near)}" if near else None)
        elif use.tree.text != tree.name and trees.get(use.tree.text) is None:
            message = f'the tree "{use.tree.text}" cannot be read, so nothing can be said of what comes of using it'
            yield Problem("name-unknown", use.tree.place, message, "mend that tree first")
    ring = ring_behind(tree.name, _and_itself(tree, trees)) if uses else ()
    if ring:
        yield _goes_round(tree, uses, ring)
        return
    for use in uses:
        used = trees.get(use.tree.text)
        if used is not None:
            yield from _runs_otherwise(tree, use, used)
        whole = None if used is None else link(used, trees, linked)
        if whole is not None:
            yield from _waits_in_vain(use, whole)
    size = size_of(tree, _and_itself(tree, trees)) if uses else 0
    if size > MOST_NODES:
        message = f"with all that the used trees use in turn, this tree has {size} nodes; {MOST_NODES} are the most"
        yield Problem("tree-use-large", uses[0].tree.place, message, "use fewer trees inside each other")


def _and_itself(tree: Tree, trees: Mapping[str, Tree]) -> Mapping[str, Tree]:
    # What is checked may lie elsewhere than the trees of the folder.
    return trees if trees.get(tree.name) is tree else {**_all_behind(tree, trees), tree.name: tree}


def _all_behind(tree: Tree, trees: Mapping[str, Tree]) -> dict[str, Tree]:
    found: dict[str, Tree] = {}
    waiting = [use.tree.text for use in uses_of(tree)]
    while waiting:
        name = waiting.pop()
        used = trees.get(name)
        if used is not None and name not in found:
            found[name] = used
            waiting.extend(use.tree.text for use in uses_of(used))
    return found


def _goes_round(tree: Tree, uses: tuple[Use, ...], ring: tuple[str, ...]) -> Problem:
    use = next((use for use in uses if use.tree.text in ring), uses[0])
    steps = (*ring, ring[0])
    said = ", which ".join(f'uses "{name}"' for name in steps[1:])
    lead = f'"{steps[0]}" {said}' if len(ring) > 1 else f'"{steps[0]}" uses itself'
    return Problem("tree-use-ring", use.tree.place, f"{lead}, so it would never end", "use no tree inside itself")


def _runs_otherwise(tree: Tree, use: Use, used: Tree) -> Iterator[Problem]:
    """Report a tree for one mode that is used where the system may run in the other."""
    if used.mode is None or not used.mode.text or (tree.mode is not None and tree.mode.text == used.mode.text):
        return
    lead = f'the tree "{used.name}" is for {used.mode.text}'
    if tree.mode is not None:
        message = f"{lead}, and this one for {shorten(tree.mode.text, 40)}"
        yield Problem("tree-use-mode", use.tree.place, message, "use a tree for the same mode")
    elif MODE not in {fact.text for fact in tree.facts} and not any(_asks_mode(node) for node in tree.nodes.values()):
        message = f"{lead}, and this one neither says nor asks how the system runs"
        yield Problem("tree-use-mode", use.tree.place, message, f"write: mode: {used.mode.text}, or: facts: [{MODE}]")


def _asks_mode(node: Node) -> bool:
    return isinstance(node, Step) and (
        any(name.text == MODE for name in node.ask)
        or any(
            isinstance(test, Is) and test.name == MODE
            for condition in node.conditions
            for test in tests(condition.root)
        )
    )


def _waits_in_vain(use: Use, whole: Tree) -> Iterator[Problem]:
    ends = {type(node) for node in whole.nodes.values()}
    for way, leaf, word, key in (
        (use.when_no_fault, NoFaultLeaf, "no_fault", "when_no_fault"),
        (use.when_undecided, UndecidedLeaf, "undecided", "when_undecided"),
    ):
        if way is not None and way.text and leaf not in ends:
            message = f'the tree "{use.tree.text}" never ends in {word}, so nothing goes on from here'
            yield Problem("tree-use-end", way.place, message, f'delete "{key}"')
