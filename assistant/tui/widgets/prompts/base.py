"""What every prompt on the transcript has in common: asked now, then answered and left standing."""

from abc import abstractmethod
from collections.abc import Iterator
from typing import ClassVar

from textual.content import Content
from textual.style import Style

from assistant.call.prompts import Prompt
from assistant.call.turns import Answered
from assistant.tui.messages import ChangeWanted, OptionPicked
from assistant.tui.options import Option, options_of, pointed_at
from assistant.tui.passage import MARKED, MUTED, Block, Paragraph, item, line, plain
from assistant.tui.widgets.column import Look
from assistant.tui.widgets.turns.base import TurnView


class PromptView(TurnView):
    """A prompt. While it is asked, its options can be pointed at; once answered, it stays, with the choice marked.

    `was` is the answer so far when an earlier prompt is asked again to be changed.
    """

    changeable: ClassVar[bool] = True
    """Whether its answer can be changed by a click."""

    live_look: ClassVar[Look] = "live"
    """How it looks while it is asked."""

    def __init__(self, prompt: Prompt, was: str | None = None) -> None:
        self.prompt = prompt
        self.was = was
        self.turn: Answered | None = None
        self.options = options_of(prompt)
        self.pointed: str | None = None
        self.look = self.live_look if was is None else "warning"

    @abstractmethod
    def question(self) -> Iterator[Block]:
        """What is asked, without the options."""

    def hint(self) -> str:
        """What the empty reply line says."""
        return "Number or words of a choice, or the arrow keys"

    def blocks(self) -> Iterator[Block]:
        """The question, its options, and the answer when there is one."""
        if self.was is not None:
            yield line(f"CHANGING an earlier answer. It was: {self.was}. Esc leaves it so.", "bold $warning")
        yield from self.question()
        for option in self.options:
            yield self._option(option)
        if self.turn is not None and not any(option.answer == self.turn.text for option in self.options):
            yield item("> ", self.turn.shown, MARKED)

    def _option(self, option: Option) -> Paragraph:
        """One option; the marked one is the answer, or what Enter would send."""
        answered = self.turn is not None
        marked = option.answer == (self.turn.text if self.turn else self.pointed)
        lead = plain(f"{'>' if marked else ' '} {option.say}  " if option.words else f"{'>' if marked else ' '} ")
        body = plain(option.words or option.say)
        if option.mark and not answered:
            body = body + Content("  ") + plain(option.mark, MUTED)
        style = MARKED if marked else MUTED if answered else ""
        clickable = Style.from_meta({"option": option.say})
        return Paragraph(_styled(body, style).stylize(clickable), _styled(lead, style).stylize(clickable))

    def point(self, typed: str) -> bool:
        """Mark the option that the reply being typed would choose; whether that is another one."""
        before, self.pointed = self.pointed, pointed_at(self.prompt, typed) if self.options else None
        return self.pointed != before

    def settle(self, turn: Answered) -> None:
        """The prompt is answered; it stays as part of the record."""
        self.turn = turn
        self.look = "answered"

    def clicked(self, say: str | None) -> ChangeWanted | OptionPicked | None:
        """What a click means: on an option, to point at it; on an answered prompt, to change it."""
        if self.turn is not None:
            return ChangeWanted(self.turn) if self.changeable else None
        option = next((option for option in self.options if option.say == say), None)
        return None if option is None else OptionPicked(option.say, again=option.answer == self.pointed)


def _styled(content: Content, style: str) -> Content:
    return content.stylize(style) if style else content
