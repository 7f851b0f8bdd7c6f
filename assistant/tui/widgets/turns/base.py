"""What every turn on the transcript has in common."""

from abc import abstractmethod
from collections.abc import Iterable
from typing import ClassVar

from textual.selection import Selection
from textual.widget import Widget

from assistant.tui.passage import Block, Passage


class TurnView(Widget):
    """One turn: blocks of plain text, one below the other."""

    DEFAULT_CSS = """
    TurnView {
        width: 100%;
        max-width: 100;
        height: auto;
        margin: 0 0 1 0;
        padding: 0 1;
    }
    """

    help_text: ClassVar[str] = ""
    """What the help page says of this kind of turn."""

    is_finding: ClassVar[bool] = False
    """Whether it is read from its first line on, before what is asked behind it."""

    # The links of Textual's own markup are not used: a clickable line carries its option as plain meta data.
    auto_links = False

    @abstractmethod
    def blocks(self) -> Iterable[Block]:
        """What the turn says."""

    def render(self) -> Passage:
        """The turn as text."""
        return Passage(self.blocks())

    def get_selection(self, selection: Selection) -> tuple[str, str] | None:
        """The text that was selected with the mouse."""
        visual = self._render()
        if not isinstance(visual, Passage):
            return None
        return selection.extract(visual.at(self.content_size.width).plain), "\n"
