"""The turns of a conversation: what was asked and answered, what was worked, decided and found."""

import operator
from collections.abc import Callable, Sequence
from dataclasses import field
from functools import cached_property
from typing import TypeVar

from assistant.call.answers import Answer
from assistant.call.bands import Band
from assistant.call.decision import Grounds
from assistant.call.prompts import Prompt
from assistant.catalogue.entries import Cause
from assistant.catalogue.repairs import RepairPlan
from assistant.frozen import dataclass
from assistant.pictures.scale import Scale
from assistant.worksheet.sheet import Refused, Worked
from assistant.worksheet.showing import Display, Work, line_of, tell_work


@dataclass(frozen=True, slots=True)
class Told:
    """Something the tree says."""

    node: str
    text: str


@dataclass(frozen=True, slots=True)
class Answered:
    """A prompt with its answer; `shown` is the answer as a person reads it.

    An answer that knows its node by another name has another key than its prompt.
    """

    prompt: Prompt
    answer: Answer
    shown: str


@dataclass(frozen=True)
class NumberShown:
    """A worked number, when a decision first uses it and whenever it changes; put into words when these are wanted.

    `band` is what that decision takes as in range. Two are the same where they read the same.
    """

    worked: Worked
    display: Display
    band: Band | None = None

    @cached_property
    def line(self) -> str:
        """Its value in words."""
        return line_of(self.worked, self.display)

    @cached_property
    def work(self) -> Work:
        """How it was worked."""
        return tell_work(self.worked, self.display)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, NumberShown) and (self.line, self.work) == (other.line, other.work)

    def __hash__(self) -> int:
        return hash(self.worked.name)


@dataclass(frozen=True, slots=True)
class NumberMissing:
    """A number that cannot honestly be worked, and why."""

    refused: Refused = field(compare=False)
    line: str


@dataclass(frozen=True, slots=True)
class Contradicted:
    """Readings that contradict physics beyond their doubt: `law` is what they break, `advice` what to do about it."""

    law: str
    readings: tuple[str, ...]
    advice: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Decided:
    """A branch taken at `node` towards `go`, with its grounds; `branch` is its place among the step's.

    `at` and `way` are both nodes in words.
    """

    node: str
    go: str
    at: str
    way: str
    grounds: Grounds
    branch: int

    @property
    def reasons(self) -> tuple[str, ...]:
        """Why the branch was taken, in words."""
        return self.grounds.reasons

    @property
    def scales(self) -> tuple[Scale, ...]:
        """The comparisons that the decision looked at, as numbers."""
        return self.grounds.scales


@dataclass(frozen=True, slots=True)
class CameBack:
    """A branch that was kept at a close call is taken after all."""

    node: str
    text: str


@dataclass(frozen=True, slots=True)
class Concluded:
    """A likely cause, with the evidence for it and what speaks against it on this call.

    `look_alikes` are the titles of other causes, each with how to tell it.
    """

    node: str
    cause: Cause
    evidence: tuple[str, ...]
    against: tuple[str, ...]
    look_alikes: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Repair:
    """How the cause is put right and the repair proven, act after act, each caution in front of what it guards."""

    cause: Cause
    plan: RepairPlan


@dataclass(frozen=True, slots=True)
class BeforeAfter:
    """A reading or worked number before a repair and after it, each with its doubt."""

    title: str
    before: str
    after: str


@dataclass(frozen=True, slots=True)
class Rechecked:
    """A condition on the way to the cause, looked at again: its values and whether it holds, before and after.

    `was` is in words where the decision led, `now` where it leads, `None` while that cannot be told; `is_same` says
    that it is the same node. `is_close` says that the new readings cannot really decide it.
    """

    condition: str
    before: str
    after: str
    was: str
    now: str | None
    is_same: bool
    is_close: bool


@dataclass(frozen=True, slots=True)
class Verified:
    """The readings before and after a repair, the deciding conditions looked at again, and what that says.

    `gone` is whether the cause no longer fits, as `verdict` says in words; `beyond` is what the readings ask apart from
    that. `checks_out` is whether they lead neither to this cause nor to another. `None` where it cannot be told.
    """

    node: str
    readings: tuple[BeforeAfter, ...]
    conditions: tuple[Rechecked, ...]
    verdict: str
    beyond: str
    gone: bool | None
    checks_out: bool | None

    @property
    def telling(self) -> tuple[Rechecked, ...]:
        """The conditions that go another way now, or hang on a doubt; all others are as they were."""
        return tuple(check for check in self.conditions if not check.is_same or check.is_close)

    @property
    def as_before(self) -> str:
        """How many of the conditions hold as they did, in words; nothing where none does."""
        count = len(self.conditions) - len(self.telling)
        more = "" if count == len(self.conditions) else "more "
        return f"{count} {more}{'decision goes' if count == 1 else 'decisions go'} as before." if count else ""

    @property
    def word(self) -> str:
        """The verdict in one or a few words."""
        match self.gone, self.checks_out:
            case True, True:
                return "Checks out"
            case True, False:
                return "Gone, but another cause"
            case True, None:
                return "Gone, the rest is open"
            case False, _:
                return "Not proven"
            case _:
                return "Cannot be told"


@dataclass(frozen=True, slots=True)
class NothingWrong:
    """The end of a call on which no fault was found."""

    node: str
    text: str


@dataclass(frozen=True, slots=True)
class Undecided:
    """An honest end without a cause: what is still open, and what could not be told."""

    node: str
    text: str
    untold: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Coached:
    """Something said to a trainee who rides along; it is no part of the call."""

    title: str
    lines: tuple[str, ...]


T = TypeVar("T")


def common(before: Sequence[T], after: Sequence[T], are_alike: Callable[[T, T], bool] = operator.eq) -> int:
    """Return how many items two sequences begin with in common."""
    pairs = zip(before, after, strict=False)
    parted = (count for count, pair in enumerate(pairs) if not are_alike(*pair))
    return next(parted, min(len(before), len(after)))


def parting(before: Sequence["Turn"], after: Sequence["Turn"]) -> tuple[Decided | None, Decided | None]:
    """Return the first decision that two conversations take otherwise, in each; `None` where one has no more."""
    old, new = ([turn for turn in turns if isinstance(turn, Decided)] for turns in (before, after))
    at = common(old, new, lambda one, other: (one.node, one.go) == (other.node, other.go))
    return next(iter(old[at:]), None), next(iter(new[at:]), None)


Turn = (
    Told
    | Answered
    | NumberShown
    | NumberMissing
    | Contradicted
    | Decided
    | CameBack
    | Concluded
    | Repair
    | Verified
    | NothingWrong
    | Undecided
    | Coached
)
