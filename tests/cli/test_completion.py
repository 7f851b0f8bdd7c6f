"""Completion in the shell: commands, options, names of trees, numbers of calls."""

import subprocess
import sys
from pathlib import Path

import pytest

from assistant.store.store import Store
from tests.answering import written
from tests.cli.running import START, Run, environment


def completed(*words: str, home: Path, shell: str = "bash") -> list[str]:
    """What is offered for the last of some words, as the shell asks for it."""
    asks = {"_COILSIDE_COMPLETE": f"{shell}_complete", "COMP_WORDS": " ".join(("coilside", *words))}
    asks |= {"COMP_CWORD": str(len(words)) if shell != "fish" else words[-1], "COILSIDE_HOME": str(home)}
    done = subprocess.run(
        [sys.executable, "-c", START], env=environment(asks), capture_output=True, text=True, check=False
    )
    assert done.stderr == ""
    return [line for line in done.stdout.splitlines() if line]


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_a_text_for_each_shell_is_printed(run: Run, shell: str) -> None:
    """It asks the program by its own variable."""
    ran = run("completion", shell)
    assert (ran.code, ran.err) == (0, "")
    assert f"_COILSIDE_COMPLETE={shell}_complete" in ran.out


def test_what_the_shell_reads_is_a_program_of_bash(run: Run) -> None:
    """Bash finds nothing wrong in it."""
    done = subprocess.run(
        ["bash", "-n"], input=run("completion", "bash").out, capture_output=True, text=True, check=False
    )
    assert (done.returncode, done.stderr) == (0, "")


def test_commands_and_options_are_completed(tmp_path: Path) -> None:
    """From the beginning of a word."""
    assert completed("comp", home=tmp_path) == ["plain,completion"]
    assert completed("call", "--no", home=tmp_path) == ["plain,--no-color"]
    assert completed("call", "--theme", "s", home=tmp_path) == ["plain,sun"]


@pytest.mark.parametrize("words", [("walk", "--tree"), ("trees", "draw"), ("trees", "try")], ids=" ".join)
def test_names_of_trees_are_completed(tmp_path: Path, words: tuple[str, ...]) -> None:
    """Those of the folders that are named or set."""
    assert "plain,poor_cooling" in completed(*words, "poor", home=tmp_path)
    (tmp_path / "weak_fan.yaml").write_text("tree: weak_fan\n", encoding="utf-8")
    assert completed(*words, "weak", home=tmp_path) == ["file,weak"]
    folder = ("--trees", str(tmp_path))
    named = (words[0], *folder, words[1]) if words[0] == "walk" else (*words, *folder)
    assert completed(*named, "weak", home=tmp_path) == ["plain,weak_fan"]


def test_numbers_of_calls_are_completed_with_their_complaints(tmp_path: Path) -> None:
    """Those that begin with what is typed; without a record nothing is offered, and none is made."""
    assert completed("call", "--resume", "", home=tmp_path) == []
    assert not (tmp_path / "calls.db").exists()
    with Store(tmp_path / "calls.db") as store:
        for title in ("warm air", "no heat"):
            number = store.new_call()
            store.record(number, "set", written("complaint", title))
            store.describe(number, title, "open", "")
    assert sorted(completed("call", "--resume", "", home=tmp_path)) == ["plain,1", "plain,2"]
    assert "warm air" in " ".join(completed("call", "--resume", "", home=tmp_path, shell="zsh"))


def test_of_many_calls_no_more_are_offered_than_can_be_looked_through(tmp_path: Path) -> None:
    """Fifty at most, and those that begin with what is typed, however long ago they were changed."""
    with Store(tmp_path / "calls.db") as store:
        for _ in range(70):
            store.new_call()
    assert len(completed("call", "--resume", "", home=tmp_path)) == 50
    assert completed("call", "--resume", "6", home=tmp_path, shell="bash") == [
        f"plain,{number}" for number in (69, 68, 67, 66, 65, 64, 63, 62, 61, 60, 6)
    ]
