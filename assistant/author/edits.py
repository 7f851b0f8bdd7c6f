"""What an author changed between two states of a tree or a catalogue: nodes, heads, limits, other entries."""

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, fields
from pathlib import Path
from typing import Literal

from assistant.author.source_lines import SourceLines
from assistant.author.words_changed import likeness, lines_changed
from assistant.catalogue.catalogue import Catalogue
from assistant.catalogue.entries import Entry, Limit
from assistant.source.problem import Place
from assistant.tree.linking import SEPARATOR
from assistant.tree.model import Step, Tree, When

# A node that went and one that came are one node with another name when so much of their words is the same.
_SAME_NODE = 0.75
# Beyond so many that went and came, a tree was written anew, and looking for pairs tells nothing.
_MOST_PAIRS = 400

_LIMIT = re.compile(r"\blimits\s*\.\s*(\w+)")
_SORTS = ("fact", "reading", "observation", "number", "limit", "caution", "cause")


@dataclass(frozen=True, slots=True)
class NodeEdit:
    """A node that differs; `was` is its old name where it has another one, `diff` the lines that differ."""

    what: Literal["added", "removed", "renamed", "changed"]
    name: str
    place: Place
    was: str | None = None
    diff: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class EntryEdit:
    """A catalogue entry that differs: `how` in words."""

    what: Literal["added", "removed", "changed"]
    sort: str
    name: str
    how: str = ""


@dataclass(frozen=True, slots=True)
class TreeEdits:
    """What differs between two states of a tree; `renamed` leads from old names of its own nodes to new ones."""

    head: tuple[str, ...]
    nodes: tuple[NodeEdit, ...]
    renamed: Mapping[str, str]


def tree_edits(
    old: Tree, new: Tree, old_lines: SourceLines | None = None, new_lines: SourceLines | None = None
) -> TreeEdits:
    """Compare two states of a tree, in the lines of its own file; used trees are compared by themselves."""
    before = _own_nodes(old, old_lines or SourceLines())
    after = _own_nodes(new, new_lines or SourceLines())
    gone = {name: text for name, text in before.items() if name not in after}
    come = {name: text for name, text in after.items() if name not in before}
    renamed = dict(_match_renamed(gone, come))
    was = {now: then for then, now in renamed.items()}
    edits: list[NodeEdit] = []
    for name, text in after.items():
        place = new.nodes[name].place
        then = was.get(name, name)
        if then not in before:
            edits.append(NodeEdit("added", name, place))
            continue
        diff = _dedent(tuple(lines_changed(_with_names(before[then], renamed), text)))
        if name in was:
            edits.append(NodeEdit("renamed", name, place, then, diff))
        elif diff:
            edits.append(NodeEdit("changed", name, place, None, diff))
    edits.extend(NodeEdit("removed", name, old.nodes[name].place) for name in gone if name not in renamed)
    return TreeEdits(tuple(_head(old, new, renamed)), tuple(edits), renamed)


def _own_nodes(tree: Tree, lines: SourceLines) -> dict[str, tuple[str, ...]]:
    return {name: lines.of(node.place) for name, node in tree.nodes.items() if node.place.path == tree.path}


def new_names(tree: Tree, renamed: Mapping[str, Mapping[str, str]]) -> dict[str, str]:
    """The new name of every node of an old tree that has another one; `renamed` are the own new names of each tree.

    A node of a used tree is called by the node that uses it and by its own name, and both may be new.
    """
    names: dict[str, str] = {}
    nothing: Mapping[str, str] = {}
    for name, node in tree.nodes.items():
        first, *between = name.split(SEPARATOR)
        now = [renamed.get(tree.name, nothing).get(first, first), *between]
        if between:
            now[-1] = renamed.get(Path(node.place.path).stem, nothing).get(now[-1], now[-1])
        if SEPARATOR.join(now) != name:
            names[name] = SEPARATOR.join(now)
    return names


def _match_renamed(
    gone: Mapping[str, tuple[str, ...]], come: Mapping[str, tuple[str, ...]]
) -> Iterator[tuple[str, str]]:
    """Pairs of an old and a new name for what is one node, the likest first."""
    if not gone or not come or len(gone) * len(come) > _MOST_PAIRS:
        return
    likest = [
        (likeness(_body(before), _body(after)), then, now)
        for then, before in gone.items()
        for now, after in come.items()
    ]
    taken: set[str] = set()
    for like, then, now in sorted(likest, key=lambda pair: -pair[0]):
        if like >= _SAME_NODE and not {f"old {then}", f"new {now}"} & taken:
            taken |= {f"old {then}", f"new {now}"}
            yield then, now


def _dedent(diff: tuple[str, ...]) -> tuple[str, ...]:
    """Changed lines without the indent that all whole ones share."""
    whole = [line[2:] for line in diff if not line.startswith("~")]
    spare = min((len(line) - len(line.lstrip(" ")) for line in whole), default=0)
    return tuple(line if line.startswith("~") else line[:2] + line[2 + spare :] for line in diff)


def _body(lines: tuple[str, ...]) -> tuple[str, ...]:
    """Return a node's lines without its name."""
    return (lines[0].partition(":")[2], *lines[1:]) if lines else ()


def _with_names(lines: tuple[str, ...], renamed: Mapping[str, str]) -> tuple[str, ...]:
    """Lines as they would read with the new names: what only follows a new name has not changed."""
    if not renamed:
        return lines
    old = re.compile(rf"\b({'|'.join(map(re.escape, renamed))})\b")
    return tuple(old.sub(lambda found: renamed[found[0]], line) for line in lines)


def _head(old: Tree, new: Tree, renamed: Mapping[str, str]) -> Iterator[str]:
    pairs = (
        ("version", str(old.version), str(new.version)),
        ("title", old.title, new.title),
        ("complaints", "; ".join(old.complaints), "; ".join(new.complaints)),
        ("facts", ", ".join(map(str, old.facts)), ", ".join(map(str, new.facts))),
        ("start", renamed.get(old.start.text, old.start.text), new.start.text),
    )
    for key, before, after in pairs:
        if before != after:
            yield f"{key}: {before} -> {after}"


def limits_of(tree: Tree) -> frozenset[str]:
    """Return the limits that the decisions of a tree name."""
    conditions = (
        branch.condition.text
        for node in tree.nodes.values()
        if isinstance(node, Step)
        for branch in node.branches
        if isinstance(branch, When)
    )
    return frozenset(name for text in conditions for name in _LIMIT.findall(text))


def catalogue_edits(old: Catalogue, new: Catalogue) -> Iterator[EntryEdit]:
    """Compare two catalogues entry by entry, and the order in which each sort of entry stands."""
    for sort in _SORTS:
        before, after = _entries(old, sort), _entries(new, sort)
        for name in (*before, *(name for name in after if name not in before)):
            then, now = before.get(name), after.get(name)
            if then is None or now is None:
                yield EntryEdit("added" if then is None else "removed", sort, name)
            elif how := ", ".join(_differences(then, now)):
                yield EntryEdit("changed", sort, name, how)
        # Where several things are lacking, the order of the files says which is asked first.
        if [name for name in before if name in after] != [name for name in after if name in before]:
            yield EntryEdit("changed", sort, "*", "the order in which they stand")


def _entries(catalogue: Catalogue, sort: str) -> Mapping[str, Entry]:
    entries: Mapping[str, Mapping[str, Entry]] = {
        "fact": catalogue.facts,
        "reading": catalogue.readings,
        "observation": catalogue.observations,
        "number": catalogue.numbers,
        "limit": catalogue.limits,
        "caution": catalogue.cautions,
        "cause": catalogue.causes,
    }
    return entries[sort]


def _differences(old: Entry, new: Entry) -> Iterable[str]:
    if isinstance(old, Limit) and isinstance(new, Limit) and old.quantity.text() != new.quantity.text():
        yield f"{old.quantity.text()} -> {new.quantity.text()}"
    differing = [
        item.name
        for item in fields(old)
        if item.name not in ("place", "quantity") and getattr(old, item.name) != getattr(new, item.name, None)
    ]
    if differing:
        yield f"{' and '.join(differing)} changed" if isinstance(old, Limit) else " and ".join(differing)
