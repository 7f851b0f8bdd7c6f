"""Colours, and what the chat loads."""

import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from textual.app import App
from textual.color import Color

import assistant.tui
from assistant.tui.themes import DARK, LIGHT
from tests.tui.conftest import Opened
from tests.tui.driving import START

FOLDER = Path(assistant.tui.__file__).parent


def colours(app: App[int | None]) -> Iterator[tuple[int, int, int]]:
    """Every colour on the screen."""
    for y in range(app.size.height):
        for strip in app.screen._compositor.render_strips()[y : y + 1]:
            for segment in strip:
                for colour in (segment.style.color, segment.style.bgcolor) if segment.style else ():
                    if colour is not None:
                        yield colour.get_truecolor()


async def test_the_screen_has_colours(opened: Opened) -> None:
    """Else the next test would say nothing."""
    async with opened(after=START) as pilot:
        assert any(len(set(colour)) > 1 for colour in colours(pilot.app))


async def test_no_color_leaves_only_greys(opened: Opened, monkeypatch: pytest.MonkeyPatch) -> None:
    """As no-color.org asks of a program."""
    monkeypatch.setenv("NO_COLOR", "1")
    async with opened(after=START) as pilot:
        found = set(colours(pilot.app))
        assert found
        assert all(max(colour) - min(colour) <= 1 for colour in found)


def test_style_sheets_name_theme_variables_only() -> None:
    """A colour of its own would be wrong in one of the two looks."""
    for path in [*FOLDER.rglob("*.tcss"), *FOLDER.rglob("*.py")]:
        if path.name != "themes.py":
            text = path.read_text(encoding="utf-8")
            assert re.findall(r"#[0-9a-f]{6}\b|#[0-9a-f]{3}\b|rgb\(|hsl\(", text) == [], path


@pytest.mark.parametrize("theme", [DARK, LIGHT], ids=["dark", "light"])
def test_every_text_colour_can_be_read(theme: object) -> None:
    """Contrast of 4.5 to 1 and more on all three backgrounds.

    Source: W3C, WCAG 2.2, success criterion 1.4.3.
    """
    assert theme in (DARK, LIGHT)
    look = DARK if theme is DARK else LIGHT
    texts = [look.foreground, look.primary, look.accent, look.warning, look.success, look.variables["quiet"]]
    for text in texts:
        for ground in (look.background, look.surface, look.panel):
            assert text is not None
            assert ground is not None
            assert contrast(Color.parse(text), Color.parse(ground)) >= 4.5, (text, ground)


def contrast(one: Color, other: Color) -> float:
    """Contrast ratio.

    Source: W3C, WCAG 2.2, definition of contrast ratio and of relative luminance.
    """
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def luminance(colour: Color) -> float:
    """Relative luminance, 0 to 1."""
    parts = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in colour.normalized]
    return 0.2126 * parts[0] + 0.7152 * parts[1] + 0.0722 * parts[2]


def test_black_on_white_has_the_contrast_of_the_standard() -> None:
    """21 to 1.

    Source: W3C, WCAG 2.2, note to the definition of contrast ratio.
    """
    assert contrast(Color.parse("black"), Color.parse("white")) == pytest.approx(21.0)


def test_the_chat_is_imported_without_the_slow_libraries() -> None:
    """The first question waits for none of them."""
    code = (
        "import sys, assistant.tui.app\n"
        "print([name for name in ('CoolProp', 'uncertainties', 'numpy', 'rapidfuzz') if name in sys.modules])"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "[]"
