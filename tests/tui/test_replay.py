"""Stepping through a call on the screen."""

import pytest

from assistant.call.library import Library
from assistant.call.replay import Replay
from assistant.records.session import Accepted, Session
from assistant.tui.replay_app import ReplayApp
from assistant.tui.screens.replay import ReplayScreen
from assistant.tui.widgets.aside import Aside
from assistant.tui.widgets.transcript import Transcript
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


async def test_every_key_of_the_footer_does_what_it_says(app: ReplayApp) -> None:
    """On and back, to the start and the end, the work, the panel, the way out."""
    async with app.run_test(size=(80, 24)) as pilot:
        steps = []
        for key in ("right", "enter", "space", "left", "b", "end", "right", "home", "left"):
            await pilot.press(key)
            await pilot.pause()
            steps.append(step_of(app))
        assert steps == [1, 2, 3, 2, 1, 9, 9, 0, 0]
        assert "This is the first step." in screen_text(app)
        await pilot.press("end", "f3")
        await pilot.pause()
        aside = app.screen.query_one(Transcript).views[-1]
        assert isinstance(aside, Aside)
        assert aside.title == "The work"
        await pilot.press("f7")
        assert app.screen.has_class("-panel-off")
        await pilot.press("f9")
    assert app.return_value is None


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
