"""`coilside trees new` and `schema`: a tree to start from that passes, and what an editor needs beside it."""

import json
import shlex
from io import StringIO
from pathlib import Path

import pytest

from assistant.author.starting import START
from assistant.cli.trees import NEXT, trees
from tests.cli.running import Run


def test_a_new_tree_passes_check_and_reaches_every_end(run: Run, tmp_path: Path) -> None:
    """What is written has no problem, one note to its author, and calls that all end where they must."""
    folder = tmp_path / "my trees"
    made = run("trees", "new", "reach_in", "--folder", folder)
    assert made.code == 0
    assert "tree: reach_in  " in (folder / "reach_in.yaml").read_text(encoding="utf-8")
    checked = run("trees", "check", folder)
    assert (checked.code, checked.err) == (0, "no problems, 1 note\n")
    assert "[note-to-self]" in checked.out
    walked = run("trees", "examples", folder)
    assert walked.code == 0, walked.out


def test_every_end_of_a_new_tree_has_its_call() -> None:
    """An author who breaks a way to any cause sees one of the calls fail."""
    tree = (START / "new_tree.yaml").read_text(encoding="utf-8")
    calls = (START / "new_tree.calls.yaml").read_text(encoding="utf-8")
    causes = [line.split()[1] for line in tree.splitlines() if line.startswith("    cause: ")]
    assert len(causes) == 4
    assert all(f"reaches: {end}\n" in calls for end in [*causes, "no_fault", "undecided"])


def test_nothing_is_written_over(run: Run, tmp_path: Path) -> None:
    """A file that is there, tree or calls, stays as it is, and neither of the two is written."""
    (tmp_path / "mine.calls.yaml").write_text("mine", encoding="utf-8")
    ran = run("trees", "new", "mine", "--folder", tmp_path)
    assert ran.code == 1
    assert "mine.calls.yaml is already there" in ran.err
    assert [file.name for file in tmp_path.iterdir()] == ["mine.calls.yaml"]
    assert (tmp_path / "mine.calls.yaml").read_text(encoding="utf-8") == "mine"


@pytest.mark.parametrize(
    ("name", "fit"),
    [
        ("Reach-in", "reach_in"),
        ("Reach-in, not cold", "reach_in_not_cold"),
        ("reach_in.yaml", "reach_in"),
        ("../up", "up"),
        ("2nd", "nd"),
        ("ÄÖ", "reach_in_not_cold"),
        ("a" * 61, "a" * 60),
        ("", "reach_in_not_cold"),
    ],
)
def test_a_bad_name_is_refused_with_what_to_write(run: Run, tmp_path: Path, name: str, fit: str) -> None:
    """What cannot be a tree's name makes no file, and a name that can be is suggested and then taken."""
    ran = run("trees", "new", name, "--folder", tmp_path)
    assert ran.code == 1
    assert ran.err.endswith(f"Write, for example: {fit}\n")
    assert list(tmp_path.iterdir()) == []
    assert run("trees", "new", fit, "--folder", tmp_path).code == 0


def test_a_folder_that_cannot_be_made_is_told(run: Run, tmp_path: Path) -> None:
    """A file where the folder should be gives a sentence, not a fault."""
    (tmp_path / "file").write_text("", encoding="utf-8")
    ran = run("trees", "new", "mine", "--folder", tmp_path / "file")
    assert ran.code == 1
    assert "cannot be written" in ran.err


def test_what_comes_next_exists(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Each command that an author is told to type next is one that the program has, and does not fail."""
    out = run("trees", "new", "mine", "--folder", tmp_path).out
    told = [line.strip() for line in out.splitlines() if line.strip().startswith("coilside ")]
    assert len(told) == len(NEXT)
    assert Path(out.splitlines()[-1].removeprefix("The manual for authors is ")).is_file()
    for line in told:
        _, group, command, *arguments = shlex.split(line)
        assert group == "trees"
        assert command in trees.commands
        given = arguments[: arguments.index(">")] if ">" in arguments else arguments
        monkeypatch.setattr("sys.stdin", StringIO())
        assert run(group, command, *given).code == 0


def test_the_schema_is_printed_alone(run: Run) -> None:
    """Standard output holds one JSON object with the catalogue's names, or without them when asked."""
    named = json.loads(run("trees", "schema").out)
    assert named["title"] == "A tree"
    assert "$defs" in named
    assert "$defs" not in json.loads(run("trees", "schema", "tree", "--no-names").out)


def test_a_schema_has_the_names_of_ones_own_catalogue(run: Run, tmp_path: Path) -> None:
    """With --trees the names are those of that folder's catalogue; a folder without one has the shipped names."""
    bare = json.loads(run("trees", "schema", "calls", "--trees", tmp_path).out)
    assert {"const": "txv"}.items() <= bare["properties"]["calls"]["items"]["properties"]["facts"]["properties"][
        "metering_device"
    ]["oneOf"][0].items()
    (tmp_path / "catalogue").mkdir()
    (tmp_path / "catalogue" / "observations.yaml").write_text(
        "door_gasket:\n  title: Gasket\n  question: How is it?\n  choices: {tight: tight, torn: torn}\n",
        encoding="utf-8",
    )
    own = json.loads(run("trees", "schema", "--trees", tmp_path).out)
    assert [item["const"] for item in own["$defs"]["ask"]["oneOf"]] == ["door_gasket"]


def test_a_tree_that_cannot_be_read_yet_may_be_used(run: Run, tmp_path: Path) -> None:
    """The trees of the folder are named behind `use`, also one with a mistake that makes it unreadable."""
    run("trees", "new", "mine", "--folder", tmp_path)
    (tmp_path / "broken.yaml").write_text("tree: [", encoding="utf-8")
    known = json.loads(run("trees", "schema", "--trees", tmp_path).out)["$defs"]["use"]["oneOf"]
    assert [item["const"] for item in known] == ["broken", "mine"]


def test_an_unknown_schema_suggests(run: Run) -> None:
    """A misspelt sort gives the nearest ones and exit code 1."""
    ran = run("trees", "schema", "catalogue/reading")
    assert (ran.code, ran.out) == (1, "")
    assert "Did you mean catalogue/readings" in ran.err
