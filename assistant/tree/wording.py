"""The mistakes of shape, in words that say what to type; the reader and the schema pass use the same ones.

Two passes that find the same mistake give equal problems, so that it is reported once.
"""

import re
from collections.abc import Iterator

from assistant.source.nearest import nearest
from assistant.source.nodes import Mapping, Node, Scalar, Sequence
from assistant.source.problem import Place, Problem, shortened
from assistant.tree.keys import BRANCH_WORDS, LEAF_WORDS, STEP, USE

NAME = re.compile(r"[a-z][a-z0-9_]*", re.ASCII)
WHOLE = re.compile(r"[1-9][0-9]{0,8}", re.ASCII)

EXAMPLES = {
    "tree": "tree: poor_cooling",
    "version": "version: 1",
    "title": "title: Runs, but cools poorly",
    "complaints": "complaints: [not cooling enough, runs all day]",
    "mode": "mode: heating",
    "facts": "facts: [refrigerant, metering_device]",
    "start": "start: NODE",
    "nodes": "nodes:, and below it each node by its name",
    "say": "say: text",
    "why": "why: text",
    "caution": "caution: [moving_parts]",
    "do": "do: text",
    "ask": "ask: suction_pressure",
    "measure_again": "measure_again: suction_pressure",
    "decide": "decide:, and below it - when: superheat > 12 F",
    "go": "go: NODE",
    "use": "use: TREE",
    "when_no_fault": "when_no_fault: NODE",
    "when_undecided": "when_undecided: NODE",
    "cause": "cause: name",
    "because": "because: [superheat, change(suction_pressure)]",
    "no_fault": "no_fault: text",
    "undecided": "undecided: text",
    "when": "when: superheat > 12 F",
    "cannot_tell": "cannot_tell: NODE",
    "otherwise": "otherwise: NODE",
    "note": "note: text",
    "calls": "calls:, and below it - name: text",
    "name": "name: text",
    "answers": "answers: {suction_pressure: 118 psig}",
    "reaches": "reaches: no_fault",
    "like": "like: the name of an earlier call",
    "at": "at: NODE",
}


def is_text(node: Node) -> bool:
    """Tell whether a node is a single value that says something."""
    return isinstance(node, Scalar) and bool(node.text.strip())


def form_of(node: Node) -> str:
    """Say what form a value has."""
    match node:
        case Scalar():
            return "text" if node.text.strip() else "nothing"
        case Sequence():
            return "a list" if node.items else "an empty list"
        case Mapping():
            return "keys and values" if node.entries else "an empty { }"


def key_mistakes(
    mapping: Mapping, owner: Place, what: str, allowed: tuple[str, ...], required: tuple[str, ...] = ()
) -> Iterator[Problem]:
    """Give a problem for every unknown and every missing key; a misspelt key is not also missing."""
    meant: set[str] = set()
    for key, _ in mapping.entries:
        if key.text in allowed:
            continue
        if allowed == STEP and key.text in USE:
            message = f'"{key.text}" tells where another tree leads back to, and no tree is used here'
            yield Problem("shape-unknown-key", key.mark, message, f"write: {EXAMPLES['use']}")
            continue
        near = nearest(key.text, [*allowed, *((*LEAF_WORDS, "use") if allowed == STEP else ())], 1)
        meant.update(near)
        message = f'"{shortened(key.text, 40)}" is no key of {what}; the keys are {", ".join(allowed)}'
        yield Problem("shape-unknown-key", key.mark, message, f"write: {near[0]}" if near else None)
    for name in required:
        if mapping.key(name) is None and name not in meant:
            yield Problem("shape-missing-key", owner, f'"{name}" is missing from {what}', f"write: {EXAMPLES[name]}")


def wrong_value(name: str, value: Node, key_place: Place) -> Problem:
    """Give the problem of a value that is of another form than its key needs."""
    form = form_of(value)
    if form == "nothing":
        message = f'nothing stands behind "{name}:"'
        return Problem("shape-empty", key_place, message, f"write: {EXAMPLES.get(name, name + ': text')}")
    message = f'{form} cannot stand behind "{name}:"'
    return Problem("shape-form", value.mark, message, f"write: {EXAMPLES.get(name, name + ': text')}")


def wrong_item(name: str, item: Node) -> Problem:
    """Give the problem of a list item that is not a text."""
    form = form_of(item)
    message = f'an item of "{name}" is empty' if form == "nothing" else f'{form} cannot be an item of "{name}"'
    return Problem("shape-form", item.mark, message, f"write: {EXAMPLES.get(name, name)}")


def not_a_tree(root: Node) -> Problem:
    """A file that holds no keys at all."""
    message = f"a tree file holds keys and values, and this is {form_of(root)}"
    return Problem("shape-form", root.mark, message, "write: tree: poor_cooling")


def not_a_calls_file(root: Node) -> Problem:
    """A file of example calls that holds no keys at all."""
    message = f"a file of example calls holds keys and values, and this is {form_of(root)}"
    return Problem("shape-form", root.mark, message, f"write: {EXAMPLES['calls']}")


def not_a_call(item: Node) -> Problem:
    """An example call that holds no keys."""
    message = f"an example call holds keys and values, and this is {form_of(item)}"
    return Problem("shape-form", item.mark, message, "write: - name: text, with answers: and reaches: below it")


def not_an_earlier_call(like: Scalar, earlier: list[str]) -> Problem:
    """A call that shall be like one which does not stand in front of it."""
    near = nearest(like.text.strip(), earlier, 1)
    message = f'no call in front of this one is called "{shortened(like.text.strip(), 40)}"'
    return Problem("call-like", like.mark, message, f"write: {near[0]}" if near else None)


def not_by_name(part: str, value: Node, key_place: Place) -> Problem:
    """The facts or answers of a call in another form than name and value."""
    hint = "write: facts: {refrigerant: R-410A}" if part == "facts" else f"write: {EXAMPLES['answers']}"
    if form_of(value) == "nothing":
        return Problem("shape-empty", key_place, f'nothing stands behind "{part}:"', hint)
    return Problem("shape-form", value.mark, f'{form_of(value)} cannot stand behind "{part}:"', hint)


def not_a_version(scalar: Node) -> Problem:
    """A version that is no whole number."""
    return Problem("shape-version", scalar.mark, "the version is a whole number from 1 up", "write: version: 1")


def not_a_node_name(key: Scalar) -> Problem:
    """A node whose name cannot be one."""
    message = "a node's name is made of small letters, digits and _, and begins with a letter"
    return Problem("shape-name", key.mark, message, "write, for example: check_airflow")


def not_a_node(key: Scalar, value: Node) -> Problem:
    """A node that holds no keys."""
    message = f"a node holds keys and values, and this is {form_of(value)}"
    return Problem("shape-form", key.mark, message, 'write keys such as "say", "decide" or "cause" below it')


def one_leaf(key: Scalar, mapping: Mapping) -> tuple[str | None, Mapping, list[Problem]]:
    """Give the word that makes a node a leaf, the node without further such words, and a problem if there are any."""
    present = [word for word in LEAF_WORDS if mapping.key(word) is not None]
    if len(present) < 2:
        return (present[0] if present else None), mapping, []
    second = mapping.key(present[1])
    message = f'a node ends in one way; this one has both "{present[0]}" and "{present[1]}"'
    place = key.mark if second is None else second.mark
    problem = Problem("shape-leaf", place, message, "make a node of its own for one of them")
    entries = tuple(entry for entry in mapping.entries if entry[0].text not in present[1:])
    return present[0], Mapping(entries, mapping.mark), [problem]


def use_alone(mapping: Mapping) -> tuple[Mapping, list[Problem]]:
    """Give a node that uses a tree without what a step or a leaf has beyond it, and a problem for each such key."""
    others = {*STEP, *LEAF_WORDS, "because"} - set(USE)
    problems = []
    for key, _ in mapping.entries:
        if key.text in others:
            message = f'this node hands over to another tree, so "{key.text}" cannot stand here'
            hint = "give it a node of its own, before this one or behind it"
            problems.append(Problem("shape-use", key.mark, message, hint))
    entries = tuple(entry for entry in mapping.entries if entry[0].text not in others)
    return Mapping(entries, mapping.mark), problems


def ways_on(key: Scalar, mapping: Mapping) -> list[Problem]:
    """Give the problem of a step with both ways on, or none."""
    go, decide = mapping.key("go"), mapping.key("decide")
    if go is not None and decide is not None:
        message = 'a step goes on with either "decide" or "go", not both'
        return [Problem("shape-two-ways", go.mark, message, 'move it into "decide" as: - otherwise: NODE')]
    # A key that is unknown was probably meant as the way on, and is reported.
    if go is not None or decide is not None or any(name.text not in STEP for name, _ in mapping.entries):
        return []
    message = "this step has no way on, and it is no leaf either"
    hint = 'write "decide:", "go: NODE" or "use: TREE"; at an end, "cause:", "no_fault:" or "undecided:"'
    return [Problem("shape-no-way-on", key.mark, message, hint)]


_OTHER_WORDS = {"if": "when", "else": "otherwise", "default": "otherwise", "unknown": "cannot_tell"}
"""What those write who know branches from elsewhere."""


def branch_word(item: Node) -> str | Problem:
    """Give the word that a branch begins with, or what is wrong with the branch."""
    hint = "write: - when: superheat > 12 F, with go: NODE on the next line"
    if not isinstance(item, Mapping) or not item.entries:
        message = f"a branch holds keys and values, and this is {form_of(item)}"
        return Problem("shape-form", item.mark, message, hint)
    present = [word for word in BRANCH_WORDS if item.key(word) is not None]
    if len(present) == 1:
        return present[0]
    first = item.entries[0][0].mark
    if not present:
        for key, _ in item.entries:
            meant = _OTHER_WORDS.get(key.text.lower()) or next(iter(nearest(key.text, BRANCH_WORDS, 1)), None)
            if meant is not None:
                message = f'"{shortened(key.text, 40)}" is no key of a branch'
                return Problem("shape-unknown-key", key.mark, message, f"write: {meant}")
        message = 'a branch begins with "when", "cannot_tell" or "otherwise"'
        return Problem("shape-branch", first, message, hint)
    said = " and ".join(f'"{word}"' for word in present)
    return Problem("shape-branch", first, f"a branch has only one of {said}", 'begin each branch with its own "- "')
