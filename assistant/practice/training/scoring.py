"""What a practice call was worth: right cause, time, needless steps, cautions skipped, refrigerant lost.

There are no points: each of the five is told as it was, and a trainer weighs them.
"""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from typing import Final, Literal

Sort = Literal["reading", "observation", "act", "wait"]
Verdict = Literal["right", "partly right", "a look-alike", "wrong", "not named"]

SOUND: Final = "no_fault"
"""What is named where nothing is wrong."""
FREE_REPEATS: Final = 1
"""Times that the same may be taken again while nothing has changed, to check it; chosen."""


@dataclass(frozen=True, slots=True)
class Done:
    """One thing that was done on a practice call, at the minute at which it was over.

    `words` say what it was, `shown` what came of it. `state` counts the changes of the circuit before it; `settles`
    says that a reading was still on its way, so that taking it again makes sense. `idle` says of an act that it put
    right what was right already. `skipped` are cautions that belonged before it and were not acknowledged.
    """

    minute: float
    sort: Sort
    name: str
    words: str
    shown: str = ""
    state: int = 0
    settles: bool = False
    idle: bool = False
    skipped: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Score:
    """How a practice call went. Minutes are those of the visit; `lost` is refrigerant that went into the air [kg].

    `allowed` is the time that a trainer set, `None` without one. `needless` says which steps were, and why.
    """

    truth: tuple[str, ...]
    named: tuple[str, ...]
    verdict: Verdict
    minutes: float
    allowed: float | None
    steps: int
    needless: tuple[str, ...]
    skipped: tuple[str, ...]
    lost: float

    @property
    def in_time(self) -> bool:
        """Whether the time allowed was kept."""
        return self.allowed is None or self.minutes <= self.allowed


def score(
    truth: Sequence[str],
    named: Sequence[str] | None,
    done: Sequence[Done],
    minutes: float,
    lost: float,
    allowed: float | None = None,
    alike: Collection[frozenset[str]] = (),
) -> Score:
    """Return the score of a call with the hidden causes `truth`, none where all is well.

    `named` are the causes that were named, `SOUND` among them; `None` where the trainee gave up. `alike` are families
    of causes that read alike.
    """
    return Score(
        truth=tuple(truth),
        named=tuple(named or ()),
        verdict=verdict(truth, named, alike),
        minutes=minutes,
        allowed=allowed,
        steps=sum(one.sort != "wait" for one in done),
        needless=tuple(needless(done)),
        skipped=tuple(caution for one in done for caution in one.skipped),
        lost=lost,
    )


def verdict(truth: Sequence[str], named: Sequence[str] | None, alike: Collection[frozenset[str]] = ()) -> Verdict:
    """Tell whether the causes named are the hidden ones: all of them and no other is right."""
    if not named:
        return "not named"
    wanted = set(truth) or {SOUND}
    found = wanted & set(named)
    if found == wanted and found == set(named):
        return "right"
    if found:
        return "partly right"
    families = [family for family in alike if family & wanted]
    return "a look-alike" if any(name in family for name in named for family in families) else "wrong"


def needless(done: Sequence[Done]) -> list[str]:
    """Steps that could tell or mend nothing: taken again where nothing had changed, or putting right what was right."""
    taken: dict[tuple[str, int], int] = {}
    found: list[str] = []
    for one in done:
        if one.sort in ("reading", "observation"):
            before = taken.get((one.name, one.state), 0)
            if before > FREE_REPEATS:
                found.append(f"{one.words}: taken {before + 1} times, and nothing had changed")
            taken[one.name, one.state] = before + (not one.settles)
        elif one.sort == "act" and one.idle:
            found.append(f"{one.words}: nothing was wrong there")
    return found
