"""From a YAML file to a tree, with a Problem for whatever cannot be built.

A tree comes back even where there are problems, so that checks can find the rest; a call must use it only when
there are none. This module needs no schema: a call has to put its first question up at once.
"""

from pathlib import Path

from assistant.source import nodes as source
from assistant.source.nodes import Mapping, Scalar, read, read_string
from assistant.source.problem import Place, Problem
from assistant.tree import keys
from assistant.tree.condition import read_condition
from assistant.tree.fields import NAME, Fields, form_of
from assistant.tree.model import (
    Branch,
    CannotTell,
    CauseLeaf,
    Node,
    NoFaultLeaf,
    Otherwise,
    Step,
    Tree,
    UndecidedLeaf,
    When,
)

_MANY_WAYS = 'a step goes on with either "decide" or "go", not both'


def read_tree(path: Path) -> tuple[Tree | None, list[Problem]]:
    """Read a tree file; None when it is no tree at all. Never raises."""
    root, problems = read(path)
    return build_tree(root, str(path), problems)


def read_tree_string(text: str, name: str) -> tuple[Tree | None, list[Problem]]:
    """Read a tree from a text; `name` stands for the path. Never raises."""
    root, problems = read_string(text, name)
    return build_tree(root, name, problems)


def build_tree(root: source.Node | None, path: str, problems: list[Problem]) -> tuple[Tree | None, list[Problem]]:
    """Build a tree from nodes; `problems` of reading them are handed on in front of those found here."""
    found = list(problems)
    if root is None:
        return None, found
    if not isinstance(root, Mapping):
        message = f"a tree file holds keys and values, and this is {form_of(root)}"
        return None, [*found, Problem("shape-form", root.mark, message, "write: tree: poor_cooling")]
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
        facts=fields.names("facts"),
        start=fields.named("start"),
        nodes={} if nodes is None else _nodes(nodes, found),
        path=path,
        place=name.place,
    )
    return tree, found


def _version(fields: Fields) -> int:
    scalar = fields.scalar("version")
    if scalar is None:
        return 0
    if scalar.text.isascii() and scalar.text.isdigit() and len(scalar.text) < 10 and not scalar.text.startswith("0"):
        return int(scalar.text)
    message = "the version is a whole number from 1 up"
    fields.problems.append(Problem("shape-version", scalar.mark, message, "write: version: 1"))
    return 0


def _nodes(mapping: Mapping, problems: list[Problem]) -> dict[str, Node]:
    built: dict[str, Node] = {}
    for key, value in mapping.entries:
        if NAME.fullmatch(key.text) is None:
            message = "a node's name is made of small letters, digits and _"
            problems.append(Problem("shape-name", key.mark, message, "write, for example: check_airflow"))
        if isinstance(value, Mapping):
            built[key.text] = _node(key, value, problems)
        else:
            message = f"a node holds keys and values, and this is {form_of(value)}"
            problems.append(
                Problem("shape-form", key.mark, message, 'write keys such as "say", "decide" or "cause" below it')
            )
    return built


def _node(key: Scalar, mapping: Mapping, problems: list[Problem]) -> Node:
    present = [word for word in keys.LEAF_WORDS if mapping.key(word) is not None]
    if len(present) > 1:
        second = mapping.key(present[1])
        place = key.mark if second is None else second.mark
        message = f'a node ends in one way: it has both "{present[0]}" and "{present[1]}"'
        problems.append(Problem("shape-leaf", place, message, "make a node of its own for one of them"))
        mapping = Mapping(tuple(e for e in mapping.entries if e[0].text not in present[1:]), mapping.mark)
    match present[:1]:
        case ["cause"]:
            return _cause(key, Fields(mapping, key.mark, 'a node with "cause"', problems))
        case ["no_fault"]:
            return _no_fault(key, Fields(mapping, key.mark, 'a node with "no_fault"', problems))
        case ["undecided"]:
            return _undecided(key, Fields(mapping, key.mark, 'a node with "undecided"', problems))
        case _:
            return _step(key, Fields(mapping, key.mark, "a step", problems))


def _cause(key: Scalar, fields: Fields) -> CauseLeaf:
    fields.only(keys.CAUSE_LEAF)
    cautions = fields.names("caution")
    return CauseLeaf(key.text, fields.named("cause"), fields.evidence(), fields.text("say"), cautions, key.mark)


def _no_fault(key: Scalar, fields: Fields) -> NoFaultLeaf:
    fields.only(keys.NO_FAULT_LEAF)
    text = fields.text("no_fault") or ""
    return NoFaultLeaf(key.text, text, fields.evidence(), fields.names("caution"), key.mark)


def _undecided(key: Scalar, fields: Fields) -> UndecidedLeaf:
    fields.only(keys.UNDECIDED_LEAF)
    text = fields.text("undecided") or ""
    return UndecidedLeaf(key.text, text, fields.evidence(), fields.names("caution"), key.mark)


def _step(key: Scalar, fields: Fields) -> Step:
    fields.only(keys.STEP)
    return Step(
        name=key.text,
        say=fields.text("say"),
        why=fields.text("why"),
        cautions=fields.names("caution"),
        do=fields.text("do"),
        ask=fields.names("ask"),
        measure_again=fields.names("measure_again"),
        branches=_branches(key, fields),
        place=key.mark,
    )


def _branches(key: Scalar, fields: Fields) -> tuple[Branch, ...]:
    go = fields.mapping.key("go")
    if fields.mapping.key("decide") is None:
        # A key that is unknown was probably meant as the way on, and has been reported.
        if go is None and all(key.text in keys.STEP for key, _ in fields.mapping.entries):
            message = "this step has no way on, and it is no leaf either"
            hint = 'write "decide:" or "go: NODE"; at an end, "cause:", "no_fault:" or "undecided:"'
            fields.problems.append(Problem("shape-no-way-on", key.mark, message, hint))
        if go is None:
            return ()
        return (Otherwise(fields.named("go"), None, go.mark),)
    if go is not None:
        fields.problems.append(
            Problem("shape-two-ways", go.mark, _MANY_WAYS, 'move it into "decide" as: - otherwise: NODE')
        )
    found = (_branch(item, fields.problems) for item in fields.items("decide"))
    return tuple(branch for branch in found if branch is not None)


def _branch(item: source.Node, problems: list[Problem]) -> Branch | None:
    hint = "write: - when: superheat > 12 F, with go: NODE on the next line"
    if not isinstance(item, Mapping) or not item.entries:
        message = f"a branch holds keys and values, and this is {form_of(item)}"
        problems.append(Problem("shape-form", item.mark, message, hint))
        return None
    present = [word for word in keys.BRANCH_WORDS if item.key(word) is not None]
    first = item.entries[0][0].mark
    if len(present) != 1:
        said = " and ".join(f'"{word}"' for word in present)
        message = (
            f"a branch has only one of these: {said}"
            if present
            else 'a branch begins with "when", "cannot_tell" or "otherwise"'
        )
        problems.append(
            Problem("shape-branch", first, message, 'begin each branch with its own "- "' if present else hint)
        )
        return None
    match present[0]:
        case "when":
            return _when(Fields(item, first, 'a branch with "when"', problems))
        case "cannot_tell":
            fields = Fields(item, first, 'a branch with "cannot_tell"', problems)
            fields.only(keys.CANNOT_TELL)
            return CannotTell(fields.named("cannot_tell"), fields.text("say"), first)
        case _:
            fields = Fields(item, first, 'a branch with "otherwise"', problems)
            fields.only(keys.OTHERWISE)
            return Otherwise(fields.named("otherwise"), fields.text("say"), first)


def _when(fields: Fields) -> When:
    fields.only(keys.WHEN, ("when", "go"))
    value = fields.scalar("when")
    # A condition of the wrong form was reported above; the branch stays, so that its target is not called unreachable.
    scalar = Scalar("", fields.owner) if value is None else value
    condition, problems = read_condition(scalar)
    if value is not None:
        fields.problems.extend(problems)
    return When(condition, fields.named("go"), fields.text("say"), fields.owner)
