"""After the end of a call another one can be begun."""

from assistant.store.store import Store
from assistant.tui.widgets.turns import EndedView
from tests.tui.conftest import Opened
from tests.tui.driving import TO_THE_FEED, asked, chat, enter, news, seen
from tests.tui.screens import screen_text

TO_THE_END = (*TO_THE_FEED, "118", "45")
"""Replies up to an end without a fault."""


async def test_new_begins_another_call(opened: Opened, store: Store) -> None:
    """The first one is kept as it was; the second has its own number."""
    async with opened(after=TO_THE_END) as pilot:
        assert asked(pilot) is None
        assert "Type new for another call" in seen(pilot, EndedView)[0].closing
        await enter(pilot, "new")
        await pilot.pause()
        assert asked(pilot) == "complaint"
        await enter(pilot, "warm air")
        assert chat(pilot).session.number == 2
        assert len(store.answers(1)) == len(TO_THE_END)


async def test_new_does_not_leave_a_call_that_goes_on(opened: Opened) -> None:
    """A word typed by mistake loses nothing; what to type instead is told."""
    async with opened(after=TO_THE_FEED) as pilot:
        await enter(pilot, "new")
        assert asked(pilot) == "suction_pressure"
        assert news(pilot).startswith("This call has not ended.")


async def test_if_tells_and_changes_nothing(opened: Opened) -> None:
    """What another value would change stands beside the record."""
    async with opened(after=TO_THE_END) as pilot:
        before = chat(pilot).session.conversation
        await enter(pilot, "if suction_line_temperature 80 F")
        assert chat(pilot).session.conversation is before
        assert "nothing is kept" in " ".join(screen_text(pilot.app).split())
