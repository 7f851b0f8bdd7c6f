"""What the walk asks: one frozen record per kind of prompt. A face shows it and sends a typed reply back."""

from collections.abc import Sequence

from assistant.call.keys import PromptKey, spell_key
from assistant.frozen import dataclass
from assistant.pictures.scale import Scale
from assistant.quantity import Kind, Quantity, Unit


@dataclass(frozen=True, slots=True, kw_only=True)
class _Asked:
    """What every prompt has: its key, the question, why it is asked, and how to find the answer.

    `node` is where it is asked, by its name among all that are linked, where that matters.
    """

    key: PromptKey
    question: str
    why: tuple[str, ...] = ()
    help: str = ""
    node: str = ""

    @property
    def name(self) -> str:
        """What a person calls it: an entry's name in the catalogue, or such as `do warm_bulb`."""
        return spell_key(self.key, self.node)


@dataclass(frozen=True, slots=True, kw_only=True)
class AskText(_Asked):
    """A reply in the tech's own words."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AskQuantity(_Asked):
    """A reading or a fact with a unit; a bare number takes `unit`. `low` and `high` bound what can be believed."""

    title: str
    kind: Kind
    unit: Unit
    low: Quantity | None = None
    high: Quantity | None = None
    default: str | None = None
    again: bool = False


@dataclass(frozen=True, slots=True)
class Choice:
    """One way to answer: the name that is stored, and its words."""

    name: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class AskChoice(_Asked):
    """One of several choices. `can_be_unknown` says whether "cannot tell" is an answer.

    `unlisted` are taken by their names or words, though a list that is long enough already does not show them.
    """

    title: str
    choices: tuple[Choice, ...]
    unlisted: tuple[Choice, ...] = ()
    default: str | None = None
    can_be_unknown: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class AskRefrigerant(_Asked):
    """A refrigerant by its designation, in any spelling."""

    title: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Acknowledge(_Asked):
    """A caution that must be acknowledged before the step that it guards.

    `together` are the titles of all that stand in front of the same step, `place` (from 1) this one's place among them.
    """

    caution: str
    title: str
    text: str
    rule: str
    place: int = 1
    together: tuple[str, ...] = ()

    @property
    def is_listed(self) -> bool:
        """Whether it is one of several: then its number acknowledges it, as one word for all would be typed unread."""
        return len(self.together) > 1


@dataclass(frozen=True, slots=True, kw_only=True)
class DoStep(_Asked):
    """An act of the catalogue, or that a repair comes to rest: done, or it cannot be done.

    `who` may do it, and it takes some `minutes`. `visit` counts how often the call has come through its node.
    """

    title: str = ""
    minutes: float = 0.0
    who: tuple[str, ...] = ()
    visit: int = 1

    @property
    def about(self) -> str:
        """Who may do it and how long it takes, on one line; empty where that is not told."""
        return "; ".join([*self.who, *([f"about {self.minutes:g} min"] if self.minutes else [])])


@dataclass(frozen=True, slots=True)
class Leaning:
    """One comparison that the measurement cannot really decide.

    `text` is the comparison in words, `measured` and `limit` its sides as shown, `other_way` where it would lead the
    other way; `likelihood` (0.5 to 1) is how likely the true value lies on the side it reads. `scale` is the same as
    numbers.
    """

    text: str
    measured: str
    limit: str
    likelihood: float
    other_way: str | None
    scale: Scale | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class CloseCall(_Asked):
    """A branch decided by less than its doubt: go on the way it leans, or measure one of `readings` again.

    `leans_to` is that way in words.
    """

    leans_to: str
    leanings: tuple[Leaning, ...]
    readings: tuple[Choice, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckOut(_Asked):
    """Whether the end that was reached holds up; `no` leads to a branch that was kept, if there is one.

    `measurable` are the titles of the readings that can be taken again first, to see.
    """

    kept: int
    measurable: tuple[str, ...] = ()


Prompt = AskText | AskQuantity | AskChoice | AskRefrigerant | Acknowledge | DoStep | CloseCall | CheckOut


def choices_from(pairs: Sequence[tuple[str, str]]) -> tuple[Choice, ...]:
    """Choices from pairs of name and words."""
    return tuple(Choice(name, words) for name, words in pairs)
