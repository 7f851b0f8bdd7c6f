"""An action to be done."""

from collections.abc import Iterator

from assistant.call.prompts import DoStep
from assistant.tui.passage import STRONG, Block, Paragraph, plain
from assistant.tui.widgets.prompts.base import PromptView


class DoPrompt(PromptView):
    """An action: done, or it cannot be done."""

    prompt: DoStep

    help_text = "DO is an action: answer done when it is done; cannot do leads on without it."

    def question(self) -> Iterator[Block]:
        """The action."""
        yield Paragraph(plain(self.prompt.question, STRONG), plain("DO  ", "bold $accent"))

    def hint(self) -> str:
        """What the empty reply line says."""
        return "1 when it is done, or 2: cannot do"
