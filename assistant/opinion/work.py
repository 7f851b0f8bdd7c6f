"""An opinion from what a call knows, in one go or on what was prepared."""

from dataclasses import replace

from assistant.catalogue.catalogue import Catalogue
from assistant.catalogue.unit_state import FOUND, UnitState
from assistant.opinion.fits import BUBBLE, DEW, Prepared, prepare
from assistant.opinion.inputs import Situation, doubts_of
from assistant.opinion.next_steps import CHILL, WARM, NextStep, next_steps, outcome_chances
from assistant.opinion.opinion import Opinion, form_opinion, weights_of


def work_opinion(
    catalogue: Catalogue, situation: Situation, prepared: Prepared | None = None, state: UnitState | None = None
) -> tuple[Opinion, tuple[NextStep, ...]]:
    """Return the opinion and what to do next; what is not prepared is worked first, which takes seconds.

    Raises:
        CoilsideError: there is no such unit, or a sound one would not run in this weather.
    """
    if prepared is None:
        prepared = prepare(situation.facts, situation.weather, situation.device)
    told = None
    for test in (WARM, CHILL):
        if test in situation.tests:
            chances = outcome_chances(prepared, test)[:, situation.tests[test]]
            told = chances if told is None else told * chances
    weights = weights_of(catalogue, prepared, situation.taken, situation.seen, told)
    done = frozenset({*(one.name for one in situation.taken), *situation.seen, *situation.tests})
    steps = next_steps(catalogue, prepared, weights, done, doubts_of(catalogue), state or measured_state(situation))
    return form_opinion(prepared, weights), steps


def measured_state(situation: Situation) -> UnitState:
    """Return the state of a unit that was measured: it runs, settled, with hoses on if there are pressures."""
    names = {one.name for one in situation.taken}
    hoses = bool(names & {*DEW, *BUBBLE})
    return replace(FOUND, settled="running", circuit="hoses" if hoses else "closed")
