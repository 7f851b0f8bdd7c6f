"""From a YAML file to a tree, with a Problem for whatever cannot be built.

A tree comes back even where there are problems, so that checks can find the rest; a call must use it only when
there are none. This module needs no schema: a call has to put its first question up at once.
"""

import re
from pathlib import Path

from assistant.source import nodes as source
from assistant.source.keys import Form
from assistant.source.nodes import Mapping, Scalar, read, read_above, read_string
from assistant.source.problem import Place, Problem
from assistant.source.shape import find_keys, find_mistakes, find_mistakes_under
from assistant.tree import keys
from assistant.tree.condition import read_condition
from assistant.tree.model import (
    Branch,
    CannotTell,
    CauseLeaf,
    Evidence,
    Head,
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

_VERSION = re.compile(r"[1-9][0-9]{0,8}", re.ASCII)
_CHANGE = re.compile(r"change\(\s*([A-Za-z_]\w*)\s*\)", re.ASCII)


def read_tree(path: Path) -> tuple[Tree | None, list[Problem]]:
    """Read a tree file; None when it is no tree at all. Never raises."""
    root, problems = read(path)
    return build_tree(root, str(path), problems)


def read_head(path: Path) -> Head | None:
    """Read only what a choice between trees needs; None where that does not stand above the nodes. Never raises."""
    root = read_above(path, "nodes")
    if root is None:
        return None
    parts = [(key, value) for key, value in root.entries if key.text in ("tree", "title", "complaints")]
    has_name = {"tree", "title"} <= {key.text for key, _ in parts}
    whole = has_name and not any(find_mistakes_under(key, value, _form(key)) for key, value in parts)
    return Head(root.text("tree"), root.text("title"), _texts(root, "complaints")) if whole else None


def _form(key: Scalar) -> Form:
    return keys.TREE.keys[key.text].form


def read_tree_string(text: str, name: str) -> tuple[Tree | None, list[Problem]]:
    """Read a tree from a text; `name` stands for the path. Never raises."""
    root, problems = read_string(text, name)
    return build_tree(root, name, problems)


def build_tree(root: source.Node | None, path: str, problems: list[Problem]) -> tuple[Tree | None, list[Problem]]:
    """Build a tree from nodes; `problems` of reading them are handed on in front of those found here."""
    if root is None:
        return None, problems
    found = [*problems, *find_mistakes(root, keys.TREE)]
    if not isinstance(root, Mapping) or not root.entries:
        return None, found
    place = Place(path)
    name = _named(root, "tree", place)
    version = root.text("version")
    tree = Tree(
        name=name.text,
        version=int(version) if _VERSION.fullmatch(version) else 0,
        title=root.text("title"),
        complaints=_texts(root, "complaints"),
        mode=_named(root, "mode", place) if root.key("mode") is not None else None,
        facts=_names(root, "facts"),
        start=_named(root, "start", place),
        nodes={key.text: _node(key, value, found) for key, value in root.inside("nodes").entries},
        path=path,
        place=name.place,
        notes=_names(root, "note"),
    )
    return tree, found


def _node(key: Scalar, value: source.Node, problems: list[Problem]) -> Node:
    if not isinstance(value, Mapping) or not value.entries:
        # The name stays known, so that what leads to it is not called a mistake as well.
        return UndecidedLeaf(key.text, "", (), (), key.mark)
    match find_keys(value, keys.NODE):
        case keys.USE:
            return _use(key, value)
        case keys.CAUSE_LEAF:
            cause = _named(value, "cause", key.mark)
            say, cautions, notes = _text(value, "say"), _names(value, "caution"), _names(value, "note")
            return CauseLeaf(key.text, cause, _evidence(value), say, cautions, key.mark, notes)
        case keys.NO_FAULT_LEAF:
            said, cautions, notes = value.text("no_fault"), _names(value, "caution"), _names(value, "note")
            return NoFaultLeaf(key.text, said, _evidence(value), cautions, key.mark, notes, _text(value, "title"))
        case keys.UNDECIDED_LEAF:
            said, cautions, notes = value.text("undecided"), _names(value, "caution"), _names(value, "note")
            return UndecidedLeaf(key.text, said, _evidence(value), cautions, key.mark, notes, _text(value, "title"))
        case _:
            return _step(key, value, problems)


def _use(key: Scalar, mapping: Mapping) -> Use:
    return Use(
        name=key.text,
        tree=_named(mapping, "use", key.mark),
        when_no_fault=_way(mapping, "when_no_fault", key.mark),
        when_undecided=_way(mapping, "when_undecided", key.mark),
        say=_text(mapping, "say"),
        cautions=_names(mapping, "caution"),
        place=key.mark,
        notes=_names(mapping, "note"),
        title=_text(mapping, "title"),
    )


def _way(mapping: Mapping, name: str, owner: Place) -> Named | None:
    """Return a way that may be left out; an empty name where something else than a name stands."""
    return None if mapping.key(name) is None else _named(mapping, name, owner)


def _step(key: Scalar, mapping: Mapping, problems: list[Problem]) -> Step:
    branches = _branches(key, mapping, problems)
    return Step(
        name=key.text,
        say=_text(mapping, "say"),
        why=_text(mapping, "why"),
        cautions=_names(mapping, "caution"),
        do=_names(mapping, "do"),
        ask=_names(mapping, "ask"),
        measure_again=_names(mapping, "measure_again"),
        branches=tuple(branch for branch in branches if branch is not None),
        whole=bool(branches) and all(branch is not None and branch.go.text for branch in branches),
        place=key.mark,
        notes=_names(mapping, "note"),
        title=_text(mapping, "title"),
    )


def _branches(key: Scalar, mapping: Mapping, problems: list[Problem]) -> tuple[Branch | None, ...]:
    go = mapping.key("go")
    if mapping.key("decide") is None:
        return () if go is None else (Otherwise(_named(mapping, "go", key.mark), None, go.mark),)
    return tuple(_branch(item, problems) for item in mapping.items("decide"))


def _branch(item: source.Node, problems: list[Problem]) -> Branch | None:
    if not isinstance(item, Mapping):
        return None
    words = [word for word in keys.BRANCH_WORDS if item.key(word) is not None]
    # What a branch with several of them is meant to be is not known.
    if len(words) != 1:
        return None
    first = item.entries[0][0].mark
    say = _text(item, "say")
    match words[0]:
        case "when":
            return _when(item, first, say, problems)
        case "cannot_tell":
            return CannotTell(_named(item, "cannot_tell", first), say, first)
        case _:
            return Otherwise(_named(item, "otherwise", first), say, first)


def _when(item: Mapping, first: Place, say: str | None, problems: list[Problem]) -> When:
    value = item.scalar("when")
    # Of a condition of the wrong form the branch stays, so that its target is not called unreachable.
    condition, found = read_condition(value or Scalar("", first))
    problems.extend(found if value is not None else ())
    return When(condition, _named(item, "go", first), say, first)


def _text(mapping: Mapping, name: str) -> str | None:
    return mapping.text(name) or None


def _texts(mapping: Mapping, name: str) -> tuple[str, ...]:
    return tuple(scalar.text for scalar in mapping.scalars(name))


def _named(mapping: Mapping, name: str, owner: Place) -> Named:
    """Return the name under a key; an empty one, at the owner's place, where there is none."""
    scalar = mapping.scalar(name)
    return Named("", owner) if scalar is None else Named(scalar.text, scalar.mark)


def _names(mapping: Mapping, name: str) -> tuple[Named, ...]:
    return tuple(Named(scalar.text, scalar.mark) for scalar in mapping.scalars(name))


def _evidence(mapping: Mapping) -> tuple[Evidence, ...]:
    """Return the names and `change(NAME)` of `because`."""
    found = []
    for scalar in mapping.scalars("because"):
        changed = _CHANGE.fullmatch(scalar.text.strip())
        found.append(Evidence(changed[1] if changed else scalar.text, changed is not None, scalar.mark))
    return tuple(found)
