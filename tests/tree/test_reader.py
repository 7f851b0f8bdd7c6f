"""Reading trees, example calls and answers."""

import subprocess
import sys
from pathlib import Path

import pytest
import yaml
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from assistant.tree.calls_check import check_answers
from assistant.tree.check import check_file, check_folder, check_tree
from assistant.tree.examples import read_answers, read_calls
from assistant.tree.model import CannotTell, CauseLeaf, Otherwise, Step, Tree, UndecidedLeaf, When
from assistant.tree.reader import read_tree, read_tree_string

from .words import WORDS

GOOD = """\
tree: good
version: 3
title: Runs, but cools poorly
complaints: [not cooling enough, air from the vents is warm]
facts: [refrigerant, metering_device]
start: settle
nodes:
  settle:
    caution: [moving_parts]
    ask: minutes_running
    decide:
      - when: minutes_running < 15 min
        say: Pressures are still drifting.
        go: settle
      - cannot_tell: starved
      - otherwise: starved
  starved:
    why: Superheat tells how much of the coil is fed with liquid.
    decide:
      - when: >-
          superheat > superheat_target
          + limits.superheat_band
        go: warm_bulb
      - cannot_tell: open_end
      - otherwise: line
  warm_bulb:
    do: wait_settled
    caution: floodback
    measure_again: suction_pressure
    decide:
      - when: change(suction_pressure) > 3 psi
        go: open_end
      - cannot_tell: open_end
      - otherwise: bulb_lost
  bulb_lost:
    cause: bulb_charge_lost
    because: [superheat, change(suction_pressure)]
  line:
    say: Feel along the line.
    decide:
      - when: frost_line is none
        go: open_end
      - when: frost_line is one of [at_valve, whole_coil]
        go: fine
      - cannot_tell: open_end
  fine:
    no_fault: no
  open_end:
    undecided: |
      Come back with gauges.
      Two lines.
"""
CALLS = """\
calls:
  - name: the bulb has lost its charge
    facts: {refrigerant: R-410A, metering_device: txv, altitude: 0 ft}
    answers:
      minutes_running: 25 min
      suction_pressure: [68 psig, 69 psig]
      warm_bulb: done
      frost_line: cannot tell
    reaches: bulb_charge_lost
  - name: nothing known
    answers: {}
    reaches: undecided
"""


def good_tree() -> Tree:
    """The good tree."""
    tree, problems = read_tree_string(GOOD, "good.yaml")
    assert problems == []
    assert tree is not None
    return tree


def test_a_good_tree_gives_no_problem(tmp_path: Path) -> None:
    """A tree and example calls without mistakes are accepted without a word."""
    (tmp_path / "good.yaml").write_text(GOOD)
    (tmp_path / "good.calls.yaml").write_text(CALLS)
    assert check_folder(tmp_path, WORDS) == []
    assert check_file(tmp_path / "good.yaml", WORDS) == []
    assert check_file(tmp_path / "good.calls.yaml", WORDS) == []


def test_the_model_holds_what_the_author_wrote() -> None:
    """Names, texts, branches and their order come over; one name counts as a list of one."""
    tree = good_tree()
    assert (tree.name, tree.version, tree.start.text) == ("good", 3, "settle")
    assert tree.complaints == ("not cooling enough", "air from the vents is warm")
    assert [fact.text for fact in tree.facts] == ["refrigerant", "metering_device"]
    settle = tree.nodes["settle"]
    assert isinstance(settle, Step)
    assert [type(branch) for branch in settle.branches] == [When, CannotTell, Otherwise]
    assert [branch.go.text for branch in settle.branches] == ["settle", "starved", "starved"]
    assert [name.text for name in settle.ask] == ["minutes_running"]
    leaf = tree.nodes["bulb_lost"]
    assert isinstance(leaf, CauseLeaf)
    assert [(evidence.name, evidence.change) for evidence in leaf.because] == [
        ("superheat", False),
        ("suction_pressure", True),
    ]


def test_texts_stay_as_typed() -> None:
    """`no` is a text, a folded condition is one line, and line ends inside a kept text stay."""
    tree = good_tree()
    starved = tree.nodes["starved"]
    assert isinstance(starved, Step)
    first = starved.branches[0]
    assert isinstance(first, When)
    assert first.condition.text == "superheat > superheat_target + limits.superheat_band"
    end = tree.nodes["open_end"]
    assert isinstance(end, UndecidedLeaf)
    assert end.text == "Come back with gauges.\nTwo lines."


def test_places_are_those_of_the_file() -> None:
    """A node's place is its name, a branch's place is its first key."""
    tree = good_tree()
    place = tree.nodes["warm_bulb"].place
    assert GOOD.split("\n")[place.line - 1][place.column - 1 : place.end_column - 1] == "warm_bulb"


def test_example_calls_keep_successive_measurements(tmp_path: Path) -> None:
    """A list of answers is one answer per measurement; a single answer is a list of one."""
    path = tmp_path / "good.calls.yaml"
    path.write_text(CALLS)
    calls, problems = read_calls(path)
    assert problems == []
    first = calls[0]
    assert first.facts == {"refrigerant": "R-410A", "metering_device": "txv", "altitude": "0 ft"}
    assert first.answers["suction_pressure"] == ("68 psig", "69 psig")
    assert first.answers["minutes_running"] == ("25 min",)
    assert (first.reaches.text, first.place.line) == ("bulb_charge_lost", 2)
    assert calls[1].answers == {}


LIKE = """\
  - name: the bulb was warmed in vain
    like: the bulb has lost its charge
    facts: {altitude: 5000 ft}
    answers: {suction_pressure: 60 psig}
    reaches: undecided
    at: open_end
"""


def test_a_call_takes_over_what_the_one_it_is_like_answers(tmp_path: Path) -> None:
    """What is given anew counts, all else comes from the earlier call; what stands in the call itself is kept apart."""
    path = tmp_path / "good.calls.yaml"
    (tmp_path / "good.yaml").write_text(GOOD)
    path.write_text(CALLS + LIKE)
    assert check_file(path, WORDS) == []
    first, _, like = read_calls(path)[0]
    assert like.facts == first.facts | {"altitude": "5000 ft"}
    assert like.answers == first.answers | {"suction_pressure": ("60 psig",)}
    assert {*like.own.facts, *like.own.answers} == {"altitude", "suction_pressure"}
    assert (like.at.text if like.at else None, first.at) == ("open_end", None)


@pytest.mark.parametrize(
    ("wrong", "code", "hint"),
    [
        (
            ("like: the bulb has lost its charge", "like: the bulb lost its charge"),
            "call-like",
            "write: the bulb has lost its charge",
        ),
        (("like: the bulb has lost its charge", "like: the bulb was warmed in vain"), "call-like", None),
        (("at: open_end", "at: opn_end"), "call-end", "write: open_end"),
        (("at: open_end", "at: settle"), "call-end", None),
        (("at: open_end", "at: settle/open_end"), "call-end", None),
    ],
)
def test_a_call_is_like_an_earlier_one_and_ends_at_an_end(
    tmp_path: Path, wrong: tuple[str, str], code: str, hint: str | None
) -> None:
    """It is not like itself or one that is not there, and a step or the inside of one is no end."""
    path = tmp_path / "good.calls.yaml"
    (tmp_path / "good.yaml").write_text(GOOD)
    path.write_text(CALLS + LIKE.replace(*wrong))
    (problem,) = check_file(path, WORDS)
    assert problem.code == code
    assert hint is None or problem.hint == hint


def test_mistakes_in_example_calls_are_found_at_once(tmp_path: Path) -> None:
    """Unknown names, values that cannot be read and ends that the tree has not are each reported at their place."""
    (tmp_path / "good.yaml").write_text(GOOD)
    path = tmp_path / "good.calls.yaml"
    path.write_text(
        CALLS.replace("altitude: 0 ft", "altitude: 0 psig")
        .replace("metering_device: txv", "metering_device: tvx")
        .replace("minutes_running: 25 min", "minutes_runing: 25 min")
        .replace("69 psig", "high")
        .replace("warm_bulb: done", "warm_bulb: maybe")
        .replace("frost_line: cannot tell", "frost_line: valve")
        .replace("reaches: bulb_charge_lost", "reaches: low_airflow")
        .replace("reaches: undecided", "reaches: undecidd")
        .replace("answers: {}", "answers: {superheat: 5 F, line: done}")
        .replace("nothing known", "the bulb has lost its charge")
    )
    found = [(problem.place.line, problem.code) for problem in check_file(path, WORDS)]
    assert found == [
        (3, "name-choice"),
        (3, "kind-value"),
        (5, "name-unknown"),
        (6, "kind-value"),
        (7, "call-step"),
        (8, "name-choice"),
        (9, "call-end"),
        (10, "call-repeat"),
        (11, "name-sort"),
        (11, "call-step"),
        (12, "name-unknown"),
    ]


def test_calls_belong_to_a_tree(tmp_path: Path) -> None:
    """Example calls without a tree beside them, and files with another ending, are reported."""
    (tmp_path / "lonely.calls.yaml").write_text(CALLS)
    (tmp_path / "other.yml").write_text(GOOD)
    (tmp_path / "notes.txt").write_text("not YAML: [")
    assert {problem.code for problem in check_folder(tmp_path, WORDS)} == {"call-no-tree", "file-ending"}


def test_a_folder_that_is_not_there_is_a_problem(tmp_path: Path) -> None:
    """Checking a folder that does not exist says so."""
    assert [problem.code for problem in check_folder(tmp_path / "none", WORDS)] == ["file-unreadable"]


def test_answers_of_one_call_are_read(tmp_path: Path) -> None:
    """A file with facts and answers needs no more than one of them."""
    path = tmp_path / "answers.yaml"
    path.write_text("answers: {suction_pressure: 118 psig, filter_condition: [clean, dirty]}\n")
    given_answers, problems = read_answers(path)
    assert problems == []
    assert list(check_answers(given_answers, None, WORDS)) == []
    assert [text.text for text in given_answers.answers["filter_condition"].texts] == ["clean", "dirty"]
    path.write_text("fact: {}\nanswers: [a]\n")
    assert [problem.code for problem in read_answers(path)[1]] == ["shape-unknown-key", "shape-form"]


def test_reading_a_tree_needs_no_schema_library() -> None:
    """The first question must come up fast: reading a tree loads neither jsonschema nor the suggestions."""
    code = (
        "import sys\nfrom assistant.tree.reader import read_tree_string\n"
        f"assert read_tree_string({GOOD!r}, 'good.yaml')[1] == []\n"
        "print(*sorted({name.partition('.')[0] for name in sys.modules}))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    loaded = set(done.stdout.split())
    assert not loaded & {"jsonschema", "rapidfuzz", "uncertainties", "CoolProp", "textual", "numpy"}


def test_a_long_chain_and_a_long_loop_are_followed(tmp_path: Path) -> None:
    """Trees deeper than Python's stack are checked: a chain passes, the same chain closed to a loop does not."""
    head = GOOD[: GOOD.index("  settle:")].replace("start: settle", "start: n0")
    chain = "".join(f"  n{i}:\n    go: n{i + 1}\n" for i in range(3000))
    tree, problems = read_tree_string(head + chain + "  n3000:\n    no_fault: Fine.\n", "good.yaml")
    assert not problems
    assert tree is not None
    assert check_tree(tree, WORDS) == []
    tree, _ = read_tree_string(head + chain + "  n3000:\n    go: n0\n", "good.yaml")
    assert tree is not None
    assert {problem.code for problem in check_tree(tree, WORDS)} == {"tree-endless", "tree-no-end"}


VALUES = st.recursive(
    st.none() | st.booleans() | st.integers() | st.text(max_size=12),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=8), inner, max_size=4),
    max_leaves=12,
)


@pytest.fixture(scope="module")
def scratch(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """One folder for all examples of a property."""
    return tmp_path_factory.mktemp("scratch")


ANY_TEXT = settings(max_examples=200, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@ANY_TEXT
@given(st.text(max_size=200) | VALUES.map(lambda values: yaml.safe_dump(values, allow_unicode=True)))
def test_any_text_gives_problems_or_a_tree(text: str) -> None:
    """No text raises; what is no tree has problems."""
    tree, problems = read_tree_string(text, "t.yaml")
    if tree is None:
        assert problems
    else:
        check_tree(tree, WORDS)


@ANY_TEXT
@given(st.integers(0, len(GOOD)), st.integers(0, 30), st.text(max_size=8))
def test_a_damaged_tree_never_raises(start: int, length: int, put: str) -> None:
    """A good tree with a stretch of it replaced by anything gives problems or a tree, at places inside the file."""
    text = GOOD[:start] + put + GOOD[start + length :]
    tree, problems = read_tree_string(text, "good.yaml")
    found = [*problems, *(check_tree(tree, WORDS) if tree else [])]
    lines = text.replace("\r\n", "\n").replace("\r", "\n").count("\n") + 1
    assert all(0 <= problem.place.line <= lines for problem in found)


@ANY_TEXT
@given(data=st.binary(max_size=200))
def test_any_file_gives_problems_or_a_tree(scratch: Path, data: bytes) -> None:
    """No bytes in a file raise."""
    path = scratch / "any.yaml"
    path.write_bytes(data)
    tree, problems = read_tree(path)
    assert tree is not None or problems
    check_file(path, WORDS)
