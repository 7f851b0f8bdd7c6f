"""`coilside trees examples`: what it walks, what it tells, and when it fails."""

import json
from pathlib import Path

import pytest

from assistant.source.shipped import shipped_folder
from tests.author.conftest import edit, folder_of_small
from tests.author.drawings import INNER
from tests.cli.running import Run


@pytest.fixture
def small(tmp_path: Path) -> Path:
    """The file of a small tree with three example calls."""
    return folder_of_small(tmp_path / "trees") / "small.yaml"


def test_a_shipped_tree_passes(run: Run) -> None:
    """Every call of a shipped tree ends where it must."""
    ran = run("trees", "examples", shipped_folder("trees") / "reversing_valve.yaml")
    assert (ran.code, ran.err) == (0, "")
    assert ran.out.startswith("reversing_valve: ")
    assert "FAILS" not in ran.out


def test_a_folder_a_tree_or_its_calls_can_be_named(run: Run, small: Path) -> None:
    """The three ways to name the same calls give the same."""
    by_folder = run("trees", "examples", small.parent)
    assert by_folder.code == 0
    assert by_folder.out.startswith("small: 3 of 3 calls end where they must\n")
    assert run("trees", "examples", small).out == by_folder.out
    assert run("trees", "examples", small.with_name("small.calls.yaml")).out == by_folder.out


def test_one_tree_of_several_is_walked_alone(run: Run, small: Path) -> None:
    """Named by its file, a tree stands without the others and without a table."""
    small.with_name("inner.yaml").write_text(INNER, encoding="utf-8")
    assert "\ninner: there are no example calls" not in run("trees", "examples", small).out
    both = run("trees", "examples", small.parent).out
    assert both.startswith("inner: there are no example calls beside it\n")
    table = both[both.index("\ntree ") :].strip().splitlines()[1:-1]
    assert [row.split()[:2] for row in table] == [["inner", "0/0"], ["small", "3/3"], ["all", "3/3"]]


def test_a_failing_call_ends_with_code_one(run: Run, small: Path) -> None:
    """The exit code tells a workflow; so does the JSON, with the place."""
    edit(small, "superheat > limits.high_superheat", "superheat > 60 F")
    ran = run("trees", "examples", small)
    assert ran.code == 1
    assert "2 of 3 calls end where they must" in ran.out
    asked = run("trees", "examples", small, "--json")
    values = json.loads(asked.out)
    assert asked.code == 1
    assert values["passed"] is False
    (failure,) = values["trees"][0]["failures"]
    assert failure["path"] == str(small.with_name("small.calls.yaml"))
    assert failure["line"] == 10
    assert failure["parted"]["node"] == "feed"


def test_ways_are_listed_whole_when_asked_for(run: Run, small: Path) -> None:
    """A long list is cut without --ways."""
    again = "      - when: superheat > 60 F\n        go: open_end\n"
    edit(small, again, again + again.replace("60", "50"))
    calls = small.with_name("small.calls.yaml")
    calls.write_text(calls.read_text(encoding="utf-8").split("  - name: well fed")[0], encoding="utf-8")
    assert "    and 2 more: --ways lists them all\n" in run("trees", "examples", small).out
    whole = run("trees", "examples", small, "--ways").out
    assert "--ways" not in whole
    assert "    starved: superheat > 50 F -> open_end\n" in whole


def test_every_cause_is_listed_with_its_calls(run: Run, small: Path) -> None:
    """With --causes each cause names the trees and how many of their calls come to it, and a missed one stands out."""
    ran = run("trees", "examples", small, "--causes")
    assert ran.code == 0
    listed = dict(
        line.split(": ", 1) for line in ran.out[ran.out.index("\ndirty_filter: ") :].strip().splitlines()[:-1]
    )
    reached = {cause: calls for cause, calls in listed.items() if calls != "NO CALL COMES TO IT"}
    assert list(reached) == ["dirty_filter"]
    assert reached["dirty_filter"].startswith("small ")


def test_what_has_mistakes_fails_and_is_named(run: Run, small: Path) -> None:
    """A tree whose calls cannot be walked does not pass silently."""
    small.with_name("inner.yaml").write_text(INNER, encoding="utf-8")
    edit(small, "cause: dirty_filter", "cause: dirty_filtr")
    ran = run("trees", "examples", small.parent)
    assert ran.code == 1
    assert "has mistakes, so no call was walked: small" in ran.out
    assert 'there is no cause called "dirty_filtr"' in ran.err
    small.with_name("small.calls.yaml").write_text("calls: 5\n", encoding="utf-8")
    edit(small, "cause: dirty_filtr", "cause: dirty_filter")
    assert run("trees", "examples", small).code == 1


def test_nothing_there_is_told(run: Run, small: Path) -> None:
    """A path without a file, and a file of calls without its tree."""
    assert "There is nothing at" in run("trees", "examples", small.with_name("x.yaml")).err
    lost = small.with_name("smal.calls.yaml")
    lost.write_text("calls: []\n", encoding="utf-8")
    ran = run("trees", "examples", lost)
    assert ran.code == 1
    assert "There is no tree called 'smal'. Did you mean small?" in ran.err
