"""Walking a call without anybody to ask: answers by name, and an honest default for everything else."""

from collections.abc import Mapping, Sequence
from typing import assert_never

from assistant.call.answers import CANNOT_TELL, DONE, GO_ON, UNDERSTOOD, Answer, answers_by_name
from assistant.call.asking import ask_for
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
from assistant.call.replies import Unclear, read_answer
from assistant.call.state import State
from assistant.call.walk import Conversation, walk
from assistant.catalogue.catalogue import Catalogue
from assistant.errors import InputError
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


def state_by_name(catalogue: Catalogue, given: Mapping[str, str | Sequence[str]]) -> State:
    """Everything that facts and readings by name tell, without any tree; of successive measurements the last counts.

    Raises:
        CoilsideError: a value cannot be read, or cannot be at this site.
    """
    state = State(catalogue)
    # Facts first: gauge pressures need the altitude.
    for name in sorted(given, key=lambda name: catalogue.taking_order.get(name, len(catalogue.taking_order))):
        if name not in catalogue.taking_order:
            continue
        texts = given[name]
        text = texts if isinstance(texts, str) else texts[-1]
        read = read_answer(ask_for(name, catalogue, "us", ()), text)
        if isinstance(read, Unclear):
            raise InputError(f"{name}: {read.message}")
        state.take(name, read.text)
    return state
