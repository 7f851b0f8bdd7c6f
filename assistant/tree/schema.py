"""The JSON Schemas of tree files, example calls and answers, and the second look that a check takes by them.

Reader and schema are made from one table. A check lets jsonschema look at what the reader takes, so that an editor
never marks what a check lets pass. It takes long to load, so only checking a file needs it.
"""

from collections.abc import Hashable, Mapping
from functools import cache
from typing import Any, Final, Literal

from assistant.source import nodes as source
from assistant.source.nodes import Node, Scalar, Sequence
from assistant.source.problem import Place, Problem
from assistant.source.schema import Schema, schema_of_file
from assistant.tree import keys

FileSort = Literal["tree", "calls", "answers"]

SCHEMAS: Final[Mapping[str, Schema]] = {
    "tree": schema_of_file(keys.TREE, "A tree"),
    "calls": schema_of_file(keys.CALLS, "Example calls of a tree"),
    "answers": schema_of_file(keys.ANSWERS, "The answers of a call"),
}
"""The schema of each sort of file."""


def look_again(root: Node, sort: FileSort) -> list[Problem]:
    """Return what the schema refuses of a file that the reader takes; both have one source, so it is nothing."""
    problems = []
    for error in _validator(sort).iter_errors(_values(root, sort)):
        place = _place(root, tuple(error.absolute_path))
        message = f"this is taken here, and the schema for editors refuses it: {error.message}"
        problems.append(Problem("shape-schema", place, message, "report this: it is a mistake of the program"))
    return problems


@cache
def _validator(sort: FileSort) -> Any:
    from jsonschema import Draft202012Validator

    return Draft202012Validator(SCHEMAS[sort])


def _values(root: Node, sort: FileSort) -> object:
    """Return plain values as the schema knows them: every scalar a text, except the version of a tree.

    What a schema says of a node follows from its keys and the forms behind them, so of nodes that are alike in that it
    sees the first alone: looking at each of a thousand takes as long as all other rules together.
    """
    if sort != "tree" or not isinstance(root, source.Mapping):
        return _plain(root)
    values: dict[str, object] = {key.text: _plain(value) for key, value in root.entries if key.text != "nodes"}
    values["version"] = int(root.text("version"))
    alike: dict[Hashable, tuple[str, Node]] = {}
    for key, node in root.inside("nodes").entries:
        alike.setdefault(_form(node), (key.text, node))
    return values | {"nodes": {name: _plain(node) for name, node in alike.values()}}


def _form(node: Node) -> Hashable:
    match node:
        case Scalar():
            return bool(node.text.strip())
        case Sequence():
            return tuple(_form(item) for item in node.items)
        case source.Mapping():
            return frozenset((key.text, _form(value)) for key, value in node.entries)


def _plain(node: Node) -> object:
    match node:
        case Scalar():
            return node.text
        case Sequence():
            return [_plain(item) for item in node.items]
        case source.Mapping():
            return {key.text: _plain(value) for key, value in node.entries}


def _place(root: Node, path: tuple[str | int, ...]) -> Place:
    node, place = root, Place(root.mark.path)
    for part in path:
        if isinstance(node, source.Mapping) and isinstance(part, str):
            key, node = node.key(part), node.get(part) or node
            place = node.mark if key is None else key.mark
        elif isinstance(node, Sequence) and isinstance(part, int):
            node = node.items[part]
            place = node.mark
    return place
