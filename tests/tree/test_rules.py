"""What the rules take and what they refuse, where one broken file a rule does not say enough."""

import pytest

from assistant.tree.check import check_tree
from assistant.tree.reader import read_tree_string

from .words import WORDS

FRAME = """\
tree: t
version: 1
title: t
complaints: [t]
start: first
nodes:
  first:
{first}
  warmed:
    caution: [floodback]
    do: Warm the bulb.
    measure_again: {again}
    decide:
      - cannot_tell: open_end
      - otherwise: found
  found:
    cause: low_charge
    because: [{because}]
  open_end:
    undecided: Still open.
"""


def codes(first: str, because: str = "suction_pressure", again: str = "suction_pressure") -> list[str]:
    """The codes that a tree with such a first step, evidence and reading taken again gives."""
    body = "\n".join("    " + line for line in first.strip("\n").split("\n"))
    tree, problems = read_tree_string(FRAME.format(first=body, because=because, again=again), "t.yaml")
    assert problems == []
    assert tree is not None
    return [problem.code for problem in check_tree(tree, WORDS)]


def decision(*branches: str, ask: str = "") -> str:
    """A step with such branches, each leading to the same place; a branch without a condition is a word alone."""
    lines = [f"ask: [{ask}]"] if ask else []
    lines.append("decide:")
    for branch in branches:
        if branch in ("cannot_tell", "otherwise"):
            lines.append(f"  - {branch}: open_end")
        else:
            lines.extend([f"  - when: {branch}", "    go: warmed"])
    return "\n".join(lines)


@pytest.mark.parametrize(
    "branches",
    [
        ("filter_condition is clean", "filter_condition is dirty or clogged"),
        ("filter_condition is clean", "filter_condition is not clean"),
        ("filter_condition is clean", "not filter_condition is clean"),
        ("filter_condition is clean or filter_condition is dirty", "filter_condition is clogged"),
    ],
)
def test_a_decision_over_every_choice_needs_no_otherwise(branches: tuple[str, ...]) -> None:
    """Branches that together name every choice of one observation leave nothing to fall through."""
    assert codes(decision(*branches, "cannot_tell")) == []


@pytest.mark.parametrize(
    "branches",
    [
        ("filter_condition is clean", "filter_condition is dirty"),
        ("filter_condition is not clean and filter_condition is not dirty", "filter_condition is dirty"),
        ("filter_condition is clean", "frost_line is none or at_valve"),
        ("superheat > 5 F", "superheat <= 5 F"),
        ("refrigerant is R-410A",),
    ],
)
def test_any_other_decision_needs_otherwise(branches: tuple[str, ...]) -> None:
    """A choice left out, two observations, a number, or a fact that takes any text may find no branch."""
    assert codes(decision(*branches, "cannot_tell")) == ["tree-no-otherwise"]


def test_a_misspelt_choice_is_not_also_a_gap() -> None:
    """Where a choice is misspelt, what it leaves out is no second mistake."""
    found = codes(decision("filter_condition is clean or dirty", "filter_condition is cloged", "cannot_tell"))
    assert found == ["name-choice"]


@pytest.mark.parametrize(
    "condition",
    ["superheat > 5 F", "change(suction_pressure) > 3 psi", "filter_condition is clean", "altitude > 5000 ft"],
)
def test_whatever_can_be_asked_needs_cannot_tell(condition: str) -> None:
    """Numbers, changes, observations and facts can all fail to be answered."""
    assert codes(decision(condition, "otherwise")) == ["tree-no-cannot-tell"]
    assert codes(decision(condition, "cannot_tell", "otherwise")) == []
    assert codes(decision(condition, "otherwise", "cannot_tell")) == []


def test_a_shown_change_needs_a_second_measurement() -> None:
    """Evidence that shows a change needs a step that takes the reading again, as a condition does."""
    first = decision("superheat > 5 F", "cannot_tell", "otherwise")
    assert codes(first, because="change(suction_pressure)") == []
    assert codes(first, because="change(liquid_pressure)") == ["tree-change"]
    again = codes(first, because="change(suction_pressure), liquid_pressure", again="liquid_pressure")
    assert again == ["tree-change"]


def test_asking_again_is_a_second_measurement() -> None:
    """A reading that a step asks each time it is entered may change."""
    first = decision("change(liquid_pressure) > 3 psi", "cannot_tell", "otherwise", ask="liquid_pressure")
    assert codes(first) == []


def test_what_is_asked_must_be_of_use() -> None:
    """An observation needs a condition or evidence; a reading that, or a worked number in use that comes from it."""
    numbered = decision("superheat > 5 F", "cannot_tell", "otherwise", ask="frost_line, liquid_pressure")
    assert codes(numbered) == ["tree-unused", "tree-unused"]
    assert codes(numbered, because="frost_line, subcooling") == []
    assert codes(numbered, because="frost_line, suction_pressure") == ["tree-unused"]
    # Of the target nobody has told what it is worked from.
    assert codes(numbered, because="frost_line, superheat_target") == []
    plain = decision("filter_condition is clean", "cannot_tell", "otherwise", ask="liquid_pressure")
    assert codes(plain) == ["tree-unused"]
    assert codes(plain, because="suction_pressure, compression_ratio") == []
    assert codes(plain, because="suction_pressure, liquid_pressure") == []


def test_a_loop_with_a_fresh_answer_is_taken() -> None:
    """A step may lead back to itself when it asks anew for something that its decision needs, and only then."""
    back = "decide:\n  - when: superheat > 5 F\n    go: first\n  - cannot_tell: open_end\n  - otherwise: warmed\n"
    assert codes("ask: suction_line_temperature\n" + back) == []
    assert codes("measure_again: suction_pressure\n" + back) == []
    assert codes(back) == ["tree-endless"]
    assert codes("ask: minutes_running\n" + back, because="suction_pressure, minutes_running") == ["tree-endless"]
    # Of the target nobody has told what it is worked from, so any answer may change it.
    target = back.replace("superheat > 5 F", "superheat_target > 5 F")
    assert codes("ask: minutes_running\n" + target, because="suction_pressure, minutes_running") == []
