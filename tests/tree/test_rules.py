"""What the rules take and what they refuse, where one broken file a rule does not say enough."""

import pytest

from assistant.tree.check import check_tree, notes_on
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
    do: wait_settled
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


def nodes_of(*lines: str) -> list[str]:
    """The codes that a tree of these nodes gives."""
    head = FRAME[: FRAME.index("  first:")]
    tree, problems = read_tree_string(head + "\n".join(f"  {line}" for line in lines) + "\n", "t.yaml")
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
        ("filter_condition is clean", "filter_condition is one of [dirty, clogged]"),
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
        ("filter_condition is clean", "frost_line is one of [none, at_valve]"),
        ("superheat > 5 F", "superheat <= 5 F"),
        ("refrigerant is R-410A",),
    ],
)
def test_any_other_decision_needs_otherwise(branches: tuple[str, ...]) -> None:
    """A choice left out, two observations, a number, or a fact that takes any text may find no branch."""
    assert codes(decision(*branches, "cannot_tell")) == ["tree-no-otherwise"]


def test_a_misspelt_choice_is_not_also_a_gap() -> None:
    """Where a choice is misspelt, what it leaves out is no second mistake."""
    found = codes(decision("filter_condition is one of [clean, dirty]", "filter_condition is cloged", "cannot_tell"))
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


@pytest.mark.parametrize(
    ("lines", "found"),
    [
        (("first: {caution: floodback, go: b}", "b: {go: c}", "c: {undecided: Warm the bulb.}"), []),
        (("first: {go: b}", "b: {caution: floodback, say: Warm the bulb., go: c}", "c: {cause: bulb_loose}"), []),
        (("first: {say: Warm the bulb., go: b}", "b: {caution: floodback, go: c}", "c: {undecided: Warm the bulb.}"),
         ["tree-caution"]),
        (("first: {say: Never warm the bulb., go: c}", "c: {no_fault: All is well.}"), []),
        (("first: {caution: opening_circuit, go: c}", "c: {cause: bulb_loose, caution: floodback}"), []),
        (("first: {go: c}", "c: {cause: low_charge, say: Warm the bulb.}"), ["tree-caution"]),
    ],
)  # fmt: skip
def test_a_caution_on_every_way_is_enough(lines: tuple[str, ...], found: list[str]) -> None:
    """What was acknowledged before counts, what comes only later does not; a cause's proof is read too."""
    assert nodes_of(*lines) == found


def test_a_caution_is_kept_round_a_circle() -> None:
    """A way back brings no way on which the caution was missed."""
    circle = (
        "first: {caution: floodback, go: b}",
        "b:",
        "  say: Warm the bulb.",
        "  ask: suction_pressure",
        "  decide:",
        "    - {when: suction_pressure > 50 psig, go: b}",
        "    - cannot_tell: c",
        "    - otherwise: c",
        "c: {undecided: Still open.}",
    )
    assert nodes_of(*circle) == []


CLOSE = (
    "first:",
    "  decide:",
    "    - {{when: {one}, go: {here}}}",
    "    - {{when: {two}, go: {there}}}",
    "    - cannot_tell: open_end",
    "    - otherwise: {net}",
    "grave: {{cause: bulb_charge_lost}}",
    "mild: {{cause: low_charge}}",
    "well: {{no_fault: All is well.}}",
    "open_end: {{undecided: Still open.}}",
)


@pytest.mark.parametrize(
    ("one", "here", "two", "there", "net", "found"),
    [
        ("superheat > 12 F", "grave", "frost_line is none", "mild", "well", True),
        ("superheat > 12 F", "well", "frost_line is none", "mild", "grave", True),
        ("superheat > 12 F", "grave", "superheat < 5 F", "well", "mild", False),
        ("superheat > 12 F", "grave", "superheat <= 12 F", "well", "mild", True),
        ("superheat > 12 F", "mild", "frost_line is none", "grave", "well", False),
        ("superheat > 12 F and subcooling < 5 F", "grave", "superheat > 12 F or subcooling < 5 F", "mild", "well",
         False),
        ("superheat > 12 F and subcooling < 5 F", "grave", "superheat > 12 F", "mild", "well", True),
        ("superheat > 12 F and frost_line is none", "grave", "frost_line is none", "mild", "well", False),
        ("superheat > 12 F and frost_line is none", "grave", "frost_line is at_valve", "mild", "well", True),
        ("superheat > 12 F or frost_line is none", "grave", "subcooling > 3 F", "mild", "well", True),
        ("filter_condition is clean", "grave", "superheat > 12 F", "mild", "well", False),
    ],
)  # fmt: skip
def test_one_number_must_not_part_an_open_circuit_from_nothing_wrong(
    one: str, here: str, two: str, there: str, net: str, found: bool
) -> None:
    """Reported only where the two ends lie on the two sides of one comparison, all else being the same."""
    lines = [line.format(one=one, here=here, two=two, there=there, net=net) for line in CLOSE]
    assert ("tree-close-call" in nodes_of(*lines)) is found


def test_an_otherwise_that_nothing_is_left_for_is_only_noted() -> None:
    """Where the branches above take everything, `otherwise` is no mistake."""
    clean = ("filter_condition is clean", "filter_condition is not clean", "cannot_tell", "otherwise")
    sure = ("superheat > 5 F", "superheat <= 5 F", "cannot_tell", "otherwise")
    for branches in (clean, sure):
        assert codes(decision(*branches)) == []
        body = "\n".join("    " + line for line in decision(*branches).split("\n"))
        tree, _ = read_tree_string(FRAME.format(first=body, because="superheat", again="suction_pressure"), "t.yaml")
        assert tree is not None
        assert [note.code for note in notes_on(tree, WORDS)] == ["note-otherwise"]


def test_notes_to_self_are_listed_and_nothing_else() -> None:
    """A note in the tree or in any node comes out at its place, and changes nothing else."""
    text = FRAME.format(first="    note: [One., Two.]\n    go: warmed", because="superheat", again="suction_pressure")
    text = text.replace("title: t\n", "title: t\nnote: Of the tree.\n").replace(
        "Still open.", "Still open.\n    note: End."
    )
    tree, problems = read_tree_string(text, "t.yaml")
    assert tree is not None
    assert [*problems, *check_tree(tree, WORDS)] == []
    notes = notes_on(tree, WORDS)
    assert [(note.code, note.message) for note in notes] == [
        ("note-to-self", text) for text in ("Of the tree.", "One.", "Two.", "End.")
    ]
    lines = text.split("\n")
    for note in notes:
        place = note.place
        assert lines[place.line - 1][place.column - 1 : place.end_column - 1] == note.message


def test_a_decision_too_large_to_be_proven_is_left_alone() -> None:
    """Beyond the bound nothing is claimed, in hardly any time, and what must be there is still asked for."""
    many = [" or ".join(f"superheat > {n} F and subcooling < {n - k} F" for n in range(20)) for k in (1, 2)]
    assert codes(decision(*many, "superheat > 90 F and subcooling < 0 F", "cannot_tell", "otherwise")) == []
    assert codes(decision(*many, "cannot_tell")) == ["tree-no-otherwise"]
    knotted = " and ".join(f"(superheat > {n} F or subcooling < {40 - n} F)" for n in range(20))
    assert set(codes(decision(knotted, "superheat > 90 F", "cannot_tell", "otherwise"))) <= {"tree-shadowed"}
