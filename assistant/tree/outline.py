"""A tree as text: every node with what it asks and where it leads, in the order in which a call can come to them."""

import textwrap
from collections.abc import Iterator

from assistant.source.problem import shortened
from assistant.tree.graph import links
from assistant.tree.model import Branch, CannotTell, CauseLeaf, Node, NoFaultLeaf, Otherwise, Step, Tree, Use, When

_NARROWEST = 40


def outline(tree: Tree, width: int = 80) -> str:
    """Give the outline of a tree, each line at most `width` columns wide (unless a single name is wider)."""
    width = max(width, _NARROWEST)
    head = [*_wrapped(f"{tree.title} ({tree.name}, version {tree.version})", "", width)]
    if tree.facts:
        head.extend(_wrapped("asks first: " + ", ".join(fact.text for fact in tree.facts), "  ", width))
    blocks = ["\n".join(head)]
    blocks.extend("\n".join(_block(tree.nodes[name], width)) for name in _in_order(tree))
    return "\n\n".join(blocks) + "\n"


def _in_order(tree: Tree) -> Iterator[str]:
    """Give the nodes as a call comes to them, the first branch first; then those that no way leads to."""
    along = links(tree)
    seen: set[str] = set()
    waiting = [*reversed(list(tree.nodes)), *([tree.start.text] if tree.start.text in tree.nodes else [])]
    while waiting:
        name = waiting.pop()
        if name not in seen:
            seen.add(name)
            yield name
            waiting.extend(reversed(along[name]))


def _block(node: Node, width: int) -> Iterator[str]:
    yield node.name
    if node.cautions:
        yield from _wrapped("caution: " + ", ".join(name.text for name in node.cautions), "  ", width)
    if isinstance(node, Step):
        yield from _step(node, width)
        return
    if isinstance(node, Use):
        yield from _use(node, width)
        return
    match node:
        case CauseLeaf():
            yield from _wrapped(f"= cause: {node.cause.text}", "  ", width)
        case NoFaultLeaf():
            yield from _wrapped(f"= no fault: {shortened(node.text, 2 * width)}", "  ", width)
        case _:
            yield from _wrapped(f"= undecided: {shortened(node.text, 2 * width)}", "  ", width)
    if node.because:
        shown = (f"change({item.name})" if item.change else item.name for item in node.because)
        yield from _wrapped("because: " + ", ".join(shown), "  ", width)


def _step(step: Step, width: int) -> Iterator[str]:
    if step.do is not None:
        yield from _wrapped(f"do: {shortened(step.do, 2 * width)}", "  ", width)
    if step.ask:
        yield from _wrapped("ask: " + ", ".join(name.text for name in step.ask), "  ", width)
    if step.measure_again:
        yield from _wrapped("measure again: " + ", ".join(name.text for name in step.measure_again), "  ", width)
    for branch in step.branches:
        yield from _wrapped(f"{_words(branch)} -> {branch.go.text}", "  ", width)


def _use(use: Use, width: int) -> Iterator[str]:
    yield from _wrapped(f"use: {use.tree.text}", "  ", width)
    for words, way in (("no fault", use.when_no_fault), ("undecided", use.when_undecided)):
        yield from _wrapped(f"{words} -> {'the call ends' if way is None else way.text}", "  ", width)


def _words(branch: Branch) -> str:
    match branch:
        case When():
            return " ".join(branch.condition.text.split())
        case CannotTell():
            return "cannot tell"
        case Otherwise():
            return "otherwise"


def _wrapped(text: str, indent: str, width: int) -> list[str]:
    return textwrap.wrap(
        text,
        width,
        initial_indent=indent,
        subsequent_indent=indent + "    ",
        break_on_hyphens=False,
        break_long_words=False,
    )
