"""Trying a value without keeping it: the conversation is worked with it, and what would change is told."""

from collections.abc import Iterator, Sequence

from assistant.call.answers import Answer, with_answer, write_value
from assistant.call.library import Library
from assistant.call.prompts import AskText, CloseCall, Prompt
from assistant.call.replies import Given, Unclear, tidy
from assistant.call.script import Start
from assistant.call.turns import Answered, Concluded, NothingWrong, Undecided, parting
from assistant.call.walk import Conversation, accept, walk
from assistant.frozen import dataclass
from assistant.quantity import UnitSystem
from assistant.source.nearest import nearest
from assistant.worksheet.sheet import Worked

FORMS = "Type if, a name and a value, such as: if suction_pressure 130 psig. The word answers shows the names."


@dataclass(frozen=True, slots=True)
class Supposed:
    """What would follow from another value: said, and not kept."""

    title: str
    lines: tuple[str, ...]


def suppose(
    library: Library,
    conversation: Conversation,
    answers: Sequence[Answer],
    argument: str,
    system: UnitSystem = "us",
    start: Start | None = None,
) -> Supposed | Unclear:
    """What would change on a call if an answer were another one, or if what is asked now were answered so."""
    words = tidy(argument).split()
    askable = _askable(conversation)
    found = next((count for count in range(len(words) - 1, 0, -1) if "_".join(words[:count]) in askable), None)
    if found is None:
        return _unknown("_".join(words[: max(len(words) - 1, 1)]) if words else "", askable)
    asked = askable["_".join(words[:found])]
    prompt, key = (asked.prompt, asked.answer.key) if isinstance(asked, Answered) else (asked, asked.key)
    reply = accept(conversation, " ".join(words[found:]), prompt)
    if not isinstance(reply, Given):
        return reply if isinstance(reply, Unclear) else Unclear(FORMS)
    supposed = walk(library, with_answer(answers, Answer(key, reply.value)), system, start=start)
    named = conversation.display.catalogue.title_of(prompt.name).lower()
    title = f"If {named} were {write_value(reply.value)} (nothing is kept)"
    return Supposed(title, tuple(_differences(conversation, supposed)) or ("Nothing would change.",))


def tried_lines(
    library: Library, conversation: Conversation, answers: Sequence[Answer], tried: Sequence[str], system: UnitSystem
) -> Iterator[str]:
    """What would change for each of some values, as a call that is shown in words says it."""
    for argument in tried:
        found = suppose(library, conversation, answers, argument, system)
        yield from ("", f"> if {argument}")
        yield from (found.message,) if isinstance(found, Unclear) else (found.title, *found.lines)


def _askable(conversation: Conversation) -> dict[str, Answered | Prompt]:
    """What a value can be tried for: the latest answer to each name, and the question that is open."""
    found: dict[str, Answered | Prompt] = {}
    for turn in conversation.turns:
        if isinstance(turn, Answered) and not isinstance(turn.prompt, AskText):
            found[turn.prompt.name.casefold().replace(" ", "_")] = turn
    if conversation.prompt is not None:
        found[conversation.prompt.name.casefold().replace(" ", "_")] = conversation.prompt
    return found


def _unknown(name: str, askable: dict[str, Answered | Prompt]) -> Unclear:
    near = nearest(name, askable) if name else ()
    hint = f" Did you mean {' or '.join(near)}?" if near else ""
    return Unclear(f"Nothing asked so far is called {name}.{hint} {FORMS}" if name else FORMS)


def _differences(now: Conversation, then: Conversation) -> Iterator[str]:
    yield from _numbers(now, then)
    yield from _parting(now, then)
    ends = _end(now), _end(then)
    if ends[0] != ends[1]:
        yield f"It would come to: {ends[1]} (now: {ends[0]})"
    elif now.prompt != then.prompt or now.turns != then.turns:
        yield f"It would still come to: {ends[0]}"


def _numbers(now: Conversation, then: Conversation) -> Iterator[str]:
    before, after = _shown(now), _shown(then)
    for name in dict.fromkeys((*before, *after)):
        if before.get(name) != after.get(name):
            title = now.display.catalogue.title_of(name)
            yield f"{title}: {before.get(name, 'not known')} -> {after.get(name, 'not known')}"


def _shown(conversation: Conversation) -> dict[str, str]:
    display = conversation.display
    worked = (number for number in conversation.numbers if isinstance(number, Worked))
    return {number.name: display.with_doubt(number.name, number.value) for number in worked}


def _parting(now: Conversation, then: Conversation) -> Iterator[str]:
    """Tell of the first decision that would be taken otherwise."""
    old, new = parting(now.turns, then.turns)
    if new is not None:
        there = f'At "{new.at}" it would go'
        yield f'{there} to "{new.way}", not to "{old.way}":' if old else f'{there} on to "{new.way}":'
        yield from (f"  - {reason}" for reason in new.reasons)
    elif old is not None:
        yield f'It would not yet go from "{old.at}" to "{old.way}".'


def _end(conversation: Conversation) -> str:
    """Where a call stands: the end that it has come to last, or what it asks."""
    for turn in reversed(conversation.turns):
        match turn:
            case Concluded():
                return f"likely cause: {turn.cause.title}"
            case NothingWrong():
                return "no fault found"
            case Undecided():
                return "undecided"
            case _:
                continue
    match conversation.prompt:
        case None:
            return "an end"
        case CloseCall(leanings=leanings):
            return f"a close call: {' and '.join(leaning.text for leaning in leanings)}"
        case prompt:
            return f"the question: {prompt.question}"
