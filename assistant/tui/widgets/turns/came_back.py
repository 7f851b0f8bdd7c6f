"""A way that was kept at a close call and is taken after all."""

from collections.abc import Iterator

from assistant.call.turns import CameBack
from assistant.tui.passage import STRONG, Block, line
from assistant.tui.widgets.turns.base import TurnView


class CameBackView(TurnView):
    """The call turns to another way."""

    is_finding = True

    def __init__(self, turn: CameBack) -> None:
        self.turn = turn

    def blocks(self) -> Iterator[Block]:
        """Where it comes back to."""
        yield line("COMING BACK to the way that was kept", STRONG)
        yield line(self.turn.text)
