"""Screens that no other test stores: each at 80x24 and 120x36, and in words the same with colour and without."""

import re
from dataclasses import replace
from pathlib import Path

import pytest
from textual.app import App
from textual.pilot import Pilot

from assistant.author.attempt import attempt
from assistant.author.watching import Watch
from assistant.call.library import Library
from assistant.session.session import Accepted, Session
from assistant.store.store import Store
from assistant.tree.reader import read_tree_string
from assistant.tui.app import LookApp, chat_app
from assistant.tui.trial_app import TrialApp
from tests.author.conftest import edit, folder_of_small
from tests.tui.driving import START, TO_THE_FEED, enter
from tests.tui.screens import assert_text, screen_text
from tests.tui.test_caution_list import TREE

_TIME = re.compile(r"\w{3} \d\d \w{3} \d{4}, \d\d:\d\d")
_DAY = re.compile(r"\d\d [A-Z][a-z]{2} \d{4}")


async def assert_stored(pilot: Pilot[int | None], name: str) -> None:
    """The screen is as stored at 80x24, says the same without colour, and is then as stored at 120x36."""
    app = pilot.app
    assert isinstance(app, LookApp)
    if app.size.width != 80:
        await pilot.resize_terminal(80, 24)
        await pilot.pause()
    assert_text(words(app), f"{name}_80x24")
    app.set_look("none" if app.look == "dark" else "dark")
    await pilot.pause()
    assert_text(words(app), f"{name}_80x24")
    await pilot.resize_terminal(120, 36)
    await pilot.pause()
    assert_text(words(app), f"{name}_120x36")


def words(app: App[int | None]) -> str:
    """What is on the screen, with one and the same time and day."""
    return _DAY.sub("01 Jan 2026", _TIME.sub("Thu 01 Jan 2026, 12:00", screen_text(app)))


def begun(library: Library, store: Store, *replies: str) -> int:
    """The number of a call after some replies."""
    session = Session(library, store)
    for reply in replies:
        assert isinstance(session.say(reply), Accepted)
    assert session.number is not None
    return session.number


TURNS = {
    "contradiction": ("118", "30"),
    "undecided": ("cannot tell",),
    "kept_way": ("118", "62", "", "ok", "done", "119", "no"),
    "rejected": ("warm",),
    "what_if": ("118", "62", "if suction_line_temperature 50 F"),
    "changing": ("118", "change filter_condition"),
    "no_fault": ("118", "50"),
}


@pytest.mark.parametrize("name", TURNS)
async def test_turns_of_a_call(small_library: Library, store: Store, name: str) -> None:
    """What a call may come to besides its usual course."""
    number = begun(small_library, store, *TO_THE_FEED)
    async with chat_app(small_library, store, number=number).run_test(size=(80, 24)) as pilot:
        await enter(pilot, *TURNS[name])
        await assert_stored(pilot, name)


async def test_the_list_of_open_calls(small_library: Library, store: Store) -> None:
    """Each with what it waits for."""
    begun(small_library, store, *START)
    begun(small_library, store, "not cooling enough", "", "22")
    async with chat_app(small_library, store).run_test(size=(80, 24)) as pilot:
        await pilot.pause(0.1)
        await assert_stored(pilot, "open_calls")


async def test_the_facts_of_an_earlier_call_are_offered(small_library: Library, store: Store) -> None:
    """In a sentence at the first fact, with the call that they come from, and on the page of all facts."""
    begun(small_library, store, *START)
    number = begun(small_library, store, "warm air")
    async with chat_app(small_library, store, number=number).run_test(size=(80, 24)) as pilot:
        await enter(pilot, "")
        await assert_stored(pilot, "offered")
        await pilot.press("f10")
        await pilot.pause()
        await assert_stored(pilot, "system_offered")
        await pilot.press("f4")
        await pilot.pause()
        await assert_stored(pilot, "system_same")


async def test_a_list_of_cautions(small_library: Library, store: Store) -> None:
    """The second of two."""
    tree, _ = read_tree_string(TREE, "listed.yaml")
    assert tree is not None
    library = replace(small_library, trees={"listed": tree})
    number = begun(library, store, "warm air", "", "1")
    async with chat_app(library, store, number=number).run_test(size=(80, 24)) as pilot:
        await assert_stored(pilot, "caution_list")


async def test_riding_along(small_library: Library, store: Store) -> None:
    """A guess that is asked, how it did, and the score."""
    async with chat_app(small_library, store, ride=True).run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        await enter(pilot, *TO_THE_FEED, "118", "50")
        await assert_stored(pilot, "guess_asked")
        await enter(pilot, "1")
        await assert_stored(pilot, "guessed")


async def test_a_tree_that_is_tried(tmp_path: Path) -> None:
    """A mistake above the reply line, and the list of nodes."""
    file = folder_of_small(tmp_path / "trees") / "small.yaml"
    async with TrialApp(attempt(file), Watch([file.parent])).run_test(size=(80, 24)) as pilot:
        await pilot.press("f10")
        await pilot.pause()
        await assert_stored(pilot, "trial_jump")


async def test_a_tree_that_cannot_be_walked_yet(tmp_path: Path) -> None:
    """Its mistakes fill the screen."""
    file = folder_of_small(tmp_path / "trees") / "small.yaml"
    edit(file, "superheat > limits.high_superheat", "superheat > 25")
    async with TrialApp(attempt(file), Watch([file.parent])).run_test(size=(80, 24)) as pilot:
        await assert_stored(pilot, "trial_wait")
