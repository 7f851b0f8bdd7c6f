"""Stepping through a known call line by line, forward and backward, with the reasons."""

from collections.abc import Callable, Iterable

from assistant.call.replay import Replay, why_lines
from assistant.call.turns import Answered
from assistant.call.wording import prompt_lines, turn_lines, wrapped

_FORWARD = frozenset({"", "n", "next", "f", "forward"})
_BACK = frozenset({"b", "back", "p", "previous"})
_LEAVE = frozenset({"q", "quit", "exit"})
_KEYS = "Enter goes on, b goes back, a number goes to that step, q leaves."


def run_replay(
    replay: Replay, title: str, read: Callable[[], str | None], write: Callable[[str], None], width: int = 80
) -> None:
    """Show a call step by step until the one who watches leaves or the input ends.

    Each step is an answer with all that follows from it, and the next question with why it is asked.
    """

    def show(lines: Iterable[str]) -> None:
        for line in wrapped(tuple(lines), width):
            write(line)

    show((title, f"{replay.last} steps. {_KEYS}", ""))
    step = 0
    show(_step_lines(replay, step))
    while (line := read()) is not None:
        typed = line.strip().casefold()
        if typed in _LEAVE:
            return
        wanted = _wanted(typed, step, replay.last)
        if wanted is None:
            show((_KEYS,))
        elif wanted == step:
            show(("This is the last step." if step else "This is the first step.", ""))
        else:
            step = wanted
            show(_step_lines(replay, step))


def _wanted(typed: str, step: int, last: int) -> int | None:
    """The step that is meant, within the call; `None` when it is not clear."""
    if typed in _FORWARD:
        return min(step + 1, last)
    if typed in _BACK:
        return max(step - 1, 0)
    return min(int(typed), last) if typed.isascii() and typed.isdecimal() and len(typed) < 6 else None


def replay_lines(replay: Replay, title: str) -> Iterable[str]:
    """All steps one after the other, for where nobody types."""
    yield from (title, "")
    for step in range(replay.last + 1):
        yield from _step_lines(replay, step)


def _step_lines(replay: Replay, step: int) -> Iterable[str]:
    """The answer of a step with all that follows from it, then the next question with why it is asked."""
    now = replay.at(step)
    yield f"--- step {step} of {replay.last} ---"
    for turn in replay.news(step):
        # The question stands right above, as what came next at the step before.
        yield from ((f"> {turn.shown}",) if isinstance(turn, Answered) else turn_lines(turn))
        yield ""
    if now.prompt is None:
        yield "The call ends here."
        yield ""
        return
    yield from (f"NEXT: {line}" if not place else line for place, line in enumerate(prompt_lines(now.prompt)))
    yield from (f"  why: {line}" for line in why_lines(now))
    yield ""
