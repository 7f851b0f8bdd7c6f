"""A small folder of trees, a whole call on it as typed lines, and the line mode run on texts instead of a terminal."""

import shutil
from collections.abc import Sequence
from io import StringIO
from pathlib import Path

from assistant.plain import run_plain
from assistant.session.session import Session
from assistant.source.shipped import shipped_folder

TREE = """
tree: small
version: 1
title: Small
complaints: [not cold]
facts: [refrigerant]
start: first
nodes:
  first:
    say: Air first.
    caution: [moving_parts]
    ask: filter_condition
    decide:
      - when: filter_condition is clogged
        go: choked
      - cannot_tell: second
      - otherwise: second
  second:
    do: wait_settled
    measure_again: suction_pressure
    why: A warm bulb opens the valve.
    decide:
      - when: change(suction_pressure) > 3 psi and superheat > 10 F
        go: answers
      - cannot_tell: open_end
      - otherwise: open_end
  choked:
    cause: dirty_filter
    because: [filter_condition]
  answers: {no_fault: It answers.}
  open_end: {undecided: It cannot be told.}
"""
REPLIES = ("it is not cold", "", "22", "ok", "clean", "73", "done", "80 psig", "70 F")
"""The answers of a whole call on the tree, as typed."""
STORED = (
    ("complaint", "it is not cold"), ("tree", "small"), ("refrigerant", "R-22"),
    ("caution moving_parts @ first", "understood"), ("filter_condition", "clean"), ("suction_pressure", "73 psig"),
    ("do wait_settled @ second", "done"), ("suction_pressure", "80 psig"), ("suction_line_temperature", "70 F"),
)  # fmt: skip
"""The same answers as they are kept."""


def folder_of_small(folder: Path) -> Path:
    """A folder of trees with the small one alone, over the shipped catalogue without altitude: it is at sea level."""
    shutil.copytree(shipped_folder("trees") / "catalogue", folder / "catalogue")
    facts = folder / "catalogue" / "facts.yaml"
    text = facts.read_text(encoding="utf-8")
    start = text.index("\naltitude:")
    facts.write_text(text[:start] + text[text.index("\n\n", start) :], encoding="utf-8")
    (folder / "small.yaml").write_text(TREE, encoding="utf-8")
    return folder


def plain_lines(session: Session, replies: Sequence[str], echo: bool = False) -> tuple[list[str], list[int]]:
    """What the line mode writes, and how many lines were written when each reply was read."""
    typed = StringIO("".join(f"{reply}\n" for reply in replies))
    written: list[str] = []
    counts: list[int] = []

    def read() -> str | None:
        counts.append(len(written))
        return typed.readline() or None

    run_plain(session, read, written.append, echo=echo)
    return written, counts
