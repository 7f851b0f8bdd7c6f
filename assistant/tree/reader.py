"""From a YAML file to a tree, with a Problem for whatever cannot be built.

A tree comes back even where there are problems, so that checks can find the rest; a call must use it only when
there are none. This module needs no schema: a call has to put its first question up at once.
"""

from pathlib import Path

from assistant.source import nodes as source
from assistant.source.nodes import Mapping, Scalar, read, read_above, read_string
from assistant.source.problem import Place, Problem
from assistant.tree import keys
from assistant.tree.condition import read_condition
from assistant.tree.fields import Fields
from assistant.tree.model import (
    Branch,
    CannotTell,
    CauseLeaf,
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
from assistant.tree.wording import (
    NAME,
    WHOLE,
    branch_word,
    not_a_node,
    not_a_node_name,
    not_a_tree,
    not_a_version,
    one_leaf,
    use_alone,
    ways_on,
)


def read_tree(path: Path) -> tuple[Tree | None, list[Problem]]:
    """Read a tree file; None when it is no tree at all. Never raises."""
    root, problems = read(path)
    return build_tree(root, str(path), problems)


def read_head(path: Path) -> Head | None:
    """Read only what a choice between trees needs; None where that does not stand above the nodes. Never raises."""
    root = read_above(path, "nodes")
    if root is None:
        return None
    problems: list[Problem] = []
    fields = Fields(root, Place(str(path)), "a tree", problems)
    name, title, complaints = fields.text("tree"), fields.text("title"), fields.texts("complaints")
    return Head(name, title, complaints) if name and title and complaints and not problems else None


def read_tree_string(text: str, name: str) -> tuple[Tree | None, list[Problem]]:
    """Read a tree from a text; `name` stands for the path. Never raises."""
    root, problems = read_string(text, name)
    return build_tree(root, name, problems)


def build_tree(root: source.Node | None, path: str, problems: list[Problem]) -> tuple[Tree | None, list[Problem]]:
    """Build a tree from nodes; `problems` of reading them are handed on in front of those found here."""
    found = list(problems)
    if root is None:
        return None, found
    if not isinstance(root, Mapping) or not root.entries:
        return None, [*found, not_a_tree(root)]
    place = Place(path)
    fields = Fields(root, place, "a tree", found)
    fields.only(keys.TREE, keys.TREE_REQUIRED)
    nodes = fields.mapping_of("nodes")
    name = fields.named("tree")
    tree = Tree(
        name=name.text,
        version=_version(fields),
        title=fields.text("title") or "",
        complaints=fields.texts("complaints"),
        mode=fields.named("mode") if fields.mapping.get("mode") is not None else None,
        facts=fields.names("facts"),
        start=fields.named("start"),
        nodes={} if nodes is None else _nodes(nodes, found),
        path=path,
        place=name.place,
        notes=fields.names("note"),
    )
    return tree, found


def _version(fields: Fields) -> int:
    scalar = fields.scalar("version")
    if scalar is None:
        return 0
    if WHOLE.fullmatch(scalar.text):
        return int(scalar.text)
    fields.problems.append(not_a_version(scalar))
    return 0


def _nodes(mapping: Mapping, problems: list[Problem]) -> dict[str, Node]:
    built: dict[str, Node] = {}
    for key, value in mapping.entries:
        if NAME.fullmatch(key.text) is None:
            problems.append(not_a_node_name(key))
        if isinstance(value, Mapping) and value.entries:
            built[key.text] = _node(key, value, problems)
        else:
            problems.append(not_a_node(key, value))
            # The name stays known, so that what leads to it is not called a mistake as well.
            built[key.text] = UndecidedLeaf(key.text, "", (), (), key.mark)
    return built


def _node(key: Scalar, mapping: Mapping, problems: list[Problem]) -> Node:
    if mapping.key("use") is not None:
        mapping, mistakes = use_alone(mapping)
        problems.extend(mistakes)
        return _use(key, Fields(mapping, key.mark, 'a node with "use"', problems))
    word, mapping, mistakes = one_leaf(key, mapping)
    problems.extend(mistakes)
    fields = Fields(mapping, key.mark, "a step" if word is None else f'a node with "{word}"', problems)
    match word:
        case "cause":
            return _cause(key, fields)
        case "no_fault":
            return _no_fault(key, fields)
        case "undecided":
            return _undecided(key, fields)
        case _:
            return _step(key, fields)


def _use(key: Scalar, fields: Fields) -> Use:
    fields.only(keys.USE)
    return Use(
        name=key.text,
        tree=fields.named("use"),
        when_no_fault=_way(fields, "when_no_fault"),
        when_undecided=_way(fields, "when_undecided"),
        say=fields.text("say"),
        cautions=fields.names("caution"),
        place=key.mark,
        notes=fields.names("note"),
    )


def _way(fields: Fields, name: str) -> Named | None:
    """A way that may be left out; an empty name where something else than a name stands."""
    return None if fields.mapping.key(name) is None else fields.named(name)


def _cause(key: Scalar, fields: Fields) -> CauseLeaf:
    fields.only(keys.CAUSE_LEAF)
    cautions = fields.names("caution")
    cause = fields.named("cause")
    return CauseLeaf(key.text, cause, fields.evidence(), fields.text("say"), cautions, key.mark, fields.names("note"))


def _no_fault(key: Scalar, fields: Fields) -> NoFaultLeaf:
    fields.only(keys.NO_FAULT_LEAF)
    text = fields.text("no_fault") or ""
    cautions = fields.names("caution")
    return NoFaultLeaf(key.text, text, fields.evidence(), cautions, key.mark, fields.names("note"))


def _undecided(key: Scalar, fields: Fields) -> UndecidedLeaf:
    fields.only(keys.UNDECIDED_LEAF)
    text = fields.text("undecided") or ""
    cautions = fields.names("caution")
    return UndecidedLeaf(key.text, text, fields.evidence(), cautions, key.mark, fields.names("note"))


def _step(key: Scalar, fields: Fields) -> Step:
    fields.only(keys.STEP)
    branches = _branches(key, fields)
    return Step(
        name=key.text,
        say=fields.text("say"),
        why=fields.text("why"),
        cautions=fields.names("caution"),
        do=fields.text("do"),
        ask=fields.names("ask"),
        measure_again=fields.names("measure_again"),
        branches=tuple(branch for branch in branches if branch is not None),
        whole=bool(branches) and all(branch is not None and branch.go.text for branch in branches),
        place=key.mark,
        notes=fields.names("note"),
    )


def _branches(key: Scalar, fields: Fields) -> tuple[Branch | None, ...]:
    fields.problems.extend(ways_on(key, fields.mapping))
    key_of_go = fields.mapping.key("go")
    # Read even where "decide" makes it one too many, so that what is wrong with it comes out at once.
    go = None if key_of_go is None else Otherwise(fields.named("go"), None, key_of_go.mark)
    if fields.mapping.key("decide") is None:
        return () if go is None else (go,)
    return tuple(_branch(item, fields.problems) for item in fields.items("decide"))


def _branch(item: source.Node, problems: list[Problem]) -> Branch | None:
    word = branch_word(item)
    if isinstance(word, Problem):
        problems.append(word)
        return None
    assert isinstance(item, Mapping)
    first = item.entries[0][0].mark
    fields = Fields(item, first, f'a branch with "{word}"', problems)
    match word:
        case "when":
            return _when(fields)
        case "cannot_tell":
            fields.only(keys.CANNOT_TELL)
            return CannotTell(fields.named(word), fields.text("say"), first)
        case _:
            fields.only(keys.OTHERWISE)
            return Otherwise(fields.named(word), fields.text("say"), first)


def _when(fields: Fields) -> When:
    fields.only(keys.WHEN, ("when", "go"))
    value = fields.scalar("when")
    # A condition of the wrong form was reported above; the branch stays, so that its target is not called unreachable.
    scalar = Scalar("", fields.owner) if value is None else value
    condition, problems = read_condition(scalar)
    if value is not None:
        fields.problems.extend(problems)
    return When(condition, fields.named("go"), fields.text("say"), fields.owner)
