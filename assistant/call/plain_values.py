"""A conversation as plain values, for a JSON document."""

from collections.abc import Iterable, Mapping
from typing import Any

from assistant.call.turns import Answered, Concluded, Decided, NumberShown, Turn
from assistant.call.walk import Conversation
from assistant.call.wording import turn_lines
from assistant.worksheet.sheet import Refused, Worked
from assistant.worksheet.showing import Display, as_json, refusal


def conversation_values(conversation: Conversation, numbers: Mapping[str, Any]) -> dict[str, Any]:
    """A walked call: how it ended, what was asked and acknowledged, the numbers, and the turns."""
    outcome = conversation.outcome
    return {
        "outcome": outcome.kind if outcome else None,
        "cause": outcome.cause if outcome else None,
        "close_calls": [
            {"node": kept.node, "comparison": kept.text, "other_way_likelihood": round(kept.likelihood, 3)}
            for kept in conversation.close_calls
        ],
        "numbers": dict(numbers),
        "asked": list(conversation.asked),
        "cautions": list(conversation.cautions),
        "turns": [_turn_values(turn) for turn in conversation.turns],
    }


def number_values(numbers: Iterable[Worked | Refused], display: Display) -> dict[str, Any]:
    """Worked numbers by name; those that are refused are left out."""
    return as_json((number for number in numbers if isinstance(number, Worked)), display)


def refusal_lines(numbers: Iterable[Worked | Refused], display: Display) -> tuple[str, ...]:
    """Why numbers are missing though their inputs were told."""
    return tuple(refusal(number, display) for number in numbers if isinstance(number, Refused))


def _turn_values(turn: Turn) -> dict[str, Any]:
    values: dict[str, Any] = {"turn": type(turn).__name__.lower(), "lines": list(turn_lines(turn))}
    match turn:
        case Answered():
            values |= {"name": turn.prompt.name, "answer": turn.answer.text, "nth": turn.prompt.key.nth}
        case NumberShown():
            values |= {"name": turn.worked.name}
        case Decided():
            values |= {"node": turn.node, "go": turn.go}
        case Concluded():
            values |= {"node": turn.node, "cause": turn.cause.name}
        case _:
            pass
    return values
