"""A conversation as plain values, for a JSON document."""

from collections.abc import Iterable, Mapping
from typing import Any, Final, assert_never

from assistant.call.answers import CANNOT_DO, DONE, GO_ON, MEASURE, NO, YES
from assistant.call.decision import Kept
from assistant.call.keys import PromptKey, Topic
from assistant.call.prompts import (
    Acknowledge,
    AskChoice,
    AskQuantity,
    AskRefrigerant,
    AskText,
    CheckOut,
    Choice,
    CloseCall,
    DoStep,
    Prompt,
)
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
from assistant.call.walk import Conversation
from assistant.call.wording import prompt_lines, turn_lines
from assistant.catalogue.catalogue import Catalogue
from assistant.tree.model import CannotTell, Otherwise, Step, When
from assistant.worksheet.sheet import Refused, Worked
from assistant.worksheet.showing import Display, as_json, refusal


def conversation_values(conversation: Conversation, numbers: Mapping[str, Any]) -> dict[str, Any]:
    """A walked call: how it ended, what was asked and acknowledged, the numbers, and the turns."""
    outcome = conversation.outcome
    return {
        "outcome": outcome.kind if outcome else None,
        "cause": outcome.cause if outcome else None,
        "close_calls": [kept_values(kept) for kept in conversation.close_calls],
        "numbers": dict(numbers),
        "asked": list(conversation.asked),
        "cautions": list(conversation.cautions),
        "turns": [turn_values(turn, conversation) for turn in conversation.turns],
    }


def number_values(numbers: Iterable[Worked | Refused], display: Display) -> dict[str, Any]:
    """Worked numbers by name; those that are refused are left out."""
    return as_json((number for number in numbers if isinstance(number, Worked)), display)


def refusal_lines(numbers: Iterable[Worked | Refused], display: Display) -> tuple[str, ...]:
    """Why numbers are missing though their inputs were told."""
    return tuple(refusal(number, display) for number in numbers if isinstance(number, Refused))


def turn_values(turn: Turn, conversation: Conversation) -> dict[str, Any]:
    """Return a turn as plain values: its `kind`, its `words`, and by kind what it is about.

    A decision has the `condition` as its author wrote it, null where none held, and its `verdict`: yes, cannot_tell or
    otherwise.
    """
    values: dict[str, Any] = {"kind": _KINDS[type(turn)], "words": "\n".join(turn_lines(turn))}
    match turn:
        case Answered():
            values |= {"name": turn.prompt.name, "answer": turn.answer.text, "nth": turn.prompt.key.nth}
        case NumberShown():
            values |= {"name": turn.worked.name}
        case Decided():
            values |= {"node": turn.node, "go": turn.go, **_decision_values(turn, conversation)}
        case Concluded():
            values |= {"node": turn.node, "cause": turn.cause.name}
        case NothingWrong() | Undecided() | Verified() | CameBack() | Told():
            values |= {"node": turn.node}
        case NumberMissing() | Contradicted() | Repair() | Coached():
            pass
        case _:
            assert_never(turn)
    return values


_KINDS: Final[Mapping[type, str]] = {
    Told: "told",
    Answered: "answered",
    NumberShown: "number_shown",
    NumberMissing: "number_missing",
    Contradicted: "contradicted",
    Decided: "decided",
    CameBack: "came_back",
    Concluded: "concluded",
    Repair: "repair",
    Verified: "verified",
    NothingWrong: "nothing_wrong",
    Undecided: "undecided",
    Coached: "coached",
}


def _decision_values(turn: Decided, conversation: Conversation) -> dict[str, Any]:
    step = conversation.tree.nodes[turn.node] if conversation.tree else None
    branch = step.branches[turn.branch] if isinstance(step, Step) else None
    match branch:
        case When():
            return {"condition": " ".join(branch.condition.text.split()), "verdict": "yes"}
        case CannotTell():
            return {"condition": None, "verdict": "cannot_tell"}
        case Otherwise() | None:
            return {"condition": None, "verdict": "otherwise"}
        case _:
            assert_never(branch)


def prompt_values(prompt: Prompt, conversation: Conversation) -> dict[str, Any]:
    """Return what is asked as plain values: `kind`, `name`, `nth`, `words`, and where they apply unit, choices."""
    key = prompt.key
    values: dict[str, Any] = {
        "kind": _kind_of(key, conversation.display.catalogue),
        "name": key.name or (key.place.node if key.place else key.topic.value),
        "nth": key.nth,
        "words": "\n".join(prompt_lines(prompt)),
    }
    if key.place is not None:
        values |= {"tree": key.place.tree, "node": key.place.node}
    match prompt:
        case AskQuantity():
            values |= {"unit": prompt.unit.symbol, "default": prompt.default, "again": prompt.again}
        case AskChoice():
            values |= {"choices": _choices(prompt.choices), "default": prompt.default}
        case CloseCall():
            values |= {"choices": _choices((Choice(GO_ON, GO_ON), *prompt.readings)), "default": GO_ON}
        case CheckOut():
            replies = (YES, NO, *((MEASURE,) if prompt.measurable else ()))
            values |= {"choices": _choices(tuple(Choice(one, one) for one in replies))}
        case DoStep():
            values |= {"choices": _choices((Choice(DONE, DONE), Choice(CANNOT_DO, CANNOT_DO)))}
        case Acknowledge() | AskText() | AskRefrigerant():
            pass
        case _:
            assert_never(prompt)
    return values


def _kind_of(key: PromptKey, catalogue: Catalogue) -> str:
    match key.topic:
        case Topic.ENTRY:
            if key.name in catalogue.readings:
                return "reading"
            return "observation" if key.name in catalogue.observations else "fact"
        case Topic.SETTLE:
            return "act"
        case Topic.GUESS | Topic.PRACTICE:
            return "text"
        case _:
            return key.topic.value


def _choices(choices: tuple[Choice, ...]) -> list[dict[str, str]]:
    return [{"key": choice.name, "words": choice.words} for choice in choices]


def end_values(conversation: Conversation) -> dict[str, Any] | None:
    """Return how a call ended as plain values; `None` while it goes on."""
    outcome = conversation.outcome
    if outcome is None:
        return None
    ends = [turn.node for turn in conversation.turns if isinstance(turn, Concluded | NothingWrong | Undecided)]
    return {
        "kind": outcome.kind,
        "cause": outcome.cause,
        "node": ends[-1] if ends else None,
        "proven": outcome.proven,
        "close_calls": [kept_values(kept) for kept in conversation.close_calls],
        "kept": [kept_values(kept) for kept in conversation.kept],
    }


def kept_values(kept: Kept) -> dict[str, Any]:
    """Return a way that was kept open: the decision, its comparison, where it leads and how likely that is."""
    return {
        "node": kept.node,
        "comparison": kept.text,
        "leads_to": kept.go,
        "other_way_likelihood": round(kept.likelihood, 3),
    }
