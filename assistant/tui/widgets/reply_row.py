"""The line for replies with its sign, and what it says of itself: what Enter does, and whether more stands below."""

from collections.abc import Iterator
from typing import Final

from textual.containers import Horizontal
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Input, Static

from assistant.tui.widgets.reply_line import ReplyLine

_MORE: Final = " more below: PageDown "
_READ: Final = " read to its end: Enter sends it now "


class ReplyRow(Horizontal):
    """The sign and the line."""

    def __init__(self) -> None:
        # What was sent before all was read; it stays in the line, and Enter sends it at the end.
        self._held_back = ""
        super().__init__(id="reply")

    def compose(self) -> Iterator[Widget]:
        """A sign, and where the reply is typed."""
        yield Static(Content("> "), id="sign")
        yield ReplyLine()

    @property
    def line(self) -> ReplyLine:
        """Where the reply is typed."""
        return self.query_one(ReplyLine)

    def hold_back(self, text: str) -> None:
        """Keep a reply that counts only when all is read."""
        self._held_back = text
        self.line.offer_again(text)

    def tell(self, hint: str, at_end: bool) -> None:
        """Say what can be answered, or that there is more to be read first."""
        self._head((_READ if self._held_back else "") if at_end else _MORE)
        self.line.placeholder = hint if at_end else "Enter reads on"

    def _head(self, text: str) -> None:
        if str(self.border_title or "") != text:
            self.border_title = Content(text)

    def on_input_changed(self, event: Input.Changed) -> None:
        """Another reply is no longer the one that waits."""
        if self._held_back and event.value != self._held_back:
            self._held_back = ""
            if str(self.border_title) == _READ:
                self._head("")
