"""The second opinion on a page of its own."""

from collections.abc import Iterator

from textual.containers import VerticalScroll
from textual.widget import Widget
from textual.widgets import Static

from assistant.call.second_opinion import TITLE
from assistant.opinion.telling import wrap_lines
from assistant.tui.messages import KeyWanted
from assistant.tui.passage import Passage, line
from assistant.tui.screens.pages import Heading, Page
from assistant.tui.widgets.edges import KeyBar

_WIDEST = 100


class OpinionPage(Page[None]):
    """How well each cause fits, what it would read beside what was measured, and what to do next."""

    def __init__(self, lines: tuple[str, ...]) -> None:
        self._told = lines
        super().__init__()

    def compose(self) -> Iterator[Widget]:
        """Heading, text, keys."""
        yield Heading(TITLE)
        with VerticalScroll():
            yield Static(id="opinion")
        yield KeyBar(self.BINDINGS)

    def on_mount(self) -> None:
        """Lay the text out."""
        self.on_resize()

    def on_resize(self) -> None:
        """Lay the text out for the width there is."""
        width = min(self.app.size.width - 2, _WIDEST)
        self.query_one("#opinion", Static).update(Passage(line(text) for text in wrap_lines(self._told, width)))

    def on_key_wanted(self, message: KeyWanted) -> None:
        """The key bar was clicked."""
        self.action_leave()
