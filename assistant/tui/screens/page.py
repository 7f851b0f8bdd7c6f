"""What the pages that open over the chat have in common: a title, something to read or pick, Esc to go back."""

from typing import ClassVar, TypeVar

from textual.binding import Binding, BindingType
from textual.content import Content
from textual.screen import ModalScreen
from textual.widget import Widget

from assistant.tui.passage import plain

Picked = TypeVar("Picked")


class Heading(Widget):
    """One or two lines on top of a page."""

    DEFAULT_CSS = """
    Heading {
        height: auto;
        padding: 0 1;
    }
    """

    def __init__(self, text: str, style: str = "bold $primary") -> None:
        self._style = style
        self.content = plain(text, style)
        super().__init__()

    def render(self) -> Content:
        """The text."""
        return self.content

    def tell(self, text: str) -> None:
        """Show another text in the same style."""
        self.content = plain(text, self._style)
        self.refresh(layout=True)


class Page(ModalScreen[Picked]):
    """A page over the chat."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "leave", "Back to the call", key_display="Esc")]

    def action_leave(self) -> None:
        """Close the page with nothing picked."""
        self.dismiss(None)
