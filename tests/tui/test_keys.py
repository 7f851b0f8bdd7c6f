"""What the keys of the chat do; that every key of every screen does something, `test_every_key` holds."""

from assistant.tui.screens.change import ChangePage
from assistant.tui.screens.chat import ChatScreen
from assistant.tui.screens.pages import HelpPage
from assistant.tui.widgets.edges import KeyBar
from assistant.tui.widgets.panel import Panel
from tests.tui.conftest import Opened
from tests.tui.driving import START, TO_THE_FEED, asked, chat, click_on, enter, news
from tests.tui.screens import assert_snapshot, screen_text


async def test_f1_opens_the_help_and_closes_it(opened: Opened) -> None:
    """It names every key and every word; Esc, Enter and F1 lead back."""
    async with opened(100, 50) as pilot:
        for leave in ("escape", "enter", "f1"):
            await pilot.press("f1")
            await pilot.pause()
            assert isinstance(pilot.app.screen, HelpPage)
            shown = screen_text(pilot.app)
            assert all(f"F{number} " in shown for number in range(1, 10))
            assert all(f"  {word} " in shown for word in ("why", "work", "back", "change", "answers", "help", "quit"))
            await pilot.press(leave)
            await pilot.pause()
            assert isinstance(pilot.app.screen, ChatScreen)


async def test_the_help_page_is_as_stored(opened: Opened) -> None:
    """At 80x24 it scrolls."""
    async with opened() as pilot:
        await pilot.press("f1")
        await pilot.pause()
        assert_snapshot(pilot.app, "help_80x24")
        await pilot.press("down", "down")
        await pilot.pause()
        assert "Words you can type" in screen_text(pilot.app)


async def test_f2_says_why_and_escape_takes_it_away(opened: Opened) -> None:
    """The reason and how to find the answer stand below the question."""
    async with opened(after=TO_THE_FEED) as pilot:
        await pilot.press("f2")
        await pilot.pause()
        assert "Superheat tells how much" in screen_text(pilot.app)
        assert_snapshot(pilot.app, "why_80x24")
        await pilot.press("escape")
        await pilot.pause()
        assert "Superheat tells how much" not in screen_text(pilot.app)
        assert asked(pilot) == "suction_pressure"


async def test_an_aside_that_does_not_fit_with_the_question_is_read_from_its_beginning(opened: Opened) -> None:
    """Its first line is in view, though the question above it is not."""
    async with opened(60, 14, after=TO_THE_FEED) as pilot:
        await enter(pilot, "118")
        await pilot.press("f3")
        await pilot.pause()
        await pilot.press("f2")
        await pilot.pause()
        assert "Why this is asked" in screen_text(pilot.app)


async def test_f3_shows_the_work(opened: Opened) -> None:
    """Formula, values, result and source of each number so far."""
    async with opened(100, 40, after=TO_THE_FEED) as pilot:
        await enter(pilot, "118", "62")
        await pilot.press("f3")
        await pilot.pause()
        shown = screen_text(pilot.app)
        assert "dew temperature of R-410A at 118.0 psig" in shown
        assert "Source: saturation curve" in shown


async def test_f4_answers_that_it_cannot_be_told(opened: Opened) -> None:
    """The call goes on to the branch for that."""
    async with opened(after=TO_THE_FEED) as pilot:
        await pilot.press("f4")
        await pilot.pause()
        assert "UNDECIDED" in screen_text(pilot.app)


async def test_f4_is_no_complaint_and_no_acknowledgement(opened: Opened) -> None:
    """Where cannot tell is no answer, nothing is taken."""
    async with opened() as pilot:
        await pilot.press("f4")
        await pilot.pause()
        assert asked(pilot) == "complaint"
        await enter(pilot, *START)
        await pilot.press("f4")
        await pilot.pause()
        assert asked(pilot) == "caution moving_parts @ airflow"
        assert news(pilot) == "Type ok when you have read the caution."


async def test_f4_keeps_an_action_from_being_done(opened: Opened) -> None:
    """At a step it means that it cannot be done."""
    async with opened(100, 40, after=TO_THE_FEED) as pilot:
        await enter(pilot, "118", "80", "ok")
        await pilot.press("f4")
        await pilot.pause()
        assert "UNDECIDED" in screen_text(pilot.app)


async def test_f5_takes_the_last_answer_back(opened: Opened) -> None:
    """The prompt before is asked again, and the record shrinks with it."""
    async with opened(after=TO_THE_FEED) as pilot:
        await enter(pilot, "118")
        turns = len(chat(pilot).session.conversation.turns)
        await pilot.press("f5")
        await pilot.pause()
        assert asked(pilot) == "suction_pressure"
        assert len(chat(pilot).session.conversation.turns) == turns - 1
        assert "> 118 psig" not in screen_text(pilot.app)


async def test_f5_at_the_start_says_that_there_is_nothing(opened: Opened) -> None:
    """Going back ends at the first question."""
    async with opened() as pilot:
        await pilot.press("f5")
        await pilot.pause()
        assert news(pilot) == "There is nothing to take back yet."


async def test_f6_picks_an_earlier_answer(opened: Opened) -> None:
    """The list holds every answer but the cautions; the latest is marked."""
    async with opened(after=TO_THE_FEED) as pilot:
        await enter(pilot, "118")
        await pilot.press("f6")
        await pilot.pause()
        assert isinstance(pilot.app.screen, ChangePage)
        assert "> Suction pressure: 118 psig" in screen_text(pilot.app)
        assert_snapshot(pilot.app, "change_80x24")
        await pilot.press("up", "enter")
        await pilot.pause()
        assert "CHANGING an earlier answer. It was: clean." in " ".join(screen_text(pilot.app).split())
        assert asked(pilot) == "filter_condition"


async def test_f7_hides_and_shows_the_panel(opened: Opened) -> None:
    """The transcript takes the place over."""
    async with opened() as pilot:
        panel = chat(pilot).query_one(Panel)
        assert panel.display
        width = chat(pilot).transcript.size.width
        await pilot.press("f7")
        await pilot.pause()
        assert not panel.display
        assert chat(pilot).transcript.size.width > width
        await pilot.press("f7")
        await pilot.pause()
        assert panel.display


async def test_f8_changes_the_look(opened: Opened) -> None:
    """Dark, light, for the sun, no colour, and round again; each is named in words."""
    async with opened() as pilot:
        before = pilot.app.theme
        for look in ("light", "sun", "none", "dark"):
            await pilot.press("f8")
            await pilot.pause()
            assert news(pilot).startswith(f"Look: {look}.")
        assert pilot.app.theme == before


async def test_f9_leaves_and_names_the_call(opened: Opened) -> None:
    """The program ends with the number of the call, which is kept."""
    async with opened(after=START) as pilot:
        await pilot.press("f9")
        await pilot.pause()
        assert pilot.app.return_value == 1


async def test_ctrl_c_does_not_end_a_call(opened: Opened) -> None:
    """It says what does."""
    async with opened() as pilot:
        await enter(pilot, "warm air")
        await pilot.press("ctrl+c")
        await pilot.pause()
        assert pilot.app.is_running
        assert "F9, or the word quit" in " ".join(screen_text(pilot.app).split())


async def test_a_click_on_a_key_is_the_key(opened: Opened) -> None:
    """The bar works with the mouse, and with a finger."""
    async with opened() as pilot:
        await pilot.click(KeyBar, offset=(2, 0))
        await pilot.pause()
        assert isinstance(pilot.app.screen, HelpPage)
        await pilot.click(KeyBar, offset=(2, 0))
        await pilot.pause()
        assert isinstance(pilot.app.screen, ChatScreen)


async def test_up_and_down_walk_through_the_choices(opened: Opened) -> None:
    """The reply line holds what Enter would send, and the choice is marked."""
    async with opened(after=START) as pilot:
        await enter(pilot, "ok")
        for key, say in (("down", "1"), ("down", "2"), ("up", "1"), ("up", "0")):
            await pilot.press(key)
            await pilot.pause()
            assert chat(pilot).reply.value == say
        assert "> 0  cannot tell" in screen_text(pilot.app)
        await pilot.press("down", "down", "down", "enter")
        await pilot.pause()
        assert chat(pilot).session.answers[-1].text == "clogged"


async def test_the_choice_being_typed_is_marked(opened: Opened) -> None:
    """Words work like numbers."""
    async with opened(after=START) as pilot:
        await enter(pilot, "ok")
        await pilot.press(*"grey")
        await pilot.pause()
        assert "> 2  grey, but light comes through" in screen_text(pilot.app)


async def test_two_clicks_answer(opened: Opened) -> None:
    """The first marks a choice, the second sends it; so one slip of a finger answers nothing."""
    async with opened(after=START) as pilot:
        await enter(pilot, "ok")
        live = chat(pilot).transcript.live
        assert live is not None
        await click_on(pilot, live, x=8, line=1)
        assert chat(pilot).reply.value == "1"
        assert asked(pilot) == "filter_condition"
        await click_on(pilot, live, x=8, line=1)
        assert asked(pilot) == "suction_pressure"


async def test_page_keys_move_through_the_call(opened: Opened) -> None:
    """Further up, the line above the reply says that there is more below."""
    async with opened(after=TO_THE_FEED) as pilot:
        await pilot.press("pageup")
        await pilot.pause()
        assert not chat(pilot).transcript.at_end
        assert "more below: PageDown" in screen_text(pilot.app)
        await pilot.press("pagedown")
        await pilot.pause()
        assert chat(pilot).transcript.at_end
        assert "more below" not in screen_text(pilot.app)


async def test_typing_reaches_the_reply_line_from_the_panel(opened: Opened) -> None:
    """Tab moves into the panel to scroll it; the next letter is typed all the same."""
    async with opened() as pilot:
        await pilot.press("tab")
        assert chat(pilot).query_one(Panel).has_focus
        await pilot.press("h")
        await pilot.pause()
        assert chat(pilot).reply.value == "h"
        assert chat(pilot).reply.has_focus


async def test_the_keys_of_the_list_can_be_clicked(opened: Opened) -> None:
    """Its first key takes what is marked."""
    async with opened(after=(*TO_THE_FEED, "118")) as pilot:
        await pilot.press("f6")
        await pilot.pause()
        await pilot.click(KeyBar, offset=(2, 0))
        await pilot.pause()
        assert asked(pilot) == "suction_pressure"


async def test_what_is_typed_ahead_belongs_to_the_next_question(opened: Opened) -> None:
    """Keys that come faster than the screen lose nothing, however slow the line or the machine."""
    async with opened(after=TO_THE_FEED) as pilot:
        line = chat(pilot).reply
        line.write("118")
        await line.action_submit()
        line.insert_text_at_cursor("62")
        await pilot.pause()
        assert asked(pilot) == "suction_line_temperature"
        assert line.value == "62"


async def test_what_is_typed_ahead_never_answers_a_question_that_still_stands(opened: Opened) -> None:
    """The reply before it was not taken: that one is given back."""
    async with opened(after=TO_THE_FEED) as pilot:
        line = chat(pilot).reply
        line.write("much")
        await line.action_submit()
        line.insert_text_at_cursor("62")
        await pilot.pause()
        assert asked(pilot) == "suction_pressure"
        assert line.value == "much"
