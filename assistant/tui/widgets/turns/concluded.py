"""A likely cause with the evidence."""

from collections.abc import Iterator

from assistant.call.turns import Concluded
from assistant.tui.passage import STRONG, Block, Paragraph, headed, item, line, plain
from assistant.tui.widgets.turns.base import TurnView


class ConcludedView(TurnView):
    """What the cause is, why the readings look so, what speaks for it, what looks like it."""

    is_finding = True
    look = "finding"
    help_text = "LIKELY CAUSE is no verdict: read the evidence, and what looks alike, before you act on it."

    def __init__(self, turn: Concluded) -> None:
        self.turn = turn

    def blocks(self) -> Iterator[Block]:
        """The cause, then the evidence, then what else it could be."""
        cause = self.turn.cause
        yield Paragraph(plain("LIKELY CAUSE  ", "bold $success") + plain(cause.title, STRONG))
        yield line(cause.what)
        yield headed("Why it reads so:", cause.why)
        if self.turn.evidence:
            yield line("Evidence for it:", STRONG)
            yield from (item("  + ", text) for text in self.turn.evidence)
        if self.turn.against:
            yield line("Not decided beyond doubt on the way here:", STRONG)
            yield from (item("  ? ", text) for text in self.turn.against)
        if self.turn.look_alikes:
            yield line("What looks alike:", STRONG)
            yield from (item("  ~ ", f"{title}: {tell}") for title, tell in self.turn.look_alikes)
