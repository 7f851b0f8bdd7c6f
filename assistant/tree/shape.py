"""The shape pass: a file against its JSON Schema, every error at its place and in words that say what to type.

jsonschema takes longer to load than the rest of the tree floor together, so only checking a file needs this module.
"""

from collections.abc import Iterator
from functools import lru_cache
from typing import Any, Literal

from assistant.source.nodes import Mapping, Node, Scalar, Sequence
from assistant.source.problem import Place, Problem
from assistant.tree import keys
from assistant.tree.schema import answers_schema, calls_schema, tree_schema
from assistant.tree.wording import (
    NAME,
    branch_word,
    key_mistakes,
    not_a_call,
    not_a_calls_file,
    not_a_node,
    not_a_node_name,
    not_a_tree,
    not_a_version,
    not_by_name,
    one_leaf,
    use_alone,
    ways_on,
    wrong_item,
    wrong_value,
)

FileSort = Literal["tree", "calls", "answers"]
_SCHEMAS = {"tree": tree_schema, "calls": calls_schema, "answers": answers_schema}
_LEAF_KEYS = {"cause": keys.CAUSE_LEAF, "no_fault": keys.NO_FAULT_LEAF, "undecided": keys.UNDECIDED_LEAF}
_BRANCH_KEYS = {
    "when": (keys.WHEN, ("when", "go")),
    "cannot_tell": (keys.CANNOT_TELL, ()),
    "otherwise": (keys.OTHERWISE, ()),
}

Path = tuple[str | int, ...]


def check_shape(root: Node, sort: FileSort) -> list[Problem]:
    """Give every mistake of shape in a file, each once."""
    found: dict[Problem, None] = {}
    for error in _validator(sort).iter_errors(_as_values(root, sort)):
        for problem in _reworded(root, tuple(error.absolute_path), str(error.validator), sort):
            found[problem] = None
    return list(found)


@lru_cache(maxsize=3)
def _validator(sort: FileSort) -> Any:
    from jsonschema import Draft202012Validator

    return Draft202012Validator(_SCHEMAS[sort]())


def _as_values(node: Node, sort: FileSort) -> object:
    """Give plain values as the schema knows them: every scalar a text, except the version of a tree."""
    values = _plain(node)
    if sort == "tree" and isinstance(values, dict) and isinstance(node, Mapping):
        version = node.get("version")
        if isinstance(version, Scalar) and version.text.isascii() and version.text.isdigit():
            # Text with a leading zero, or too long to be a version, is not what a person would call a whole number.
            values["version"] = int(version.text) if len(version.text) < 10 and version.text[0] != "0" else 0
    return values


def _plain(node: Node) -> object:
    match node:
        case Scalar():
            return node.text
        case Sequence():
            return [_plain(item) for item in node.items]
        case Mapping():
            return {key.text: _plain(value) for key, value in node.entries}


def _reworded(root: Node, path: Path, validator: str, sort: FileSort) -> Iterator[Problem]:
    node, key = _at(root, path)
    if not path:
        yield from _of_file(root, sort)
    elif sort == "tree":
        yield from _of_tree(root, path, validator)
    elif path[0] == "calls" and len(path) == 2:
        yield from _of_call(node)
    else:
        last = path[-1]
        if key is not None and last in ("facts", "answers") and len(path) != 4:
            yield not_by_name(str(last), node, key.mark)
        else:
            yield _of_value(node, key, path)


def _of_file(root: Node, sort: FileSort) -> Iterator[Problem]:
    if not isinstance(root, Mapping) or not root.entries:
        yield not_a_tree(root) if sort == "tree" else not_a_calls_file(root)
        return
    place = Place(root.mark.path)
    match sort:
        case "tree":
            yield from key_mistakes(root, place, "a tree", keys.TREE, keys.TREE_REQUIRED)
        case "calls":
            yield from key_mistakes(root, place, "a file of example calls", keys.CALLS, keys.CALLS)
        case "answers":
            yield from key_mistakes(root, place, "a file of answers", keys.ANSWERS)


def _of_tree(root: Node, path: Path, validator: str) -> Iterator[Problem]:
    node, key = _at(root, path)
    in_nodes = path[0] == "nodes"
    if path == ("version",) and isinstance(node, Scalar) and node.text.strip():
        yield not_a_version(node)
    elif path == ("nodes",) and validator == "pattern" and isinstance(node, Mapping):
        yield from (not_a_node_name(name) for name, _ in node.entries if NAME.fullmatch(name.text) is None)
    elif in_nodes and len(path) == 2 and key is not None:
        yield from _of_node(node, key)
    elif in_nodes and len(path) == 4 and path[2] == "decide":
        yield from _of_branch(node)
    elif (
        in_nodes and len(path) > 4 and path[2] == "decide" and isinstance(branch_word(_at(root, path[:4])[0]), Problem)
    ):
        # What such a branch is meant to be is not known, so its values cannot be judged.
        return
    else:
        yield _of_value(node, key, path)


def _of_node(node: Node, key: Scalar) -> Iterator[Problem]:
    if not isinstance(node, Mapping) or not node.entries:
        yield not_a_node(key, node)
        return
    if node.key("use") is not None:
        mapping, mistakes = use_alone(node)
        yield from mistakes
        yield from key_mistakes(mapping, key.mark, 'a node with "use"', keys.USE)
        return
    word, mapping, mistakes = one_leaf(key, node)
    yield from mistakes
    if word is None:
        yield from key_mistakes(mapping, key.mark, "a step", keys.STEP)
        yield from ways_on(key, mapping)
    else:
        yield from key_mistakes(mapping, key.mark, f'a node with "{word}"', _LEAF_KEYS[word])


def _of_branch(item: Node) -> Iterator[Problem]:
    word = branch_word(item)
    if isinstance(word, Problem):
        yield word
        return
    assert isinstance(item, Mapping)
    allowed, required = _BRANCH_KEYS[word]
    yield from key_mistakes(item, item.entries[0][0].mark, f'a branch with "{word}"', allowed, required)


def _of_call(item: Node) -> Iterator[Problem]:
    if not isinstance(item, Mapping) or not item.entries:
        yield not_a_call(item)
        return
    yield from key_mistakes(item, item.entries[0][0].mark, "an example call", keys.CALL, keys.CALL_REQUIRED)


def _of_value(node: Node, key: Scalar | None, path: Path) -> Problem:
    name = next((str(part) for part in reversed(path) if isinstance(part, str)), "")
    if key is None:
        return wrong_item(name, node)
    return wrong_value(name, node, key.mark)


def _at(root: Node, path: Path) -> tuple[Node, Scalar | None]:
    """Give the node at a path and, where the path ends in a key, that key."""
    node, key = root, None
    for part in path:
        key = None
        if isinstance(node, Mapping) and isinstance(part, str):
            key, node = node.key(part), node.get(part) or node
        elif isinstance(node, Sequence) and isinstance(part, int):
            node = node.items[part]
    return node, key
