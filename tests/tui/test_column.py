"""The column that draws turns line by line: selecting, resizing, and what it draws anew."""

import pytest

from assistant.tui.widgets.column import Column, View
from tests.tui.conftest import Opened
from tests.tui.driving import START, TO_THE_FEED, chat, enter
from tests.tui.screens import screen_text


async def test_text_is_selected_with_the_mouse_without_the_bar(opened: Opened) -> None:
    """From the middle of one line to the next; what is no text of the call is not taken."""
    async with opened(100, 40, after=(*START, "ok")) as pilot:
        rows = screen_text(pilot.app).splitlines()
        y = next(y for y, row in enumerate(rows) if "How does the air filter look?" in row)
        left = rows[y].index("air filter")
        await pilot.mouse_down(offset=(left, y))
        await pilot.hover(offset=(left + 4, y + 1))
        await pilot.mouse_up(offset=(left + 4, y + 1))
        await pilot.pause()
        selected = pilot.app.screen.get_selected_text()
        assert selected is not None
        assert selected.startswith("air filter look?\n")
        assert "█" not in selected
        looks = [s.style.bgcolor for s in pilot.app.screen._compositor.render_strips()[y] if s.style and s.text.strip()]
        assert len(set(looks)) > 1


async def test_an_answer_draws_only_what_is_new(opened: Opened, monkeypatch: pytest.MonkeyPatch) -> None:
    """However long the call is: the turns before it are not wrapped again."""
    async with opened(after=TO_THE_FEED) as pilot:
        before = set(map(id, chat(pilot).transcript.views[:-1]))
        drawn: list[View] = []
        draw = Column._draw

        def noted(self: Column, view: View) -> object:
            drawn.append(view)
            return draw(self, view)

        monkeypatch.setattr(Column, "_draw", noted)
        await enter(pilot, "118")
        assert drawn
        assert not before & set(map(id, drawn))


async def test_what_is_read_stays_in_view_when_the_width_changes(opened: Opened) -> None:
    """Further up in the call, the first turn in view is still the first."""
    async with opened(80, 18, after=(*TO_THE_FEED, "118", "62", "")) as pilot:
        await pilot.press("pageup", "pageup")
        await pilot.pause()
        transcript = chat(pilot).transcript
        reading = transcript.view_at(0)
        assert reading is not None
        await pilot.resize_terminal(100, 18)
        await pilot.pause()
        assert transcript.view_at(0) is reading


async def test_another_look_draws_the_call_again(opened: Opened) -> None:
    """The same words, in other colours."""
    async with opened(after=TO_THE_FEED) as pilot:
        before = pilot.app.screen._compositor.render_strips()
        await pilot.press("f8")
        await pilot.pause()
        transcript = chat(pilot).transcript
        after = pilot.app.screen._compositor.render_strips()
        rows = range(transcript.region.y, transcript.region.bottom)
        assert any(before[row] != after[row] for row in rows)
        assert "What is the suction pressure?" in screen_text(pilot.app)
