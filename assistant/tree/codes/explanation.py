"""What there is to say about the code of a problem, and the small files that its examples stand for."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from textwrap import dedent, indent
from typing import Literal

Part = Literal[
    "file", "nodes", "first", "condition", "calls", "readings", "acts", "limits", "cautions", "causes", "none"
]
"""What an example shows: a whole tree, some nodes, the first node's keys, a condition, example calls, a file of the
catalogue, or nothing that can be written down."""

HEAD = """\
tree: example
version: 1
title: An example
complaints: [not cooling enough]
facts: [refrigerant, metering_device]
start: first
nodes:
"""
LEAVES: Mapping[str, str] = {
    "found": "cause: undercharge\nbecause: [superheat, subcooling]",
    "choked": "cause: dirty_filter",
    "fine": "no_fault: Nothing wrong was found.",
    "open_end": "undecided: It cannot be told. Come back with gauges.",
}
OTHER_NAME = "look_at_filter"
OTHER = f"""\
tree: {OTHER_NAME}
version: 1
title: The air filter
complaints: [the filter light is on]
start: look
nodes:
  look:
    ask: filter_condition
    decide:
      - when: filter_condition is clogged
        go: choked
      - cannot_tell: still_open
      - otherwise: still_open
  choked:
    cause: dirty_filter
  still_open:
    undecided: It is not the filter.
"""
"""A tree that examples use, which lies beside theirs."""
_DECISION = """\
decide:
  - when: {}
    go: found
  - cannot_tell: open_end
  - otherwise: open_end
"""


@dataclass(frozen=True, slots=True)
class Explanation:
    """The page of one code: its title, why it matters, and how it looks wrong and right."""

    code: str
    title: str
    why: str
    part: Part
    bad: str
    good: str


def explained(code: str, title: str, why: str, part: Part = "none", bad: str = "", good: str = "") -> Explanation:
    """Make an explanation from texts as they are written in the table."""
    return Explanation(code, title, " ".join(why.split()), part, _block(bad), _block(good))


def whole(part: Part, text: str) -> str:
    """Give the whole file that an example of a tree stands for."""
    match part:
        case "condition":
            return whole("first", _DECISION.format(text.strip()))
        case "first":
            return whole("nodes", "first:\n" + indent(text, "  "))
        case "nodes":
            return HEAD + indent(text + _leaves(text), "  ")
        case _:
            return text


def _leaves(text: str) -> str:
    """Give the leaves that an example leads to and does not hold itself."""
    return "".join(
        f"{name}:\n{indent(body, '  ')}\n"
        for name, body in LEAVES.items()
        if re.search(rf"\b{name}\b", text) and not re.search(rf"^{name}:", text, re.MULTILINE)
    )


def _block(text: str) -> str:
    return dedent(text).strip("\n") + "\n" if text.strip() else ""
