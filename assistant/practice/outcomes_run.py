"""Walking trees over many simulated calls: every call through each tree whose complaint it gives rise to.

Calls are drawn by number, so that the result hangs on the seed alone, not on how many processes share the work.
"""

from collections.abc import Callable, Iterator, Mapping
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import cache
from multiprocessing import get_context
from pathlib import Path
from typing import Final

from assistant.call.answers import Answer
from assistant.call.library import Library
from assistant.call.loading import load_library
from assistant.call.prompts import Acknowledge
from assistant.call.turns import Answered, Concluded, NothingWrong, Undecided
from assistant.call.walk import Conversation, walk
from assistant.errors import PhysicsError
from assistant.practice.instruments import Kit, shown
from assistant.practice.outcomes import SOUND, UNDECIDED, Walked, families, family_of, is_slight, verdict
from assistant.practice.outcomes_draw import cost_of, drawn_wish
from assistant.practice.outcomes_tech import Instrument, Tech, exact
from assistant.practice.plant import fahrenheit
from assistant.practice.system import System, Wish, practice_system
from assistant.tree.model import CauseLeaf

_F: Final = 5.0 / 9.0
_BEFORE = ("complaint", "tree")
_TOGETHER = 10
"""Calls that one process works on at a time."""


def _over_outdoor(system: System) -> float:
    return system.truth.condensing_temperature - system.conditions.outdoor


def _cold(system: System) -> bool:
    return system.truth.evaporating_temperature < fahrenheit(32.0)


def _feed_is_off(system: System) -> bool:
    return system.wish.device == "txv" and not 4.0 * _F <= system.truth.evaporator_superheat <= 19.0 * _F


COMPLAINTS: Final[Mapping[str, Callable[[System], bool]]] = {
    "poor_cooling": lambda system: True,
    "starved_coil": lambda system: system.truth.superheat > 20.0 * _F,
    "low_suction": _cold,
    "high_head": lambda system: _over_outdoor(system) > 25.0 * _F,
    "outdoor_coil": lambda system: _over_outdoor(system) > 25.0 * _F,
    "hot_discharge": lambda system: system.readings["discharge_line_temperature"] > fahrenheit(220.0),
    "liquid_floodback": lambda system: system.truth.superheat < 3.0 * _F,
    "indoor_airflow": lambda system: system.observations.get("air_at_vents") == "weak",
    "compressor_pumping": lambda system: system.readings["liquid_pressure"] < 2.3 * system.readings["suction_pressure"],
    "valve_bench": _feed_is_off,
}
"""The trees that simulated calls are walked through, each with whether a system gives rise to its complaint."""


@dataclass(frozen=True, slots=True)
class Plan:
    """What to walk: `calls` of a `seed` through `trees`, with all observations or without (`eyes`), with instruments
    that err as they do (`noise`) or exact ones, over the trees in `layers`."""

    calls: int
    seed: int
    trees: tuple[str, ...]
    layers: tuple[Path, ...]
    eyes: tuple[bool, ...] = (True, False)
    noise: bool = True


def run(plan: Plan, processes: int = 1) -> Iterator[tuple[Walked, ...] | None]:
    """The walks of every call, call by call; `None` for a call whose system would not run.

    Raises:
        FileError: the trees cannot be used.
        UnknownNameError: there is no such tree.
    """
    library = library_of(plan.layers)
    for tree in plan.trees:
        library.tree(tree)
    if processes > 1:
        return _shared(plan, processes)
    return (walk_call(library, plan, number) for number in range(plan.calls))


def _shared(plan: Plan, processes: int) -> Iterator[tuple[Walked, ...] | None]:
    with ProcessPoolExecutor(processes, get_context("spawn"), initializer=library_of, initargs=(plan.layers,)) as pool:
        yield from pool.map(_one, [(plan, number) for number in range(plan.calls)], chunksize=_TOGETHER)


def _one(work: tuple[Plan, int]) -> tuple[Walked, ...] | None:
    plan, number = work
    return walk_call(library_of(plan.layers), plan, number)


@cache
def library_of(layers: tuple[Path, ...]) -> Library:
    """The trees in some folders; what has mistakes is left out."""
    library, _ = load_library(list(layers), lazily=True)
    return library


def walk_call(library: Library, plan: Plan, number: int) -> tuple[Walked, ...] | None:
    """The walks of one call, none where it gives rise to none of the complaints; `None` where it would not run."""
    wish = drawn_wish(plan.seed, number)
    try:
        system = practice_system(wish)
    except PhysicsError:
        return None
    fitting = [tree for tree in plan.trees if tree not in COMPLAINTS or COMPLAINTS[tree](system)]
    cost = cost_of(system) if fitting else 0.0
    solved: dict[Wish, System | None] = {}
    walks = []
    for tree in fitting:
        for eyes in plan.eyes:
            tech = Tech(system, eyes, _instrument(plan, number, system), solved)
            walks.append(_judged(library, number, tree, tech, cost))
    return tuple(walks)


def _instrument(plan: Plan, number: int, system: System) -> Instrument:
    if not plan.noise:
        return exact
    kit, atmosphere = Kit(plan.seed * 1_000_003 + number), system.conditions.atmosphere
    return lambda name, value, look: shown(name, value, kit, look, atmosphere)


def _judged(library: Library, number: int, tree: str, tech: Tech, cost: float) -> Walked:
    system = tech.system
    conversation = conversation_of(library, tree, tech)
    outcome = conversation.outcome
    ended = UNDECIDED if outcome is None else outcome.cause or outcome.kind
    faults = system.wish.faults
    truth = faults[0].fault.name if faults else SOUND
    nameable = {node.cause.text for node in library.tree(tree).nodes.values() if isinstance(node, CauseLeaf)}
    return Walked(
        call=number,
        tree=tree,
        eyes=tech.eyes,
        truth=truth,
        severity=faults[0].severity if faults else 0.0,
        device=system.wish.device,
        refrigerant=system.wish.refrigerant,
        tons=system.wish.tons,
        outdoor=system.wish.outdoor,
        cost=cost,
        ended=ended,
        at=_end(conversation),
        verdict=verdict(truth, ended, nameable, slight=is_slight(truth, cost)),
        is_alike=ended in family_of(truth, families(library.catalogue.causes)),
        questions=questions(conversation),
    )


def conversation_of(library: Library, tree: str, tech: Tech) -> Conversation:
    """The whole conversation of a tech with a tree.

    Raises:
        UnknownNameError: there is no such tree.
    """
    start = (Answer("complaint", library.tree(tree).title), Answer("tree", tree))
    return walk(library, start, fill=tech.answer)


def questions(conversation: Conversation) -> int:
    """What a tech answers up to the end, facts and steps included, cautions not."""
    count = 0
    for turn in conversation.turns:
        if isinstance(turn, Concluded | NothingWrong | Undecided):
            break
        if isinstance(turn, Answered) and not isinstance(turn.prompt, Acknowledge):
            count += turn.prompt.name not in _BEFORE
    return count


def _end(conversation: Conversation) -> str:
    ends = (turn.node for turn in conversation.turns if isinstance(turn, Concluded | NothingWrong | Undecided))
    return next(ends, "")
