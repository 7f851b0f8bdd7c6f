"""Ends of a call other than a cause."""

from collections.abc import Iterator

from assistant.call.turns import NothingWrong, Undecided
from assistant.tui.passage import MUTED, Block, line
from assistant.tui.widgets.turns.base import TurnView


class NothingWrongView(TurnView):
    """No fault was found."""

    is_finding = True
    look = "finding"

    def __init__(self, turn: NothingWrong) -> None:
        self.turn = turn

    def blocks(self) -> Iterator[Block]:
        """What to tell the customer."""
        yield line("NO FAULT FOUND", "bold $success")
        yield line(self.turn.text)


class UndecidedView(TurnView):
    """An honest end without a cause."""

    is_finding = True
    look = "warning"

    def __init__(self, turn: Undecided) -> None:
        self.turn = turn

    def blocks(self) -> Iterator[Block]:
        """What is still open."""
        yield line("UNDECIDED", "bold $warning")
        yield line(self.turn.text)
        if self.turn.untold:
            yield line(f"Could not be told: {', '.join(self.turn.untold)}.", MUTED)
