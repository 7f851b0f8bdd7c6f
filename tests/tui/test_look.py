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
from assistant.settings import THEMES
from assistant.tui.app import LookApp
from assistant.tui.screens.pages import HelpPage
from assistant.tui.themes import LOOKS
from assistant.tui.widgets.edges import KeyBar
from tests.tui.conftest import Opened
from tests.tui.driving import START, TO_THE_FEED, chat
from tests.tui.screens import screen_text

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


async def test_the_look_without_colour_has_none_at_all(opened: Opened) -> None:
    """Not even greys: the terminal's own two colours, as no-color.org asks of a program."""
    async with opened(after=START, look="none") as pilot:
        assert set(colours(pilot.app)) == set()
        await pilot.press("f8")
        await pilot.pause()
        assert set(colours(pilot.app))


async def test_without_colour_the_cursor_is_seen_and_keys_can_be_clicked(opened: Opened) -> None:
    """The cursor is the other way round; what a click does is not lost with the colours."""
    async with opened(look="none") as pilot:
        strips = pilot.app.screen._compositor.render_strips()
        assert any(segment.style and segment.style.reverse for segment in strips[chat(pilot).reply.region.y])
        await pilot.click(KeyBar, offset=(2, 0))
        await pilot.pause()
        assert isinstance(pilot.app.screen, HelpPage)


@pytest.mark.parametrize("size", [(80, 24), (120, 36)], ids=["80x24", "120x36"])
@pytest.mark.parametrize(
    "replies",
    [(), START, TO_THE_FEED, (*TO_THE_FEED, "118", "80"), (*TO_THE_FEED, "118", "52")],
    ids=["first", "caution", "reading", "high", "close"],
)
async def test_the_words_are_the_same_without_colour(
    opened: Opened, replies: tuple[str, ...], size: tuple[int, int]
) -> None:
    """Nothing is said by a colour alone: each screen holds the same text in every look, and what is marked has a sign.

    The snapshots of the screens therefore stand for all looks.
    """
    shown: set[str] = set()
    async with opened(*size, after=replies) as pilot:
        assert isinstance(pilot.app, LookApp)
        for look in THEMES:
            pilot.app.set_look(look)
            await pilot.pause()
            assert pilot.app.look == look
            shown.add(screen_text(pilot.app))
    assert len(shown) == 1


def test_style_sheets_name_theme_variables_only() -> None:
    """A colour of its own would be wrong in one of the two looks."""
    for path in [*FOLDER.rglob("*.tcss"), *FOLDER.rglob("*.py")]:
        if path.name != "themes.py":
            text = path.read_text(encoding="utf-8")
            assert re.findall(r"#[0-9a-f]{6}\b|#[0-9a-f]{3}\b|rgb\(|hsl\(", text) == [], path


@pytest.mark.parametrize(("name", "least"), [("dark", 4.5), ("light", 4.5), ("sun", 10.0), ("none", 21.0)])
def test_every_text_colour_can_be_read(name: str, least: float) -> None:
    """Contrast of 4.5 to 1 and more on all three backgrounds; in the sun more than twice that.

    Source: W3C, WCAG 2.2, success criterion 1.4.3 (4.5 to 1) and 1.4.6 (7 to 1); for the sun, no source: what our
    darkest looks allow.
    """
    look = LOOKS[name]
    texts = [look.foreground, look.primary, look.accent, look.warning, look.success, look.variables["quiet"]]
    for text in texts:
        for ground in (look.background, look.surface, look.panel):
            assert text is not None
            assert ground is not None
            assert contrast(Color.parse(text), Color.parse(ground)) >= least - 1e-9, (text, ground)


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
