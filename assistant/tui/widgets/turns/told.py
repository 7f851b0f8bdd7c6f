"""Something the tree says."""

from collections.abc import Iterator

from assistant.call.turns import Told
from assistant.tui.passage import Block, line
from assistant.tui.widgets.turns.base import TurnView


class ToldView(TurnView):
    """A remark of the tree's author."""

    def __init__(self, turn: Told) -> None:
        self.turn = turn

    def blocks(self) -> Iterator[Block]:
        """The remark."""
        yield line(self.turn.text)
