"""Small folders of trees over the shipped catalogue."""

import shutil
from pathlib import Path

import pytest

from assistant.source.shipped import shipped_folder

TREE = """\
tree: small
version: 1
title: Small
complaints: [not cold]
facts: [refrigerant]
start: air

nodes:
  # Air before anything else.
  air:
    ask: filter_condition
    decide:
      - when: filter_condition is clogged
        go: choked
      - cannot_tell: feed
      - otherwise: feed

  feed:
    why: Superheat tells how much of the coil is fed with liquid.
    decide:
      - when: superheat > limits.high_superheat
        go: starved
      - cannot_tell: open_end
      - otherwise: all_well

  starved:
    do: wait_settled
    decide:
      - when: superheat > 60 F
        go: open_end
      - cannot_tell: open_end
      - otherwise: all_well

  choked:
    cause: dirty_filter
    because: [filter_condition]
  open_end: {undecided: Come back with gauges.}
  all_well: {no_fault: The coil is fed as it should be.}
"""
LIMIT = """\
high_superheat:
  value: 20 F
  kind: temperature_difference
  what: superheat above which a coil is called starved in these tests
  source: made up for these tests
"""
CALLS = """\
calls:
  - name: a clogged filter
    facts: {refrigerant: R-22}
    answers: {filter_condition: clogged}
    reaches: dirty_filter
  - name: well fed
    facts: {refrigerant: R-22}
    answers: {filter_condition: clean, suction_pressure: 68.6 psig, suction_line_temperature: 50 F}
    reaches: no_fault
  - name: no bulb to be warmed
    facts: {refrigerant: R-22}
    answers: {filter_condition: clean, suction_pressure: 68.6 psig, suction_line_temperature: 70 F, starved: cannot do}
    reaches: undecided
"""


def folder_of_small(folder: Path) -> Path:
    """A folder with the small tree, its calls, and the shipped catalogue with one limit more."""
    shutil.copytree(shipped_folder("trees") / "catalogue", folder / "catalogue")
    limits = folder / "catalogue" / "limits.yaml"
    limits.write_text(f"{limits.read_text(encoding='utf-8')}\n{LIMIT}", encoding="utf-8")
    (folder / "small.yaml").write_text(TREE, encoding="utf-8")
    (folder / "small.calls.yaml").write_text(CALLS, encoding="utf-8")
    return folder


def shop_of_small(folder: Path) -> Path:
    """A shop's own folder with the small tree, its calls and one limit, to be laid over the shipped one."""
    (folder / "catalogue").mkdir(parents=True)
    (folder / "catalogue" / "limits.yaml").write_text(LIMIT, encoding="utf-8")
    (folder / "small.yaml").write_text(TREE, encoding="utf-8")
    (folder / "small.calls.yaml").write_text(CALLS, encoding="utf-8")
    return folder


def edit(file: Path, old: str, new: str) -> None:
    """Replace words of a file that must be there."""
    text = file.read_text(encoding="utf-8")
    assert old in text, old
    file.write_text(text.replace(old, new), encoding="utf-8")


@pytest.fixture
def old(tmp_path: Path) -> Path:
    return folder_of_small(tmp_path / "old")


@pytest.fixture
def new(tmp_path: Path) -> Path:
    return folder_of_small(tmp_path / "new")
