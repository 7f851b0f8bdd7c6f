"""Where transcript and panel stand side by side."""

from collections.abc import Iterator

from textual.containers import Horizontal
from textual.widget import Widget

from assistant.tui.widgets.panel import Panel
from assistant.tui.widgets.transcript import Transcript


class CallArea(Horizontal):
    """A row of which nothing shows between what stands in it, so that drawing it takes no time."""

    BLANK = True

    def __init__(self) -> None:
        super().__init__(id="call")

    def compose(self) -> Iterator[Widget]:
        """What was said, and what is known."""
        yield Transcript()
        yield Panel()
