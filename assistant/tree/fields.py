"""Taking values out of mappings: each thing that is missing, of the wrong form or unknown is a Problem."""

import re
from collections.abc import Iterator

from assistant.source.nearest import nearest
from assistant.source.nodes import Mapping, Node, Scalar, Sequence
from assistant.source.problem import Place, Problem, shortened
from assistant.tree.keys import LEAF_WORDS, STEP
from assistant.tree.model import Evidence, Named

_CHANGE = re.compile(r"change\(\s*([A-Za-z_]\w*)\s*\)", re.ASCII)
NAME = re.compile(r"[a-z][a-z0-9_]*", re.ASCII)
EXAMPLES = {
    "tree": "tree: poor_cooling",
    "version": "version: 1",
    "title": "title: Runs, but cools poorly",
    "complaints": "complaints: [not cooling enough, runs all day]",
    "facts": "facts: [refrigerant, metering_device]",
    "start": "start: NODE",
    "nodes": "nodes: with one node below it",
    "say": "say: text",
    "why": "why: text",
    "caution": "caution: [moving_parts]",
    "do": "do: text",
    "ask": "ask: suction_pressure",
    "measure_again": "measure_again: suction_pressure",
    "decide": "decide: with a list of branches below it",
    "go": "go: NODE",
    "cause": "cause: name",
    "because": "because: [superheat, change(suction_pressure)]",
    "no_fault": "no_fault: text",
    "undecided": "undecided: text",
    "when": "when: superheat > 12 F",
    "cannot_tell": "cannot_tell: NODE",
    "otherwise": "otherwise: NODE",
    "calls": "calls: with a list of calls below it",
    "name": "name: text",
    "answers": "answers: {suction_pressure: 118 psig}",
    "reaches": "reaches: no_fault",
}


class Fields:
    """One mapping being read; `owner` is the place to complain at when something is missing from it."""

    def __init__(self, mapping: Mapping, owner: Place, what: str, problems: list[Problem]) -> None:
        self.mapping = mapping
        self.owner = owner
        self.what = what
        self.problems = problems

    def only(self, allowed: tuple[str, ...], required: tuple[str, ...] = ()) -> None:
        """Report every key that is not among the allowed ones, and every required one that is missing."""
        self.problems.extend(key_mistakes(self.mapping, self.owner, self.what, allowed, required))

    def text(self, name: str) -> str | None:
        """Give the text under a key; None when it is not there or is no text."""
        scalar = self.scalar(name)
        return None if scalar is None else scalar.text

    def scalar(self, name: str) -> Scalar | None:
        """Give the value under a key; None when it is not there, is empty or is no single value."""
        value = self.mapping.get(name)
        if value is None:
            return None
        if isinstance(value, Scalar) and value.text.strip():
            return value
        self.wrong(name, value)
        return None

    def named(self, name: str) -> Named:
        """Give the name under a key; an empty one, at the owner's place, when there is none."""
        scalar = self.scalar(name)
        return Named("", self.owner) if scalar is None else Named(scalar.text, scalar.mark)

    def names(self, name: str) -> tuple[Named, ...]:
        """Give one name or a list of names."""
        return tuple(Named(scalar.text, scalar.mark) for scalar in self.scalars(name))

    def texts(self, name: str) -> tuple[str, ...]:
        """Give one text or a list of texts."""
        return tuple(scalar.text for scalar in self.scalars(name))

    def evidence(self, name: str = "because") -> tuple[Evidence, ...]:
        """Give names and `change(NAME)`."""
        found = []
        for scalar in self.scalars(name):
            changed = _CHANGE.fullmatch(scalar.text.strip())
            found.append(Evidence(changed[1] if changed else scalar.text, changed is not None, scalar.mark))
        return tuple(found)

    def scalars(self, name: str) -> tuple[Scalar, ...]:
        """Give one value or a list of values, without those that are of the wrong form."""
        value = self.mapping.get(name)
        if value is None:
            return ()
        if isinstance(value, Sequence) and value.items:
            for item in value.items:
                if not is_text(item):
                    self.problems.append(wrong_item(name, item))
            return tuple(item for item in value.items if isinstance(item, Scalar) and item.text.strip())
        if isinstance(value, Scalar) and value.text.strip():
            return (value,)
        self.wrong(name, value)
        return ()

    def items(self, name: str) -> tuple[Node, ...]:
        """Give the items of a list."""
        value = self.mapping.get(name)
        if isinstance(value, Sequence) and value.items:
            return value.items
        if value is not None:
            self.wrong(name, value)
        return ()

    def mapping_of(self, name: str) -> Mapping | None:
        """Give the mapping under a key; None when it is not there or is none."""
        value = self.mapping.get(name)
        if isinstance(value, Mapping) and value.entries:
            return value
        if value is not None:
            self.wrong(name, value)
        return None

    def wrong(self, name: str, value: Node) -> None:
        """Report a value of the wrong form."""
        key = self.mapping.key(name)
        self.problems.append(wrong_value(name, value, value.mark if key is None else key.mark))


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
        near = nearest(key.text, [*allowed, *(LEAF_WORDS if allowed == STEP else ())], 1)
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
