"""What is said to a trainee who rides along."""

from collections.abc import Iterator

from assistant.call.turns import Coached
from assistant.tui.passage import STRONG, Block, item, line
from assistant.tui.widgets.turns.base import TurnView


class CoachedView(TurnView):
    """How a guess did, or the score."""

    help_text = "* marks what is said to a trainee who rides along; it is no part of the call."

    def __init__(self, turn: Coached) -> None:
        self.turn = turn

    def blocks(self) -> Iterator[Block]:
        """A word, then the lines."""
        yield item("* ", self.turn.title, STRONG)
        yield from (line(f"  {text}") for text in self.turn.lines)
