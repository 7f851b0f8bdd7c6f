"""The lines around the call: the title above, the news and the keys below."""

from collections.abc import Iterable
from typing import Final

from textual import events
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.geometry import Size
from textual.style import Style
from textual.widget import Widget

from assistant.tui.messages import KeyWanted
from assistant.tui.passage import MUTED, STRONG, Passage, Run, item, plain

NEEDED: Final = Size(60, 20)
"""From here on, nothing that is needed is cut."""

TINIEST: Final = Size(30, 10)
"""Below this, a question and the line for its reply do not fit."""


def fits(size: Size, least: Size) -> bool:
    """Whether a screen is as large as it has to be."""
    return size.width >= least.width and size.height >= least.height


class TitleBar(Widget):
    """The program, the number of the call, the complaint, and the tree that is followed."""

    DEFAULT_CSS = """
    TitleBar {
        height: 1;
        padding: 0 1;
        text-wrap: nowrap;
        text-overflow: ellipsis;
    }
    """

    def __init__(self) -> None:
        self.content = Content("")
        super().__init__()

    def render(self) -> Content:
        """The line; on a screen that is too small, that it is."""
        size = self.app.size
        if fits(size, NEEDED):
            return self.content
        needed = f"{NEEDED.width}x{NEEDED.height}"
        return plain(f"! {size.width}x{size.height} is too small to show all: {needed} does.", "bold $warning")

    def tell(self, number: int | None, complaint: str, tree: str | None, call: str = "new call") -> None:
        """Show which call this is; one without a number is a new one, or what `call` says."""
        named = plain(f"call {number}" if number is not None else call, STRONG)
        parts = [plain("Coilside", "bold $primary"), named]
        parts += [plain(text, MUTED) for text in (complaint, tree) if text]
        content = Content("  ").join(parts)
        if content != self.content:
            self.content = content
            self.refresh()


class Notice(Widget):
    """The latest news only, so that a key held down does not fill the screen."""

    DEFAULT_CSS = """
    Notice {
        height: auto;
        max-height: 6;
        padding: 0 1;
        display: none;
    }
    Notice.-told {
        display: block;
    }
    """

    help_text = "A line that begins with ! says why a reply was not taken; nothing has changed then."

    def __init__(self) -> None:
        self.text = ""
        self.is_problem = False
        super().__init__()

    def render(self) -> Passage:
        """The news."""
        return Passage((item("! " if self.is_problem else "* ", self.text),) if self.text else ())

    def tell(self, text: str, is_problem: bool = False) -> None:
        """Show some news in place of the last; an empty text shows none."""
        if (text, is_problem) == (self.text, self.is_problem):
            return
        self.text, self.is_problem = text, is_problem
        self.set_class(bool(text), "-told")
        self.set_class(is_problem, "-problem")
        self.refresh(layout=True)


class KeyBar(Widget):
    """The keys of a screen, made from its bindings; each can be clicked. Where the line is short, there are two."""

    DEFAULT_CSS = """
    KeyBar {
        height: auto;
        max-height: 3;
        padding: 0 1;
    }
    """

    def __init__(self, bindings: Iterable[BindingType]) -> None:
        self.keys = [binding for binding in bindings if isinstance(binding, Binding) and binding.show]
        super().__init__()

    auto_links = False

    def render(self) -> Passage:
        """The keys with their words."""
        return Passage((Run(tuple(self._key(binding) for binding in self.keys)),))

    def _key(self, binding: Binding) -> Content:
        name = binding.key_display or binding.key.upper()
        key = plain(name, f"{STRONG} $primary") + plain(f" {binding.description}")
        return key.stylize(Style.from_meta({"action": binding.action}))

    def on_click(self, event: events.Click) -> None:
        """A click on a key does what the key does."""
        event.stop()
        action = event.style.meta.get("action")
        if isinstance(action, str):
            self.post_message(KeyWanted(action))
