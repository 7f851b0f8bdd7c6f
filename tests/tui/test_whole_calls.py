"""Whole calls, typed at the keyboard, with the screens on the way as text."""

import pytest

from tests.tui.conftest import Opened
from tests.tui.driving import TO_THE_FEED, asked, chat, enter
from tests.tui.screens import assert_snapshot, screen_text

SIZES = pytest.mark.parametrize(("width", "height"), [(80, 24), (120, 36)], ids=["80x24", "120x36"])


@SIZES
async def test_a_call_goes_from_the_complaint_to_a_proven_cause(opened: Opened, width: int, height: int) -> None:
    """Question, caution, step, change and proof: every screen on the way is as stored."""
    async with opened(width, height) as pilot:
        shot = f"{width}x{height}"
        assert_snapshot(pilot.app, f"first_question_{shot}")
        await enter(pilot, "warm air", "", "410a")
        assert_snapshot(pilot.app, f"choices_{shot}")
        await enter(pilot, "1", "")
        assert_snapshot(pilot.app, f"caution_{shot}")
        await enter(pilot, "ok", "1", "118")
        assert_snapshot(pilot.app, f"reading_{shot}")
        await enter(pilot, "80", "ok")
        assert_snapshot(pilot.app, f"step_{shot}")
        await enter(pilot, "done", "119")
        assert_snapshot(pilot.app, f"cause_{shot}")
        while not chat(pilot).transcript.at_end:
            await pilot.press("pagedown")
        assert_snapshot(pilot.app, f"repair_{shot}")
        await enter(pilot, "yes")
        assert_snapshot(pilot.app, f"end_{shot}")
        outcome = chat(pilot).session.conversation.outcome
        assert outcome is not None
        assert (outcome.cause, outcome.proven) == ("bulb_charge_lost", True)


@SIZES
async def test_a_close_call_is_shown_as_one(opened: Opened, width: int, height: int) -> None:
    """It says how likely the number is as it reads, where it leads and which way is kept."""
    async with opened(width, height, after=TO_THE_FEED) as pilot:
        await enter(pilot, "118", "62")
        shown = screen_text(pilot.app)
        assert "CLOSE CALL" in shown
        assert "96% likely as it reads" in shown
        assert "Leans to: hold the bulb in a bare hand" in shown
        assert "Kept: nothing wrong found" in shown
        assert_snapshot(pilot.app, f"close_call_{width}x{height}")


async def test_a_close_call_can_be_measured_again(opened: Opened) -> None:
    """The number of a reading asks for that reading once more."""
    async with opened(after=TO_THE_FEED) as pilot:
        await enter(pilot, "118", "62", "2")
        assert asked(pilot) == "suction_pressure"
        assert "Measure again." in screen_text(pilot.app)


async def test_a_call_without_answers_ends_undecided(opened: Opened) -> None:
    """The end says what could not be told."""
    async with opened(100, 40, after=TO_THE_FEED) as pilot:
        await enter(pilot, "cannot tell")
        shown = screen_text(pilot.app)
        assert "UNDECIDED" in shown
        assert "Could not be told: Suction pressure." in shown
        assert "END OF THE CALL" in shown


async def test_a_call_may_find_no_fault(opened: Opened) -> None:
    """The end of such a call is named."""
    async with opened(100, 40, after=TO_THE_FEED) as pilot:
        await enter(pilot, "118", "50")
        assert "NO FAULT FOUND" in screen_text(pilot.app)


async def test_a_kept_way_is_followed_when_the_cause_is_not_proven(opened: Opened) -> None:
    """The screen says that it comes back."""
    async with opened(100, 40, after=TO_THE_FEED) as pilot:
        await enter(pilot, "118", "62", "", "ok", "done", "119", "no")
        assert "COMING BACK" in screen_text(pilot.app)


@pytest.mark.parametrize(("width", "height"), [(60, 20), (200, 60)])
async def test_other_sizes_are_legible(opened: Opened, width: int, height: int) -> None:
    """A narrow and a wide terminal show the whole question and every key."""
    async with opened(width, height, after=TO_THE_FEED) as pilot:
        shown = screen_text(pilot.app)
        assert "What is the suction pressure?" in shown
        for key in ("F1 Help", "F2 Why", "F3 Work", "F4 Can't tell", "F5 Back", "F6 Change", "F7 Panel", "F9 Quit"):
            assert key in shown
        assert_snapshot(pilot.app, f"reading_asked_{width}x{height}")


async def test_only_what_is_new_is_made_anew(opened: Opened) -> None:
    """An answer leaves the turns before it as they are."""
    async with opened(after=TO_THE_FEED) as pilot:
        before = chat(pilot).transcript.views
        await enter(pilot, "118")
        after = chat(pilot).transcript.views
        assert after[: len(before)] == before
        assert len(after) == len(before) + 1


async def test_worked_numbers_shown_before_stay_when_another_is_added(opened: Opened) -> None:
    """Numbers of two runs never compare equal, and are not drawn again for that."""
    async with opened(after=TO_THE_FEED) as pilot:
        await enter(pilot, "118", "62", "")
        before = chat(pilot).transcript.views
        await enter(pilot, "ok")
        assert chat(pilot).transcript.views[: len(before)] == before


async def test_a_finding_is_read_from_its_first_line(opened: Opened) -> None:
    """The caution behind it waits below."""
    async with opened(80, 18, after=(*TO_THE_FEED, "118", "80", "ok", "done")) as pilot:
        await enter(pilot, "119")
        await pilot.pause()
        assert "LIKELY CAUSE" in screen_text(pilot.app).splitlines()[1]
        assert not chat(pilot).transcript.at_end


async def test_decisions_never_push_the_question_out_of_view(opened: Opened) -> None:
    """Long reasons scroll up, the question stays."""
    async with opened(34, 18, after=TO_THE_FEED) as pilot:
        await enter(pilot, "118", "80")
        await pilot.pause()
        assert chat(pilot).transcript.at_end
