"""What a walk over a simulated call was worth, counted by the outcomes of the published protocol evaluations.

A call has one fault, or none, and its truth is known. A walk of a tree over it ends with a cause, with no fault, or
undecided. A fault that costs less than `MATTERS` of capacity and of efficiency is slight: such calls are counted apart,
and passing one is no miss. What a tree cannot name is no miss of that tree either.

Source: correct, misdiagnosis, missed detection, false alarm and no response (here: undecided) - Yuill and Braun 2012,
International Refrigeration and Air Conditioning Conference at Purdue, paper 1307. That faults are weighed by what they
cost - the same authors, from memory. `MATTERS` is chosen.
"""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from assistant.catalogue.entries import Cause

MATTERS: Final = 0.05
"""Share of capacity or of efficiency that a fault must cost to matter; chosen."""

NO_FAULT: Final = "no_fault"
UNDECIDED: Final = "undecided"
SOUND: Final = "sound"


class Verdict(StrEnum):
    """What a walk was worth. `PASSED`: rightly ended without a fault."""

    CORRECT = "correct"
    PASSED = "passed"
    UNDECIDED = "undecided"
    MISSED = "missed"
    MISDIAGNOSIS = "misdiagnosis"
    FALSE_ALARM = "false_alarm"


@dataclass(frozen=True, slots=True)
class OutcomeWalk:
    """One walk of one tree over one simulated call.

    `truth` is the fault, or `SOUND`; `cost` the share of capacity or of efficiency, whichever is more, that it takes;
    `outdoor` is the outdoor air [K]. `ended` is a cause, `NO_FAULT` or `UNDECIDED`, at the node `at`. `is_alike` says
    that the fault and the cause named are of one family. With `eyes` the tech had all observations and instruments,
    else gauges and thermometers alone.
    """

    call: int
    tree: str
    eyes: bool
    truth: str
    severity: float
    device: str
    refrigerant: str
    tons: float
    outdoor: float
    cost: float
    ended: str
    at: str
    verdict: Verdict
    is_alike: bool
    questions: int

    @property
    def is_slight(self) -> bool:
        """Whether there is a fault, but one too slight to matter."""
        return is_slight(self.truth, self.cost)


def is_slight(truth: str, cost: float) -> bool:
    """Tell whether a fault of this cost is too slight to matter; `SOUND` is not slight, but nothing."""
    return truth != SOUND and cost < MATTERS


def verdict(truths: Collection[str], ended: str, nameable: Collection[str], *, slight: bool) -> Verdict:
    """Return the worth of an `ended` walk, for a tree that can end in the causes `nameable`.

    `truths` are all names by which the fault is rightly called, none where the system is sound.
    """
    if ended == UNDECIDED:
        return Verdict.UNDECIDED
    if ended == NO_FAULT:
        to_be_found = not slight and any(truth in nameable for truth in truths)
        return Verdict.MISSED if to_be_found else Verdict.PASSED
    if ended in truths:
        return Verdict.CORRECT
    return Verdict.MISDIAGNOSIS if truths else Verdict.FALSE_ALARM


def families(causes: Mapping[str, Cause]) -> tuple[frozenset[str], ...]:
    """Families of look-alikes: causes that the catalogue gives as look-alikes of each other, and so on.

    A cause that names another which does not name it back stays apart from it; one without look-alikes stands alone.
    """
    names = {name: {other.cause for other in cause.looks_like} for name, cause in causes.items()}
    left = list(causes)
    found = []
    while left:
        family, edge = {left[0]}, [left[0]]
        while edge:
            one = edge.pop()
            near = {other for other in names[one] - family if one in names.get(other, ())}
            family |= near
            edge.extend(near)
        found.append(frozenset(family))
        left = [name for name in left if name not in family]
    return tuple(found)


def family_of(name: str, all_families: Iterable[frozenset[str]]) -> frozenset[str]:
    """Return the family of a cause; one that is in none stands alone."""
    return next((family for family in all_families if name in family), frozenset({name}))
