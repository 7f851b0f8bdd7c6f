"""A caution, a turn of its own, or one of a list."""

from collections.abc import Iterator

from assistant.call.prompts import Acknowledge
from assistant.call.turns import Answered
from assistant.tui.passage import MUTED, STRONG, Block, Paragraph, item, line, plain
from assistant.tui.widgets.prompts.base import PromptView


class CautionPrompt(PromptView):
    """A caution. It is acknowledged by typing, so that Enter held down never passes it.

    Several before one step are one list: those read stand above, the one to be read in full, those to come below.
    """

    prompt: Acknowledge

    changeable = False
    live_look = "warning"
    help_text = (
        "CAUTION stands before a step that can hurt. Nothing goes on until you have read it and typed ok; of several, "
        "each has its own number."
    )

    def blocks(self) -> Iterator[Block]:
        """The caution; in a list, one that is read is short."""
        if not self.prompt.is_listed:
            yield from super().blocks()
            return
        if self.prompt.place == 1:
            count = len(self.prompt.together)
            yield line(f"{count} CAUTIONS before this step, each acknowledged by its own number", "bold $warning")
        if self.turn is None:
            yield from self._to_be_read()
        else:
            yield item(f"  {self.prompt.place}  read  ", f"{self.prompt.title}: {self.prompt.text}", MUTED)

    def _to_be_read(self) -> Iterator[Block]:
        prompt = self.prompt
        yield item(f"> {prompt.place}  ", prompt.title, STRONG)
        yield item("     ", prompt.text)
        yield item("     ", f"Rule: {prompt.rule}", MUTED)
        yield item("     ", prompt.question, STRONG)
        for place, title in enumerate(prompt.together[prompt.place :], start=prompt.place + 1):
            yield item(f"  {place}  ", title, MUTED)

    def question(self) -> Iterator[Block]:
        """The caution with its rule."""
        yield Paragraph(plain("CAUTION  ", "bold $warning") + plain(self.prompt.title, STRONG))
        yield line(self.prompt.text)
        yield line(f"Rule: {self.prompt.rule}", MUTED)
        if self.turn is None:
            yield line(self.prompt.question, STRONG)

    def settle(self, turn: Answered) -> None:
        """It is read; the list goes on right below it."""
        super().settle(turn)
        self.gap = 0 if self.prompt.is_listed and self.prompt.place < len(self.prompt.together) else 1

    def hint(self) -> str:
        """What the empty reply line says."""
        return self.prompt.question.rstrip(".")
