"""A branch taken, with its reasons."""

from collections.abc import Iterator

from assistant.call.turns import Decided
from assistant.call.wording import words_of
from assistant.tui.passage import MUTED, Block, item, line
from assistant.tui.widgets.turns.base import TurnView


class DecidedView(TurnView):
    """Which way the call goes on, and why."""

    help_text = "- marks what a decision looked at, -> the step it leads to."

    def __init__(self, turn: Decided) -> None:
        self.turn = turn

    def blocks(self) -> Iterator[Block]:
        """The reasons, and where they lead."""
        way = f"-> {words_of(self.turn.go)}"
        if not self.turn.reasons:
            yield line(way, MUTED)
        for place, reason in enumerate(self.turn.reasons, start=1):
            is_last = place == len(self.turn.reasons)
            yield item("- ", f"{reason}  {way}" if is_last else reason, MUTED)
