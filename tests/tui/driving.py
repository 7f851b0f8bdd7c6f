"""Hands on the keyboard of the chat."""

from typing import TypeVar

from textual.pilot import Pilot

from assistant.tui.screens.chat import ChatScreen
from assistant.tui.widgets.column import View
from assistant.tui.widgets.edges import Notice

Chat = Pilot[int | None]
V = TypeVar("V", bound=View)

START = ("warm air", "", "410a", "1", "")
"""Replies up to the first caution: complaint, tree, refrigerant, metering device, altitude."""

TO_THE_FEED = (*START, "ok", "1")
"""Replies up to the first pressure."""


def chat(pilot: Chat) -> ChatScreen:
    """The chat, which must be the screen in front."""
    screen = pilot.app.screen
    assert isinstance(screen, ChatScreen)
    return screen


async def enter(pilot: Chat, *texts: str) -> None:
    """Send replies, reading on first where there is more than fits the screen.

    They are put into the reply line whole, as a paste is; `type_out` presses every key.
    """
    for text in texts:
        while not chat(pilot).transcript.at_end:
            await pilot.press("pagedown")
        chat(pilot).reply.write(text)
        await pilot.press("enter")
        await pilot.pause()


async def type_out(pilot: Chat, *texts: str) -> None:
    """Press the keys of each reply, then Enter."""
    for text in texts:
        await pilot.press(*text, "enter")
        await pilot.pause()


async def click_on(pilot: Chat, view: View, x: int = 4, line: int = 0) -> None:
    """Click on a line of a turn that is in view."""
    transcript = chat(pilot).transcript
    top = next(y for y in range(transcript.size.height) if transcript.view_at(y) is view)
    await pilot.click(transcript, offset=(x, top + line))
    await pilot.pause()


def seen(pilot: Chat, kind: type[V]) -> list[V]:
    """The turns of one kind on the transcript."""
    return [view for view in chat(pilot).transcript.views if isinstance(view, kind)]


def asked(pilot: Chat) -> str | None:
    """The name of what is asked now."""
    prompt = chat(pilot).session.prompt
    return prompt.name if prompt else None


def news(pilot: Chat) -> str:
    """The line above the reply line; empty when nothing is there."""
    return chat(pilot).query_one(Notice).text
