"""The pages over the chat on a wide screen; at 80x24 each has its snapshot beside the tests of its keys."""

import pytest

from tests.tui.conftest import Opened
from tests.tui.driving import TO_THE_FEED
from tests.tui.screens import assert_snapshot


@pytest.mark.parametrize(("page", "key"), [("help", "f1"), ("why", "f2"), ("change", "f6"), ("system", "f10")])
async def test_a_page_is_as_stored_on_a_wide_screen(opened: Opened, page: str, key: str) -> None:
    """At 120x36, in the look without colour: the text is the same in each look."""
    async with opened(120, 36, after=TO_THE_FEED, look="none") as pilot:
        await pilot.press(key)
        await pilot.pause()
        assert_snapshot(pilot.app, f"{page}_120x36")
