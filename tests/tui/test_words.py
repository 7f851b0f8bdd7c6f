"""Command words and slips, typed."""

from assistant.tui.screens.change import ChangePage
from assistant.tui.screens.pages import HelpPage
from assistant.tui.widgets.prompts import CautionPrompt, PromptView
from tests.tui.conftest import Opened
from tests.tui.driving import START, TO_THE_FEED, asked, chat, click_on, enter, news, seen
from tests.tui.screens import screen_text


async def test_typed_words_do_what_the_keys_do(opened: Opened) -> None:
    """Why, answers, back, help and change without a name."""
    async with opened(100, 50, after=TO_THE_FEED) as pilot:
        await enter(pilot, "why")
        assert "Superheat tells how much" in screen_text(pilot.app)
        await enter(pilot, "answers")
        assert "filter_condition: clean" in screen_text(pilot.app)
        await enter(pilot, "back")
        assert asked(pilot) == "filter_condition"
        await enter(pilot, "help")
        assert isinstance(pilot.app.screen, HelpPage)
        await pilot.press("escape")
        await pilot.pause()
        await enter(pilot, "change")
        assert isinstance(pilot.app.screen, ChangePage)


async def test_change_name_replaces_an_answer_and_works_all_again(opened: Opened) -> None:
    """Six questions later the pressure is corrected, and the number follows."""
    async with opened(100, 50, after=TO_THE_FEED) as pilot:
        await enter(pilot, "118", "80", "ok", "change suction_pressure")
        assert asked(pilot) == "suction_pressure"
        await enter(pilot, "128")
        shown = screen_text(pilot.app)
        assert "> 128 psig" in shown
        assert "> 118 psig" not in shown
        assert "Superheat at the outdoor unit: 40.2" not in shown
        assert "Superheat at the outdoor unit: 3" in shown
        assert asked(pilot) == "do warm_bulb @ warm_bulb"


async def test_a_change_can_be_left(opened: Opened) -> None:
    """Esc and back leave the answer as it was."""
    async with opened(100, 50, after=TO_THE_FEED) as pilot:
        await enter(pilot, "118", "change filter_condition")
        await pilot.press("escape")
        await pilot.pause()
        assert asked(pilot) == "suction_line_temperature"
        assert news(pilot) == "The answer stays as it was."
        await enter(pilot, "change filter_condition", "back")
        assert asked(pilot) == "suction_line_temperature"
        assert "CHANGING" not in screen_text(pilot.app)


async def test_a_change_that_leads_elsewhere_keeps_what_is_no_longer_asked(opened: Opened) -> None:
    """The line above the reply says so."""
    async with opened(100, 50, after=TO_THE_FEED) as pilot:
        await enter(pilot, "118", "change filter_condition", "3")
        assert "LIKELY CAUSE  Clogged air filter" in screen_text(pilot.app)
        assert news(pilot) == (
            'At "air filter" the call now goes to "clogged air filter", not to "superheat at the outdoor unit". '
            "No longer asked on this way, and kept aside: Suction pressure."
        )


async def test_an_answered_prompt_is_changed_by_a_click(opened: Opened) -> None:
    """The scroll-back is where a slip is seen."""
    async with opened(100, 50, after=TO_THE_FEED) as pilot:
        await enter(pilot, "118")
        answered = [view for view in seen(pilot, PromptView) if view.prompt.name == "metering_device"]
        await click_on(pilot, answered[0])
        assert asked(pilot) == "metering_device"
        assert "CHANGING an earlier answer" in screen_text(pilot.app)


async def test_a_caution_is_not_changed_by_a_click(opened: Opened) -> None:
    """It was read; there is nothing to correct."""
    async with opened(100, 50, after=TO_THE_FEED) as pilot:
        await click_on(pilot, seen(pilot, CautionPrompt)[0])
        assert asked(pilot) == "suction_pressure"


async def test_a_slip_stays_in_the_reply_line_to_be_corrected(opened: Opened) -> None:
    """The message names what can be typed, and the next key replaces the slip."""
    async with opened(after=TO_THE_FEED) as pilot:
        await enter(pilot, "1180")
        assert "cannot be a suction pressure" in news(pilot)
        assert chat(pilot).reply.value == "1180"
        await enter(pilot, "118")
        assert asked(pilot) == "suction_line_temperature"
        assert news(pilot) == ""


async def test_quit_leaves(opened: Opened) -> None:
    """The word works like the key."""
    async with opened(after=START) as pilot:
        await pilot.press(*"quit", "enter")
        await pilot.pause()
        assert pilot.app.return_value == 1


async def test_words_work_after_the_end(opened: Opened) -> None:
    """An ended call can still be corrected."""
    async with opened(100, 50, after=TO_THE_FEED) as pilot:
        await enter(pilot, "cannot tell")
        assert asked(pilot) is None
        await enter(pilot, "hello")
        assert "This call has ended" in news(pilot)
        await enter(pilot, "back")
        assert asked(pilot) == "suction_pressure"
