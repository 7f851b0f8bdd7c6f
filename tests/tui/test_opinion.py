"""The second opinion beside the chat: a line in the panel, a page, and a sentence at the end."""

import pytest

from assistant.call.headless import on_tree, reply_by_name
from assistant.call.library import Library
from assistant.call.second_opinion import situation_in
from assistant.session.session import Session
from assistant.store.store import Store
from assistant.tui.app import chat_app
from assistant.tui.screens.chat import ChatScreen
from assistant.tui.screens.opinion import OpinionPage
from tests.call.test_second_opinion import STARVED
from tests.tui.driving import Chat, chat, enter
from tests.tui.screens import screen_text

_PATIENCE = 600
"""Looks of a tenth of a second: the work beside the chat gives way to everything else on the machine."""


def starved_call(library: Library, store: Store, until: str = "") -> Session:
    """A call on a starved system, up to the prompt for something, or to its end."""
    session = Session.begin(library, store)
    session.give(on_tree(library, "poor_cooling"))
    while session.prompt is not None and session.prompt.key.name != until:
        session.say(reply_by_name(session.prompt, STARVED))
    return session


async def wait_for(pilot: Chat, words: str) -> None:
    """Wait until something stands on the screen."""
    for _ in range(_PATIENCE):
        if words in screen_text(pilot.app):
            return
        await pilot.pause(0.1)
    raise AssertionError(f"{words!r} does not come:\n{screen_text(pilot.app)}")


@pytest.fixture(autouse=True)
def _weighs(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(ChatScreen, "weighs", True)


async def test_it_comes_in_beside_the_call_while_the_chat_lives(library: Library, store: Store) -> None:
    """It is worked by a process of its own; meanwhile a reply is answered, and its line comes in by itself."""
    number = starved_call(library, store, until="liquid_line_temperature").number
    async with chat_app(library, store, number=number).run_test(size=(100, 30)) as pilot:
        await pilot.pause()
        assert "SECOND OPINION" not in screen_text(pilot.app)
        await enter(pilot, "101 F")
        assert chat(pilot).session.conversation.asked[-1] != "suction_line_temperature"
        await wait_for(pilot, "SECOND OPINION")
        assert "Too little refrigerant" in screen_text(pilot.app)


async def test_at_the_end_it_agrees_and_its_page_tells_all(library: Library, store: Store) -> None:
    """Once prepared it stands under the end at once; F12 opens the page, Esc leaves it."""
    session = starved_call(library, store)
    app = chat_app(library, store, number=session.number)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = chat(pilot)
        conversation = screen.session.conversation
        screen.session.ahead.prepared_for(situation_in(conversation))
        screen._follow()
        await wait_for(pilot, "The second opinion agrees")
        await pilot.press("f12")
        await pilot.pause()
        assert isinstance(pilot.app.screen, OpinionPage)
        shown = screen_text(pilot.app)
        assert "How well each cause fits" in shown
        assert "in 100" in shown
        await pilot.press("escape")
        await pilot.pause()
        assert chat(pilot) is screen


async def test_what_an_opinion_lacks_is_said_when_it_is_asked_for(library: Library, store: Store) -> None:
    """Before the weather is known the word tells what is missing."""
    number = starved_call(library, store, until="outdoor_air_temperature").number
    async with chat_app(library, store, number=number).run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        await enter(pilot, "opinion")
        await wait_for(pilot, "An opinion needs")
