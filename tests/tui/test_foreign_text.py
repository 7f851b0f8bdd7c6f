"""Text from a keyboard, a paste or a file is shown as plain text."""

import pytest
from textual.events import Paste

from assistant.store.store import Store
from tests.answering import written
from tests.tui.conftest import Opened
from tests.tui.driving import asked, chat, enter, news
from tests.tui.screens import screen_text

FOREIGN = {
    "markup": ("[bold red]hot[/] [@click=app.quit]x[/]", "[bold red]hot[/] [@click=app.quit]x[/]"),
    "broken markup": ("[/nothing] [[", "[/nothing] [["),
    "escape": ("cold\x1b[31m\x1b]0;title\x07 air\x9b1m", "cold[31m]0;title air1m"),
    "right to left": ("\u202eevil\u202c \u05d7\u05dd", "evil \u05d7\u05dd"),
    "emoji": ("hot \N{FIRE} air", "hot \N{FIRE} air"),
}


@pytest.mark.parametrize(("typed", "shown"), FOREIGN.values(), ids=FOREIGN.keys())
async def test_a_pasted_complaint_is_shown_as_it_is(opened: Opened, typed: str, shown: str) -> None:
    """No markup acts, and no control character reaches the terminal; in the reply line, the record and the title."""
    async with opened() as pilot:
        chat(pilot).reply.post_message(Paste(typed))
        await pilot.pause()
        assert chat(pilot).reply.value == shown
        await pilot.press("enter")
        await pilot.pause()
        lines = screen_text(pilot.app).splitlines()
        assert any(shown in line for line in lines[1:])
        assert shown in lines[0]
        assert all(char.isprintable() for line in lines for char in line)


@pytest.mark.parametrize(("typed", "shown"), FOREIGN.values(), ids=FOREIGN.keys())
async def test_a_stored_complaint_is_shown_as_it_is(opened: Opened, store: Store, typed: str, shown: str) -> None:
    """A record may come from elsewhere; the list of calls shows it plainly too."""
    number = store.new_call()
    store.record(number, "set", written("complaint", typed))
    store.describe(number, typed, "open", "")
    async with opened() as pilot:
        await pilot.pause(0.1)
        shown_lines = screen_text(pilot.app).splitlines()
        assert any(shown in line for line in shown_lines)
        assert all(char.isprintable() for line in shown_lines for char in line)
        await pilot.press("down", "enter")
        await pilot.pause()
        shown_lines = screen_text(pilot.app).splitlines()
        assert any(shown in line for line in shown_lines[1:])
        assert all(char.isprintable() for line in shown_lines for char in line)


async def test_ten_thousand_characters_are_refused_in_words(opened: Opened) -> None:
    """The paste is shown, counted and not taken; one key replaces it."""
    async with opened() as pilot:
        chat(pilot).reply.post_message(Paste("air " * 2500))
        await pilot.pause()
        await pilot.press("enter")
        await pilot.pause()
        assert "10000 characters" in news(pilot)
        assert asked(pilot) == "complaint"
        await enter(pilot, "warm air")
        assert chat(pilot).session.answers[0].text == "warm air"


async def test_a_long_complaint_wraps(opened: Opened) -> None:
    """What the session takes is shown whole, without spaces to break it at."""
    async with opened(80, 60) as pilot:
        chat(pilot).reply.post_message(Paste("x" * 1500))
        await pilot.pause()
        await pilot.press("enter")
        await pilot.pause()
        await pilot.press("pageup")
        await pilot.pause()
        transcript = chat(pilot).transcript
        assert sum(line[: transcript.size.width].count("x") for line in screen_text(pilot.app).splitlines()[1:]) == 1500


async def test_a_paste_of_several_lines_is_one_reply(opened: Opened) -> None:
    """Nothing of it is lost, and none of its lines is sent by itself."""
    async with opened() as pilot:
        chat(pilot).reply.post_message(Paste("not\r\ncooling\nenough\n"))
        await pilot.pause()
        assert asked(pilot) == "complaint"
        await pilot.press("enter")
        await pilot.pause()
        assert chat(pilot).session.answers[0].text == "not cooling enough"


async def test_an_empty_paste_does_nothing(opened: Opened) -> None:
    """A clipboard may hold only line ends."""
    async with opened() as pilot:
        chat(pilot).reply.post_message(Paste("\n"))
        chat(pilot).reply.post_message(Paste(""))
        await pilot.pause()
        assert chat(pilot).reply.value.strip() == ""
