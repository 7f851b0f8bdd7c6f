"""Measuring again after a repair, on the screen."""

import pytest

from assistant.call.prompts import Acknowledge
from assistant.tui.widgets.turns import VerifiedView
from tests.tui.conftest import Opened
from tests.tui.driving import TO_THE_FEED, asked, chat, enter, seen
from tests.tui.screens import assert_snapshot, screen_text

TO_THE_PROOF = (*TO_THE_FEED, "118", "80", "ok", "done", "119")
"""Replies up to the question whether the repair is proven."""


@pytest.mark.parametrize(("width", "height"), [(80, 24), (120, 36), (60, 20)])
async def test_before_and_after_stand_side_by_side(opened: Opened, width: int, height: int) -> None:
    """The readings, the decisions looked at again, the verdict; then the question again, with digits for gloves."""
    async with opened(width, height, after=TO_THE_PROOF) as pilot:
        await enter(pilot, "3")
        while isinstance(chat(pilot).session.prompt, Acknowledge):
            await enter(pilot, "understood")
        assert asked(pilot) == "settle bulb_lost"
        await enter(pilot, "1", "118", "52")
        assert asked(pilot) == "check bulb_lost"
        view = seen(pilot, VerifiedView)[0]
        assert view.turn.checks_out is True
        for _ in range(12):
            if "MEASURED AGAIN" in screen_text(pilot.app):
                break
            await pilot.press("pageup")
        assert_snapshot(pilot.app, f"verified_{width}x{height}")
        await enter(pilot, "1")
        outcome = chat(pilot).session.conversation.outcome
        assert outcome is not None
        assert outcome.proven is True
