"""Whether an end holds up."""

from collections.abc import Iterator

from assistant.call.prompts import CheckOut
from assistant.tui.passage import MUTED, STRONG, Block, line
from assistant.tui.widgets.prompts.base import PromptView


class CheckPrompt(PromptView):
    """The proof of an end: yes, no, or not yet to be told."""

    prompt: CheckOut

    help_text = (
        "After a repair, measure again: the readings are set beside those before. Yes proves the cause, no follows a "
        "way that was kept, if there is one."
    )

    def question(self) -> Iterator[Block]:
        """The question, and what a no would lead to."""
        yield line(self.prompt.question, STRONG)
        if self.turn is None and self.prompt.kept:
            ways = "One other way is" if self.prompt.kept == 1 else f"{self.prompt.kept} other ways are"
            yield line(f"{ways} kept from close calls; no leads there.", MUTED)

    def hint(self) -> str:
        """What the empty reply line says."""
        return "1 yes, 2 no, 3 measure again, 0 cannot tell" if self.prompt.measurable else "yes, no, or cannot tell"
