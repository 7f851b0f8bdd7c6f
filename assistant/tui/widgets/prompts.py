"""The prompts of a call on the transcript, one view for each kind: asked now, then answered and left standing."""

from abc import abstractmethod
from collections.abc import Iterator
from typing import ClassVar, assert_never

from textual.content import Content
from textual.style import Style

from assistant.call.answers import Value
from assistant.call.prompts import (
    Acknowledge,
    AskChoice,
    AskQuantity,
    AskRefrigerant,
    AskText,
    CheckOut,
    CloseCall,
    DoStep,
    Prompt,
)
from assistant.call.turns import Answered
from assistant.pictures.scale_text import small_tracks
from assistant.quantity import accepted_forms
from assistant.tui.messages import ChangeWanted, OptionPicked
from assistant.tui.options import Option, options_of, pointed_at
from assistant.tui.passage import MARKED, MUTED, STRONG, Block, Paragraph, headed, item, line, plain
from assistant.tui.widgets.column import Look, View


class PromptView(View):
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
        self.pointed: Value | None = None
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
        if self.turn is not None and not any(option.answer == self.turn.answer.value for option in self.options):
            yield item("> ", self.turn.shown, MARKED)

    def _option(self, option: Option) -> Paragraph:
        """One option; the marked one is the answer, or what Enter would send."""
        answered = self.turn is not None
        marked = option.answer == (self.turn.answer.value if self.turn else self.pointed)
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


class ClosePrompt(PromptView):
    """How the numbers lean and how likely, the way that is taken and the way that is kept."""

    prompt: CloseCall

    live_look = "warning"
    help_text = (
        "CLOSE CALL: a number lies within its own doubt of the limit. Go on the way it leans, or measure again. "
        "The other way is kept, and followed when the repair does not prove the cause."
    )

    def question(self) -> Iterator[Block]:
        """The comparisons with their likelihood, then both ways."""
        yield line("CLOSE CALL  The measurement cannot really decide this.", "bold $warning")
        for leaning in self.prompt.leanings:
            read = f"{leaning.text}: {leaning.measured} against {leaning.limit}"
            yield item("  ", read)
            if leaning.scale is not None:
                yield from (line(track) for track in small_tracks(leaning.scale))
            yield item("  ", f"{leaning.likelihood:.0%} likely as it reads", STRONG)
        yield headed("Leans to:", self.prompt.leans_to)
        ways = dict.fromkeys(leaning.other_way for leaning in self.prompt.leanings if leaning.other_way)
        yield headed("Kept:", f"{', '.join(ways) or 'the other way'}", MUTED)

    def hint(self) -> str:
        """What the empty reply line says."""
        return "Enter goes on; or the number of a reading to measure again"


class DoPrompt(PromptView):
    """An action: done, or it cannot be done."""

    prompt: DoStep

    help_text = "DO is an action: answer done when it is done; cannot do leads on without it."

    def question(self) -> Iterator[Block]:
        """The action."""
        yield Paragraph(plain(self.prompt.question, STRONG), plain("DO  ", "bold $accent"))
        if self.prompt.about:
            yield Paragraph(plain(f"({self.prompt.about})", MUTED))

    def hint(self) -> str:
        """What the empty reply line says."""
        return "1 when it is done, or 2: cannot do"


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


def prompt_view(prompt: Prompt, was: str | None = None) -> PromptView:
    """The widget of a prompt; `was` is its answer so far when it is being changed."""
    return _class_of(prompt)(prompt, was)


def _class_of(prompt: Prompt) -> type[PromptView]:
    match prompt:
        case AskText():
            return TextPrompt
        case AskQuantity():
            return QuantityPrompt
        case AskChoice():
            return ChoicePrompt
        case AskRefrigerant():
            return RefrigerantPrompt
        case Acknowledge():
            return CautionPrompt
        case DoStep():
            return DoPrompt
        case CloseCall():
            return ClosePrompt
        case CheckOut():
            return CheckPrompt
        case _:
            assert_never(prompt)


HELP_OF_PROMPTS = (
    ChoicePrompt.help_text,
    QuantityPrompt.help_text,
    CautionPrompt.help_text,
    DoPrompt.help_text,
    ClosePrompt.help_text,
    CheckPrompt.help_text,
)
"""What the kinds of prompts say of themselves, in the order in which a call meets them."""


def _styled(content: Content, style: str) -> Content:
    return content.stylize(style) if style else content
