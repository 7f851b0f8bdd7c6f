"""The end of a call on the transcript."""

from collections.abc import Iterator

from assistant.tui.passage import STRONG, Block, line
from assistant.tui.widgets.turns.base import TurnView


class EndedView(TurnView):
    """Nothing is asked any more."""

    look = "ended"

    def __init__(self, closing: str) -> None:
        self.closing = closing

    def blocks(self) -> Iterator[Block]:
        """That the call has ended, and what can still be done."""
        yield line("END OF THE CALL", STRONG)
        yield line(self.closing)
