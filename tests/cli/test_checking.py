"""`coilside trees check` and `explain`: their forms, notes, exit codes, and that no slip stays unanswered."""

import json
from pathlib import Path

import pytest

from assistant.tree.codes import EXPLANATIONS
from tests.cli.lines import TREE, folder_of_small
from tests.cli.running import Run

NOTED = TREE.replace("  second:\n", "  second:\n    note: Ask what is usual here.\n")
WRONG = NOTED.replace("superheat > 10 F", "superheat > 10")


@pytest.fixture
def noted(tmp_path: Path) -> Path:
    """A tree with a note and nothing wrong."""
    file = folder_of_small(tmp_path) / "small.yaml"
    file.write_text(NOTED, encoding="utf-8")
    return file


def test_a_note_is_listed_and_nothing_to_be_mended(run: Run, noted: Path) -> None:
    """A note comes on one line with its place; the exit code stays 0."""
    ran = run("trees", "check", noted)
    assert (ran.code, ran.err) == (0, "no problems, 1 note\n")
    assert ran.out == f"{noted}:{_line(NOTED, 'note:')}:11: note: Ask what is usual here. [note-to-self]\n"


def test_notes_come_behind_the_problems(run: Run, noted: Path) -> None:
    """Problems come first, and the exit code is theirs."""
    noted.write_text(WRONG, encoding="utf-8")
    ran = run("trees", "check", noted)
    assert ran.code == 1
    assert ran.err == "\n1 problem, 1 note\n"
    assert ran.out.index("[kind-no-unit]") < ran.out.index("[note-to-self]")


def test_json_tells_problems_from_notes(run: Run, noted: Path) -> None:
    """Every entry says how severe it is, beside place, code, message and hint."""
    noted.write_text(WRONG, encoding="utf-8")
    ran = run("trees", "check", noted, "--format", "json")
    listed = json.loads(ran.out)
    assert [(entry["severity"], entry["code"]) for entry in listed] == [
        ("problem", "kind-no-unit"),
        ("note", "note-to-self"),
    ]
    assert ran.code == 1


def test_a_workflow_gets_one_command_a_problem(run: Run, noted: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Lines are marked in files as they are named from where the workflow runs."""
    noted.write_text(WRONG, encoding="utf-8")
    monkeypatch.chdir(noted.parent)
    ran = run("trees", "check", noted, "--format", "github")
    problem, note = ran.out.splitlines()
    assert problem.startswith(f"::error file=small.yaml,line={_line(WRONG, 'superheat > 10')},col=")
    assert problem.endswith("[kind-no-unit]")
    assert note.startswith(f"::notice file=small.yaml,line={_line(WRONG, 'note:')},col=11,")
    assert ran.code == 1


def test_what_no_tree_uses_is_noted_when_asked_for(run: Run, noted: Path) -> None:
    """With --unused the entries of the catalogue that no tree of the folder uses are noted."""
    assert "note-unused" not in run("trees", "check", noted.parent).out
    ran = run("trees", "check", noted.parent, "--unused")
    assert ran.code == 0
    assert "no tree ends in the cause overcharge [note-unused]" in ran.out


def test_a_catalogue_of_ones_own_is_checked_too(run: Run, noted: Path) -> None:
    """A repair without its caution is told with the place in the catalogue."""
    causes = noted.parent / "catalogue" / "causes.yaml"
    text = causes.read_text(encoding="utf-8")
    gap = "And the gap that let the dirt past it is closed."
    causes.write_text(text.replace(gap, "Solder it.", 1), encoding="utf-8")
    ran = run("trees", "check", noted.parent)
    assert ran.code == 1
    assert "without the caution brazing [catalogue-caution]" in ran.out


def test_a_code_is_explained(run: Run) -> None:
    """A code, as it stands in brackets behind a problem or without them, gives its page."""
    ran = run("trees", "explain", "tree-shadowed")
    assert (ran.code, ran.err) == (0, "")
    assert ran.out.startswith("tree-shadowed: Branches above leave nothing to this one\n")
    assert "Wrong:" in ran.out
    assert "Right:" in ran.out
    assert run("trees", "explain", "[Tree-Shadowed]").out == ran.out


def test_an_unknown_code_gives_the_nearest(run: Run) -> None:
    """A misspelt code is answered with the nearest ones, on standard error."""
    ran = run("trees", "explain", "tree-shadow")
    assert (ran.code, ran.out) == (1, "")
    assert "Did you mean tree-shadowed?" in ran.err
    assert run("trees", "explain", "\x1b[31m").code == 1


def test_all_codes_are_listed(run: Run) -> None:
    """Without a code all are listed, one a line that fits the terminal."""
    ran = run("trees", "explain")
    assert [line.split()[0] for line in ran.out.splitlines()] == list(EXPLANATIONS)
    assert all(len(line) <= 100 for line in ran.out.splitlines())


def _line(text: str, words: str) -> int:
    """The line on which some words stand first."""
    return text[: text.index(words)].count("\n") + 1


LIMIT = "warm_box:\n  value: 41 F\n  kind: temperature\n  what: the warmest\n  source: made up\n"
BOX = TREE.replace("superheat > 10 F", "suction_line_temperature > limits.warm_box")


@pytest.fixture
def base(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """One small tree over the shipped catalogue, for a shop's folder to lie over: its tree of that name is noted."""
    return folder_of_small(tmp_path_factory.mktemp("base"))


@pytest.fixture
def of_a_shop(tmp_path: Path) -> Path:
    """A shop's folder: a tree, and a catalogue with one limit alone, which the tree uses."""
    (tmp_path / "catalogue").mkdir()
    (tmp_path / "catalogue" / "limits.yaml").write_text(LIMIT, encoding="utf-8")
    (tmp_path / "small.yaml").write_text(BOX, encoding="utf-8")
    return tmp_path


@pytest.mark.parametrize(
    ("old", "new", "code"),
    [
        ("41 F", "41", "kind-value"),
        ("kind: temperature", "kind: temp", "kind-unknown"),
        ("warm_box", "Warm box", "shape-name"),
    ],
)
def test_a_mistake_in_an_entry_is_told_once(
    run: Run, base: Path, of_a_shop: Path, old: str, new: str, code: str
) -> None:
    """What uses an entry of the catalogue that has a mistake is not told to be unknown as well."""
    assert run("trees", "check", base, "--shop", of_a_shop).code == 0
    (of_a_shop / "catalogue" / "limits.yaml").write_text(LIMIT.replace(old, new, 1), encoding="utf-8")
    ran = run("trees", "check", base, "--shop", of_a_shop)
    assert ran.code == 1
    assert f"[{code}]" in ran.out
    assert ran.err == "\n1 problem, 1 note\n"


def test_a_name_that_nobody_wrote_is_still_unknown(run: Run, base: Path, of_a_shop: Path) -> None:
    """Beside an entry with a mistake, other unknown names are told as ever."""
    (of_a_shop / "catalogue" / "limits.yaml").write_text(LIMIT.replace("41 F", "41"), encoding="utf-8")
    (of_a_shop / "small.yaml").write_text(BOX.replace("limits.warm_box", "limits.cold_box"), encoding="utf-8")
    assert "[name-unknown]" in run("trees", "check", base, "--shop", of_a_shop).out


def test_a_catalogue_that_only_adds_is_told_how_to_be_checked(run: Run, base: Path, of_a_shop: Path) -> None:
    """Checked as a whole, a shop's folder has a name unknown at every turn; the last line says what to type."""
    ran = run("trees", "check", of_a_shop / "small.yaml")
    assert ran.code == 1
    assert "coilside trees check --shop FOLDER" in ran.err
    assert "--shop" not in run("trees", "check", base, "--shop", of_a_shop).err
