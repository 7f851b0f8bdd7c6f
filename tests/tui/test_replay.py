"""Stepping through a call on the screen."""

import pytest

from assistant.call.library import Library
from assistant.call.replay import Replay
from assistant.session.session import Accepted, Session
from assistant.tui.replay_app import ReplayApp, ReplayScreen
from tests.tui.driving import TO_THE_FEED
from tests.tui.screens import assert_snapshot, screen_text


@pytest.fixture
def app(small_library: Library) -> ReplayApp:
    session = Session(small_library, None)
    for reply in (*TO_THE_FEED, "118", "45"):
        assert isinstance(session.say(reply), Accepted)
    return ReplayApp(Replay(small_library, session.answers), "too warm")


def step_of(app: ReplayApp) -> int:
    """The step that is shown."""
    assert isinstance(app.screen, ReplayScreen)
    return app.screen.step


async def test_at_its_ends_a_call_goes_no_further(app: ReplayApp) -> None:
    """The first and the last step are said to be that."""
    async with app.run_test(size=(80, 24)) as pilot:
        for key, step, said in (("left", 0, "This is the first step."), ("end", 9, ""), ("right", 9, "the last step.")):
            await pilot.press(key)
            await pilot.pause()
            assert step_of(app) == step
            assert said in screen_text(app)


async def test_a_click_on_the_footer_steps(app: ReplayApp) -> None:
    """The keys can be clicked."""
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.click("KeyBar", offset=(3, 0))
        await pilot.pause()
        assert step_of(app) == 1


@pytest.mark.parametrize(("width", "height"), [(80, 24), (120, 36), (60, 20)])
async def test_a_question_stands_with_its_reason(app: ReplayApp, width: int, height: int) -> None:
    """Snapshot of a step in the middle."""
    async with app.run_test(size=(width, height)) as pilot:
        for _ in range(7):
            await pilot.press("right")
        await pilot.pause()
        shown = " ".join(screen_text(app).replace("\u2502", " ").split())
        assert "Why this is asked" in shown
        assert "step 7 of 9" in shown
        assert_snapshot(app, f"replay_{width}x{height}")
