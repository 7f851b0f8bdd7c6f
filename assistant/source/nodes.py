"""YAML as a graph of frozen nodes in which every scalar keeps its text as typed and its place.

No value is interpreted: `no`, `010` and `1:30` stay text. Limits hold while the events stream in, before a graph
exists. Anchors and aliases are refused: a tree repeats little, a problem's place must point at the one spot where
its author wrote the words, and without them nothing in a file can grow beyond what is on the page.
"""

from collections.abc import Iterator
from dataclasses import field
from functools import cached_property
from pathlib import Path
from typing import Protocol

import yaml

from assistant.frozen import dataclass
from assistant.source.problem import Place, Problem, shorten
from assistant.source.syntax import syntax_problem
from assistant.source.text import clean_text, read_text

MOST_DEPTH = 32
MOST_NODES = 100_000
# After so many, a file is not a tree with mistakes in it but something else.
_MOST_PROBLEMS = 200

_Parser: type = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


@dataclass(frozen=True)
class Scalar:
    """A single value: `text` as YAML reads it, `raw` as it stands in the file, `mark` where it begins.

    `style` is "" for plain text, or one of `'`, `"`, `|`, `>`.
    """

    text: str
    mark: Place
    style: str = ""
    raw: str = field(default="", repr=False, compare=False)

    @property
    def is_empty(self) -> bool:
        """True where a key has nothing after its colon."""
        return self.text == "" and self.style == ""


@dataclass(frozen=True)
class Sequence:
    """A list; `mark` is its first line."""

    items: "tuple[Node, ...]"
    mark: Place


@dataclass(frozen=True)
class Mapping:
    """Keys and values in the order of the file; a repeated key keeps its first value."""

    entries: "tuple[tuple[Scalar, Node], ...]"
    mark: Place

    @cached_property
    def _index(self) -> "dict[str, tuple[Scalar, Node]]":
        return {key.text: (key, value) for key, value in self.entries}

    def get(self, name: str) -> "Node | None":
        """Give the value under a key, or None."""
        entry = self._index.get(name)
        return None if entry is None else entry[1]

    def key(self, name: str) -> Scalar | None:
        """Give the key itself, with its place, or None."""
        entry = self._index.get(name)
        return None if entry is None else entry[0]

    def scalar(self, name: str) -> Scalar | None:
        """Give the single value under a key that says something, or None."""
        value = self.get(name)
        return value if isinstance(value, Scalar) and value.text.strip() else None

    def text(self, name: str) -> str:
        """Give the text under a key without the space around it; empty where there is none."""
        scalar = self.scalar(name)
        return "" if scalar is None else scalar.text.strip()

    def line(self, name: str) -> str:
        """Give the text under a key on one line; empty where there is none."""
        return " ".join(self.text(name).split())

    def scalars(self, name: str) -> "tuple[Scalar, ...]":
        """Give the single value under a key, or those of a list of them, without what says nothing."""
        value = self.get(name)
        items = value.items if isinstance(value, Sequence) else (value,)
        return tuple(item for item in items if isinstance(item, Scalar) and item.text.strip())

    def lines(self, name: str) -> tuple[str, ...]:
        """Give the texts under a key, one or a list of them, each on one line."""
        return tuple(" ".join(item.text.split()) for item in self.scalars(name))

    def items(self, name: str) -> "tuple[Node, ...]":
        """Give the items of the list under a key; none where there is no list."""
        value = self.get(name)
        return value.items if isinstance(value, Sequence) else ()

    def inside(self, name: str) -> "Mapping":
        """Give the mapping under a key; one without entries where there is none."""
        value = self.get(name)
        return value if isinstance(value, Mapping) else Mapping((), self.mark if value is None else value.mark)


Node = Scalar | Sequence | Mapping


def read(path: Path) -> tuple[Node | None, list[Problem]]:
    """Read a YAML file; the node is None when nothing could be built, and the problems say why. Never raises."""
    text, problems = read_text(path)
    return (None, problems) if text is None else _build(text, str(path))


def read_string(text: str, name: str) -> tuple[Node | None, list[Problem]]:
    """Read YAML from a text; `name` stands for the path in places. Never raises."""
    clean, problems = clean_text(text, name)
    return (None, problems) if clean is None else _build(clean, name)


def read_above(path: Path, key: str) -> Mapping | None:
    """Read of a file only what stands above one of its outermost keys; None when it has mistakes or no such key.

    Never raises. Most of a tree is below `nodes:`, and what a list of trees shows is above. The key begins a line.
    """
    text, problems = read_text(path, above=f"{key}:")
    if text is None or problems:
        return None
    node, problems = _build(text, str(path))
    return node if isinstance(node, Mapping) and not problems else None


class _Mark(Protocol):
    """What both of the YAML library's parsers call a mark."""

    @property
    def index(self) -> int:
        """Characters before it in the text."""

    @property
    def line(self) -> int:
        """Lines before it."""

    @property
    def column(self) -> int:
        """Characters before it in its line."""


class _Stop(Exception):
    """Ends the reading of a file that is beyond use."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem


@dataclass
class _Open:
    """A list or mapping whose end is still to come."""

    mark: Place
    is_mapping: bool
    items: list[Node] = field(default_factory=list)
    entries: dict[str, tuple[Scalar, Node]] = field(default_factory=dict)
    key: Scalar | None = None
    # The value of a key that cannot be used is read and dropped.
    drops_value: bool = False


class _GraphBuilder:
    def __init__(self, text: str, name: str) -> None:
        self.text = text
        self.name = name
        self.problems: list[Problem] = []
        self.open: list[_Open] = []
        self.root: Node | None = None
        self.count = 0

    def build(self) -> Node | None:
        documents = 0
        for event in self._events():
            if isinstance(event, yaml.DocumentStartEvent):
                documents += 1
                if documents > 1:
                    message = 'a second document starts here ("---"); a file holds one'
                    raise _Stop(self._problem("yaml-documents", event, message, "put it into a file of its own"))
            elif isinstance(event, yaml.NodeEvent):
                self._node(event)
            elif isinstance(event, yaml.CollectionEndEvent):
                self._close()
        return self.root

    def _events(self) -> Iterator[yaml.Event]:
        try:
            yield from yaml.parse(self.text, Loader=_Parser)
        except yaml.YAMLError as error:
            raise _Stop(syntax_problem(error, self.text, self.name)) from error

    def _node(self, event: yaml.NodeEvent) -> None:
        self.count += 1
        if self.count > MOST_NODES:
            message = f"the file holds more than {MOST_NODES} values, more than any tree needs"
            raise _Stop(self._problem("yaml-large", event, message, "split the file"))
        if isinstance(event, yaml.AliasEvent):
            message = f'"*{shorten(event.anchor or "")}" refers to another part of the file'
            raise _Stop(self._problem("yaml-alias", event, message, "write it out here"))
        if event.anchor is not None:
            message = f'"&{shorten(event.anchor)}" marks a part for use elsewhere'
            self._add(self._problem("yaml-alias", event, message, "delete the mark and write each part out"))
        tag = getattr(event, "tag", None)
        if tag is not None:
            message = f'"{shorten(str(tag))}" is a tag; nothing here needs one'
            self._add(self._problem("yaml-tag", event, message, "delete the tag"))
        if isinstance(event, yaml.ScalarEvent):
            self._put(self._scalar(event))
            return
        if len(self.open) >= MOST_DEPTH:
            message = f"lists and keys are nested more than {MOST_DEPTH} deep"
            raise _Stop(self._problem("yaml-deep", event, message, "check the brackets and the indentation"))
        self.open.append(_Open(self._place(event), isinstance(event, yaml.MappingStartEvent)))

    def _scalar(self, event: yaml.ScalarEvent) -> Scalar:
        start, end = _marks(event)
        raw = self.text[start.index : end.index]
        text = event.value
        style = event.style or ""
        return Scalar(text, self._place(event), style, text if raw == text else raw)

    def _close(self) -> None:
        done = self.open.pop()
        if done.is_mapping:
            self._put(Mapping(tuple(done.entries.values()), done.mark))
        else:
            self._put(Sequence(tuple(done.items), done.mark))

    def _put(self, node: Node) -> None:
        if not self.open:
            self.root = node
            return
        holder = self.open[-1]
        if not holder.is_mapping:
            holder.items.append(node)
        elif holder.key is None and not holder.drops_value:
            self._put_key(holder, node)
        else:
            if holder.key is not None:
                holder.entries[holder.key.text] = (holder.key, node)
            holder.key, holder.drops_value = None, False

    def _put_key(self, holder: _Open, node: Node) -> None:
        if not isinstance(node, Scalar):
            holder.drops_value = True
            self._add(Problem("yaml-key", node.mark, "a list or mapping cannot be a key", "use a plain name"))
        elif node.text in holder.entries:
            holder.drops_value = True
            first = holder.entries[node.text][0].mark.line
            message = f'"{shorten(node.text)}" is here twice; the first is on line {first}'
            self._add(Problem("yaml-duplicate", node.mark, message, "keep one of them, or rename this one"))
        else:
            holder.key = node

    def _add(self, problem: Problem) -> None:
        self.problems.append(problem)
        if len(self.problems) >= _MOST_PROBLEMS:
            raise _Stop(Problem("yaml-many", problem.place, "there are too many mistakes; the rest is not read"))

    def _place(self, event: yaml.Event) -> Place:
        start, end = _marks(event)
        column = start.column + 1
        if end.line == start.line:
            end_column = max(end.column + 1, column + 1)
        else:
            line_end = self.text.find("\n", start.index)
            end_column = column + (len(self.text) if line_end < 0 else line_end) - start.index
        return Place(self.name, start.line + 1, column, end_column)

    def _problem(self, code: str, event: yaml.Event, message: str, hint: str) -> Problem:
        return Problem(code, self._place(event), message, hint)


def _marks(event: yaml.Event) -> tuple[_Mark, _Mark]:
    start, end = event.start_mark, event.end_mark
    assert start is not None
    assert end is not None
    return start, end


def _build(text: str, name: str) -> tuple[Node | None, list[Problem]]:
    builder = _GraphBuilder(text, name)
    try:
        root = builder.build()
    except _Stop as stop:
        return None, [*builder.problems, stop.problem]
    if root is None:
        builder.problems.append(Problem("yaml-empty", Place(name), "the file is empty"))
    return root, builder.problems
