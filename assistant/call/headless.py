"""Walking a call without anybody to ask: answers by name, and an honest default for everything else."""

from collections.abc import Mapping, Sequence
from typing import assert_never

from assistant.call.answers import CANNOT_TELL, DONE, GO_ON, UNDERSTOOD, Answer, answers_by_name
from assistant.call.library import Library
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
from assistant.call.walk import Conversation, walk
from assistant.quantity import UnitSystem


def walk_by_name(
    library: Library, tree: str, given: Mapping[str, str | Sequence[str]], system: UnitSystem = "us"
) -> Conversation:
    """The whole conversation for a tree and answers by name; an answer to a node's name answers its action.

    Raises:
        UnknownNameError: there is no such tree.
    """
    nodes = library.tree(tree).nodes
    named = {f"do {name}" if name in nodes else name: texts for name, texts in given.items()}
    start = (Answer("complaint", library.tree(tree).title), Answer("tree", tree))
    return walk(library, (*start, *answers_by_name(named)), system, fill=_unasked)


def _unasked(prompt: Prompt) -> str:
    """The answer to a prompt that nobody answers: the usual fact, else "cannot tell"; what can be done is done."""
    match prompt:
        case AskQuantity() | AskChoice():
            return prompt.default or CANNOT_TELL
        case AskText() | AskRefrigerant() | CheckOut():
            return CANNOT_TELL
        case Acknowledge():
            return UNDERSTOOD
        case DoStep():
            return DONE
        case CloseCall():
            return GO_ON
        case _:
            assert_never(prompt)
