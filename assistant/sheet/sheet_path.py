"""The way of a call in rows: where it was, and why it went on as it did."""

from collections.abc import Iterator, Sequence

from assistant.call.prompts import CloseCall, DoStep
from assistant.call.turns import Answered, CameBack, Concluded, Contradicted, Decided, NumberMissing, Turn


def path_rows(turns: Sequence[Turn]) -> Iterator[tuple[str, str]]:
    """Each decision with its reasons, and between them what was done, what disagreed and what was close."""
    ends = [turn for turn in turns if isinstance(turn, Concluded)]
    for turn in turns:
        match turn:
            case Decided():
                yield turn.at, "; ".join(turn.reasons) or f"on to: {turn.way}"
            case Answered(prompt=DoStep() as prompt):
                yield "Do", f"{prompt.title or prompt.question} - {turn.shown}"
            case Answered(prompt=CloseCall() as prompt):
                yield "Close call", "; ".join(_close(prompt)) + f" - {turn.shown}"
            case Contradicted():
                yield "Disagreement", f"{turn.law}: {'; '.join(turn.readings)}"
            case NumberMissing():
                yield "Not worked", turn.line
            case CameBack():
                yield "Came back", turn.text
            case Concluded() if turn is not ends[-1]:
                yield "Likely then", turn.cause.title
            case _:
                continue


def _close(prompt: CloseCall) -> Iterator[str]:
    for leaning in prompt.leanings:
        yield (
            f"{leaning.text}: {leaning.measured} against {leaning.limit}, {leaning.likelihood:.0%} likely as read; "
            f"leans to {prompt.leans_to}, the other way kept"
        )
