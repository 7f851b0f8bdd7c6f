"""Where a tree and the second opinion part, over simulated calls: at which ends, and over which readings."""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from assistant.call.second_opinion import situation_in
from assistant.call.turns import Concluded, NothingWrong, Undecided
from assistant.errors import CoilsideError
from assistant.opinion.ahead import Ahead
from assistant.opinion.telling import most_against
from assistant.opinion.work import work_opinion
from assistant.practice.outcomes.draw import draw_site
from assistant.practice.outcomes.opinions import family_names
from assistant.practice.outcomes.outcomes import SOUND, UNDECIDED
from assistant.practice.outcomes.run import conversation_of, library_of, mode_of
from assistant.practice.outcomes.sharing import share_out
from assistant.practice.outcomes.tech import Tech
from assistant.practice.visit.instruments import Kit, show_reading


@dataclass(frozen=True, slots=True)
class PartingPlan:
    """Which tree to walk over how many `calls` of a `seed`, with all observations (`eyes`) or gauges alone."""

    tree: str
    calls: int
    seed: int
    layers: tuple[Path, ...]
    eyes: bool


@dataclass(frozen=True, slots=True)
class WeighedWalk:
    """One walk: where the tree ended (`node`, `ended`), what the opinion had in front, and how likely.

    `agrees` says that both are of one family; `tree_right` and `opinion_right` hold them against the truth. `against`
    is the reading that speaks most against the tree's end.
    """

    node: str
    ended: str
    leads: str
    share: float
    truth: str
    agrees: bool
    tree_right: bool
    opinion_right: bool
    against: str


def weigh_tree(plan: PartingPlan, processes: int = 1, cluster: str = "") -> Iterator[WeighedWalk | None]:
    """Yield each walk; `None` where the system would not run, or nothing could be weighed.

    Raises:
        InputError: no such cluster.
        UnknownNameError: there is no such tree.
    """
    library_of(plan.layers).tree(plan.tree)
    return share_out(_weigh_walk, [(plan, number) for number in range(plan.calls)], processes, cluster)


def _weigh_walk(piece: tuple[PartingPlan, int]) -> WeighedWalk | None:
    plan, number = piece
    library = library_of(plan.layers)
    site = draw_site(plan.seed, number, mode_of(library, plan.tree))
    try:
        kit = Kit(plan.seed * 1_000_003 + number)
        tech = Tech(site, plan.eyes, lambda name, value, look: show_reading(name, value, kit, look))
        conversation = conversation_of(library, plan.tree, tech)
        situation = situation_in(conversation)
        found, _ = work_opinion(library.catalogue, situation, Ahead().prepared_for(situation))
    except CoilsideError:
        return None
    outcome = conversation.outcome
    ended = UNDECIDED if outcome is None else outcome.cause or outcome.kind
    leads, share = SOUND, found.sound
    if found.causes and found.causes[0].probability > share:
        leads, share = found.causes[0].cause, found.causes[0].probability
    kinds = family_names(library.catalogue)
    truth = site.hidden[0].cause if site.hidden else SOUND
    end = SOUND if ended == "no_fault" else ended
    ends = (turn.node for turn in conversation.turns if isinstance(turn, Concluded | NothingWrong | Undecided))
    family, first, right = (kinds.get(name, name) for name in (end, leads, truth))
    return WeighedWalk(
        node=next(ends, ""),
        ended=ended,
        leads=leads,
        share=share,
        truth=truth,
        agrees=family == first,
        tree_right=family == right,
        opinion_right=first == right,
        against=most_against(found, end),
    )


def parting_table(walks: Iterable[WeighedWalk]) -> Iterator[str]:
    """Yield where both part, end by end, the one with most first: what the opinion had in front, and over what."""
    found = list(walks)
    together = [one for one in found if one.agrees]
    yield f"{len(found)} walks weighed: {len(together)} of one mind"
    yield _right_words(found)
    by_end: dict[tuple[str, str], list[WeighedWalk]] = {}
    for one in found:
        by_end.setdefault((one.node, one.ended), []).append(one)
    order = sorted(by_end, key=lambda end: (-sum(not one.agrees for one in by_end[end]), end))
    for node, ended in order:
        here = by_end[node, ended]
        apart = [one for one in here if not one.agrees]
        yield ""
        yield f"{node} ({ended}): {len(here)} walks, {len(apart)} of another mind"
        if apart:
            yield f"  {_right_words(apart)}"
            yield f"  the opinion has in front: {_commonest(apart, lambda one: one.leads)}"
            yield f"  the truth is: {_commonest(apart, lambda one: one.truth)}"
            told = [one for one in apart if one.against]
            if told:
                yield f"  most against the tree's end: {_commonest(told, lambda one: one.against)}"


def _right_words(walks: Sequence[WeighedWalk]) -> str:
    tree, opinion = sum(one.tree_right for one in walks), sum(one.opinion_right for one in walks)
    return f"the tree is right in {tree}, the opinion in {opinion} of {len(walks)}"


def _commonest(walks: Sequence[WeighedWalk], name: Callable[[WeighedWalk], str]) -> str:
    return ", ".join(f"{word} {times}" for word, times in Counter(map(name, walks)).most_common(4))
