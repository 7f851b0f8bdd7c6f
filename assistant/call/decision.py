"""Choosing a branch, and seeing when a measurement cannot really decide it."""

from collections.abc import Iterable, Mapping
from functools import cached_property

from assistant import doubt
from assistant.call.prompts import Leaning
from assistant.call.state import State
from assistant.call.telling import condition_words, node_words, unit_beside
from assistant.catalogue.catalogue import DERIVED_CHOICES
from assistant.frozen import dataclass
from assistant.pictures.scale import Scale, scale_of
from assistant.quantity import show, show_with_doubt
from assistant.tree.evaluation import Comparison, Evaluation, evaluate
from assistant.tree.meaning import names_of
from assistant.tree.model import Branch, CannotTell, Otherwise, Step, Tree, When
from assistant.worksheet.showing import Display

Flip = tuple[int, int]
"""One comparison of a decision: the branch's place, and the comparison's within its condition."""


@dataclass(frozen=True, slots=True)
class Wanting:
    """The decision needs something that has not been asked yet, the first thing a tech would take in front."""

    names: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Picked:
    """The branch that is taken, and the evaluations on the way to it by the branch's place."""

    branch: Branch
    index: int
    evaluations: tuple[tuple[int, Evaluation], ...]


@dataclass(frozen=True, slots=True)
class Kept:
    """A way that a close call did not take: the decision at `node` with `flips`, to come back to.

    `go` is the node to which it leads, `None` while that hangs on what was not asked.
    """

    node: str
    flips: frozenset[Flip]
    likelihood: float
    text: str
    go: str | None


def pick(
    step: Step, state: State, flips: frozenset[Flip] = frozenset(), skip_to_unknown: bool = False
) -> Picked | Wanting | None:
    """The branch of a step for what is known; `None` when no branch is left, which no checked tree allows.

    `skip_to_unknown` takes the "cannot tell" branch outright, as when an action could not be done.
    """
    evaluations: list[tuple[int, Evaluation]] = []
    decision = step.decision(state.catalogue)
    if skip_to_unknown and decision.unknown is not None:
        return Picked(step.branches[decision.unknown], decision.unknown, ())
    for index, (branch, meaning) in enumerate(zip(step.branches, decision.meanings, strict=True)):
        if isinstance(branch, Otherwise):
            return Picked(branch, index, tuple(evaluations))
        if meaning is None:
            continue
        found = evaluate(meaning, state, frozenset(place for at, place in flips if at == index))
        if found.truth is None:
            lacking = _lacking(found, state)
            if lacking:
                return Wanting(lacking)
            if decision.unknown is not None:
                return Picked(step.branches[decision.unknown], decision.unknown, tuple(evaluations))
        evaluations.append((index, found))
        if found.truth:
            return Picked(branch, index, tuple(evaluations))
    return None


def _lacking(found: Evaluation, state: State) -> tuple[str, ...]:
    """What could settle a condition and was not asked yet, in the order in which a tech takes it."""
    wanted: dict[str, None] = {}
    for need in found.open:
        if need.sort == "change":
            continue
        asked_as = "refrigerant" if need.name in DERIVED_CHOICES else need.name
        for name in state.sheet.lacking(asked_as):
            wanted[name] = None
    order = state.catalogue.taking_order
    return tuple(sorted(wanted, key=lambda name: order.get(name, len(order))))


def close_calls(
    step: Step, state: State, picked: Picked, flips: frozenset[Flip], display: Display, tree: Tree
) -> tuple[tuple[Leaning, Kept, Comparison], ...]:
    """The comparisons on the way to a branch that lie within their doubt and would lead elsewhere the other way."""
    found = []
    for index, evaluation in picked.evaluations:
        for comparison in evaluation.comparisons:
            flip = (index, comparison.test.index)
            if flip in flips or comparison.margin is None or not doubt.is_close(comparison.margin):
                continue
            other = pick(step, state, flips | {flip})
            if isinstance(other, Picked) and other.branch.go.text == picked.branch.go.text:
                continue
            way = node_words(tree, other.branch.go.text, state.catalogue) if isinstance(other, Picked) else None
            leaning = _leaning(comparison, way, display)
            text = f"{leaning.text}: {leaning.measured} against {leaning.limit}"
            kept = Kept(step.name, flips | {flip}, 1 - leaning.likelihood, text, way)
            found.append((leaning, kept, comparison))
    return tuple(found)


def _leaning(comparison: Comparison, other_way: str | None, display: Display) -> Leaning:
    assert comparison.margin is not None
    above = doubt.probability_positive(comparison.margin)
    measured, limit = sides(comparison, display)
    text, scale = condition_words(comparison.test, display), _scale(comparison, display)
    return Leaning(text, measured, limit, max(above, 1 - above), other_way, scale)


def _scale(found: Comparison, display: Display) -> Scale | None:
    """A comparison as a scale of doubt against limit; `None` where a side is not known or nothing is in doubt."""
    if found.left is None or found.right is None or found.margin is None or doubt.standard(found.margin) == 0:
        return None
    left, right = sides(found, display)
    text = condition_words(found.test, display)
    return scale_of(text, names_of(found.test.terms), (found.left, left), (found.right, right), found.margin)


def sides(comparison: Comparison, display: Display) -> tuple[str, str]:
    """Both sides of a comparison as a screen shows them."""
    unit = unit_beside(comparison.test, comparison.test.kind, display)

    def shown(value: doubt.Uncertain) -> str:
        if doubt.standard(value) == 0:
            return show(doubt.nominal(value), unit, display.atmosphere)
        return show_with_doubt(doubt.nominal(value), doubt.expanded(value), unit, display.atmosphere)

    assert comparison.left is not None
    assert comparison.right is not None
    return shown(comparison.left), shown(comparison.right)


@dataclass(frozen=True, eq=False)
class Grounds:
    """What a branch was taken on: it is put into words when a face asks, as many a decision is never shown.

    Two are equal where they say the same. `choices` are those that were made by then.
    """

    step: Step
    picked: Picked
    choices: Mapping[str, str]
    display: Display

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Grounds) and (self.reasons, self.scales) == (other.reasons, other.scales)

    def __hash__(self) -> int:
        return hash((self.reasons, self.scales))

    @cached_property
    def reasons(self) -> tuple[str, ...]:
        """Why the branch was taken, in words: the condition that held, or those that did not."""
        picked, lines = self.picked, []
        for index, evaluation in picked.evaluations:
            meaning = self.step.decision(self.display.catalogue).meanings[index]
            if meaning is None or (isinstance(picked.branch, When) and index != picked.index):
                continue
            words = condition_words(meaning.root, self.display, self.choices)
            values = values_of(evaluation.comparisons, self.display)
            lines.append(f"{words}? {'yes' if evaluation.truth else 'no'}{f' ({values})' if values else ''}")
        if isinstance(picked.branch, CannotTell):
            lines.append("it could not be told")
        return tuple(lines)

    @cached_property
    def scales(self) -> tuple[Scale, ...]:
        """Every comparison on the way to the branch in which there is doubt."""
        compared = (item for _, evaluation in self.picked.evaluations for item in evaluation.comparisons)
        found = (_scale(comparison, self.display) for comparison in compared)
        return tuple(scale for scale in found if scale is not None)


def values_of(comparisons: Iterable[Comparison], display: Display) -> str:
    """Both sides of each comparison that is known."""
    known = (item for item in comparisons if item.margin is not None)
    return "; ".join(" against ".join(sides(item, display)) for item in known)
