"""The first line of the screen: which call this is."""

from textual.content import Content
from textual.widget import Widget

from assistant.tui.passage import MUTED, STRONG, plain
from assistant.tui.screens.tiny import NEEDED, fits


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
