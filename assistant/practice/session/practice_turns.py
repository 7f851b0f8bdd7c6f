"""What a practice call shows besides its conversation: the beginning, what was done unasked, and the review."""

from collections.abc import Iterator, Sequence
from typing import Literal

from assistant.call.answers import Written
from assistant.call.keys import COMPLAINT, TREE, PromptKey, Topic
from assistant.call.prompts import AskChoice, AskQuantity, AskRefrigerant, AskText
from assistant.call.turns import Answered, Coached, Told, Turn
from assistant.call.walk import Conversation
from assistant.catalogue.catalogue import Catalogue
from assistant.practice.training.history import Moment, result_words, words_of
from assistant.practice.training.kept import SetCall
from assistant.practice.training.review import CallReview, saying_lines, score_lines, ways_lines, what_it_was
from assistant.practice.visit.amounts import minute_words
from assistant.quantity import UnitSystem

EVENT = PromptKey(Topic.PRACTICE, "event")
"""The key of the first thing done at the site; the others are numbered."""
_NARROW = 78

Deed = Literal["set", "drop"]


def beginning(call: SetCall) -> Coached:
    """What a trainee is told at the door."""
    title = f": {call.title}" if call.title else ""
    allowed = f" You have {call.minutes:.0f} minutes." if call.minutes is not None else ""
    asks = "You go alone: the trees stay silent" if call.alone else "What the trees ask, Enter takes from the system"
    return Coached(
        f"PRACTICE CALL{title}. The system is simulated; something may be wrong with it.",
        (
            f"{asks}, and the clock of the visit runs.{allowed}",
            "take, look, do and wait do more; cause names what it is, and ends the call. help lists all words.",
        ),
    )


def interleaved(
    conversation: Conversation,
    lines: Sequence[tuple[Deed, Written]],
    moments: Sequence[Moment],
    catalogue: Catalogue,
    units: UnitSystem,
) -> tuple[Turn, ...]:
    """The turns of the conversation with what was done at the site, each where it was done.

    What belongs to a step of the trees comes right behind it, what was done unasked before the next question.
    """
    answered = {turn.answer.key for turn in conversation.turns if isinstance(turn, Answered)}
    behind, before = _places(lines, moments, answered)
    told = {answer.key for deed, answer in lines if deed == "set" and answer.key.first != EVENT}
    turns: list[Turn] = []
    waiting: list[Moment] = list(before.get(None, ()))
    for turn in conversation.turns:
        if isinstance(turn, Answered):
            key = turn.answer.key
            if key in told and not _is_fact(turn, catalogue):
                turns += [coached(one, catalogue, units) for one in waiting]
                waiting = []
            turns.append(_from_the_plate(turn, catalogue, lines) or turn)
            turns += [coached(one, catalogue, units) for one in behind.get(key, ())]
            waiting += before.get(key, ())
        else:
            turns.append(turn)
    return (*turns, *(coached(one, catalogue, units) for one in waiting))


def alone(call: SetCall, moments: Sequence[Moment], catalogue: Catalogue, units: UnitSystem) -> tuple[Turn, ...]:
    """A call on which the trees stay silent: what is known at the door, and what was done."""
    facts = (
        f"{catalogue.title_of(name).lower()}, {catalogue.facts[name].choices.get(text, text)}"
        for name, text in call.scenario.facts.items()
        if name in catalogue.facts
    )
    known = f"From the data plate or the site: {'; '.join(facts)}."
    told = (Told("", f'The customer: "{call.scenario.complaint}"'), Told("", known))
    return (*told, *(coached(one, catalogue, units) for one in moments))


def _from_the_plate(turn: Answered, catalogue: Catalogue, lines: Sequence[tuple[Deed, Written]]) -> Told | None:
    """What was known at the door, in a line instead of a question with its choices; `None` for every other answer."""
    same = [one for _, one in lines if one.key == turn.answer.key]
    if len(same) > 1 and turn.prompt.key == TREE:
        return Told("", f"The tree that is followed: {turn.shown}.")
    if len(same) != 1 or not _is_fact(turn, catalogue):
        return None
    match turn.prompt:
        case AskText():
            return Told("", f'The customer: "{turn.shown}"')
        case AskChoice(key=key) if key == TREE:
            return Told("", f"The tree that fits: {turn.shown}.")
        case AskQuantity() | AskChoice() | AskRefrigerant():
            return Told("", f"From the data plate or the site: {turn.prompt.title.lower()}, {turn.shown}.")
        case _:
            return None


def _is_fact(turn: Answered, catalogue: Catalogue) -> bool:
    key = turn.prompt.key
    return key.name in catalogue.facts if key.topic is Topic.ENTRY else key in (COMPLAINT, TREE)


def _places(
    lines: Sequence[tuple[Deed, Written]], moments: Sequence[Moment], answered: set[PromptKey]
) -> tuple[dict[PromptKey, list[Moment]], dict[PromptKey | None, list[Moment]]]:
    """Which answer each moment belongs right behind, and which after what follows from an answer."""
    behind: dict[PromptKey, list[Moment]] = {}
    before: dict[PromptKey | None, list[Moment]] = {}
    last: PromptKey | None = None
    asked: list[Moment] = []
    left = iter(moments)
    for deed, answer in lines:
        if answer.key.first == EVENT:
            one = next(left, None)
            if one is None:
                break
            if one.asked:
                asked.append(one)
            else:
                before.setdefault(last, []).append(one)
        elif deed == "set" and answer.key in answered:
            last = answer.key
            behind.setdefault(last, []).extend(one for one in asked if _is_worth_telling(one))
            asked = []
    before.setdefault(last, []).extend(one for one in asked if _is_worth_telling(one))
    return behind, before


def _is_worth_telling(one: Moment) -> bool:
    """What answers a question stands there already."""
    return one.event.kind in ("act", "wait")


def coached(one: Moment, catalogue: Catalogue, units: UnitSystem) -> Coached:
    """What was done, as a turn."""
    shown = result_words(one, catalogue, units)
    skipped = ", ".join(catalogue.cautions[name].title for name in one.skipped if name in catalogue.cautions)
    lines = (shown, f"Cautions skipped: {skipped}." if skipped else "")
    return Coached(
        f"minute {minute_words(one.minute)}  {words_of(one, catalogue)}", tuple(line for line in lines if line)
    )


def ending(found: CallReview) -> Iterator[Coached]:
    """The review as turns."""
    yield Coached("PRACTICE CALL: what it was", tuple(what_it_was(found)))
    yield Coached("The score", tuple(score_lines(found)))
    yield Coached("What the readings were saying", tuple(saying_lines(found)))
    yield Coached("Both ways, with the minute of each step", tuple(line for line in ways_lines(found, _NARROW) if line))
