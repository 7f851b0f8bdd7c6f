"""Two looks: copper on slate for indoors, dark copper on paper for the sun.

`quiet` is the colour of what is answered or secondary; it keeps a contrast of 5 to 1 and more.
"""

from typing import Final

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
