"""How often the opinion is right over simulated calls, and whether what it calls likely comes true as often.

A call's unit is not the usual one that the opinion is fitted with: its structure is drawn (`simulator.structure`: other
exponents, efficiency curves, splits, stroke of the valve), so is everything that is not known of a unit, and it is
solved as drawn, not made straight. Its weather is read with thermometers that err, and so is all else.

Source: reliability tables and the expected calibration error, Naeini, Cooper and Hauskrecht 2015, from memory;
intervals of shares, Wilson 1927.
"""

import math
import random
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from statistics import median
from typing import Any, Final

from assistant.call.library import Library
from assistant.catalogue.catalogue import Catalogue
from assistant.errors import CoilsideError
from assistant.opinion.fits import READINGS, Prepared, matters, prepare
from assistant.opinion.inputs import Situation, as_weighed
from assistant.opinion.next_steps import cost_of_look
from assistant.opinion.opinion import Opinion
from assistant.opinion.weighing import WeighedReading
from assistant.opinion.work import measured_state, work_opinion
from assistant.practice.outcomes.draw import draw_site
from assistant.practice.outcomes.outcomes import SOUND, families, family_of
from assistant.practice.outcomes.run import conversation_of, library_of
from assistant.practice.outcomes.sharing import share_out
from assistant.practice.outcomes.tech import Tech, exact
from assistant.practice.visit.instruments import Kit, show_reading
from assistant.practice.visit.observing import scene_of, see
from assistant.practice.visit.site import Site
from assistant.simulator.faults import with_faults
from assistant.simulator.plant import RATED_SUBCOOLING, Mode
from assistant.simulator.readings import readings, truth
from assistant.simulator.solve import solve
from assistant.simulator.structure import draw_structure
from assistant.simulator.units import Build, Facts, Weather, build_plant, conditions_of, moved, spreads, usual_build
from assistant.thermo.curves import saturation

MEASURED: Final = (
    "suction_pressure",
    "liquid_pressure",
    "suction_line_temperature",
    "liquid_line_temperature",
    "evaporator_outlet_temperature",
    "discharge_line_temperature",
    "supply_air_dry_bulb",
    "condenser_leaving_air_temperature",
)
"""What a tech with gauges and thermometers has read before an opinion is asked for."""
NAMED: Final = 0.6
"""From this probability on a cause counts as named."""
SURE: Final = 0.9
"""From this probability on nobody looks further."""
_MOST_LOOKS: Final = 8
_TREES: Final[Mapping[Mode, str]] = {"cooling": "poor_cooling", "heating": "poor_heating"}
"""The trees in whose order the looks are taken for comparison."""
_BINS: Final = 10
_AIR: Final = ("outdoor_air_temperature", "return_air_dry_bulb", "return_air_wet_bulb")


@dataclass(frozen=True, slots=True)
class OpinionPlan:
    """What to weigh: `calls` of a `seed` in some modes, with the catalogue of some folders."""

    calls: int
    seed: int
    modes: tuple[Mode, ...]
    layers: tuple[Path, ...]


@dataclass(frozen=True, slots=True)
class OpinionCase:
    """One simulated call and what was thought of it, by families of look-alikes.

    `truth` is the family of the fault, `SOUND` where there is none or a slight one. `shares` are the probabilities of
    all families on gauges and thermometers, `after` those after one look more, which is `look`. From there on, how many
    minutes it takes until a family has `SURE`: by what the opinion asks for, and in the order of the tree; infinite
    where nothing that can be looked at is enough, `None` where it has that from the start.
    """

    call: int
    mode: str
    cause: str
    truth: str
    slight: bool
    shares: Mapping[str, float]
    look: str
    after: Mapping[str, float]
    by_cause: Mapping[str, float]
    minutes: float | None = None
    tree_minutes: float | None = None


def weigh_calls(plan: OpinionPlan, processes: int = 1, cluster: str = "") -> Iterator[OpinionCase | None]:
    """Yield what was thought of each call; `None` for one that would not run.

    Raises:
        InputError: no such cluster.
    """
    pieces = [(plan, number, mode) for number in range(plan.calls) for mode in plan.modes]
    return share_out(_weigh_call, pieces, processes, cluster)


def _weigh_call(piece: tuple[OpinionPlan, int, Mode]) -> OpinionCase | None:
    plan, number, mode = piece
    try:
        library = library_of(plan.layers)
        return _judge(library, draw_case(library.catalogue, plan.seed, number, mode), number)
    except CoilsideError:
        return None


@dataclass(frozen=True)
class DrawnCase:
    """A drawn call: its site, facts and weather as read, every reading as shown, whether the fault matters."""

    site: Site
    facts: Facts
    weather: Weather
    shown: Mapping[str, WeighedReading]
    matters: bool


def draw_case(catalogue: Catalogue, seed: int, number: int, mode: Mode) -> DrawnCase:
    """Return the call of a number, with a unit that is drawn.

    Raises:
        PhysicsError: it would not run.
    """
    site = draw_site(seed, number, mode)
    wish, pump = site.wish, site.wish.is_heat_pump
    told = RATED_SUBCOOLING if wish.device == "txv" else None
    facts = Facts(wish.refrigerant, wish.device, mode, wish.altitude, told, None, "thirteen_to_fifteen", pump or None)
    true = Weather(wish.outdoor, wish.return_dry_bulb, wish.return_wet_bulb, 0.0, 0.0, 0.0)
    build = _draw_build(facts, true, random.Random(f"opinion {seed} {number} {mode}"))
    structure = draw_structure(seed * 1_000_003 + number)
    plant, conditions = build_plant(facts, build, pump, structure), conditions_of(facts, true, build)
    faulty = with_faults(plant, tuple(one.had for one in site.hidden))
    found = solve(faulty, conditions)
    exact = readings(faulty, conditions, found)
    kit = Kit(seed * 1_000_003 + number)
    shown = {
        name: show_reading(name, exact[name], kit, 1, conditions.atmosphere)
        for name in (*READINGS, *_AIR)
        if name in exact
    }
    doubts = {
        name: catalogue.readings[name].accuracy.of(value, catalogue.readings[name].kind) / math.sqrt(3.0)
        for name, value in shown.items()
    }
    outdoor, dry, wet = (shown[name] for name in _AIR)
    weather = Weather(outdoor, dry, min(wet, dry), *(doubts[name] for name in _AIR))
    curves = saturation(wish.refrigerant)
    taken: dict[str, WeighedReading] = {}
    for name in READINGS:
        if name in shown:
            value = as_weighed(name, shown[name], curves)
            doubt = as_weighed(name, shown[name] + doubts[name], curves) - value
            taken[name] = WeighedReading(name, value, doubt)
    is_faulty = bool(site.hidden) and matters(truth(faulty, found), truth(plant, solve(plant, conditions)))
    return DrawnCase(site, facts, weather, taken, is_faulty)


def _draw_build(facts: Facts, weather: Weather, chance: random.Random) -> Build:
    """Return a unit drawn by the spreads of everything that is not known of one."""
    build = usual_build(facts)
    for name, spread in spreads(facts, weather).items():
        build = moved(build, name, chance.gauss(0.0, spread))
    return build


def _judge(library: Library, case: DrawnCase, number: int) -> OpinionCase:
    catalogue = library.catalogue
    tech = Tech(case.site, True, exact)
    order = tuple(dict.fromkeys(conversation_of(library, _TREES[case.facts.mode], tech).asked))
    kinds = family_names(catalogue)
    device = case.site.wish.device
    prepared = prepare(case.facts, case.weather, device)
    taken = tuple(case.shown[name] for name in MEASURED if name in case.shown)
    situation = Situation(case.facts, case.weather, device, taken, {})
    found, steps = work_opinion(catalogue, situation, prepared)
    look, after = "", found
    for step in steps:
        more = _look(case, step.name, situation)
        if more is not None:
            look, after = step.name, work_opinion(catalogue, more, prepared)[0]
            break
    minutes: float | None = None
    tree_minutes: float | None = None
    if max(_by_family(found, kinds).values()) < SURE:
        judge = _Judge(catalogue, prepared, kinds, case)
        minutes, tree_minutes = judge.by_steps(situation), judge.by_order(situation, order)
    hidden = case.site.hidden[0].cause if case.site.hidden else SOUND
    slight = hidden != SOUND and not case.matters
    return OpinionCase(
        number,
        case.facts.mode,
        hidden,
        SOUND if slight or hidden == SOUND else kinds.get(hidden, hidden),
        slight,
        _by_family(found, kinds),
        look,
        _by_family(after, kinds),
        {SOUND: found.sound, **{one.cause: one.probability for one in found.causes}},
        minutes,
        tree_minutes,
    )


@dataclass(frozen=True)
class _Judge:
    """Looks further at a call until one family is sure, and counts the minutes."""

    catalogue: Catalogue
    prepared: Prepared
    kinds: Mapping[str, str]
    case: DrawnCase

    def by_steps(self, situation: Situation) -> float:
        """Return the minutes when each look is the best that the opinion names."""
        spent = 0.0
        for _ in range(_MOST_LOOKS):
            found, steps = work_opinion(self.catalogue, situation, self.prepared)
            if self._is_sure(found):
                return spent
            looks = ((step, _look(self.case, step.name, situation)) for step in steps)
            step, more = next(((step, more) for step, more in looks if more is not None), (None, None))
            if step is None or more is None:
                return math.inf
            spent, situation = spent + step.minutes, more
        return spent if self._is_sure(work_opinion(self.catalogue, situation, self.prepared)[0]) else math.inf

    def by_order(self, situation: Situation, order: Sequence[str]) -> float:
        """Return the minutes when looks are taken in an order."""
        spent = 0.0
        for name in order:
            done = {one.name for one in situation.taken} | set(situation.seen)
            more = None if name in done else _look(self.case, name, situation)
            if more is None:
                continue
            spent += cost_of_look(self.catalogue, self.catalogue.taking(name), measured_state(situation))[0]
            situation = more
            if self._is_sure(work_opinion(self.catalogue, situation, self.prepared)[0]):
                return spent
        return math.inf

    def _is_sure(self, found: Opinion) -> bool:
        return max(_by_family(found, self.kinds).values()) >= SURE


def _look(case: DrawnCase, name: str, situation: Situation) -> Situation | None:
    """Return the situation after one look more; `None` where it cannot be taken there."""
    if name in case.shown:
        return replace(situation, taken=(*situation.taken, case.shown[name]))
    choice = see(name, scene_of(case.site))
    return None if choice is None else replace(situation, seen={**situation.seen, name: choice})


def family_names(catalogue: Catalogue) -> dict[str, str]:
    """Return for each cause the name of its family: look-alikes by the catalogue, and what reads alike to gauges."""
    alike = families(catalogue.causes)
    names = {cause: min(family_of(cause, alike)) for cause in catalogue.causes}
    for sign in catalogue.signs.values():
        if sign.name != SOUND and sign.reads_like != sign.name:
            one, other = names[sign.name], names[sign.reads_like]
            names = {cause: one if name == other else name for cause, name in names.items()}
    return names


def _by_family(found: Opinion, kinds: Mapping[str, str]) -> dict[str, float]:
    shares = {SOUND: found.sound}
    for one in found.causes:
        kind = kinds.get(one.cause, one.cause)
        shares[kind] = shares.get(kind, 0.0) + one.probability
    return shares


@dataclass(frozen=True, slots=True)
class Share:
    """How many of how many, with the bounds of its 95 % interval."""

    of: int
    times: int

    @property
    def bounds(self) -> tuple[float, float]:
        """The Wilson interval of the share."""
        if not self.of:
            return 0.0, 1.0
        z, share = 1.96, self.times / self.of
        middle = (share + z * z / (2 * self.of)) / (1 + z * z / self.of)
        half = z * math.sqrt(share * (1 - share) / self.of + z * z / (4 * self.of**2)) / (1 + z * z / self.of)
        return middle - half, middle + half

    @property
    def words(self) -> str:
        """The share in 100, with its interval."""
        low, high = self.bounds
        return f"{100 * self.times / max(self.of, 1):5.1f} in 100  ({100 * low:.1f} to {100 * high:.1f}; {self.of})"


@dataclass(frozen=True, slots=True)
class Reliability:
    """Of what was called as likely as this (the mean), the share that was so."""

    called: float
    came_true: Share


def reliability(cases: Sequence[OpinionCase]) -> tuple[tuple[Reliability, ...], float]:
    """Return how often what was called likely was so, in tenths, with the expected calibration error.

    Counted are the likeliest family of each call and every other that has a tenth or more.
    """
    bins: dict[int, list[tuple[float, bool]]] = {}
    for case in cases:
        for kind, share in case.shares.items():
            if share >= 0.1:
                bins.setdefault(min(int(share * _BINS), _BINS - 1), []).append((share, kind == case.truth))
    table = []
    missed, whole = 0.0, sum(map(len, bins.values()))
    for _, counted in sorted(bins.items()):
        called = sum(share for share, _ in counted) / len(counted)
        right = sum(was_so for _, was_so in counted)
        table.append(Reliability(called, Share(len(counted), right)))
        missed += abs(called - right / len(counted)) * len(counted)
    return tuple(table), missed / max(whole, 1)


def summary(cases: Sequence[OpinionCase]) -> dict[str, Share]:
    """Return how often the opinion was right, by what was asked of it; slight faults are left out of the first ones."""
    clear = [case for case in cases if not case.slight]
    sound = [case for case in cases if case.cause == SOUND]
    named = [case for case in cases if max(case.shares.values()) >= NAMED]
    ninety = [case for case in cases if 0.85 <= max(case.shares.values()) < 0.95]
    return {
        "likeliest family right": _count(clear, lambda case: _rank(case.shares, case.truth) == 0),
        "among the first two": _count(clear, lambda case: _rank(case.shares, case.truth) <= 1),
        "after one look, likeliest": _count(clear, lambda case: _rank(case.after, case.truth) == 0),
        "after one look, first two": _count(clear, lambda case: _rank(case.after, case.truth) <= 1),
        "named at 0.6 or more, wrong": _count(named, lambda case: _rank(case.shares, case.truth) != 0),
        "sound called faulty above 0.5": _count(
            sound, lambda case: max((s for k, s in case.by_cause.items() if k != SOUND), default=0.0) > 0.5
        ),
        "called 85 to 95 in 100, right": _count(ninety, lambda case: _rank(case.shares, case.truth) == 0),
    }


def _count(cases: Sequence[OpinionCase], holds: Callable[[OpinionCase], bool]) -> Share:
    return Share(len(cases), sum(map(holds, cases)))


def _rank(shares: Mapping[str, float], kind: str) -> int:
    """Return how many families were thought likelier than one."""
    own = shares.get(kind, -1.0)
    return sum(share > own for share in shares.values())


def opinion_table(cases: Sequence[OpinionCase]) -> Iterator[str]:
    """Yield the summary, the reliability and what was taken for what, as text."""
    yield f"{'opinion on gauges and thermometers':<36} share     (95 % interval; of)"
    for label, share in summary(cases).items():
        yield f"  {label:<34}{share.words}"
    table, error = reliability(cases)
    yield ""
    yield "called as likely as      was so"
    for row in table:
        yield f"  {100 * row.called:5.1f} in 100        {row.came_true.words}"
    yield f"  expected calibration error {error:.3f}"
    yield from _minutes_lines(cases)
    wrong: dict[tuple[str, str], int] = {}
    for case in cases:
        if not case.slight and _rank(case.shares, case.truth) != 0:
            took = max(case.by_cause, key=lambda cause: case.by_cause[cause])
            wrong[case.cause, took] = wrong.get((case.cause, took), 0) + 1
    yield ""
    yield "taken for something else"
    for (cause, took), times in sorted(wrong.items(), key=lambda item: (-item[1], item[0]))[:20]:
        yield f"  {cause:<30} as {took:<30} {times}"


def _minutes_lines(cases: Sequence[OpinionCase]) -> Iterator[str]:
    """Yield how many minutes more it takes to be sure, from the calls that were not."""
    pairs = [
        (one.minutes, one.tree_minutes) for one in cases if one.minutes is not None and one.tree_minutes is not None
    ]
    if not pairs:
        return
    both = [pair for pair in pairs if all(map(math.isfinite, pair))]
    yield ""
    yield f"minutes more until {SURE:.0%} sure, from the {len(pairs)} that were not"
    for words, place in (("by what the opinion asks for", 0), ("in the order of the tree", 1)):
        reached = [pair[place] for pair in pairs if math.isfinite(pair[place])]
        alone = f"median {median(reached):.0f}" if reached else "no median"
        beside = f", {median(pair[place] for pair in both):.0f} of the {len(both)} that both reach" if both else ""
        yield f"  {words:<30}reached in {len(reached)}, {alone}{beside}"


def opinion_values(cases: Iterable[OpinionCase]) -> dict[str, Any]:
    """Return the same for another program."""
    found = list(cases)
    table, error = reliability(found)
    return {
        "calls": len(found),
        "summary": {label: {"of": one.of, "times": one.times} for label, one in summary(found).items()},
        "reliability": [
            {"called": round(row.called, 4), "of": row.came_true.of, "was_so": row.came_true.times} for row in table
        ],
        "calibration_error": round(error, 4),
    }
