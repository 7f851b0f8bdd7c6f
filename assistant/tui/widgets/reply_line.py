"""The line in which replies are typed."""

from typing import ClassVar, Self

from textual.binding import Binding, BindingType
from textual.geometry import Region
from textual.widgets import Input

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

    def _on_paste(self, event: object) -> None:
        """Take a paste as one line; Textual would keep its first line only, and so cut it unseen."""
        from textual.events import Paste

        assert isinstance(event, Paste)
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
