"""A practice call on the screen."""

from pathlib import Path

import pytest

from assistant.call.library import Library
from assistant.practice.session.practice_call import PracticeCall
from assistant.practice.session.practice_replay import PracticeReplay
from assistant.store.store import Store
from assistant.tui.practice_app import PracticeApp, PracticeScreen, ReviewPage
from assistant.tui.replay_app import ReplayApp
from tests.practice.site import call_with, reply_to
from tests.tui.driving import Chat, asked, chat, enter, news
from tests.tui.screens import screen_text


@pytest.fixture
def session(library: Library, tmp_path: Path) -> PracticeCall:
    return PracticeCall.start_of(library, Store(tmp_path / "practice.db"), call_with("undercharge", minutes=45.0))


async def go_on(pilot: Chat, session: PracticeCall, until: str) -> None:
    """Take everything as it comes, up to the prompt of a name."""
    while asked(pilot) not in (until, None):
        await enter(pilot, reply_to(session))


async def test_a_whole_practice_call_in_the_chat(session: PracticeCall) -> None:
    """The door, the trees' questions by Enter, an own reading, the cause by name, and the review by itself."""
    app = PracticeApp(session)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        shown = screen_text(app)
        assert "PRACTICE, minute 0 of 45" in shown
        assert 'The customer says: "It runs all day' in " ".join(shown.split())
        await go_on(pilot, session, "suction_pressure")
        await enter(pilot, "take suction pressure", "ok")
        assert news(pilot).startswith("Suction pressure:")
        assert asked(pilot) == "suction_pressure"
        await enter(pilot, "", "")
        assert f"PRACTICE {session.number}, minute {session.visit.minute:.0f} of 45" in screen_text(app)
        await enter(pilot, "cause too little refrigerant")
        assert isinstance(app.screen, ReviewPage)
        assert "You named: Too little refrigerant - right." in screen_text(app)
        await pilot.press("escape")
        assert isinstance(app.screen, PracticeScreen)
        assert asked(pilot) is None
        await pilot.press("f10")
        assert isinstance(app.screen, ReviewPage)


async def test_both_ways_stand_side_by_side_on_a_wide_screen(session: PracticeCall) -> None:
    """And one below the other on a narrow one."""
    for width, together in ((120, True), (80, False)):
        app = PracticeApp(session)
        async with app.run_test(size=(width, 60)) as pilot:
            await pilot.pause()
            if not session.is_over:
                await enter(pilot, "", "take outdoor air temperature", "ok", "give up")
            else:
                await pilot.press("f10")
            await pilot.pause()
            rows = screen_text(app).split("\n")
            assert any("Your way" in row and "The trees' way" in row for row in rows) is together


async def test_the_help_tells_the_words_of_a_practice_call(session: PracticeCall) -> None:
    """And not those that mean nothing there."""
    app = PracticeApp(session)
    async with app.run_test(size=(100, 60)) as pilot:
        await pilot.pause()
        await pilot.press("f1")
        await pilot.pause()
        shown = screen_text(app)
        assert "take READING" in shown
        assert "cause NAME" in shown
        assert "attach a remark" not in shown


async def test_no_call_sheet_is_written_of_a_practice_call(session: PracticeCall, tmp_path: Path) -> None:
    """It never happened."""
    app = PracticeApp(session)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        await enter(pilot, "", "1", "sheet")
        assert "no sheet" in news(pilot)
        assert chat(pilot).session.number == 1
        assert not list(tmp_path.glob("*.html"))


async def test_a_caution_stands_before_an_own_act(session: PracticeCall) -> None:
    """Skipped, it is done without, and the score tells."""
    app = PracticeApp(session)
    async with app.run_test(size=(80, 40)) as pilot:
        await pilot.pause()
        await enter(pilot, "", "do set up recovery")
        assert "CAUTION" in screen_text(app)
        await enter(pilot, "skip", "skip")
        assert session.moments[-1].event.name == "set_up_recovery"
        assert session.moments[-1].skipped


async def test_a_practice_call_is_stepped_through_on_the_screen(session: PracticeCall) -> None:
    """At each step stands what was done by then, and nothing of what came later."""
    for reply in ("", "1", "2", "", "take outdoor air temperature", "ok", "", "cause undercharge"):
        session.say(reply)
    stepped = PracticeReplay(session.library, session.answers, session=session)
    app = ReplayApp(stepped, "practice")
    async with app.run_test(size=(80, 60)) as pilot:
        await pilot.pause()
        steps = []
        for _ in range(stepped.last):
            steps.append("Outdoor air temperature" in screen_text(app))
            await pilot.press("right")
            await pilot.pause()
        assert steps == sorted(steps)
        await pilot.press("end")
        await pilot.pause()
        assert "Both ways" in screen_text(app)
