"""What stands on the transcript besides prompts: one view for each kind of turn, an aside, and the end."""

from collections.abc import Iterator, Sequence
from typing import Final, Generic, TypeVar, assert_never

from assistant.call.turns import (
    Answered,
    CameBack,
    Coached,
    Concluded,
    Contradicted,
    Decided,
    NothingWrong,
    NumberMissing,
    NumberShown,
    Repair,
    Told,
    Turn,
    Undecided,
    Verified,
)
from assistant.call.wording import (
    DISCLAIMER,
    HOW_TO_DO_IT,
    number_steps,
    tell_again,
    tell_effort,
    tell_step,
    way_now,
)
from assistant.catalogue.repairs import RepairStep
from assistant.tui.passage import MUTED, STRONG, Block, Pair, Paragraph, headed, item, line, plain
from assistant.tui.widgets.column import View
from assistant.tui.widgets.prompts import HELP_OF_PROMPTS, prompt_view

T = TypeVar("T", bound=Turn)


class TurnView(View, Generic[T]):
    """A turn that is told."""

    def __init__(self, turn: T) -> None:
        self.turn = turn


class ToldView(TurnView[Told]):
    """A remark of the tree's author."""

    def blocks(self) -> Iterator[Block]:
        """The remark."""
        yield line(self.turn.text)


class NumberView(TurnView[NumberShown]):
    """A worked number with its doubt; its work is a key away."""

    help_text = "= marks a worked number, with its doubt behind ±. Work (F3) shows where it comes from."

    def blocks(self) -> Iterator[Block]:
        """The number."""
        yield item("= ", self.turn.line, STRONG)


class MissingNumberView(TurnView[NumberMissing]):
    """A number that cannot honestly be worked."""

    def blocks(self) -> Iterator[Block]:
        """Why it is not there."""
        yield item("= ", self.turn.line, MUTED)


class ContradictedView(TurnView[Contradicted]):
    """Which readings disagree, the law they break, the likely slip and what to do."""

    is_finding = True
    help_text = "! marks readings that contradict each other: check them before anything is made of them."

    def blocks(self) -> Iterator[Block]:
        """The law, the readings with their values, and the advice."""
        yield item("! ", f"THESE READINGS DISAGREE  {self.turn.law}", STRONG)
        yield from (item("    ", line) for line in self.turn.readings)
        yield from (item("  ", line) for line in self.turn.advice)


class DecidedView(TurnView[Decided]):
    """Which way the call goes on, and why."""

    help_text = "- marks what a decision looked at, -> the step it leads to."

    def blocks(self) -> Iterator[Block]:
        """The reasons, and where they lead."""
        way = f"-> {self.turn.way}"
        if not self.turn.reasons:
            yield line(way, MUTED)
        for place, reason in enumerate(self.turn.reasons, start=1):
            is_last = place == len(self.turn.reasons)
            yield item("- ", f"{reason}  {way}" if is_last else reason, MUTED)


class CameBackView(TurnView[CameBack]):
    """The call turns to another way."""

    is_finding = True

    def blocks(self) -> Iterator[Block]:
        """Where it comes back to."""
        yield line("COMING BACK to the way that was kept", STRONG)
        yield line(self.turn.text)


class CoachedView(TurnView[Coached]):
    """How a guess did, or the score."""

    help_text = "* marks what is said to a trainee who rides along; it is no part of the call."

    def blocks(self) -> Iterator[Block]:
        """A word, then the lines."""
        yield item("* ", self.turn.title, STRONG)
        yield from (line(f"  {text}") for text in self.turn.lines)


class ConcludedView(TurnView[Concluded]):
    """What the cause is, why the readings look so, what speaks for it, what looks like it."""

    is_finding = True
    look = "finding"
    help_text = "LIKELY CAUSE is no verdict: read the evidence, and what looks alike, before you act on it."

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


class RepairView(TurnView[Repair]):
    """The steps of the repair, how to prove it, and who may do it."""

    is_finding = True
    look = "finding"

    def blocks(self) -> Iterator[Block]:
        """The steps, then the proof."""
        cause, plan = self.turn.cause, self.turn.plan
        yield Paragraph(plain("REPAIR  ", "bold $success") + plain(tell_effort(plan), MUTED))
        yield from self._steps(plan.repair)
        yield line("Prove it:", STRONG)
        yield from self._steps(plan.proof)
        yield headed("Who may do it:", cause.licence)
        yield line(HOW_TO_DO_IT, MUTED)
        yield line(f"Source: {cause.source}", MUTED)
        yield line(DISCLAIMER, MUTED)

    def _steps(self, steps: tuple[RepairStep, ...]) -> Iterator[Block]:
        for number, step in number_steps(steps):
            told = item(f"{number:>2}. ", tell_step(step)) if number else item("  + ", tell_step(step), MUTED)
            if len(step.acts) > 1:
                yield told
            for one in step.acts:
                yield from (item("  ! ", f"{caution.title}: {caution.text}", "$warning") for caution in one.first)
                if one.again:
                    yield item("  ! ", tell_again(one), MUTED)
                yield told if len(step.acts) == 1 else item("    - ", one.act.title)


class VerifiedView(TurnView[Verified]):
    """The readings before and after, the deciding conditions looked at again, and the verdict."""

    is_finding = True
    look = "finding"
    help_text = (
        "MEASURED AGAIN sets the readings before and after a repair side by side, and says whether they still lead "
        "to the cause."
    )

    def blocks(self) -> Iterator[Block]:
        """The verdict, then what it rests on: a table and the conditions."""
        turn = self.turn
        yield line("MEASURED AGAIN  before -> after", "bold $success" if turn.checks_out else "bold $warning")
        yield headed(f"{turn.word.upper()} ", turn.verdict)
        if turn.beyond:
            yield headed("Beyond that: ", turn.beyond)
        for row in turn.readings:
            yield Pair(plain(row.title), plain(f"{row.before}  ->  {row.after}", STRONG))
        for check in turn.telling:
            yield item("- ", f"{check.condition}?{way_now(check)}", MUTED)
            yield item("    ", f"before: {check.before}", MUTED)
            yield item("    ", f"after: {check.after}")
        if turn.as_before:
            yield line(turn.as_before, MUTED)


class NothingWrongView(TurnView[NothingWrong]):
    """No fault was found."""

    is_finding = True
    look = "finding"

    def blocks(self) -> Iterator[Block]:
        """What to tell the customer."""
        yield line("NO FAULT FOUND", "bold $success")
        yield line(self.turn.text)


class UndecidedView(TurnView[Undecided]):
    """An honest end without a cause."""

    is_finding = True
    look = "warning"

    def blocks(self) -> Iterator[Block]:
        """What is still open."""
        yield line("UNDECIDED", "bold $warning")
        yield line(self.turn.text)
        if self.turn.untold:
            yield line(f"Could not be told: {', '.join(self.turn.untold)}.", MUTED)


ESC_CLOSES: Final = "Esc takes this away."


class Aside(View):
    """It stands behind the prompt until the next answer, or until Esc."""

    look = "aside"
    help_text = "Why and Work answer below the question; Esc takes that away again."

    def __init__(self, title: str, lines: Sequence[str], closing: str = ESC_CLOSES) -> None:
        self.title = title
        self.lines = lines
        self.closing = closing

    def blocks(self) -> Iterator[Block]:
        """The title and the lines."""
        yield line(self.title, STRONG)
        yield from (line(text) for text in self.lines)
        if self.closing:
            yield line(self.closing, MUTED)


class EndedView(View):
    """Nothing is asked any more."""

    look = "ended"

    def __init__(self, closing: str) -> None:
        self.closing = closing

    def blocks(self) -> Iterator[Block]:
        """That the call has ended, and what can still be done."""
        yield line("END OF THE CALL", STRONG)
        yield line(self.closing)


def view_of(turn: Turn) -> View:
    """The widget that shows a turn."""
    match turn:
        case Answered():
            view = prompt_view(turn.prompt)
            view.settle(turn)
            return view
        case Told():
            return ToldView(turn)
        case NumberShown():
            return NumberView(turn)
        case NumberMissing():
            return MissingNumberView(turn)
        case Contradicted():
            return ContradictedView(turn)
        case Decided():
            return DecidedView(turn)
        case CameBack():
            return CameBackView(turn)
        case Coached():
            return CoachedView(turn)
        case Concluded() | Repair() | Verified() | NothingWrong() | Undecided():
            return _view_of_end(turn)
        case _:
            assert_never(turn)


def _view_of_end(turn: Concluded | Repair | Verified | NothingWrong | Undecided) -> View:
    match turn:
        case Concluded():
            return ConcludedView(turn)
        case Repair():
            return RepairView(turn)
        case Verified():
            return VerifiedView(turn)
        case NothingWrong():
            return NothingWrongView(turn)
        case Undecided():
            return UndecidedView(turn)
        case _:
            assert_never(turn)


def shows_the_same(old: Turn, new: Turn) -> bool:
    """Whether the widget of one turn can stand for the other."""
    match old, new:
        # Two numbers with doubt from different runs are never equal, as they do not vary together.
        case (NumberShown(), NumberShown()):
            return old.line == new.line and old.work == new.work
        case (NumberMissing(), NumberMissing()):
            return old.line == new.line
        case _:
            return old == new


HELP_OF_TURNS = (
    *HELP_OF_PROMPTS,
    NumberView.help_text,
    ContradictedView.help_text,
    DecidedView.help_text,
    ConcludedView.help_text,
    VerifiedView.help_text,
)
"""What the kinds of turns say of themselves, in the order in which a call meets them."""
