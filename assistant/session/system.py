"""The facts of a system: all of them at one place, and those of an earlier call on the same equipment taken over.

They are answers like any other: what is told before it is asked waits for its question.
"""

from collections.abc import Iterable, Mapping
from typing import Final

from assistant.call.answers import Answer, Unreadable, Untold, Written
from assistant.call.asking import ask_for, shown_answer
from assistant.call.keys import entry_key
from assistant.call.prompts import AskQuantity, Prompt
from assistant.call.replies import Given, Unclear, read_all_written, tidy
from assistant.call.walk import Conversation, accept
from assistant.catalogue.catalogue import Catalogue
from assistant.errors import InputError
from assistant.frozen import dataclass
from assistant.quantity import UnitSystem
from assistant.session.instruments import OWN
from assistant.source.nearest import nearest
from assistant.source.problem import shorten
from assistant.store.store import CallEntry, Store
from assistant.store.times import time_words
from assistant.tree.model import MODE

_MOST_CALLS: Final = 20
"""Calls that are looked through for one with facts; a call that was left at its complaint has none."""

_WHY: Final = ("It stays the same for the whole call; told here, it is not asked later.",)


@dataclass(frozen=True, slots=True)
class Equipment:
    """A call, and what it knows of the system that it was about."""

    entry: CallEntry
    facts: tuple[Answer, ...]

    def words(self, catalogue: Catalogue, system: UnitSystem) -> str:
        """The facts in a line; a number with what it is the number of."""
        return ", ".join(_words(fact_prompt(fact.key.name, catalogue, system), fact) for fact in self.facts)


def _words(prompt: Prompt, fact: Answer) -> str:
    shown = shown_answer(prompt, fact.value)
    return f"{prompt.title.lower()} {shown}" if isinstance(prompt, AskQuantity) else shown


def fact_names(catalogue: Catalogue) -> tuple[str, ...]:
    """The facts of a system in the order in which they are asked; the tech's instruments are none of it."""
    return tuple(name for name in catalogue.facts if name not in OWN)


def tellable(conversation: Conversation) -> tuple[str, ...]:
    """The facts that a person can tell on a call; one that the tree itself settles, such as its mode, is none."""
    told = told_facts(conversation)
    settled = {name for name in conversation.state.choices if name not in told}
    return tuple(name for name in fact_names(conversation.display.catalogue) if name not in settled)


def fact_prompt(name: str, catalogue: Catalogue, system: UnitSystem) -> Prompt:
    """The question for a fact."""
    return ask_for(name, catalogue, system, _WHY)


def facts_of(answers: Iterable[Written], catalogue: Catalogue, system: UnitSystem = "us") -> tuple[Answer, ...]:
    """What kept answers tell of the equipment itself; whether it heats or cools is another matter on each call."""
    names = {entry_key(name): name for name in fact_names(catalogue) if name != MODE}
    told = read_all_written((answer for answer in answers if answer.key in names), catalogue, system)
    fits = {answer.key: answer for answer in told if not isinstance(answer.value, Untold | Unreadable)}
    return tuple(fits[key] for key in names if key in fits)


def last_equipment(store: Store, catalogue: Catalogue, but: int | None) -> Equipment | None:
    """The equipment of the call that was changed last, call `but` apart.

    Raises:
        StoreError: the record cannot be read.
    """
    for entry in store.entries(most=_MOST_CALLS):
        facts = () if entry.number == but else facts_of(store.answers(entry.number), catalogue)
        if facts:
            return Equipment(entry, facts)
    return None


def named_equipment(store: Store, catalogue: Catalogue, argument: str, but: int | None) -> Equipment:
    """The equipment of the call with a number, or of the last one where none is given.

    Raises:
        InputError: no call is meant, or it tells nothing of the equipment.
        StoreError: there is no such call, or the record cannot be read.
    """
    if not argument:
        found = last_equipment(store, catalogue, but)
        if found is None:
            raise InputError("No earlier call tells anything of a system.")
        return found
    number = argument.removeprefix("as ").removeprefix("call ")
    if not number.isdecimal():
        raise InputError("Type same, or same with the number of a call, such as same 12.")
    entry = store.entry(int(number))
    facts = facts_of(store.answers(entry.number), catalogue)
    if not facts or entry.number == but:
        raise InputError(f"Call {number} tells nothing of a system that this call does not know.")
    return Equipment(entry, facts)


def still_untold(facts: Iterable[Answer], answers: Iterable[Answer]) -> tuple[Answer, ...]:
    """The facts that answers do not tell yet; what was said on this call stays."""
    told = {answer.key for answer in answers}
    return tuple(fact for fact in facts if fact.key not in told)


def at_first_fact(conversation: Conversation) -> bool:
    """Whether a fact is asked and none of the system was told before: the moment to take them over."""
    prompt, facts = conversation.prompt, set(map(entry_key, fact_names(conversation.display.catalogue)))
    told = {answer.key for answer in (*conversation.used, *conversation.unused)}
    return prompt is not None and prompt.key.first in facts and not told & facts


def read_fact(argument: str, conversation: Conversation, system: UnitSystem) -> Answer:
    """What `altitude 5280 ft` tells.

    Raises:
        InputError: no fact is named, or the value does not fit it.
    """
    typed = tidy(argument)
    names = tellable(conversation)
    # A name may be typed with spaces, so the longest that fits counts.
    folded = typed.casefold().replace(" ", "_")
    name = next((name for name in sorted(names, key=len, reverse=True) if f"{folded}_".startswith(f"{name}_")), None)
    if name is None:
        near = nearest(typed.split(" ")[0], names)
        hint = f" Did you mean {near[0]}?" if near else f" There are {', '.join(names)}."
        raise InputError(f"No fact of a system is called {typed!r}.{hint}")
    return fact_answer(name, typed[len(name) :].strip(), conversation, system)


def fact_answer(name: str, text: str, conversation: Conversation, system: UnitSystem) -> Answer:
    """A typed text as the answer to a fact.

    Raises:
        InputError: it does not fit.
    """
    prompt = fact_prompt(name, conversation.display.catalogue, system)
    reply = accept(conversation, text, prompt)
    if isinstance(reply, Given):
        return Answer(prompt.key, reply.value)
    raise InputError(reply.message if isinstance(reply, Unclear) else f"{prompt.question} {text!r} is no answer to it.")


def told_facts(conversation: Conversation) -> Mapping[str, Answer]:
    """The facts told so far, asked or not."""
    keys = set(map(entry_key, fact_names(conversation.display.catalogue)))
    answers = (*conversation.used, *conversation.unused)
    return {answer.key.name: answer for answer in answers if answer.key in keys}


def fact_lines(conversation: Conversation, system: UnitSystem) -> tuple[str, ...]:
    """Every fact of a system with what is told of it, and how to tell it."""
    catalogue, told = conversation.display.catalogue, told_facts(conversation)
    lines = []
    for name in tellable(conversation):
        answer = told.get(name)
        shown = shown_answer(fact_prompt(name, catalogue, system), answer.value) if answer else "not told"
        lines.append(f"{name}: {shown}")
    return (*lines, "Type system, a name and a value, such as: system altitude 5280 ft.")


def offer(equipment: Equipment, catalogue: Catalogue, system: UnitSystem) -> str:
    """The sentence that offers the facts of an earlier call."""
    entry = equipment.entry
    when = time_words(entry.changed, "%d %b %Y")
    title = f"{shorten(entry.shown, 40)}, {when}" if entry.shown else when
    return (
        f"Same system as on call {entry.number} ({title}): {equipment.words(catalogue, system)}? "
        "Type same to take that over."
    )
