"""The side panel, and what a terminal's size does to it."""

from assistant.tui.widgets.panel import Panel
from tests.tui.conftest import Opened
from tests.tui.driving import TO_THE_FEED, chat, enter
from tests.tui.screens import screen_text


async def test_the_panel_shows_numbers_with_doubt_readings_and_facts(opened: Opened) -> None:
    """Under a heading for each sort."""
    async with opened(120, 36, after=TO_THE_FEED) as pilot:
        await enter(pilot, "118", "80")
        side = [line[chat(pilot).transcript.size.width :] for line in screen_text(pilot.app).splitlines()]
        shown = " ".join(" ".join(side).replace("│", " ").split())
        assert "Superheat at the outdoor unit 40.2 ± 2.5 °F" in shown
        assert "Suction pressure 118.0 ± 4.0 psig" in shown
        assert "Refrigerant R-410A" in shown
        assert "Air filter clean" in shown


async def test_what_cannot_be_told_says_so_in_the_panel(opened: Opened) -> None:
    """An answer without a value is not left out."""
    async with opened(120, 36, after=TO_THE_FEED) as pilot:
        await enter(pilot, "cannot tell")
        shown = [
            " ".join(line[chat(pilot).transcript.size.width :].split()) for line in screen_text(pilot.app).splitlines()
        ]
        assert any("Suction pressure cannot tell" in line for line in shown)


async def test_a_narrow_screen_hides_the_panel_by_itself(opened: Opened) -> None:
    """F7 puts it in front of the call, F7 or Esc takes it away."""
    async with opened(60, 20) as pilot:
        panel, transcript = chat(pilot).query_one(Panel), chat(pilot).transcript
        assert not panel.display
        for leave in ("f7", "escape"):
            await pilot.press("f7")
            await pilot.pause()
            assert panel.display
            assert not transcript.display
            assert panel.size.width > 50
            await pilot.press(leave)
            await pilot.pause()
            assert not panel.display
            assert transcript.display


async def test_a_resized_terminal_is_filled_again(opened: Opened) -> None:
    """Panel and transcript follow, and the question stays in view."""
    async with opened(120, 36, after=TO_THE_FEED) as pilot:
        for width, height in ((60, 20), (80, 24), (200, 60), (120, 36)):
            await pilot.resize_terminal(width, height)
            await pilot.pause()
            assert chat(pilot).query_one(Panel).display == (width >= 70)
            assert "What is the suction pressure?" in screen_text(pilot.app)
            assert all(len(line) <= width for line in screen_text(pilot.app).splitlines())
