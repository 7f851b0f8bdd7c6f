"""What stands there while the terminal is too small for anything else."""

from collections.abc import Iterator
from typing import Final

from textual.geometry import Size
from textual.screen import ModalScreen
from textual.widget import Widget

from assistant.tui.screens.page import Heading

NEEDED: Final = Size(60, 20)
"""From here on, nothing that is needed is cut."""

TINIEST: Final = Size(30, 10)
"""Below this, a question and the line for its reply do not fit."""


def fits(size: Size, least: Size) -> bool:
    """Whether a screen is as large as it has to be."""
    return size.width >= least.width and size.height >= least.height


class TinyScreen(ModalScreen[None]):
    """A few words; it goes as soon as there is room."""

    def compose(self) -> Iterator[Widget]:
        """The words."""
        yield Heading(f"Too small. Make this window {NEEDED.width}x{NEEDED.height} or larger. Your call is kept.")
