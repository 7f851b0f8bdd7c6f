"""A caution stands in the way until it is read."""

from tests.tui.conftest import Opened
from tests.tui.driving import START, asked, chat, click_on, enter, news
from tests.tui.screens import screen_text

CAUTION = "caution moving_parts @ airflow"


async def test_enter_held_down_does_not_pass_a_caution(opened: Opened) -> None:
    """The transcript does not grow either."""
    async with opened(after=START) as pilot:
        before = len(chat(pilot).transcript.views)
        await pilot.press(*["enter"] * 40)
        await pilot.pause()
        assert asked(pilot) == CAUTION
        assert len(chat(pilot).transcript.views) == before
        assert news(pilot) == "Type ok when you have read the caution."


async def test_enter_held_down_from_the_start_stops_at_the_first_question_without_a_usual_answer(
    opened: Opened,
) -> None:
    """The altitude has one, the caution behind it has none."""
    async with opened(after=START[:-1]) as pilot:
        await pilot.press(*["enter"] * 10)
        await pilot.pause()
        assert asked(pilot) == CAUTION


async def test_no_key_and_no_click_passes_a_caution(opened: Opened) -> None:
    """Only typing does."""
    async with opened(after=START) as pilot:
        live = chat(pilot).transcript.live
        assert live is not None
        for _ in range(3):
            await click_on(pilot, live)
        await pilot.press("down", "enter", "space", "enter", "escape", "f4", "1", "enter", "escape", "escape")
        await pilot.pause()
        assert asked(pilot) == CAUTION


async def test_ok_passes_it_and_it_stays_on_the_record(opened: Opened) -> None:
    """With its text and that it was understood."""
    async with opened(after=START) as pilot:
        await enter(pilot, "ok")
        assert asked(pilot) == "filter_condition"
        shown = screen_text(pilot.app)
        assert "CAUTION  Moving parts" in shown
        assert "> understood" in shown


async def test_a_caution_taller_than_the_screen_is_read_to_its_end_first(opened: Opened) -> None:
    """It begins at its top; ok reads on until the end has been in view, waits there, and Enter sends it."""
    async with opened(40, 12, after=START) as pilot:
        await pilot.pause()
        assert "CAUTION  Moving parts" in screen_text(pilot.app)
        assert not chat(pilot).transcript.at_end
        assert "Enter reads on" in screen_text(pilot.app)
        await pilot.press("o", "k", "enter")
        await pilot.pause()
        assert asked(pilot) == CAUTION
        assert chat(pilot).transcript.at_end
        assert "read to its end: Enter sends it now" in screen_text(pilot.app)
        await pilot.press("enter")
        await pilot.pause()
        assert asked(pilot) == "filter_condition"


async def test_at_a_tall_caution_other_replies_count_at_once(opened: Opened) -> None:
    """A word that is no acknowledgement is refused, and back goes back, without reading on first."""
    async with opened(40, 12, after=START) as pilot:
        await pilot.pause()
        await pilot.press(*"fine", "enter")
        await pilot.pause()
        assert news(pilot) == "Type ok when you have read the caution."
        await pilot.press("ctrl+u", "o", "k", "enter", "x", "backspace")
        await pilot.pause()
        assert "Enter sends it now" not in screen_text(pilot.app)
        await pilot.press("pageup", "ctrl+u", *"back", "enter")
        await pilot.pause()
        assert asked(pilot) == "altitude"


async def test_back_takes_an_acknowledgement_back(opened: Opened) -> None:
    """The caution is asked again."""
    async with opened(after=START) as pilot:
        await enter(pilot, "ok", "back")
        assert asked(pilot) == CAUTION
