"""Several cautions before one step are one list, and none is passed unread."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from dataclasses import replace

import pytest
from textual.pilot import Pilot

from assistant.call.library import Library
from assistant.session.session import Accepted, Session
from assistant.store.store import Store
from assistant.tree.reader import read_tree_string
from assistant.tui.app import chat_app
from tests.tui.driving import asked, chat, enter, news
from tests.tui.screens import assert_snapshot, screen_text

TREE = """
tree: listed
version: 1
title: Two cautions
complaints: [warm air]
start: bulb
nodes:
  bulb:
    caution: [moving_parts, floodback]
    do: warm_bulb
    decide:
      - cannot_tell: open_end
      - otherwise: open_end
  open_end:
    undecided: Come back with gauges.
"""


@asynccontextmanager
async def at_the_list(
    library: Library, store: Store, width: int = 80, height: int = 24
) -> AsyncIterator[Pilot[int | None]]:
    """The chat at the first of two cautions."""
    tree, problems = read_tree_string(TREE, "listed.yaml")
    assert tree is not None
    assert problems == []
    small = replace(library, trees={"listed": tree})
    session = Session(small, store)
    for reply in ("warm air", ""):
        assert isinstance(session.say(reply), Accepted)
    async with chat_app(small, store, number=session.number).run_test(size=(width, height)) as pilot:
        await pilot.pause()
        yield pilot


@pytest.mark.parametrize(("width", "height"), [(80, 24), (120, 36), (60, 20)])
async def test_the_list_shows_what_is_read_and_what_is_to_come(
    small_library: Library, store: Store, width: int, height: int
) -> None:
    """The one to be read in full, the others by their titles."""
    async with at_the_list(small_library, store, width, height) as pilot:
        shown = screen_text(pilot.app)
        assert "2 CAUTIONS before this step" in shown
        assert "> 1  Moving parts" in shown
        assert "  2  Liquid back to the compressor" in shown
        assert "bare hand" not in shown
        await enter(pilot, "1")
        shown = screen_text(pilot.app)
        assert "  1  read  Moving parts" in shown
        assert "> 2  Liquid back to the compressor" in shown
        assert "bare hand" in shown


async def test_no_word_and_no_key_held_down_passes_the_list(small_library: Library, store: Store) -> None:
    """Enter held down, and ok or one number typed again and again, stop at a caution."""
    async with at_the_list(small_library, store) as pilot:
        await pilot.press(*["enter"] * 20)
        await enter(pilot, "ok")
        assert asked(pilot) == "caution moving_parts @ bulb"
        assert news(pilot).startswith("Each of these has its own number. Type 1")
        await pilot.press(*["backspace"] * 2, *["1", "enter"] * 6)
        await pilot.pause()
        assert asked(pilot) == "caution floodback @ bulb"
        await pilot.press("escape")
        await enter(pilot, "2")
        assert asked(pilot) == "do warm_bulb @ bulb"


async def test_the_list_looks_as_stored(small_library: Library, store: Store) -> None:
    """Snapshot of the second caution at 80x24."""
    async with at_the_list(small_library, store) as pilot:
        await enter(pilot, "1")
        assert_snapshot(pilot.app, "caution_list_80x24")
        await enter(pilot, "2")
        assert len(chat(pilot).session.conversation.cautions) == 2
