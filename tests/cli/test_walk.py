"""`coilside walk`, `numbers` and `trees`: what they print for good files, and what they say of bad ones."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.cli.lines import TREE, folder_of_small
from tests.cli.running import Run

# R-410A behind an expansion valve. Common practice, no source: 122.8 psig is 42 F, 56 F is 158.8 psig.
ACCEPTANCE = """
facts: {refrigerant: R-410A, metering_device: txv}
answers:
  suction_pressure: 122.8 psig
  evaporator_outlet_temperature: 56 F
"""
Write = Callable[[str | bytes], Path]


@pytest.fixture
def write(tmp_path: Path) -> Write:
    """Writes an answers file and tells where."""

    def written(content: str | bytes) -> Path:
        path = tmp_path / "answers.yaml"
        path.write_bytes(content if isinstance(content, bytes) else content.encode())
        return path

    return written


def walked(run: Run, file: Path, *more: str | Path) -> dict[str, Any]:
    """What `walk --json` prints for poor cooling."""
    ran = run("walk", "--tree", "poor_cooling", "--answers", file, "--json", *more)
    assert ran.code == 0, ran.err
    found = json.loads(ran.out)
    assert isinstance(found, dict)
    return found


def test_walk_prints_the_promised_keys(run: Run, write: Write) -> None:
    """One object with exactly the keys that tools rely on, and plain values in each."""
    found = walked(run, write(ACCEPTANCE))
    assert list(found) == ["outcome", "cause", "close_calls", "numbers", "asked", "cautions", "turns"]
    assert found["outcome"] in ("cause", "no_fault", "undecided")
    assert found["asked"][:2] == ["refrigerant", "filter_condition"]
    assert "hoses_and_liquid" in found["cautions"]
    assert all({"kind", "words"} <= turn.keys() for turn in found["turns"])


def test_the_worked_numbers_of_a_sound_valve(run: Run, write: Write) -> None:
    """122.8 psig and 56 F at the bulb: 14 F of superheat, 36 psi left for the spring. Common practice, no source."""
    numbers = walked(run, write(ACCEPTANCE))["numbers"]
    assert numbers["evaporating_temperature"]["value"] == pytest.approx(42.0, abs=0.2)
    assert numbers["evaporator_superheat"]["value"] == pytest.approx(14.0, abs=0.2)
    assert numbers["bulb_pressure"]["value"] == pytest.approx(158.8, abs=0.3)
    assert numbers["spring_pressure"]["value"] == pytest.approx(36.0, abs=0.3)
    units = {"evaporating_temperature": "F", "bulb_pressure": "psig", "spring_pressure": "psi"}
    assert {name: numbers[name]["unit"] for name in units} == units
    for name in ("evaporator_superheat", "spring_pressure"):
        assert set(numbers[name]) == {"value", "unit", "uncertainty"}
        assert numbers[name]["uncertainty"] > 0


@pytest.mark.parametrize("units", ["us", "si"])
def test_numbers_and_walk_print_the_same_numbers(run: Run, write: Write, units: str) -> None:
    """`numbers --json` is the same object that `walk --json` has under its key."""
    file = write(ACCEPTANCE + "  liquid_pressure: [340 psig, 341 psig]\n  liquid_line_temperature: 96 F\n")
    ran = run("numbers", file, "--json", "--units", units)
    assert (ran.code, ran.err) == (0, "")
    assert json.loads(ran.out) == walked(run, file, "--units", units)["numbers"]


def test_si_numbers_are_the_same_numbers(run: Run, write: Write) -> None:
    """With --units si a difference of 14 F is 7.8 K, and its doubt goes with it."""
    us, si = walked(run, write(ACCEPTANCE)), walked(run, write(ACCEPTANCE), "--units", "si")
    f, k = us["numbers"]["evaporator_superheat"], si["numbers"]["evaporator_superheat"]
    assert k["unit"] == "K"
    assert k["value"] == pytest.approx(f["value"] / 1.8, abs=1e-3)
    assert k["uncertainty"] == pytest.approx(f["uncertainty"] / 1.8, abs=1e-3)


def test_a_cause_is_named_by_its_id(run: Run, write: Write) -> None:
    """A call that ends at a cause says which, and its turns tell the way."""
    found = walked(run, write("facts: {refrigerant: R-22}\nanswers: {filter_condition: clogged}\n"))
    assert (found["outcome"], found["cause"]) == ("cause", "dirty_filter")
    kinds = [turn["kind"] for turn in found["turns"]]
    assert {"answered", "decided", "concluded", "repair"} <= set(kinds)
    assert kinds.index("concluded") < kinds.index("repair")


def test_close_calls_are_listed(run: Run, write: Write) -> None:
    """A comparison within its doubt is listed with its node and how likely the other way is."""
    found = walked(run, write("facts: {refrigerant: R-22}\nanswers: {outdoor_air_temperature: 55.5 F}\n"))
    (close,) = [close for close in found["close_calls"] if close["node"] == "weather"]
    assert 0 < close["other_way_likelihood"] < 0.5


def test_what_is_not_asked_is_told_aside(run: Run, write: Write) -> None:
    """An answer that the way taken never asks for is named on standard error; the result stays clean."""
    file = write("answers: {filter_condition: clogged, sight_glass: clear}\n")
    ran = run("walk", "--tree", "poor_cooling", "--answers", file, "--json")
    assert ran.err == "not asked on this way: sight_glass\n"
    assert json.loads(ran.out)["cause"] == "dirty_filter"


def test_without_json_the_conversation_is_printed(run: Run, write: Write) -> None:
    """As text, the walk is the conversation with its cautions, and no line beyond a hundred columns."""
    ran = run("walk", "--tree", "poor_cooling", "--answers", write("answers: {filter_condition: clogged}\n"))
    assert (ran.code, ran.err) == (0, "")
    assert "LIKELY CAUSE" in ran.out
    assert ran.out.index("CAUTION") < ran.out.index("LIKELY CAUSE") < ran.out.index("REPAIR")
    assert max(map(len, ran.out.splitlines())) <= 100


def test_numbers_shows_the_work(run: Run, write: Write) -> None:
    """As text, each number stands with its formula, its values, its doubt and its source."""
    ran = run("numbers", write(ACCEPTANCE))
    assert ran.code == 0
    assert "Superheat at the bulb = " in ran.out
    assert "56.0 °F - 41.9 °F" in ran.out
    assert "The doubt comes from: " in ran.out
    assert "Source: " in ran.out


def test_numbers_says_what_it_could_not_use(run: Run, write: Write) -> None:
    """A name that no number comes from is told, with the near one; a number that is refused is told with the reason."""
    ran = run("numbers", write(ACCEPTANCE + "  sucton_line_temperature: 60 F\n"))
    assert ran.code == 0
    assert ran.err == "not used: sucton_line_temperature (did you mean suction_line_temperature?)\n"
    hot = (
        "facts: {metering_device: fixed_orifice}\nanswers: {return_air_wet_bulb: 60 F, outdoor_air_temperature: 95 F}\n"
    )
    refused = run("numbers", write(hot), "--json")
    assert refused.code == 0
    assert "superheat_target" not in json.loads(refused.out)
    assert refused.err.startswith("Superheat target cannot be worked: ")


ALIASES = "a: &a [x, x, x, x, x, x, x, x, x]\n" + "".join(
    f"{name}: &{name} [{', '.join([f'*{before}'] * 9)}]\n" for before, name in zip("abcdefgh", "bcdefghi", strict=True)
)
# Content, the words that the message must have, and the line of the first mistake where there is one.
BAD_ANSWERS: dict[str, tuple[str | bytes, str, int | None]] = {
    "empty file": ("", "the file is empty", None),
    "only a comment": ("# nothing\n", "the file is empty", None),
    "a list": ("- facts\n", "answers", 1),
    "50 MB": (b"answers:\n" + b"# padding of a file that is none\n" * 1_600_000, "larger than 2 MB", None),
    "alias bomb": (ALIASES, "marks a part for use elsewhere", 1),
    "tab": ("facts:\n\trefrigerant: R-22\n", "tab", 2),
    "duplicate key": ("answers:\n  sight_glass: clear\n  sight_glass: bubbling\n", "twice", 3),
    "missing unit": ("answers:\n  suction_pressure: 73\n", "73 has no unit: write 73 psig", 2),
    "unit of another kind": ("answers:\n  suction_pressure: 73 F\n", "F is a unit of temperature", 2),
    "unknown reading": ("answers:\n  suction_presure: 73 psig\n", "write: suction_pressure", 2),
    "unknown choice": ("answers:\n  filter_condition: fluffy\n", "its choices are clean, dirty", 2),
    "unknown fact": ("facts:\n  refrigerent: R-22\n", "write: refrigerant", 2),
    "unknown key": ("fact:\n  refrigerant: R-22\n", "facts", 1),
    "a worked number": ("answers:\n  superheat: 12 F\n", "worked out from readings", 2),
    "broken quote": ('facts: {refrigerant: "R-22}\n', "quote", 1),
    "not UTF-8": (b"facts: {refrigerant: \xff\xfe}\n", "not UTF-8", 1),
    "UTF-16": ("facts: {}\n".encode("utf-16"), "UTF-16", None),
    "a program's file": (b"\x7fELF\x00\x00\x01", "control character", 1),
    "two documents": ("facts: {}\n---\nfacts: {}\n", "second document", 2),
    "deep brackets": ("a: " + "[" * 50 + "]" * 50, "nested more than", 1),
    "a tag": ("answers: {sight_glass: !!python/object:os.system clear}\n", "tag", 1),
}


# A file for any tree may name steps, so numbers only tells which names it did not use.
BAD_CASES = [("walk", case) for case in BAD_ANSWERS] + [
    ("numbers", case) for case in BAD_ANSWERS if case != "unknown reading"
]


@pytest.mark.parametrize(("command", "case"), BAD_CASES)
def test_a_bad_file_of_answers_is_told_with_its_place(run: Run, write: Write, command: str, case: str) -> None:
    """Every mistake in a file ends with 1, nothing on standard output, the place, and what is wrong in plain words."""
    content, words, line = BAD_ANSWERS[case]
    file = write(content)
    start = ("walk", "--tree", "poor_cooling", "--answers", file) if command == "walk" else ("numbers", file)
    for more in ((), ("--json",)):
        ran = run(*start, *more)
        assert (ran.code, ran.out) == (1, "")
        assert ran.err.startswith(f"{file}:{line}:" if line else f"{file}: ")
        assert words in ran.err
        assert all(shown.isprintable() for shown in ran.err.splitlines())


@pytest.mark.parametrize("command", ["walk", "numbers"])
def test_a_folder_or_nothing_in_the_place_of_a_file_is_told(run: Run, tmp_path: Path, command: str) -> None:
    """A folder, and a file that is not there, are named as what they are."""
    start = ("walk", "--tree", "poor_cooling", "--answers") if command == "walk" else ("numbers",)
    folder, missing = run(*start, tmp_path), run(*start, tmp_path / "no.yaml")
    assert (folder.code, folder.out, missing.code, missing.out) == (1, "", 1, "")
    assert "this is a folder" in folder.err
    assert "there is no such file" in missing.err
    assert run(*start, "/dev/zero").code == 1


@pytest.mark.parametrize(
    "answers", ["facts: {refrigerant: R-999}", "facts: {altitude: 30000 m}", "answers: {suction_pressure: -14.8 psig}"]
)
@pytest.mark.parametrize("command", ["walk", "numbers"])
def test_a_value_that_cannot_be_is_told_with_its_name(run: Run, write: Write, command: str, answers: str) -> None:
    """A value that reads well but cannot be is told with the name that it was given for."""
    file = write(answers + "\n")
    ran = run(*(("walk", "--tree", "poor_cooling", "--answers", file) if command == "walk" else ("numbers", file)))
    assert (ran.code, ran.out) == (1, "")
    assert answers.split("{")[1].split(":")[0] in ran.err


NOWHERE = TREE.replace("go: choked", "go: chocked")
# A tree file, the words that the message must have, and the line.
BAD_TREES: dict[str, tuple[str | bytes, str, int | None]] = {
    "empty file": ("", "the file is empty", None),
    "50 MB": (b"tree: small\n" + b"# padding of a file that is none\n" * 1_600_000, "larger than 2 MB", None),
    "alias bomb": (ALIASES, "marks a part for use elsewhere", 1),
    "tab": (TREE.replace("    say: Air first.", "\tsay: Air first."), "tab", 10),
    "duplicate node": (TREE + "  choked: {undecided: Again.}\n", "the first is on line 27", 32),
    "a node that goes nowhere": (NOWHERE, "write: choked", 15),
    "missing unit": (TREE.replace("superheat > 10 F", "superheat > 10"), "10 F", 23),
    "unknown name": (TREE.replace("ask: filter_condition", "ask: filter_conditions"), "write: filter_condition", 12),
    "not UTF-8": (TREE.encode().replace(b"Air first.", b"\xff"), "not UTF-8", 10),
}


@pytest.mark.parametrize("case", BAD_TREES)
def test_a_bad_tree_is_told_with_its_place(run: Run, tmp_path: Path, case: str) -> None:
    """`trees check` tells each mistake with file, line and what to write, and ends with 1."""
    content, words, line = BAD_TREES[case]
    folder = folder_of_small(tmp_path / "trees")
    file = folder / "small.yaml"
    file.write_bytes(content if isinstance(content, bytes) else content.encode())
    for path in (file, folder):
        ran = run("trees", "check", path)
        assert ran.code == 1
        assert ran.out.startswith(f"{file}:{line}:" if line else f"{file}: ")
        assert words in ran.out
        assert "problem" in ran.err
    listed = json.loads(run("trees", "check", file, "--format", "json").out)
    assert listed[0]["line"] == (line or 0)
    assert listed[0]["path"] == str(file)


def test_good_trees_have_no_problems(run: Run, tmp_path: Path) -> None:
    """The small tree passes, with nothing on standard output; that the shipped ones do, their own test holds."""
    ran = run("trees", "check", folder_of_small(tmp_path / "trees"))
    assert (ran.code, ran.out, ran.err) == (0, "", "no problems\n")


def test_a_bad_tree_is_left_out_of_a_call(run: Run, tmp_path: Path, write: Write) -> None:
    """A tree with a mistake cannot be walked; the others can, and the mistake is told."""
    folder = folder_of_small(tmp_path / "trees")
    (folder / "broken.yaml").write_text(TREE.replace("tree: small", "tree: broken").replace("version: 1", "version: x"))
    file = write("answers: {filter_condition: clogged}\n")
    good = run("walk", "--tree", "small", "--answers", file, "--trees", folder, "--json")
    assert good.code == 0
    assert json.loads(good.out)["cause"] == "dirty_filter"
    bad = run("walk", "--tree", "broken", "--answers", file, "--trees", folder)
    assert (bad.code, bad.out) == (1, "")
    assert "broken.yaml:3" in bad.err


def test_examples_tell_where_they_end(run: Run, tmp_path: Path) -> None:
    """`trees examples` counts the calls that end where they must, and names the one that does not."""
    folder = folder_of_small(tmp_path / "trees")
    calls = "calls:\n  - {name: choked, answers: {filter_condition: clogged}, reaches: %s}\n"
    (folder / "small.calls.yaml").write_text(calls % "dirty_filter")
    good = run("trees", "examples", folder)
    assert good.code == 0
    assert "small: 1 of 1 calls end where they must" in good.out
    (folder / "small.calls.yaml").write_text(calls % "undecided")
    bad = run("trees", "examples", folder)
    assert bad.code == 1
    assert "small.calls.yaml:2" in bad.out
    assert "reaches dirty_filter instead of undecided" in bad.out
