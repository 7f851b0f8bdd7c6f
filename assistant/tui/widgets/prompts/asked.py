"""Questions: in words, with a unit, a refrigerant, or one of several choices."""

from collections.abc import Iterator

from assistant.call.prompts import AskChoice, AskQuantity, AskRefrigerant, AskText
from assistant.quantity import accepted_forms
from assistant.tui.passage import MUTED, STRONG, Block, Paragraph, line, plain
from assistant.tui.widgets.prompts.base import PromptView


class TextPrompt(PromptView):
    """A question answered in the tech's own words."""

    prompt: AskText

    def question(self) -> Iterator[Block]:
        """The question."""
        yield line(self.prompt.question, STRONG)
        if self.turn is None and self.prompt.help:
            yield line(self.prompt.help, MUTED)

    def hint(self) -> str:
        """What the empty reply line says."""
        return "In your own words"


class RefrigerantPrompt(PromptView):
    """A question answered with a refrigerant."""

    prompt: AskRefrigerant

    def question(self) -> Iterator[Block]:
        """The question."""
        yield line(self.prompt.question, STRONG)

    def hint(self) -> str:
        """What the empty reply line says."""
        return "As on the data plate, such as R-410A or 22"


class QuantityPrompt(PromptView):
    """A question answered with a number; a bare one takes the unit in brackets."""

    prompt: AskQuantity

    help_text = "A number without a unit takes the unit in brackets; any other unit can be typed behind it."

    def question(self) -> Iterator[Block]:
        """The question with its unit."""
        asked = plain(self.prompt.question, STRONG)
        if self.prompt.unit.label:
            asked = asked + plain(f"  [{self.prompt.unit.label}]", MUTED)
        yield Paragraph(asked)

    def hint(self) -> str:
        """What the empty reply line says."""
        usual = f"Enter: {self.prompt.default}; or " if self.prompt.default else ""
        return f"{usual}{accepted_forms(self.prompt.kind, self.prompt.unit.symbol)}"


class ChoicePrompt(PromptView):
    """A question answered with one of its choices."""

    prompt: AskChoice

    help_text = (
        "A choice is answered with its number, its words or the beginning of them. > marks what Enter would send. "
        "A click marks a choice, a second click sends it."
    )

    def question(self) -> Iterator[Block]:
        """The question."""
        yield line(self.prompt.question, STRONG)
