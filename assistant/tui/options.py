"""The ways to answer a prompt that can be pointed at: what each shows, what is typed for it, what is stored."""

from dataclasses import dataclass
from typing import assert_never

from assistant.call.answers import (
    CANNOT_DO,
    DONE,
    GO_ON,
    NO,
    UNTOLD,
    YES,
    Acted,
    Chosen,
    GoOn,
    HoldsUp,
    MeasureFirst,
    Remeasure,
    Value,
)
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
from assistant.call.replies import Given, read_reply
from assistant.call.wording import listed

# Beyond this, a text in the reply line is no choice being typed.
_LONGEST_POINTER = 60


@dataclass(frozen=True, slots=True)
class Option:
    """One way to answer: `say` is the typed reply, `answer` what it answers, `mark` follows the words."""

    say: str
    words: str
    answer: Value
    mark: str = ""


def options_of(prompt: Prompt) -> tuple[Option, ...]:
    """The options of a prompt, in the order of the screen; a caution has none, it is acknowledged by typing."""
    match prompt:
        case AskChoice():
            chosen = tuple(
                Option(
                    str(number), choice.words, Chosen(choice.name), "(Enter)" if choice.name == prompt.default else ""
                )
                for number, choice in enumerate(prompt.choices, start=1)
            )
            return (*chosen, Option("0", "cannot tell", UNTOLD)) if prompt.can_be_unknown else chosen
        case CloseCall():
            again = (
                Option(str(number), reading.words, Remeasure(reading.name))
                for number, reading in enumerate(prompt.readings, start=2)
            )
            return (Option("1", GO_ON, GoOn(), "(Enter)"), *again)
        case DoStep():
            return (Option("1", DONE, Acted(is_done=True)), Option("2", CANNOT_DO, Acted(is_done=False)))
        case CheckOut():
            measure = Option("3", f"measure again now: {listed(prompt.measurable)}", MeasureFirst())
            return (
                Option("1", YES, HoldsUp(holds=True)),
                Option("2", NO, HoldsUp(holds=False)),
                *((measure,) if prompt.measurable else ()),
                Option("0", "cannot tell yet", UNTOLD),
            )
        case Acknowledge() | AskText() | AskQuantity() | AskRefrigerant():
            return ()
        case _:
            assert_never(prompt)


def pointed_at(prompt: Prompt, typed: str) -> Value | None:
    """The answer that a reply being typed would give, where it picks one of the options."""
    if not typed.strip() or len(typed) > _LONGEST_POINTER:
        return None
    reply = read_reply(prompt, typed)
    return reply.value if isinstance(reply, Given) else None


def stepped(options: tuple[Option, ...], pointed: Value | None, by: int) -> Option:
    """The option that lies `by` places from the pointed one, round and round; without one, the first or last.

    Raises:
        IndexError: there are no options.
    """
    places = [option.answer for option in options]
    if pointed not in places:
        return options[0 if by > 0 else -1]
    return options[(places.index(pointed) + by) % len(options)]


def brief(prompt: Prompt) -> str:
    """A prompt in as few words as a list needs."""
    match prompt:
        case AskQuantity() | AskChoice() | AskRefrigerant():
            return prompt.title
        case Acknowledge():
            return f"Caution: {prompt.title}"
        case AskText():
            return prompt.name.capitalize()
        case CloseCall():
            return f"Close call: {' and '.join(leaning.text for leaning in prompt.leanings)}"
        case DoStep() | CheckOut():
            return prompt.question
        case _:
            assert_never(prompt)
