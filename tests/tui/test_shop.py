"""What the chat says of a shop's own folder."""

from dataclasses import replace

from assistant.call.library import Library
from assistant.catalogue.layers import Replaced
from assistant.source.problem import Place
from assistant.store.store import Store
from assistant.tui.app import chat_app
from tests.tui.conftest import Opened
from tests.tui.driving import chat, enter, news
from tests.tui.screens import screen_text


def replacing(library: Library, count: int) -> Library:
    """A library in which a shop has replaced so many limits."""
    some = [Replaced(f"limit_{at}", "limit", Place("shop"), Place("shipped")) for at in range(count)]
    return replace(library, replaced=tuple(some))


async def test_what_is_replaced_is_said_once_and_quietly(small_library: Library, store: Store) -> None:
    """It stands above the reply line with the first question, and goes with the first answer."""
    async with chat_app(replacing(small_library, 2), store).run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert news(pilot) == "Your shop's folder replaces: limit_0 (limit), limit_1 (limit)."
        assert news(pilot) in screen_text(pilot.app)
        await enter(pilot, "warm air")
        assert news(pilot) == ""


async def test_of_many_only_some_are_named(small_library: Library, store: Store) -> None:
    """The line stays one line; the rest is counted."""
    async with chat_app(replacing(small_library, 9), store).run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert news(pilot).endswith("limit_1 (limit), 7 more.")
        assert news(pilot) in screen_text(pilot.app)


async def test_without_a_shop_nothing_is_said(opened: Opened) -> None:
    """The line is empty."""
    async with opened() as pilot:
        await pilot.pause()
        assert news(pilot) == ""
        assert chat(pilot).session.library.replaced == ()
