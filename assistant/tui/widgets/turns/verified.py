"""A repair measured again: before and after."""

from collections.abc import Iterator

from assistant.call.turns import Verified
from assistant.call.wording import way_now
from assistant.tui.passage import MUTED, STRONG, Block, Pair, headed, item, line, plain
from assistant.tui.widgets.turns.base import TurnView


class VerifiedView(TurnView):
    """The readings before and after, the deciding conditions looked at again, and the verdict."""

    is_finding = True
    look = "finding"
    help_text = (
        "MEASURED AGAIN sets the readings before and after a repair side by side, and says whether they still lead "
        "to the cause."
    )

    def __init__(self, turn: Verified) -> None:
        self.turn = turn

    def blocks(self) -> Iterator[Block]:
        """The verdict, then what it rests on: a table and the conditions."""
        turn = self.turn
        yield line("MEASURED AGAIN  before -> after", "bold $success" if turn.checks_out else "bold $warning")
        word = {True: "CHECKS OUT", False: "NOT PROVEN", None: "CANNOT BE TOLD"}[turn.checks_out]
        yield headed(f"{word} ", turn.verdict)
        for row in turn.readings:
            yield Pair(plain(row.title), plain(f"{row.before}  ->  {row.after}", STRONG))
        for check in turn.conditions:
            yield item("- ", f"{check.condition}?{way_now(check)}", MUTED)
            yield item("    ", f"before: {check.before}", MUTED)
            yield item("    ", f"after: {check.after}")
