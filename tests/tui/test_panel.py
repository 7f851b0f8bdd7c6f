"""The side panel, and what a terminal's size does to it."""

import pytest
from textual.binding import Binding

from assistant.tui.screens.chat import ChatScreen
from assistant.tui.screens.pages import TinyScreen
from assistant.tui.widgets.panel import Panel
from tests.tui.conftest import Opened
from tests.tui.driving import START, TO_THE_FEED, asked, chat, enter
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


async def test_a_usual_target_waits_for_a_number_to_hold_against_it(opened: Opened) -> None:
    """It needs no reading, so it would stand there before anything is measured."""
    async with opened(120, 36, after=TO_THE_FEED) as pilot:
        assert "WORKED NUMBERS" not in screen_text(pilot.app)
        await enter(pilot, "118")
        assert "WORKED NUMBERS" in screen_text(pilot.app)
        assert "Superheat target" in screen_text(pilot.app)


async def test_what_cannot_be_told_says_so_in_the_panel(opened: Opened) -> None:
    """An answer without a value is not left out."""
    async with opened(120, 36, after=TO_THE_FEED) as pilot:
        await enter(pilot, "cannot tell")
        shown = [
            " ".join(line[chat(pilot).transcript.size.width :].split()) for line in screen_text(pilot.app).splitlines()
        ]
        assert any("Suction pressure cannot tell" in line for line in shown)


async def test_a_fact_that_was_told_before_it_is_asked_stands_in_the_panel(opened: Opened) -> None:
    """So it shows that it was taken."""
    async with opened(120, 36, after=(*START[:2], "system altitude 500 ft")) as pilot:
        shown = " ".join(screen_text(pilot.app).replace("│", " ").split())
        assert "SYSTEM" in shown
        assert "Altitude 500 ft" in shown


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


@pytest.mark.parametrize("size", [(60, 20), (70, 20), (80, 24), (120, 36), (200, 60)], ids=str)
async def test_from_sixty_by_twenty_nothing_needed_is_cut(opened: Opened, size: tuple[int, int]) -> None:
    """Question, choices, reply line and all keys are in view, at a choice and at a reading."""
    async with opened(*size, after=(*START, "ok")) as pilot:
        for reply, needed in (
            ("1", ("How does the air filter look?", "0 cannot tell")),
            (None, ("What is the suction",)),
        ):
            shown = screen_text(pilot.app)
            words = " ".join(shown.replace("│", " ").split())
            assert all(text in words for text in needed)
            assert any(line.startswith(" > ") for line in shown.splitlines()[-5:])
            keys = [key for key in ChatScreen.BINDINGS if isinstance(key, Binding) and key.show]
            assert all(f"{key.key_display or key.key.upper()} {key.description}" in words for key in keys)
            assert "too small" not in shown
            if reply:
                await enter(pilot, reply)


@pytest.mark.parametrize("size", [(59, 24), (80, 19), (40, 12)], ids=str)
async def test_a_small_terminal_says_so_and_the_call_goes_on(opened: Opened, size: tuple[int, int]) -> None:
    """In the place of the title; large enough again, the title is back."""
    async with opened(80, 24, after=TO_THE_FEED) as pilot:
        await pilot.resize_terminal(*size)
        await pilot.pause()
        first = screen_text(pilot.app).splitlines()[0]
        assert f"{size[0]}x{size[1]} is too small" in first
        await enter(pilot, "118")
        assert asked(pilot) == "suction_line_temperature"
        await pilot.resize_terminal(80, 24)
        await pilot.pause()
        assert screen_text(pilot.app).startswith(" Coilside  call 1")


@pytest.mark.parametrize("size", [(29, 24), (80, 9), (10, 4), (2, 1)], ids=str)
async def test_a_tiny_terminal_shows_that_alone(opened: Opened, size: tuple[int, int]) -> None:
    """What is typed meanwhile answers nothing unseen, and the call is there again with the room."""
    async with opened(80, 24, after=TO_THE_FEED) as pilot:
        await pilot.resize_terminal(*size)
        await pilot.pause()
        assert isinstance(pilot.app.screen, TinyScreen)
        if size[0] > 9:
            assert "Too small" in " ".join(screen_text(pilot.app).split())
        await pilot.press("1", "1", "8", "enter")
        await pilot.resize_terminal(80, 24)
        await pilot.pause()
        assert asked(pilot) == "suction_pressure"
        assert "What is the suction pressure?" in screen_text(pilot.app)
