"""Readings that contradict each other."""

from collections.abc import Iterator

from assistant.call.turns import Contradicted
from assistant.tui.passage import STRONG, Block, item
from assistant.tui.widgets.turns.base import TurnView


class ContradictedView(TurnView):
    """Which readings disagree, the law they break, the likely slip and what to do."""

    is_finding = True
    help_text = "! marks readings that contradict each other: check them before anything is made of them."

    def __init__(self, turn: Contradicted) -> None:
        self.turn = turn

    def blocks(self) -> Iterator[Block]:
        """The law, the readings with their values, and the advice."""
        yield item("! ", f"THESE READINGS DISAGREE  {self.turn.law}", STRONG)
        yield from (item("    ", line) for line in self.turn.readings)
        yield from (item("  ", line) for line in self.turn.advice)
