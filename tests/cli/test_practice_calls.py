"""`coilside practice call` and what is kept of such calls, from the command line."""

import json
import signal
from collections.abc import Callable, Sequence
from io import StringIO
from pathlib import Path

import pytest

from assistant.practice.session.practice_call import PracticeCall
from assistant.practice.session.practice_results import FILE_NAME
from assistant.store.store import Store
from tests.cli.running import Run, process
from tests.practice.site import call_with

LIST = """
practice: First week
exercises:
  - {title: The bakery, minutes: 30, faults: {dirty_filter: 40%}, complaint: Warm by noon}
  - {title: Drawn, seed: 6, difficulty: 2}
"""
REPLIES = ("", "1", "2", "", "agree")
"""To the clogged filter of the bakery: the door, two cautions, the filter, and the trees' cause."""


@pytest.fixture
def exercises(tmp_path: Path) -> Path:
    path = tmp_path / "list.yaml"
    path.write_text(LIST, encoding="utf-8")
    return path


@pytest.fixture
def played(exercises: Path, run: Run, monkeypatch: pytest.MonkeyPatch) -> Callable[..., str]:
    """Work the list's first exercise line by line, with replies as from a pipe; gives what is printed."""

    def play(home: Path, *replies: str, options: Sequence[str | Path] = ()) -> str:
        monkeypatch.setattr("sys.stdin", StringIO("".join(f"{reply}\n" for reply in replies)))
        found = run("practice", "call", *(options or ("--list", exercises, "--trainee", "=Ada")), "--home", home)
        assert found.code == 0, found.err
        return found.out

    return play


Played = Callable[..., str]


def test_a_whole_practice_call_line_by_line(played: Played, run: Run, tmp_path: Path) -> None:
    """From the door to the review; the record, the result and both ways are there afterwards."""
    home = tmp_path / "home"
    out = played(home, *REPLIES)
    assert 'The customer says: "Warm by noon"' in out
    assert "Air filter: clogged" in out
    assert "You named: Clogged air filter - right." in out
    assert "2 minutes, 30 allowed" in " ".join(out.split())
    shown = run("practice", "show", 1, "--home", home)
    assert "WHAT THE READINGS WERE SAYING" in shown.out
    values = json.loads(run("practice", "show", 1, "--json", "--home", home).out)
    assert (values["verdict"], values["exercise"], values["minutes"]) == ("right", "The bakery", 2.0)
    listed = run("practice", "calls", "--home", home).out
    assert "ended" in listed
    assert "Clogged air filter" in listed


def test_a_result_begins_no_formula_in_a_spreadsheet(played: Played, run: Run, tmp_path: Path) -> None:
    """What a trainee calls themselves stays text."""
    played(tmp_path, *REPLIES)
    assert "'=Ada," in (tmp_path / FILE_NAME).read_text(encoding="utf-8")
    found = json.loads(run("practice", "results", "--json", "--home", tmp_path).out)
    assert [row["exercise"] for row in found] == ["The bakery"]
    assert "right" in run("practice", "results", "--home", tmp_path).out
    # Killed between the end and the file, or the file was moved away: the record has it all.
    (tmp_path / FILE_NAME).unlink()
    again = json.loads(run("practice", "results", "--json", "--home", tmp_path).out)
    assert [{**one, "finished": ""} for one in again] == [{**one, "finished": ""} for one in found]


def test_a_practice_call_that_is_killed_is_picked_up(played: Played, exercises: Path, run: Run, tmp_path: Path) -> None:
    """Every answer that was acknowledged and all that was done is on disk before the next question."""
    home = tmp_path / "home"
    with process("practice", "call", "--list", exercises, "--home", home) as running:
        assert running.stdin is not None
        assert running.stdout is not None
        running.stdin.write("".join(f"{reply}\n" for reply in REPLIES[:4]))
        running.stdin.flush()
        while "LIKELY CAUSE" not in running.stdout.readline():
            pass
        running.send_signal(signal.SIGKILL)
    assert "1  " in run("practice", "calls", "--home", home).out
    out = played(home, "visit", "agree", options=("--resume", "1"))
    assert "Minute 2 of the visit" in out
    assert "right" in out


def test_a_list_is_shown_without_its_faults(exercises: Path, run: Run) -> None:
    """--truth tells them; a mistake is told with its line; the schema is for editors."""
    shown = run("practice", "list", exercises)
    assert shown.code == 0
    assert "The bakery (R-410A, 3 tons, txv, 30 minutes)" in shown.out
    assert "dirty_filter" not in shown.out
    assert "dirty_filter: 40%" in run("practice", "list", exercises, "--truth").out
    exercises.write_text(LIST.replace("dirty_filter", "dirty_filtre"), encoding="utf-8")
    wrong = run("practice", "list", exercises)
    assert wrong.code == 1
    assert "list.yaml:4:" in wrong.err
    assert "write: dirty_filter" in wrong.err
    assert json.loads(run("practice", "list", "--schema").out)["title"]
    assert run("practice", "list").code == 2


def test_only_exercises_of_the_list_can_be_worked(exercises: Path, run: Run, tmp_path: Path) -> None:
    """A number beyond its end is told."""
    wrong = run("practice", "call", "--list", exercises, "--number", 3, "--home", tmp_path)
    assert wrong.code == 1
    assert "2 exercises" in wrong.err


def test_what_is_not_over_has_no_review_yet(run: Run, library, tmp_path: Path) -> None:  # type: ignore[no-untyped-def]
    """It says how to go on; a number that is not there is told too."""
    with Store(tmp_path / "practice.db") as store:
        session = PracticeCall.start_of(library, store, call_with("dirty_filter"))
        session.say("")
        session.say("1")
    assert "practice call --resume 1" in run("practice", "show", 1, "--home", tmp_path).err
    assert run("practice", "show", 2, "--home", tmp_path).code == 1
    assert "No practice call is over yet." in run("practice", "results", "--home", tmp_path).err


def test_a_practice_call_is_stepped_through_like_any_call(played: Played, run: Run, tmp_path: Path) -> None:
    """Each answer with what follows from it, and the review behind the last one."""
    played(tmp_path, "", "take outdoor air temperature", "ok", *REPLIES[1:])
    out = run("practice", "replay", 1, "--home", tmp_path).out
    assert out.index("Outdoor air temperature") < out.index("Clogged air filter") < out.index("The score")
    assert "--- step 0 of" in out


def test_a_file_of_results_that_is_another_one_is_told(run: Run, tmp_path: Path) -> None:
    """It is left as it is."""
    (tmp_path / FILE_NAME).write_text("a,b\n1,2\n", encoding="utf-8")
    wrong = run("practice", "results", "--home", tmp_path)
    assert wrong.code == 1
    assert "no file of results" in wrong.err


def test_the_same_seed_draws_the_same_call(played: Played, tmp_path: Path) -> None:
    """So that two trainees can be compared."""
    drawn = ("--seed", "5", "--difficulty", "3")
    replies = ("", "take outdoor air temperature", "ok", "give up")
    outs = [played(tmp_path / home, *replies, options=drawn) for home in ("one", "two")]
    assert outs[0] == outs[1]
    assert "Outdoor air temperature" in outs[0]


def test_a_call_gone_alone_is_stepped_through_by_what_was_done(played: Played, run: Run, tmp_path: Path) -> None:
    """The trees asked nothing, so each reading and act is a step."""
    done = ("", "take outdoor air temperature", "ok", "wait 5", "give up")
    played(tmp_path, *done, options=("--seed", "5", "--alone"))
    out = run("practice", "replay", 1, "--home", tmp_path).out
    assert "--- step 2 of 2 ---" in out
    assert out.index("Outdoor air temperature") < out.index("Wait 5 minutes") < out.index("The score")
