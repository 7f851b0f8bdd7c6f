"""A worked number, and one that cannot be worked."""

from collections.abc import Iterator

from assistant.call.turns import NumberMissing, NumberShown
from assistant.tui.passage import MUTED, STRONG, Block, item
from assistant.tui.widgets.turns.base import TurnView


class NumberView(TurnView):
    """A worked number with its doubt; its work is a key away."""

    help_text = "= marks a worked number, with its doubt behind ±. Work (F3) shows where it comes from."

    def __init__(self, turn: NumberShown) -> None:
        self.turn = turn

    def blocks(self) -> Iterator[Block]:
        """The number."""
        yield item("= ", self.turn.line, STRONG)


class MissingNumberView(TurnView):
    """A number that cannot honestly be worked."""

    def __init__(self, turn: NumberMissing) -> None:
        self.turn = turn

    def blocks(self) -> Iterator[Block]:
        """Why it is not there."""
        yield item("= ", self.turn.line, MUTED)
