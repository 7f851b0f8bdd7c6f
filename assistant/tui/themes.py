"""The looks: copper on slate indoors, dark copper on paper by daylight, black on white in the sun, and no colour.

`quiet` is the colour of what is answered or secondary; it keeps a contrast of 5 to 1 and more, in the sun of 10 to 1.
"""

from functools import lru_cache
from typing import Final

from rich.segment import Segment
from rich.style import Style
from textual.color import Color
from textual.filter import LineFilter
from textual.theme import Theme

DARK: Final = Theme(
    name="coilside-dark",
    primary="#d9935b",
    secondary="#6fa8a3",
    accent="#8fc1b5",
    warning="#f0c04a",
    error="#ef7a6a",
    success="#93c36f",
    foreground="#e9e4dc",
    background="#12181b",
    surface="#1a2226",
    panel="#222c31",
    dark=True,
    variables={"quiet": "#9aa6a3"},
)
LIGHT: Final = Theme(
    name="coilside-light",
    primary="#8a4a16",
    secondary="#1f5f5b",
    accent="#1f5f5b",
    warning="#8a5a00",
    error="#a3261b",
    success="#2f6a1c",
    foreground="#1b1b18",
    background="#fbf8f2",
    surface="#f3ede2",
    panel="#e9e1d2",
    dark=False,
    variables={"quiet": "#5f625c"},
)
SUN: Final = Theme(
    name="coilside-sun",
    primary="#4a1f00",
    secondary="#00302c",
    accent="#00302c",
    warning="#5a0000",
    error="#5a0000",
    success="#0a3300",
    foreground="#000000",
    background="#ffffff",
    surface="#ffffff",
    panel="#f2f2f2",
    dark=False,
    variables={"quiet": "#262626"},
)
NONE: Final = Theme(
    name="coilside-none",
    primary="#ffffff",
    secondary="#ffffff",
    accent="#ffffff",
    warning="#ffffff",
    error="#ffffff",
    success="#ffffff",
    foreground="#ffffff",
    background="#000000",
    surface="#000000",
    panel="#000000",
    dark=True,
    # Where no colour shows the cursor, the other way round does.
    variables={"quiet": "#ffffff", "input-cursor-text-style": "reverse"},
)

LOOKS: Final = {"dark": DARK, "light": LIGHT, "sun": SUN, "none": NONE}
"""The looks by the names that a person sets, in the order in which a key goes through them."""


class Colourless(LineFilter):
    """Takes every colour away; bold and reversed stay, as words carry what is meant."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        """The segments in the terminal's own two colours."""
        return [Segment(text, style and _bare(style), control) for text, style, control in segments]


@lru_cache(4096)
def _bare(style: Style) -> Style:
    # What can be clicked is noted in the style and must stay.
    return style.without_color + Style.from_meta(style.meta)
