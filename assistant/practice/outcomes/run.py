"""Walking trees over many simulated calls: every call through each tree whose complaint it gives rise to.

Calls are drawn by number, so that the result hangs on the seed alone, not on how many processes share the work.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, partial
from pathlib import Path
from typing import Final

from assistant.call.headless import on_tree
from assistant.call.keys import Topic
from assistant.call.library import Library
from assistant.call.loading import load_library
from assistant.call.prompts import Acknowledge
from assistant.call.turns import Answered, Concluded, NothingWrong, Undecided
from assistant.call.walk import Conversation, walk
from assistant.errors import PhysicsError
from assistant.practice.outcomes.draw import cost_of, draw_site
from assistant.practice.outcomes.outcomes import SOUND, UNDECIDED, OutcomeWalk, families, family_of, is_slight, verdict
from assistant.practice.outcomes.sharing import share_out
from assistant.practice.outcomes.tech import Instrument, Tech, exact
from assistant.practice.visit.instruments import Kit, show_reading
from assistant.practice.visit.observing import Scene, scene_of, see
from assistant.practice.visit.site import Hidden, Site, guises
from assistant.quantity import fahrenheit
from assistant.simulator.plant import Mode
from assistant.simulator.system import System
from assistant.tree.model import CauseLeaf

MODES: Final[tuple[Mode, ...]] = ("cooling", "heating")
_F: Final = 5.0 / 9.0
_BEFORE = (Topic.COMPLAINT, Topic.TREE)


def _over_outdoor(scene: Scene) -> float:
    return scene.system.truth.condensing_temperature - scene.system.conditions.outdoor


def _cold(scene: Scene) -> bool:
    return scene.system.truth.evaporating_temperature < fahrenheit(32.0)


def _hot(scene: Scene) -> bool:
    return scene.system.readings["discharge_line_temperature"] > fahrenheit(220.0)


def _slack(scene: Scene) -> bool:
    return scene.system.readings["liquid_pressure"] < 2.3 * scene.system.readings["suction_pressure"]


def _feed_is_off(scene: Scene) -> bool:
    return scene.site.wish.device == "txv" and not 4.0 * _F <= scene.system.truth.evaporator_superheat <= 19.0 * _F


COMPLAINTS: Final[Mapping[str, Callable[[Scene], bool]]] = {
    "poor_cooling": lambda scene: True,
    "starved_coil": lambda scene: scene.system.truth.superheat > 20.0 * _F,
    "low_suction": _cold,
    "high_head": lambda scene: _over_outdoor(scene) > 25.0 * _F,
    "outdoor_coil": lambda scene: _over_outdoor(scene) > 25.0 * _F,
    "hot_discharge": _hot,
    "liquid_floodback": lambda scene: scene.system.truth.superheat < 3.0 * _F,
    "indoor_airflow": lambda scene: see("air_at_vents", scene) == "weak",
    "compressor_pumping": _slack,
    "valve_bench": _feed_is_off,
    "poor_heating": lambda scene: True,
}
"""The trees that simulated calls are walked through, each with whether a system gives rise to its complaint."""


@dataclass(frozen=True, slots=True)
class CallWalks:
    """The walks over one call; `stopped` counts its systems that would not run."""

    walks: tuple[OutcomeWalk, ...]
    stopped: int


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


def run(plan: Plan, processes: int = 1, cluster: str = "") -> Iterator[CallWalks]:
    """Yield the walks of every call, call by call.

    Raises:
        FileError: the trees cannot be used.
        UnknownNameError: there is no such tree.
    """
    library = library_of(plan.layers)
    for tree in plan.trees:
        library.tree(tree)
    pieces = [(plan, number) for number in range(plan.calls)]
    return share_out(_one, pieces, processes, cluster, partial(library_of, plan.layers))


def _one(work: tuple[Plan, int]) -> CallWalks:
    plan, number = work
    return walk_call(library_of(plan.layers), plan, number)


@cache
def library_of(layers: tuple[Path, ...]) -> Library:
    """Return the trees in some folders; what has mistakes is left out."""
    library, _ = load_library(list(layers), lazily=True)
    return library


def walk_call(library: Library, plan: Plan, number: int) -> CallWalks:
    """Return the walks of one call, drawn once for the trees of each mode."""
    walks: list[OutcomeWalk] = []
    stopped = 0
    for mode in MODES:
        trees = [tree for tree in plan.trees if mode_of(library, tree) == mode]
        site = draw_site(plan.seed, number, mode)
        try:
            walks.extend(_walks(library, plan, number, trees, site) if trees else ())
        except PhysicsError:
            stopped += 1
    return CallWalks(tuple(walks), stopped)


def mode_of(library: Library, tree: str) -> Mode:
    """Return the mode in which systems are drawn for a tree; one that is for both is tried in cooling.

    Raises:
        UnknownNameError: there is no such tree.
    """
    mode = library.tree(tree).mode
    return "heating" if mode is not None and mode.text == "heating" else "cooling"


def _walks(library: Library, plan: Plan, number: int, trees: Sequence[str], site: Site) -> Iterator[OutcomeWalk]:
    """Yield the walks over one site.

    Raises:
        PhysicsError: its system would not run.
    """
    scene = scene_of(site)
    fitting = [tree for tree in trees if tree not in COMPLAINTS or COMPLAINTS[tree](scene)]
    cost, instrument = cost_of(site) if fitting else 0.0, _instrument(plan, number, scene.system)
    for tree in fitting:
        for eyes in plan.eyes:
            yield _judge(library, number, tree, Tech(site, eyes, instrument), cost)


def _instrument(plan: Plan, number: int, system: System) -> Instrument:
    if not plan.noise:
        return exact
    kit, atmosphere = Kit(plan.seed * 1_000_003 + number), system.conditions.atmosphere
    return lambda name, value, look: show_reading(name, value, kit, look, atmosphere)


def _judge(library: Library, number: int, tree: str, tech: Tech, cost: float) -> OutcomeWalk:
    site = tech.site
    wish, hidden = site.wish, site.hidden[0] if site.hidden else None
    conversation = conversation_of(library, tree, tech)
    outcome = conversation.outcome
    ended = UNDECIDED if outcome is None else outcome.cause or outcome.kind
    truth = hidden.cause if hidden else SOUND
    nameable = {node.cause.text for node in library.tree(tree).nodes.values() if isinstance(node, CauseLeaf)}
    return OutcomeWalk(
        call=number,
        tree=tree,
        eyes=tech.eyes,
        truth=truth,
        severity=hidden.had.severity if hidden else 0.0,
        device=wish.device,
        refrigerant=wish.refrigerant,
        tons=wish.tons,
        outdoor=wish.outdoor,
        cost=cost,
        ended=ended,
        at=_end(conversation),
        verdict=verdict(truths_of(hidden), ended, nameable, slight=is_slight(truth, cost)),
        is_alike=ended in family_of(truth, families(library.catalogue.causes)),
        questions=questions(conversation),
    )


def truths_of(hidden: Hidden | None) -> frozenset[str]:
    """Return the names by which a hidden fault is rightly called.

    Besides the cause itself that is the effect on the circuit, where the catalogue has a name for it that is no other
    place's: too little indoor air, wherever it is lost.
    """
    if hidden is None:
        return frozenset()
    effect = hidden.had.fault.name
    is_another_place = any(one.cause == effect for one in guises(heat_pump=True))
    return frozenset({hidden.cause} if is_another_place else {hidden.cause, effect})


def conversation_of(library: Library, tree: str, tech: Tech) -> Conversation:
    """Return the whole conversation of a tech with a tree.

    Raises:
        UnknownNameError: there is no such tree.
    """
    return walk(library, on_tree(library, tree), fill=tech.answer)


def questions(conversation: Conversation) -> int:
    """Return what a tech answers up to the end, facts and steps included, cautions not."""
    count = 0
    for turn in conversation.turns:
        if isinstance(turn, Concluded | NothingWrong | Undecided):
            break
        if isinstance(turn, Answered) and not isinstance(turn.prompt, Acknowledge):
            count += turn.prompt.key.topic not in _BEFORE
    return count


def _end(conversation: Conversation) -> str:
    ends = (turn.node for turn in conversation.turns if isinstance(turn, Concluded | NothingWrong | Undecided))
    return next(ends, "")
