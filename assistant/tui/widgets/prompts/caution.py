"""A caution, a turn of its own."""

from collections.abc import Iterator

from assistant.call.prompts import Acknowledge
from assistant.tui.passage import MUTED, STRONG, Block, Paragraph, line, plain
from assistant.tui.widgets.prompts.base import PromptView


class CautionPrompt(PromptView):
    """A caution. It is acknowledged by typing, so that Enter held down never passes it."""

    prompt: Acknowledge

    changeable = False
    help_text = "CAUTION stands before a step that can hurt. Nothing goes on until you have read it and typed ok."

    def question(self) -> Iterator[Block]:
        """The caution with its rule."""
        yield Paragraph(plain("CAUTION  ", "bold $warning") + plain(self.prompt.title, STRONG))
        yield line(self.prompt.text)
        yield line(f"Rule: {self.prompt.rule}", MUTED)
        if self.turn is None:
            yield line(self.prompt.question, STRONG)

    def hint(self) -> str:
        """What the empty reply line says."""
        return "Type ok when you have read it"
