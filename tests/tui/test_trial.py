"""The chat on a tree that is being written: what a save does to the screen, and going to a node."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot

from assistant.author.attempt import Attempt, attempt
from assistant.author.watching import Watch
from assistant.tui import trial_app
from assistant.tui.screens.jump import JumpPage, fitting
from assistant.tui.screens.pages import HelpPage
from assistant.tui.trial_app import TrialApp, TrialScreen, WaitScreen
from tests.author.conftest import edit, folder_of_small
from tests.tui.driving import asked, chat, enter, news, type_out
from tests.tui.screens import assert_snapshot, screen_text

Trying = Pilot[int | None]
TO_THE_WAIT = ("22", "clean", "0 ft", "68.6", "70")
"""Replies up to the step that waits."""


@pytest.fixture(autouse=True)
def _looks_often(monkeypatch: pytest.MonkeyPatch) -> None:
    """A save is seen at once, so that most of the time of these tests is not spent waiting for it."""
    monkeypatch.setattr(trial_app, "_EVERY", 0.02)


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return folder_of_small(tmp_path / "trees") / "small.yaml"


def trying(file: Path, node: str | None = None, **given: tuple[str, ...]) -> TrialApp:
    """The application on a tree."""
    return TrialApp(attempt(file), Watch([file.parent]), node, given)


async def until(pilot: Trying, holds: Callable[[], bool]) -> None:
    """Wait until a save has come to the screen; a watch looks a few times a second."""
    for _ in range(100):
        if holds():
            return
        await pilot.pause(0.05)
    raise AssertionError(screen_text(pilot.app))


def shows(pilot: Trying, words: str) -> Callable[[], bool]:
    """Whether some words are on the screen."""
    return lambda: words in screen_text(pilot.app)


async def test_a_trial_begins_without_a_complaint(file: Path) -> None:
    """The first fact is asked; the title names the tree and the node."""
    async with trying(file).run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert asked(pilot) == "refrigerant"
        assert screen_text(pilot.app).startswith(" Coilside  trying small  at air  Small")
        await enter(pilot, *TO_THE_WAIT)
        assert "at starved" in screen_text(pilot.app)


async def test_a_save_goes_on_with_the_answers(file: Path) -> None:
    """The call ends elsewhere as soon as the edit is on disk; what is being typed stays."""
    async with trying(file).run_test(size=(80, 24)) as pilot:
        await enter(pilot, *TO_THE_WAIT)
        await pilot.press("d", "o")
        edit(file, "superheat > limits.high_superheat", "superheat > 50 F")
        await until(pilot, shows(pilot, "NO FAULT FOUND"))
        assert news(pilot) == "Saved. The call goes another way from feed on, to no_fault (all_well)."
        assert chat(pilot).reply.value == "do"


async def test_a_save_counts_the_example_calls_that_end_as_they_must(file: Path) -> None:
    """The title says how many, the word examples which do not, and why; typing is not disturbed."""
    async with trying(file).run_test(size=(80, 24)) as pilot:
        await enter(pilot, *TO_THE_WAIT)
        await pilot.press("d")
        edit(file, "superheat > limits.high_superheat", "superheat > 50 F")
        await until(pilot, shows(pilot, "trying small - 2 of 3 example calls end as they must"))
        assert chat(pilot).reply.value == "d"
        chat(pilot).reply.clear()
        await enter(pilot, "examples")
        assert "no bulb to be warmed: reaches no_fault" in screen_text(pilot.app)
        edit(file, "superheat > 50 F", "superheat > 20 F")
        await until(pilot, shows(pilot, "3 of 3 example calls"))


async def test_a_save_with_a_mistake_shows_it_in_place(file: Path) -> None:
    """Line and caret stand above the reply line, the last good tree goes on, and mending the file ends it."""
    async with trying(file).run_test(size=(80, 24)) as pilot:
        await enter(pilot, *TO_THE_WAIT)
        edit(file, "superheat > limits.high_superheat", "superheat > 25")
        await until(pilot, shows(pilot, "1 MISTAKE"))
        # The lines of the mistake move the call above them up.
        await pilot.pause(0.3)
        assert_snapshot(pilot.app, "trial_mistake_80x24")
        await enter(pilot, "done")
        assert "NO FAULT FOUND" in screen_text(pilot.app)
        edit(file, "superheat > 25", "superheat > 25 F")
        await until(pilot, lambda: "MISTAKE" not in screen_text(pilot.app))
        assert news(pilot) == "Saved. The call goes as it did."


async def test_a_look_that_fails_is_told_and_the_next_save_is_looked_at(
    file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As where memory runs out, or the disk is pulled in the middle of a look."""
    fails = [True]

    def sometimes(*given: Any) -> Attempt:
        if fails:
            raise MemoryError("no room")
        return attempt(*given)

    async with trying(file).run_test(size=(80, 24)) as pilot:
        await enter(pilot, *TO_THE_WAIT)
        monkeypatch.setattr("assistant.tui.trial_app.attempt", sometimes)
        edit(file, "superheat > limits.high_superheat", "superheat > 50 F")
        await until(pilot, lambda: "That could not be done: no room" in news(pilot))
        fails.clear()
        edit(file, "superheat > 50 F", "superheat > 51 F")
        await until(pilot, shows(pilot, "NO FAULT FOUND"))


async def test_an_editor_that_renames_its_file_is_seen(file: Path) -> None:
    """A new file takes the place of the old one, as many editors save."""
    async with trying(file).run_test(size=(80, 24)) as pilot:
        await enter(pilot, *TO_THE_WAIT)
        fresh = file.with_name("small.yaml.tmp")
        edited = file.read_text(encoding="utf-8").replace("do: wait_settled", "do: wait_resting")
        fresh.write_text(edited, encoding="utf-8")
        fresh.replace(file)
        await until(pilot, shows(pilot, "Let the pressures come to rest"))
        assert asked(pilot) == "do wait_resting @ starved"


async def test_a_deleted_file_is_told_and_may_come_back(file: Path) -> None:
    """The call goes on without the file, and with it when it is there again."""
    async with trying(file).run_test(size=(80, 24)) as pilot:
        await enter(pilot, "22")
        text = file.read_text(encoding="utf-8")
        file.unlink()
        await until(pilot, shows(pilot, "small.yaml: there is no such file"))
        await enter(pilot, "clean")
        assert asked(pilot) == "altitude"
        file.write_text(text, encoding="utf-8")
        await until(pilot, lambda: "there is no such file" not in screen_text(pilot.app))
        assert asked(pilot) == "altitude"


async def test_a_renamed_node_keeps_its_answer(file: Path) -> None:
    """What was done under the old name counts under the new one."""
    async with trying(file).run_test(size=(80, 24)) as pilot:
        await enter(pilot, *TO_THE_WAIT, "done")
        edit(file, "starved", "hungry")
        await until(pilot, lambda: "hungry" in chat(pilot).session.library.trees["small"].nodes)
        assert chat(pilot).session.prompt is None


async def test_a_tree_that_cannot_be_walked_yet_is_waited_for(file: Path) -> None:
    """The mistakes fill the screen; once they are mended, the call begins at the node that was asked for."""
    edit(file, "superheat > limits.high_superheat", "superheat > 25")
    async with trying(file, "starved", refrigerant=("R-22",)).run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert isinstance(pilot.app.screen, WaitScreen)
        assert "25 has no unit" in screen_text(pilot.app)
        edit(file, "superheat > 25", "superheat > 25 F")
        await until(pilot, lambda: isinstance(pilot.app.screen, TrialScreen))
        await until(pilot, shows(pilot, "Begun at starved. Jumped over: air, feed."))
        assert asked(pilot) == "do wait_settled @ starved"


async def test_a_node_is_gone_to_by_a_part_of_its_name(file: Path) -> None:
    """F10 lists the nodes, typing leaves those that fit, Enter begins there."""
    async with trying(file).run_test(size=(80, 24)) as pilot:
        await enter(pilot, "22")
        await pilot.press("f10")
        await pilot.pause()
        assert isinstance(pilot.app.screen, JumpPage)
        assert_snapshot(pilot.app, "trial_jump_80x24")
        await pilot.press(*"arv")
        await pilot.pause()
        assert "> starved  do wait_settled" in screen_text(pilot.app)
        assert "choked" not in screen_text(pilot.app)
        await pilot.press("enter")
        await pilot.pause()
        assert asked(pilot) == "do wait_settled @ starved"
        assert news(pilot) == "Begun at starved. Jumped over: air, feed."


async def test_the_list_of_nodes_can_be_left_and_walked(file: Path) -> None:
    """Esc changes nothing; the arrow keys move the mark; the word jump opens the list as well."""
    async with trying(file).run_test(size=(80, 24)) as pilot:
        await enter(pilot, "22", "jump")
        assert isinstance(pilot.app.screen, JumpPage)
        await pilot.press("escape")
        await pilot.pause()
        assert asked(pilot) == "filter_condition"
        await pilot.press("ctrl+g", "down", "enter")
        await pilot.pause()
        assert asked(pilot) == "altitude"


async def test_a_typed_node_is_completed_and_a_slip_is_told(file: Path) -> None:
    """The right arrow completes a name; an unknown one stays in the line beside what may be meant."""
    async with trying(file).run_test(size=(80, 24)) as pilot:
        await enter(pilot, "22", "jump starvd")
        assert news(pilot) == "The tree has no node 'starvd'. Did you mean starved?"
        assert chat(pilot).reply.value == "jump starvd"
        chat(pilot).reply.clear()
        await pilot.press(*"jump st")
        await pilot.pause(0.1)
        await pilot.press("right", "enter")
        await pilot.pause()
        assert asked(pilot) == "do wait_settled @ starved"


async def test_nothing_is_kept(file: Path) -> None:
    """Quitting gives no number of a call, and the help and the end say so."""
    app = trying(file)
    async with app.run_test(size=(80, 24)) as pilot:
        await type_out(pilot, "22", "clogged")
        while chat(pilot).session.prompt is not None:
            await enter(pilot, "understood" if str(asked(pilot)).startswith("caution") else "yes")
        assert "Nothing is kept: this was only tried." in " ".join(screen_text(app).split())
        await pilot.press("f1")
        await pilot.pause()
        assert isinstance(app.screen, HelpPage)
        await pilot.press("escape", "f9")
    assert app.return_value is None


def test_names_that_fit_come_in_the_order_of_the_tree(file: Path) -> None:
    """All typed parts must be in the name; where none has them, the nearest names come."""
    tree = attempt(file).tree
    assert tree is not None
    assert fitting("", tree.nodes) == tuple(tree.nodes)
    assert fitting("en op", tree.nodes) == ("open_end",)
    assert fitting("chocked", tree.nodes) == ("choked",)
    assert fitting("\x1b[31m", tree.nodes) == ()
