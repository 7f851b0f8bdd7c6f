"""Open calls at the start, and calls picked up."""

import re

import pytest

from assistant.errors import StoreError
from assistant.store.store import Store
from assistant.tui.screens.chat import ChatScreen
from assistant.tui.screens.pick_up import PickUpScreen
from assistant.tui.widgets.chooser import Chooser
from tests.tui.conftest import Opened
from tests.tui.driving import START, TO_THE_FEED, asked, chat, enter
from tests.tui.screens import screen_text


async def left_open(opened: Opened, *replies: str) -> None:
    """A call that was left."""
    async with opened(after=replies):
        pass


async def test_without_open_calls_the_first_question_comes_at_once(opened: Opened) -> None:
    """There is nothing to choose between."""
    async with opened() as pilot:
        assert asked(pilot) == "complaint"


async def test_open_calls_are_listed_with_what_each_waits_for(opened: Opened) -> None:
    """Number, complaint, time and the open question; the last changed first."""
    await left_open(opened, *START)
    await left_open(opened, "not cooling enough", "", "22")
    async with opened() as pilot:
        await pilot.pause(0.2)
        shown = re.sub(r"\w{3} \d\d \w{3} \d{4}, \d\d:\d\d", "TIME", screen_text(pilot.app))
        assert [line.strip() for line in shown.splitlines() if line.strip()] == [
            "Coilside  2 open calls",
            "> Begin a new call",
            "2  not cooling enough  TIME",
            "Next: Metering device",
            "1  warm air  TIME",
            "Next: Caution: Moving parts",
            "Enter Take the marked one  N New call  F9 Quit",
        ]


async def test_a_call_is_picked_up_with_the_keyboard(opened: Opened) -> None:
    """It goes on where it was left, with the record above."""
    await left_open(opened, *TO_THE_FEED)
    async with opened() as pilot:
        await pilot.press("down", "enter")
        await pilot.pause()
        assert asked(pilot) == "suction_pressure"
        assert "> 1  clean" in screen_text(pilot.app)
        assert chat(pilot).transcript.at_end
        await enter(pilot, "118")
        assert chat(pilot).session.number == 1


async def test_a_call_is_picked_up_with_the_mouse(opened: Opened) -> None:
    """One click on its line."""
    await left_open(opened, *TO_THE_FEED)
    async with opened() as pilot:
        await pilot.click(Chooser, offset=(10, 2))
        await pilot.pause()
        assert asked(pilot) == "suction_pressure"


@pytest.mark.parametrize("key", ["n", "enter"])
async def test_a_new_call_can_be_begun_instead(opened: Opened, store: Store, key: str) -> None:
    """It gets a number with its first answer only."""
    await left_open(opened, *START)
    async with opened() as pilot:
        await pilot.press(key)
        await pilot.pause()
        assert asked(pilot) == "complaint"
        assert len(store.entries()) == 1
        await enter(pilot, "warm air")
        assert len(store.entries()) == 2


async def test_quitting_the_list_begins_nothing(opened: Opened, store: Store) -> None:
    """The program ends without a call."""
    await left_open(opened, *START)
    async with opened() as pilot:
        await pilot.press("f9")
        await pilot.pause()
        assert pilot.app.return_value is None
        assert len(store.entries()) == 1


async def test_a_number_picks_a_call_up_without_asking(opened: Opened) -> None:
    """As when the command line names it."""
    await left_open(opened, *TO_THE_FEED)
    async with opened(number=1) as pilot:
        assert isinstance(pilot.app.screen, ChatScreen)
        assert asked(pilot) == "suction_pressure"


def test_a_number_that_is_no_call_is_refused_before_the_screen_opens(opened: Opened) -> None:
    """The message can be printed where the command was typed."""
    with pytest.raises(StoreError, match="no call number 7"):
        opened(number=7)


async def test_an_ended_call_is_not_offered(opened: Opened) -> None:
    """Only open ones are."""
    await left_open(opened, *TO_THE_FEED, "cannot tell")
    async with opened() as pilot:
        assert asked(pilot) == "complaint"


async def test_a_call_deleted_meanwhile_is_said_to_be_gone(opened: Opened, store: Store) -> None:
    """The list stays, and another can be picked."""
    await left_open(opened, *START)
    async with opened() as pilot:
        await pilot.pause(0.2)
        store.delete(1)
        await pilot.press("down", "enter")
        await pilot.pause()
        assert "There is no call number 1" in screen_text(pilot.app)
        assert isinstance(pilot.app.screen, PickUpScreen)
