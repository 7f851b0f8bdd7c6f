"""An opinion from what a call knows, in one go or on what was prepared."""

from dataclasses import dataclass, replace

from assistant.catalogue.catalogue import Catalogue
from assistant.catalogue.unit_state import FOUND, UnitState
from assistant.opinion.fits import BUBBLE, DEW, Prepared, prepare
from assistant.opinion.inputs import Situation, doubts_of
from assistant.opinion.next_steps import CHILL, WARM, NextStep, cause_shares, next_steps, outcome_chances
from assistant.opinion.opinion import Opinion, Weights, form_opinion, weights_of


def work_opinion(
    catalogue: Catalogue, situation: Situation, prepared: Prepared | None = None, state: UnitState | None = None
) -> tuple[Opinion, tuple[NextStep, ...]]:
    """Return the opinion and what to do next; what is not prepared is worked first, which takes seconds.

    Raises:
        CoilsideError: there is no such unit, or a sound one would not run in this weather.
    """
    if prepared is None:
        prepared = prepare(situation.facts, situation.weather, situation.device)
    weights = _weights(catalogue, situation, prepared)
    done = frozenset({*(one.name for one in situation.taken), *situation.seen, *situation.tests})
    steps = next_steps(catalogue, prepared, weights, done, doubts_of(catalogue), state or measured_state(situation))
    return form_opinion(prepared, weights), steps


def _weights(catalogue: Catalogue, situation: Situation, prepared: Prepared) -> Weights:
    told = None
    for test in (WARM, CHILL):
        if test in situation.tests:
            chances = outcome_chances(prepared, test)[:, situation.tests[test]]
            told = chances if told is None else told * chances
    return weights_of(catalogue, prepared, situation.taken, situation.seen, told)


@dataclass(frozen=True, slots=True)
class Shift:
    """What one reading says: the cause that it speaks for most, and the one against, each with and without it."""

    name: str
    speaks_for: str
    for_without: float
    for_with: float
    against: str
    against_without: float
    against_with: float


def find_shifts(catalogue: Catalogue, situation: Situation, prepared: Prepared) -> tuple[Shift, ...]:
    """Return what each reading says of the causes, beside all the others."""
    whole = cause_shares(prepared, _weights(catalogue, situation, prepared))
    found = []
    for taken in situation.taken:
        others = replace(situation, taken=tuple(one for one in situation.taken if one is not taken))
        without = cause_shares(prepared, _weights(catalogue, others, prepared))
        up = max(whole, key=lambda cause: whole[cause] - without[cause])
        down = min(whole, key=lambda cause: whole[cause] - without[cause])
        found.append(Shift(taken.name, up, without[up], whole[up], down, without[down], whole[down]))
    return tuple(found)


def measured_state(situation: Situation) -> UnitState:
    """Return the state of a unit that was measured: it runs, settled, with hoses on if there are pressures."""
    names = {one.name for one in situation.taken}
    hoses = bool(names & {*DEW, *BUBBLE})
    return replace(FOUND, settled="running", circuit="hoses" if hoses else "closed")
