"""Walking a call without anybody to ask: answers by name, and an honest default for everything else."""

from collections.abc import Mapping, Sequence
from typing import assert_never

from assistant.call.answers import (
    UNTOLD,
    Acted,
    Answer,
    Chosen,
    EntryValue,
    GoOn,
    OwnWords,
    Understood,
    Unreadable,
    Value,
    Written,
    write_value,
)
from assistant.call.asking import ask_for
from assistant.call.keys import COMPLAINT, TREE, NodeAt, PromptKey, Topic, entry_key
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
from assistant.call.replies import read_written, value_for
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
    answers = (*on_tree(library, tree), *answers_by_name(library, tree, given, system))
    return walk(library, answers, system, fill=_unasked)


def on_tree(library: Library, tree: str) -> tuple[Answer, Answer]:
    """Give the answers that begin a call on a tree.

    Raises:
        UnknownNameError: there is no such tree.
    """
    return Answer(COMPLAINT, OwnWords(library.tree(tree).title)), Answer(TREE, Chosen(tree))


def answers_by_name(
    library: Library, tree: str, given: Mapping[str, str | Sequence[str]], system: UnitSystem = "us"
) -> tuple[Answer, ...]:
    """Read answers from texts by name; a list holds successive answers, a node's name answers all that is done there.

    Raises:
        UnknownNameError: there is no such tree.
    """
    nodes = library.tree(tree).nodes
    answers: list[Answer] = []
    for name, texts in given.items():
        key = entry_key(name)
        if name in nodes:
            key = PromptKey(Topic.ACT, place=NodeAt("", name))
        elif name in library.catalogue.acts:
            key = PromptKey(Topic.ACT, name)
        several = [texts] if isinstance(texts, str) else texts
        answers.extend(
            read_written(Written(key.numbered(nth), text), library.catalogue, system)
            for nth, text in enumerate(several, start=1)
        )
    return tuple(answers)


def _unasked(prompt: Prompt) -> Value:
    """Answer a prompt that nobody answers: the usual fact, else "cannot tell"; what can be done is done."""
    match prompt:
        case AskQuantity() | AskChoice():
            return UNTOLD if prompt.default is None else value_for(prompt, prompt.default)
        case AskText() | AskRefrigerant() | CheckOut():
            return UNTOLD
        case Acknowledge():
            return Understood()
        case DoStep():
            return Acted(is_done=True)
        case CloseCall():
            return GoOn()
        case _:
            assert_never(prompt)


def reply_by_name(prompt: Prompt, given: Mapping[str, str | Sequence[str]]) -> str:
    """Return what is typed at a prompt where answers are given by name: the one that stands for it, else the usual one.

    A list holds successive answers; a node's name, or that of a tree's node within another, stands for its action.
    """
    name = prompt.key.name if prompt.key.topic is Topic.ENTRY else prompt.node
    texts = given.get(name, ()) if prompt.key.topic in (Topic.ENTRY, Topic.ACT) else ()
    several = (texts,) if isinstance(texts, str) else texts
    nth = prompt.key.nth
    return several[nth - 1] if nth <= len(several) else write_value(_unasked(prompt))


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
        value = value_for(ask_for(name, catalogue, "us", ()), text)
        if isinstance(value, Unreadable):
            raise InputError(f"{name}: {value.message}")
        assert isinstance(value, EntryValue)
        state.take(name, value)
    return state
