"""How a cause is put right."""

from collections.abc import Iterator

from assistant.call.turns import Repair
from assistant.call.wording import DISCLAIMER
from assistant.tui.passage import MUTED, Block, headed, item, line
from assistant.tui.widgets.turns.base import TurnView


class RepairView(TurnView):
    """The steps of the repair, how to prove it, and who may do it."""

    is_finding = True
    look = "finding"

    def __init__(self, turn: Repair) -> None:
        self.turn = turn

    def blocks(self) -> Iterator[Block]:
        """The steps, then the proof."""
        cause = self.turn.cause
        yield line("REPAIR", "bold $success")
        for number, step in enumerate(cause.repair, start=1):
            yield item(f"{number:>2}. ", step)
        yield headed("Prove it:", cause.prove)
        yield headed("Who may do it:", cause.licence)
        yield line(f"Source: {cause.source}", MUTED)
        yield line(DISCLAIMER, MUTED)
