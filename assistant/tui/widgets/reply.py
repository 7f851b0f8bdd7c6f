"""The line in which replies are typed, and what it says of itself: what Enter does, and whether more stands below."""

from collections.abc import Iterator
from typing import ClassVar, Final, Self

from textual import events
from textual.binding import Binding, BindingType
from textual.containers import Horizontal
from textual.content import Content
from textual.geometry import Region
from textual.widget import Widget
from textual.widgets import Input, Static

from assistant.source.problem import without_controls
from assistant.tui.messages import Stepped


class ReplyLine(Input):
    """One line. What is pasted loses its line ends and control characters; up and down walk through the options."""

    DEFAULT_CSS = """
    ReplyLine {
        border: none;
        height: 1;
        padding: 0;
        width: 1fr;
    }
    ReplyLine:focus {
        border: none;
    }
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "step(-1)", "Previous choice", show=False),
        Binding("down", "step(1)", "Next choice", show=False),
    ]

    help_text = (
        "Enter sends the reply, or the usual answer where one is offered. Up and down walk through the choices. "
        "Words work anywhere: why, work, back, change, answers, cannot tell, help, quit."
    )

    def __init__(self) -> None:
        # A blinking cursor would send a frame twice a second over a slow line.
        super().__init__(select_on_focus=False, compact=True)
        self.cursor_blink = False

    def refresh(self, *regions: Region, repaint: bool = True, layout: bool = False, recompose: bool = False) -> Self:
        """Draw it anew; its place does not depend on what is typed, as Textual supposes."""
        return super().refresh(*regions, repaint=repaint, recompose=recompose)

    def replace(self, text: str, start: int, end: int) -> None:
        """Every typed or pasted text comes through here: an escape character must not reach the terminal."""
        super().replace(without_controls(text), start, end)

    def on_paste(self, event: events.Paste) -> None:
        """Take a paste as one line; Textual would keep its first line only, and so cut it unseen."""
        self.replace(event.text, *self.selection)
        event.prevent_default()
        event.stop()

    def action_step(self, by: int) -> None:
        """Walk through the options of the prompt."""
        self.post_message(Stepped(by))

    async def action_submit(self) -> None:
        """Send what stands there and begin anew at once: what is typed ahead belongs to the next reply."""
        text = self.value
        self.clear()
        self.post_message(self.Submitted(self, text))

    def write(self, text: str) -> None:
        """Put a text into the line, the cursor behind it."""
        self.value = without_controls(text)
        self.cursor_position = len(self.value)

    def offer_again(self, text: str) -> None:
        """Give a reply back that was not taken, marked whole, so that typing replaces it.

        What was typed ahead is dropped: it was meant for the question behind the one that still stands.
        """
        self.write(text)
        self.select_all()


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
