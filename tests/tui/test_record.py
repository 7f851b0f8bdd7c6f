"""What happens when the record cannot be written."""

import sqlite3

import pytest

from assistant.store.store import Store
from assistant.tui.screens import locked
from tests.tui.conftest import Opened
from tests.tui.driving import START, asked, chat, enter, news


async def test_an_answer_waits_for_a_locked_record(opened: Opened, store: Store) -> None:
    """It stays in the reply line, the screen says why and lives on, and it goes through once the record is free."""
    async with opened(after=START[:2]) as pilot:
        blocker = sqlite3.connect(store.path, isolation_level=None)
        blocker.execute("BEGIN IMMEDIATE")
        await enter(pilot, "410a")
        assert "waits for it" in news(pilot)
        assert asked(pilot) == "refrigerant"
        assert chat(pilot).reply.value == "410a"
        await pilot.press("enter")
        assert chat(pilot).reply.value == "410a"
        blocker.execute("ROLLBACK")
        blocker.close()
        for _ in range(100):
            await pilot.pause(0.02)
            if asked(pilot) != "refrigerant":
                break
        assert asked(pilot) == "metering_device"
        assert store.answers(1)[-1].text == "R-410A"
        assert chat(pilot).reply.value == ""


@pytest.mark.parametrize("reply", ["410a", ""])
async def test_what_cannot_be_written_for_long_is_not_lost(
    opened: Opened, store: Store, monkeypatch: pytest.MonkeyPatch, reply: str
) -> None:
    """A typed answer stays in the reply line, with what is wrong; a key has changed nothing."""
    monkeypatch.setattr(locked, "_MOST_TRIES", 2)
    monkeypatch.setattr(locked, "_UNTIL_NEXT", 0.01)
    async with opened(after=START[:2]) as pilot:
        blocker = sqlite3.connect(store.path, isolation_level=None)
        blocker.execute("BEGIN IMMEDIATE")
        if reply:
            await enter(pilot, reply)
        else:
            await pilot.press("f5")
        for _ in range(100):
            await pilot.pause(0.02)
            if "could not be written" in news(pilot):
                break
        blocker.close()
        assert "could not be written" in news(pilot)
        assert asked(pilot) == "refrigerant"
        assert chat(pilot).reply.value == reply
