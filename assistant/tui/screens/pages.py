"""Pages over the call: their heading, the help, and what stands there while the terminal is too small."""

from collections.abc import Iterable, Iterator
from typing import ClassVar, TypeVar

from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen
from textual.widget import Widget

from assistant.tui.messages import KeyWanted
from assistant.tui.passage import STRONG, Block, Passage, item, line, plain
from assistant.tui.widgets.edges import NEEDED, KeyBar

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


class HelpText(Widget):
    """The lines of the help page."""

    DEFAULT_CSS = """
    HelpText {
        height: auto;
        padding: 0 1;
        max-width: 100;
    }
    """

    def __init__(self, blocks: Iterable[Block]) -> None:
        self.passage = Passage(blocks)
        super().__init__()

    def render(self) -> Passage:
        """The text."""
        return self.passage


class HelpPage(Page[None]):
    """All of the help on one page."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,f1,enter", "leave", "Back to the call", key_display="Esc"),
    ]

    def __init__(self, keys: Iterable[BindingType], words: Iterable[str], parts: Iterable[str]) -> None:
        self._keys = [key for key in keys if isinstance(key, Binding) and key.tooltip]
        self._words = tuple(words)
        self._parts = tuple(dict.fromkeys(part for part in parts if part))
        super().__init__()

    def compose(self) -> Iterator[Widget]:
        """Heading, text, keys."""
        yield Heading("Help")
        with VerticalScroll():
            yield HelpText(self._blocks())
        yield KeyBar(self.BINDINGS)

    def _blocks(self) -> Iterator[Block]:
        yield line("Keys", STRONG)
        for key in self._keys:
            yield item(f"  {key.key_display or key.key.upper():<13}", key.tooltip, lead_style=STRONG)
        yield line("")
        yield line("Words you can type", STRONG)
        for text in self._words:
            word, _, meaning = text.partition(" ")
            yield item(f"  {word:<13}", meaning.strip(), lead_style=STRONG)
        yield line("")
        yield line("On the screen", STRONG)
        yield from (item("  ", part) for part in self._parts)

    def on_key_wanted(self, message: KeyWanted) -> None:
        """The key bar was clicked."""
        self.action_leave()


class TinyScreen(ModalScreen[None]):
    """A few words; it goes as soon as there is room."""

    def compose(self) -> Iterator[Widget]:
        """The words."""
        yield Heading(f"Too small. Make this window {NEEDED.width}x{NEEDED.height} or larger. Your call is kept.")
