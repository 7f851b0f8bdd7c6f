"""A comparison of two states of a folder of trees as text and as plain values."""

from collections.abc import Iterable, Iterator
from typing import Any

from assistant.author.compare import CallChange, FolderComparison, GoneTree, TreeComparison
from assistant.author.edits import EntryEdit, NodeEdit
from assistant.author.parting import End, Saw


def comparison_lines(comparison: FolderComparison) -> Iterator[str]:
    """Yield what differs, as lines to be wrapped; a folder without any difference gives the one line that says so."""
    blocks = [*(_tree(tree) for tree in comparison.trees if _differs(tree)), _catalogue(comparison.catalogue)]
    blocks.append([_gone_line(tree) for tree in comparison.only_old])
    blocks.append([f"The tree {name} is new." for name in comparison.only_new])
    for block in blocks:
        if block:
            yield from block
            yield ""
    yield _verdict(comparison)


def _gone_line(tree: GoneTree) -> str:
    calls = _count_words((tree.examples, "example call"), (tree.stored, "stored call"))
    return f"The tree {tree.name} is gone, and with it {calls}."


def _differs(tree: TreeComparison) -> bool:
    return bool(tree.edits.head or tree.edits.nodes or tree.elsewhere or tree.other_way)


def _verdict(comparison: FolderComparison) -> str:
    trees = comparison.trees
    walked = _count_words(
        (sum(tree.examples for tree in trees), "example call"), (sum(tree.stored for tree in trees), "stored call")
    )
    gone_elsewhere = sum(len(tree.elsewhere) for tree in trees)
    ending_nowhere = sum(tree.examples + tree.stored for tree in comparison.only_old)
    is_edited = any(map(_differs, trees)) or comparison.catalogue or comparison.only_old or comparison.only_new
    over = f"{_number(len(trees), 'tree')}, {walked}"
    if not is_edited:
        return f"Nothing has changed: {over}."
    if comparison.same_ends:
        return f"Every call ends where it did: {over}."
    counts = ((gone_elsewhere, "elsewhere"), (ending_nowhere, "nowhere"))
    told = [f"{_number(count, 'call')} {'ends' if count == 1 else 'end'} {where}" for count, where in counts if count]
    return f"{' and '.join(told)}: {over}."


def _tree(tree: TreeComparison) -> list[str]:
    stored = sum(change.is_stored for change in tree.elsewhere)
    parts = ((len(tree.elsewhere) - stored, tree.examples, "example"), (stored, tree.stored, "stored"))
    counted = [f"{count or 'none'} of {_number(of, f'{what} call')}" for count, of, what in parts if of]
    ends = "ends" if len(tree.elsewhere) == 1 and len(counted) == 1 else "end"
    lines = [f"{tree.name}: {' and '.join(counted) or 'no call'} {ends} elsewhere"]
    for part in (_elsewhere(tree.elsewhere), _other_way(tree.other_way), _edits(tree)):
        if part:
            lines += ["", *part]
    return lines


def _elsewhere(changes: Iterable[CallChange]) -> list[str]:
    """Return the calls that end elsewhere, those that part at the same node in the same way below each other."""
    lines: list[str] = []
    by_way: dict[tuple[str, ...], list[CallChange]] = {}
    for change in changes:
        by_way.setdefault(_way(change), []).append(change)
    for group in by_way.values():
        for place, change in enumerate(group):
            lines += _change(change, is_first=place == 0)
    return lines


def _way(change: CallChange) -> tuple[str, ...]:
    parted = change.parting
    return ("",) if parted is None else (parted.node, parted.old.go or "", parted.new.go or "")


def _change(change: CallChange, *, is_first: bool) -> Iterator[str]:
    parted = change.parting
    if is_first and parted is not None:
        was = f", once called {parted.was}," if parted.was else ""
        yield f"  At {parted.node}{was} calls part:"
    yield f"    {_call(change)}"
    yield f"      ended in {change.old.words()}, now in {change.new.words()}{_demand(change)}"
    if parted is not None:
        yield from _saw("old", parted.old)
        yield from _saw("new", parted.new)
    if change.dropped:
        yield f"      - its answer to {', '.join(change.dropped)} is not asked for any more"


def _call(change: CallChange) -> str:
    return f"stored call {change.call}" if change.is_stored else f'example call "{change.call}"'


def _demand(change: CallChange) -> str:
    if change.must_reach is None:
        return ""
    reached = change.new.name if change.new.kind == "cause" else change.new.kind
    return ", as it must" if reached == change.must_reach else f"; it must reach {change.must_reach}"


def _saw(state: str, saw: Saw) -> Iterator[str]:
    reasons = saw.reasons or (("goes on",) if saw.go else ())
    for place, reason in enumerate(reasons):
        way = f" -> {saw.go}" if saw.go and place == len(reasons) - 1 else ""
        yield f"      - {state}: {reason}{way}"
    if not reasons:
        yield f"      - {state}: the call starts here"


def _other_way(changes: tuple[CallChange, ...]) -> list[str]:
    if not changes:
        return []
    lines = [f"  To the same end on another way: {_number(len(changes), 'call')}"]
    for change in changes:
        at = f", from {change.parting.node} on" if change.parting else ""
        lines.append(f"    {_call(change)}{at}")
    return lines


def _edits(tree: TreeComparison) -> list[str]:
    if not tree.edits.head and not tree.edits.nodes:
        return []
    return [
        "  What changed in the tree:",
        *(f"    {line}" for line in tree.edits.head),
        *(line for edit in tree.edits.nodes for line in _node(edit)),
    ]


def _node(edit: NodeEdit) -> Iterator[str]:
    was = f" (was {edit.was})" if edit.was else ""
    yield f"    {edit.what} {edit.name}{was}, line {edit.place.line}"
    yield from (f"      {line}" for line in edit.diff)


def _catalogue(edits: tuple[EntryEdit, ...]) -> list[str]:
    return ["What changed in the catalogue:", *(f"  {_entry(edit)}" for edit in edits)] if edits else []


def _entry(edit: EntryEdit) -> str:
    name = f"limits.{edit.name}" if edit.sort == "limit" else f"{edit.sort} {edit.name}"
    if edit.name == "*":
        name = f"{edit.sort}s"
    return f"{name}: {edit.how}" if edit.how else f"{name}: {edit.what}"


def _number(count: int, what: str) -> str:
    return f"{count} {what}{'' if count == 1 else 's'}"


def _count_words(*counts: tuple[int, str]) -> str:
    return " and ".join(_number(count, what) for count, what in counts if count) or "no calls"


def comparison_values(comparison: FolderComparison) -> dict[str, Any]:
    """Return a comparison as plain values for a JSON document."""
    return {
        "same_ends": comparison.same_ends,
        "trees": [_tree_values(tree) for tree in comparison.trees],
        "only_old": [
            {"tree": tree.name, "example_calls": tree.examples, "stored_calls": tree.stored}
            for tree in comparison.only_old
        ],
        "only_new": list(comparison.only_new),
        "catalogue": [
            {"what": edit.what, "sort": edit.sort, "name": edit.name, "how": edit.how} for edit in comparison.catalogue
        ],
    }


def _tree_values(tree: TreeComparison) -> dict[str, Any]:
    return {
        "tree": tree.name,
        "example_calls": tree.examples,
        "stored_calls": tree.stored,
        "elsewhere": [_change_values(change) for change in tree.elsewhere],
        "other_way": [_change_values(change) for change in tree.other_way],
        "head": list(tree.edits.head),
        "nodes": [
            {
                "what": edit.what,
                "name": edit.name,
                "was": edit.was,
                "line": edit.place.line,
                "diff": list(edit.diff),
            }
            for edit in tree.edits.nodes
        ],
    }


def _change_values(change: CallChange) -> dict[str, Any]:
    parted = change.parting
    return {
        "call": change.call,
        "stored": change.is_stored,
        "old": _end_values(change.old),
        "new": _end_values(change.new),
        "must_reach": change.must_reach,
        "not_asked_any_more": list(change.dropped),
        "part_at": None
        if parted is None
        else {
            "node": parted.node,
            "was": parted.was,
            "old": {"go": parted.old.go, "reasons": list(parted.old.reasons)},
            "new": {"go": parted.new.go, "reasons": list(parted.new.reasons)},
        },
    }


def _end_values(end: End) -> dict[str, Any]:
    return {"kind": end.kind, "name": end.name, "node": end.node}
