"""A call is its answers: typed values, each under the key of its prompt, in the order in which they were given.

What a person typed is read once, by `replies.read_reply`. `write_value` gives the one form in which an answer is kept,
and `replies.read_written` reads that form again when a call is loaded.
"""

from collections.abc import Iterable, Sequence
from typing import Final, Protocol, TypeVar, assert_never

from assistant.call.keys import PromptKey, spell_key
from assistant.frozen import dataclass
from assistant.quantity import Quantity

CANNOT_TELL: Final = "cannot tell"
UNDERSTOOD: Final = "understood"
DONE: Final = "done"
CANNOT_DO: Final = "cannot do"
GO_ON: Final = "go on"
MEASURE: Final = "measure again"
YES: Final = "yes"
NO: Final = "no"
ALL_TREES: Final = "all trees"


@dataclass(frozen=True, slots=True)
class Measured:
    """A number with its unit, as typed."""

    quantity: Quantity


@dataclass(frozen=True, slots=True)
class Chosen:
    """One of several choices, by its name."""

    name: str


@dataclass(frozen=True, slots=True)
class Charged:
    """A refrigerant, by its designation."""

    designation: str


@dataclass(frozen=True, slots=True)
class Untold:
    """It cannot be told."""


@dataclass(frozen=True, slots=True)
class OwnWords:
    """What somebody said in their own words."""

    text: str


@dataclass(frozen=True, slots=True)
class Understood:
    """A caution was read."""


@dataclass(frozen=True, slots=True)
class Acted:
    """An act was done, or it cannot be done."""

    is_done: bool


@dataclass(frozen=True, slots=True)
class GoOn:
    """At a close call: go on the way it leans."""


@dataclass(frozen=True, slots=True)
class Remeasure:
    """At a close call: measure this reading again."""

    name: str


@dataclass(frozen=True, slots=True)
class HoldsUp:
    """Whether an end holds up."""

    holds: bool


@dataclass(frozen=True, slots=True)
class MeasureFirst:
    """Before an end is judged: measure again."""


@dataclass(frozen=True, slots=True)
class Unreadable:
    """A kept answer that cannot be read by the catalogue as it is now, and why."""

    text: str
    message: str


EntryValue = Measured | Chosen | Charged | Untold
"""What answers the question for a fact, reading or observation."""

Value = EntryValue | OwnWords | Understood | Acted | GoOn | Remeasure | HoldsUp | MeasureFirst | Unreadable

UNTOLD: Final = Untold()


def write_value(value: Value) -> str:
    """Give the form in which an answer is kept, in the record and in files."""
    match value:
        case Measured(quantity):
            return quantity.text()
        case Chosen(name) | Remeasure(name):
            return name
        case Charged(designation):
            return designation
        case Untold():
            return CANNOT_TELL
        case OwnWords(text) | Unreadable(text):
            return text
        case Understood():
            return UNDERSTOOD
        case Acted(is_done):
            return DONE if is_done else CANNOT_DO
        case GoOn():
            return GO_ON
        case HoldsUp(holds):
            return YES if holds else NO
        case MeasureFirst():
            return MEASURE
        case _:
            assert_never(value)


@dataclass(frozen=True, slots=True)
class Answer:
    """One acknowledged answer."""

    key: PromptKey
    value: Value

    @property
    def name(self) -> str:
        """What a person calls it."""
        return spell_key(self.key)

    @property
    def text(self) -> str:
        """The value as it is kept."""
        return write_value(self.value)


@dataclass(frozen=True, slots=True)
class Written:
    """An answer as it is kept: the key of its prompt and a text, of which only a catalogue tells what it means."""

    key: PromptKey
    text: str

    @property
    def name(self) -> str:
        """What a person calls it."""
        return spell_key(self.key)


def write_answer(answer: Answer) -> Written:
    """Give an answer as it is kept."""
    return Written(answer.key, write_value(answer.value))


class _Keyed(Protocol):
    @property
    def key(self) -> PromptKey: ...


_K = TypeVar("_K", bound=_Keyed)


def with_answer(answers: Sequence[_K], answer: _K) -> tuple[_K, ...]:
    """Give the answers with one more, or with one replaced in its place."""
    if any(old.key == answer.key for old in answers):
        return tuple(answer if old.key == answer.key else old for old in answers)
    return (*answers, answer)


def without_answer(answers: Iterable[_K], key: PromptKey) -> tuple[_K, ...]:
    """Give the answers without one; later answers to the same prompt stay later ones, so that it is asked again."""
    return tuple(answer for answer in answers if answer.key != key)
