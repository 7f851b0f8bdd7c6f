"""`coilside calls replay`: a stored call or a demo call, step by step."""

from pathlib import Path

from assistant.store.store import Store
from tests.answering import written
from tests.cli.running import Run


def test_a_demo_call_is_replayed_by_its_name(run: Run) -> None:
    """Where nobody types, all steps come one after the other, with the reasons."""
    ran = run("calls", "replay", "the-valve-hides-a-leak")
    assert ran.code == 0
    assert ran.out.startswith("The valve hides a leak\n")
    assert "--- step 0 of " in ran.out
    assert "LIKELY CAUSE" in ran.out
    assert "  why: " in ran.out


def test_a_stored_call_is_replayed_by_its_number(run: Run, tmp_path: Path) -> None:
    """An open one as far as it goes; nothing of it is changed."""
    with Store(tmp_path / "calls.db") as store:
        number = store.new_call()
        store.record(number, "set", written("complaint", "warm in the bakery"))
    ran = run("calls", "replay", str(number), "--home", tmp_path)
    assert ran.code == 0
    assert "> warm in the bakery" in ran.out
    assert "--- step 1 of 1 ---" in ran.out
    with Store(tmp_path / "calls.db") as store:
        assert store.answers(number) == (written("complaint", "warm in the bakery"),)


def test_what_is_not_there_is_told(run: Run, tmp_path: Path) -> None:
    """Neither a call of that number nor a demo of that name."""
    refused = run("calls", "replay", "7", "--home", tmp_path).err
    assert "There is no call number 7" in refused
    # Who saw the list of demo calls may have meant one of those.
    assert "coilside calls replay 07-tripping-behind-the-hedge" in refused
    assert "There is no demo call called" in run("calls", "replay", "the-vlave").err
