"""What happens when the record cannot be written."""

import sqlite3

from assistant.store.store import Store
from tests.tui.conftest import Opened
from tests.tui.driving import START, asked, chat, enter, news


async def test_an_answer_that_cannot_be_written_is_not_lost(opened: Opened, store: Store) -> None:
    """It stays in the reply line with a plain message, and goes through once the record is free."""
    async with opened(after=START[:2]) as pilot:
        blocker = sqlite3.connect(store.path, isolation_level=None)
        store._db.execute("PRAGMA busy_timeout = 10")
        blocker.execute("BEGIN IMMEDIATE")
        await enter(pilot, "410a")
        assert "could not be written" in news(pilot)
        assert asked(pilot) == "refrigerant"
        assert chat(pilot).reply.value == "410a"
        blocker.execute("ROLLBACK")
        blocker.close()
        await pilot.press("enter")
        await pilot.pause()
        assert asked(pilot) == "metering_device"
        assert store.answers(1)[-1].text == "R-410A"


async def test_going_back_that_cannot_be_written_changes_nothing(opened: Opened, store: Store) -> None:
    """The same holds for a key."""
    async with opened(after=START[:2]) as pilot:
        blocker = sqlite3.connect(store.path, isolation_level=None)
        store._db.execute("PRAGMA busy_timeout = 10")
        blocker.execute("BEGIN IMMEDIATE")
        await pilot.press("f5")
        await pilot.pause()
        blocker.close()
        assert "could not be written" in news(pilot)
        assert asked(pilot) == "refrigerant"
