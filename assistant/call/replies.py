"""Reading what a person typed: an answer to the prompt, a command, or something that is neither.

Nothing is guessed: a reply that only resembles a choice is answered with the question whether that was meant.
"""

import re
from collections.abc import Iterable, Mapping
from typing import Final, assert_never

from assistant.call.answers import (
    CANNOT_TELL,
    GO_ON,
    UNDERSTOOD,
    UNTOLD,
    Acted,
    Answer,
    Charged,
    Chosen,
    GoOn,
    HoldsUp,
    Measured,
    MeasureFirst,
    OwnWords,
    Remeasure,
    Understood,
    Unreadable,
    Untold,
    Value,
    Written,
)
from assistant.call.asking import ask_for
from assistant.call.keys import Topic
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
from assistant.call.typed_numbers import read_number
from assistant.catalogue.catalogue import Catalogue
from assistant.errors import CoilsideError, QuantityError, UnknownNameError
from assistant.frozen import dataclass
from assistant.quantity import SEA_LEVEL, Quantity, UnitSystem, accepted_forms
from assistant.source.nearest import nearest
from assistant.source.problem import without_controls
from assistant.thermo.refrigerants import find_refrigerant

LONGEST_REPLY: Final = 2000


@dataclass(frozen=True, slots=True)
class Given:
    """An answer that fits the prompt."""

    value: Value


@dataclass(frozen=True, slots=True)
class Command:
    """Something asked of the assistant instead of answering: `word` is one of `COMMANDS`."""

    word: str
    argument: str = ""


@dataclass(frozen=True, slots=True)
class Unclear:
    """A reply that cannot be used, and the sentence that says what can."""

    message: str


Reply = Given | Command | Unclear

COMMANDS: Final[Mapping[str, str]] = {
    "why": "why this is asked, and how to find the answer",
    "work": "the work behind the numbers so far; work NAME shows one",
    "should": "should NAME: what a sound unit would read in this weather; should alone tells all",
    "opinion": "how well each cause fits everything measured and seen, and what to do next",
    "picture": "the cycle on its chart, the balance of the valve, doubt against limit; also picture drawn",
    "back": "take the last answer back",
    "change": "change NAME: correct an earlier answer",
    "if": "if NAME VALUE: what would change with another value; nothing of it is kept",
    "answers": "the answers so far, with their names",
    "system": "all facts of the system at one place; system NAME VALUE tells one",
    "same": "the system is the one of the last call: take its facts over; also same NUMBER",
    "instruments": "how accurate your own gauges and thermometers are",
    "note": "note TEXT: attach a remark, or the name of a photo's file, to this call",
    "sheet": "write this call as a page to print or send; also sheet text, sheet md",
    "help": "what can be typed",
    "new": "begin another call, once this one has ended",
    "quit": "stop here; the call is kept and can be picked up",
}
"""What can be typed at any prompt besides an answer."""

_COMMAND_ALIASES: Final[Mapping[str, str]] = {
    "?": "help", "exit": "quit", "undo": "back", "why?": "why", "q": "quit", "instrument": "instruments",
    "pictures": "picture",
}  # fmt: skip
_WITH_ARGUMENT: Final = frozenset(
    {"change", "work", "should", "if", "picture", "system", "same", "instruments", "note", "sheet"}
)
# What is kept or read by a person keeps its capitals.
_AS_TYPED: Final = frozenset({"note"})

_AT_OWN_WORDS: Final = frozenset({"help", "quit", "back", "why"})

_WHAT_IF: Final = re.compile(r"^what if ", re.IGNORECASE)

_UNKNOWN: Final = frozenset(
    {
        "cannot tell", "can't tell", "cant tell", "can not tell", "cannot", "can't", "cant", "don't know", "dont know",
        "do not know", "unknown", "no idea", "not sure", "can't get at it", "cannot get at it", "cant get at it", "n/a",
        "na", "idk", "dunno", "i dunno", "no clue", "unsure", "skip", "pass", "-", "--", "not known", "couldn't tell",
        "i don't know", "i dont know",
    }
)  # fmt: skip
_YES: Final = frozenset({"yes", "y", "yes it does", "ok", "it does"})
_NO: Final = frozenset({"no", "n", "nope", "it does not", "it doesn't"})
_UNDERSTOOD: Final = frozenset({"understood", "ok", "okay", "yes", "y", "got it", "i understand"})
_MEASURE: Final = frozenset({"measure again", "measure again now", "measure", "again", "m"})
_NOT_NOW: Final = frozenset({"not now", "not yet", "later", "cannot tell yet"})
_DONE: Final = frozenset({"done", "did it", "ok", "okay", "yes", "y", "d", "finished"})
_CANNOT_DO: Final = frozenset({"cannot do", "can't do", "cant do", "no", "n", "cannot do it", "can't do it"})


def tidy(text: str) -> str:
    """A typed or pasted text on one line, without control characters and spare spaces."""
    return " ".join(without_controls(text[: LONGEST_REPLY * 2]).replace("\N{RIGHT SINGLE QUOTATION MARK}", "'").split())


def read_reply(prompt: Prompt, text: str) -> Reply:
    """What a typed reply to a prompt means."""
    if len(text) > LONGEST_REPLY:
        return Unclear(f"That is {len(text)} characters long; it looks like something pasted by mistake.")
    return command_at(prompt, text) or read_answer(prompt, text)


def command_at(prompt: Prompt, text: str) -> Command | None:
    """Read the command that a typed text is at a prompt.

    Own words may begin like most commands, and a choice may be called like one: then it is the answer.
    """
    command = read_command(text) if len(text) <= LONGEST_REPLY else None
    match prompt:
        case AskText():
            is_answer = command is not None and command.word not in _AT_OWN_WORDS
        case AskChoice():
            is_answer = _is_called(prompt, tidy(text).casefold())
        case _:
            is_answer = False
    return None if is_answer else command


def _is_called(prompt: AskChoice, folded: str) -> bool:
    """Tell whether a text is the name of one of the choices, or all its words."""
    listed = (*prompt.choices, *prompt.unlisted)
    return any(_as_name(folded) == _as_name(choice.name) or folded == choice.words.casefold() for choice in listed)


def read_command(text: str) -> Command | None:
    """The command that a typed text is, whatever was asked; `None` when it is none."""
    word, _, rest = _WHAT_IF.sub("if ", tidy(text)).partition(" ")
    word = _COMMAND_ALIASES.get(word.casefold(), word.casefold())
    if word not in COMMANDS or (rest and word not in _WITH_ARGUMENT):
        return None
    return Command(word, rest if word in _AS_TYPED else rest.casefold())


def read_answer(prompt: Prompt, text: str) -> Given | Unclear:
    """Tell what a text means as an answer to a prompt, commands apart."""
    typed = tidy(text)
    folded = typed.casefold().rstrip(".!")
    match prompt:
        case AskText():
            return (
                Given(OwnWords(typed)) if typed else Unclear("Say it in your own words, such as: not cooling enough.")
            )
        case AskQuantity():
            return _quantity(prompt, typed, folded)
        case AskChoice():
            return _choice(prompt, typed, folded)
        case AskRefrigerant():
            return _refrigerant(typed, folded)
        case Acknowledge():
            return _acknowledged(prompt, folded)
        case DoStep():
            return _done(folded)
        case CloseCall():
            return _close_call(prompt, typed, folded)
        case CheckOut():
            return _check_out(folded, prompt.measurable)
        case _:
            assert_never(prompt)


def value_for(prompt: Prompt, text: str) -> Value:
    """Give what a text answers to a prompt; an `Unreadable` value where it answers nothing."""
    read = read_answer(prompt, text)
    return read.value if isinstance(read, Given) else Unreadable(text, read.message)


def read_written(written: Written, catalogue: Catalogue, system: UnitSystem) -> Answer:
    """Read an answer as it is kept; a number without a unit is in the one that `system` shows."""
    return Answer(written.key, _read_text(written, catalogue, system))


def read_all_written(answers: Iterable[Written], catalogue: Catalogue, system: UnitSystem) -> tuple[Answer, ...]:
    """Read the answers of a call as they are kept."""
    return tuple(read_written(answer, catalogue, system) for answer in answers)


def _read_text(written: Written, catalogue: Catalogue, system: UnitSystem) -> Value:
    text = tidy(written.text)
    folded = text.casefold().rstrip(".!")
    match written.key.topic:
        case Topic.ENTRY:
            name = written.key.name
            if name in catalogue.taking_order:
                return value_for(ask_for(name, catalogue, system, ()), text)
            return Unreadable(text, f"Nothing of the catalogue is called {name}.")
        case Topic.TREE | Topic.GUESS:
            return Chosen(text)
        case Topic.COMPLAINT | Topic.PRACTICE:
            return OwnWords(text) if text else Unreadable(text, "There are no words.")
        case Topic.CAUTION:
            return Understood() if folded in _UNDERSTOOD else Unreadable(text, "This is no word for having read it.")
        case Topic.CLOSE_CALL:
            return GoOn() if folded == GO_ON else Remeasure(text)
        case Topic.ACT | Topic.SETTLE:
            return _value_or_not(_done(folded), text)
        case Topic.CHECK_OUT:
            return _value_or_not(_check_out(folded, measurable=("all",)), text)
        case topic:
            assert_never(topic)


def _value_or_not(read: Given | Unclear, text: str) -> Value:
    return read.value if isinstance(read, Given) else Unreadable(text, read.message)


def why_unfit(prompt: Prompt, value: Value) -> str | None:
    """Tell why a value that was kept is no answer to a prompt as it is now; `None` when it is one."""
    match prompt, value:
        case _, Unreadable():
            return value.message
        case AskQuantity(), Measured(quantity) if quantity.kind is prompt.kind:
            try:
                return _beyond_belief(prompt, quantity)
            except QuantityError as error:
                return str(error)
        case AskChoice(), Chosen(name):
            listed = (*prompt.choices, *prompt.unlisted)
            is_one = any(choice.name == name for choice in listed)
            return None if is_one else _no_choice(prompt.choices, name).message
        case AskChoice(), Untold():
            return None if prompt.can_be_unknown else _no_choice(prompt.choices, "").message
        case CloseCall(), Remeasure(name):
            is_one = any(reading.name == name for reading in prompt.readings)
            return None if is_one else _no_choice(prompt.readings, name).message
        case CheckOut(), MeasureFirst():
            return None if prompt.measurable else "There is nothing that could be measured again."
        case (
            (AskQuantity() | AskRefrigerant() | CheckOut(), Untold())
            | (AskText(), OwnWords() | Untold())
            | (AskRefrigerant(), Charged())
            | (Acknowledge(), Understood())
            | (DoStep(), Acted())
            | (CloseCall(), GoOn())
            | (CheckOut(), HoldsUp())
        ):
            return None
        case _:
            return f"That answers another question than this one: {prompt.question}"


def _quantity(prompt: AskQuantity, typed: str, folded: str) -> Given | Unclear:
    if folded in _UNKNOWN:
        return Given(UNTOLD)
    if not typed and prompt.default is not None:
        typed = prompt.default
    try:
        quantity = read_number(typed, prompt.kind, prompt.unit.symbol)
        unfit = _beyond_belief(prompt, quantity)
    except QuantityError as error:
        return Unclear(f"{error} If you can't get at it, type: cannot tell.")
    return Given(Measured(quantity)) if unfit is None else Unclear(unfit)


def _beyond_belief(prompt: AskQuantity, quantity: Quantity) -> str | None:
    """Tell that a quantity lies outside of what can be believed.

    Raises:
        QuantityError: it is below a perfect vacuum.
    """
    reading = quantity.absolute(SEA_LEVEL)
    if not prompt.low or not prompt.high or _at_sea_level(prompt.low) <= reading <= _at_sea_level(prompt.high):
        return None
    span = f"{prompt.low.text()} and {prompt.high.text()}"
    return (
        f"{quantity.text()} cannot be a {prompt.title.lower()}: it lies between {span}. Check the number and its "
        f"unit. I need {accepted_forms(prompt.kind, prompt.unit.symbol)}."
    )


def _at_sea_level(quantity: Quantity) -> float:
    """A bound of what can be believed; a few psi of altitude do not matter here."""
    return quantity.value + SEA_LEVEL if quantity.unit.gauge else quantity.value


def _choice(prompt: AskChoice, typed: str, folded: str) -> Given | Unclear:
    # "Nobody knows" may be a choice of its own, called unknown: then the word is that answer, also when read again.
    if folded in _UNKNOWN and prompt.can_be_unknown and (folded == CANNOT_TELL or not _is_called(prompt, folded)):
        return Given(UNTOLD)
    if not typed and prompt.default is not None:
        return Given(Chosen(prompt.default))
    if prompt.can_be_unknown and folded == "0":
        return Given(UNTOLD)
    found = pick_choice(prompt.choices, folded)
    if found is None and not folded.isdecimal():
        found = pick_choice(prompt.unlisted, folded)
    return Given(Chosen(found)) if found else _no_choice(prompt.choices, typed)


def pick_choice(choices: tuple[Choice, ...], folded: str) -> str | None:
    """The choice meant by a number, its name, its words, or the beginning of just one; `None` when it is not clear."""
    if folded.isdecimal() and len(folded) < 4:
        number = int(folded)
        return choices[number - 1].name if 1 <= number <= len(choices) else None
    as_name = _as_name(folded)
    for choice in choices:
        if as_name == _as_name(choice.name) or folded == choice.words.casefold().rstrip("."):
            return choice.name
    if not folded:
        return None
    begins = [
        choice.name
        for choice in choices
        if _as_name(choice.name).startswith(as_name) or choice.words.casefold().startswith(folded)
    ]
    return begins[0] if len(begins) == 1 else None


def _as_name(text: str) -> str:
    """A typed or stored name in one spelling, whatever stands between its words."""
    return text.casefold().replace(" ", "_").replace("-", "_")


def _no_choice(choices: tuple[Choice, ...], typed: str) -> Unclear:
    span = f"Answer with a number from 1 to {len(choices)}"
    names = {choice.words: choice for choice in choices} | {choice.name: choice for choice in choices}
    near = nearest(typed, names, limit=1) if typed else ()
    meant = f" Did you mean {names[near[0]].words!r}?" if near else ""
    return Unclear(f"{span}, or the words of the choice.{meant}")


def _refrigerant(typed: str, folded: str) -> Given | Unclear:
    if folded in _UNKNOWN:
        return Given(UNTOLD)
    if not typed:
        return Unclear("I need the refrigerant on the data plate, such as R-410A or 22.")
    try:
        return Given(Charged(find_refrigerant(typed).designation))
    except UnknownNameError as error:
        return Unclear(f"{error} Type it as on the data plate, such as R-410A or 22; or: cannot tell.")
    except CoilsideError as error:
        return Unclear(str(error))


def _acknowledged(prompt: Acknowledge, folded: str) -> Given | Unclear:
    if not prompt.is_listed:
        return Given(Understood()) if folded in _UNDERSTOOD else Unclear("Type ok when you have read the caution.")
    if folded in (UNDERSTOOD, str(prompt.place), prompt.title.casefold()):
        return Given(Understood())
    return Unclear(f"Each of these has its own number. Type {prompt.place} when you have read: {prompt.title}.")


def _done(folded: str) -> Given | Unclear:
    # Digits come through gloves: they stand beside the words, as at every choice.
    if folded in _DONE or folded == "1":
        return Given(Acted(is_done=True))
    if folded in _CANNOT_DO or folded in _UNKNOWN or folded == "2":
        return Given(Acted(is_done=False))
    return Unclear("Type done (1) when it is done, or cannot do (2).")


def _close_call(prompt: CloseCall, typed: str, folded: str) -> Given | Unclear:
    if not folded or folded in _YES or folded == GO_ON:
        return Given(GoOn())
    again = {f"again {reading.name}": reading for reading in prompt.readings}
    options = (Choice(GO_ON, GO_ON), *(Choice(name, reading.words) for name, reading in again.items()))
    found = pick_choice(options, folded) or pick_choice(prompt.readings, folded)
    if found is None:
        return _no_choice(options, typed)
    return Given(GoOn() if found == GO_ON else Remeasure(again[found].name if found in again else found))


def _check_out(folded: str, measurable: tuple[str, ...]) -> Given | Unclear:
    if folded in _YES or folded == "1":
        return Given(HoldsUp(holds=True))
    if folded in _NO or folded == "2":
        return Given(HoldsUp(holds=False))
    if measurable and (folded in _MEASURE or folded == "3"):
        return Given(MeasureFirst())
    if folded in _UNKNOWN or folded in _NOT_NOW or folded == "0":
        return Given(UNTOLD)
    again = " Type measure (3) to take the readings again first." if measurable else ""
    return Unclear(f"Answer yes (1) or no (2); when you cannot tell yet, type: cannot tell (0).{again}")
