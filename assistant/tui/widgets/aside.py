"""Something said beside the record: why a question is asked, the work behind the numbers, the answers so far."""

from collections.abc import Iterator, Sequence
from typing import Final

from assistant.tui.passage import MUTED, STRONG, Block, line
from assistant.tui.widgets.turns.base import TurnView

ESC_CLOSES: Final = "Esc takes this away."


class Aside(TurnView):
    """It stands behind the prompt until the next answer, or until Esc."""

    look = "aside"
    help_text = "Why and Work answer below the question; Esc takes that away again."

    def __init__(self, title: str, lines: Sequence[str], closing: str = ESC_CLOSES) -> None:
        self.title = title
        self.lines = lines
        self.closing = closing

    def blocks(self) -> Iterator[Block]:
        """The title and the lines."""
        yield line(self.title, STRONG)
        yield from (line(text) for text in self.lines)
        if self.closing:
            yield line(self.closing, MUTED)
