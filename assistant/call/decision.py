"""Choosing a branch, and seeing when a measurement cannot really decide it."""

import re
from collections.abc import Iterable
from dataclasses import dataclass

from assistant import doubt
from assistant.call.prompts import Leaning
from assistant.call.state import State
from assistant.catalogue.catalogue import DERIVED_CHOICES
from assistant.pictures.scale import Scale, scale_of
from assistant.quantity import show, show_with_doubt
from assistant.tree.condition import Comparison, Evaluation, evaluate
from assistant.tree.model import Branch, CannotTell, Otherwise, Step, When
from assistant.worksheet.showing import Display

_CHANGE = re.compile(r"\bchange\((\w+)\)", re.ASCII)
_QUANTITY = re.compile(r"(?<![.\w])[a-z]\w*", re.ASCII)
_IDENTIFIER = re.compile(r"limits\.(?P<limit>[a-z]\w*)|\b[a-z]\w*", re.ASCII)

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
    """A way that a close call did not take: the decision at `node` with `flips`, to come back to."""

    node: str
    flips: frozenset[Flip]
    likelihood: float
    text: str


def pick(
    step: Step, state: State, flips: frozenset[Flip] = frozenset(), skip_to_unknown: bool = False
) -> Picked | Wanting | None:
    """The branch of a step for what is known; `None` when no branch is left, which no checked tree allows.

    `skip_to_unknown` takes the "cannot tell" branch outright, as when an action could not be done.
    """
    evaluations: list[tuple[int, Evaluation]] = []
    unknown = next(((i, branch) for i, branch in enumerate(step.branches) if isinstance(branch, CannotTell)), None)
    if skip_to_unknown and unknown is not None:
        return Picked(unknown[1], unknown[0], ())
    for index, branch in enumerate(step.branches):
        if isinstance(branch, Otherwise):
            return Picked(branch, index, tuple(evaluations))
        if not isinstance(branch, When):
            continue
        flipped = frozenset(place for at, place in flips if at == index)
        found = evaluate(branch.condition, state.catalogue, state, flipped)
        if found.truth is None:
            lacking = _lacking(found, state)
            if lacking:
                return Wanting(lacking)
            if unknown is not None:
                return Picked(unknown[1], unknown[0], tuple(evaluations))
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
    step: Step, state: State, picked: Picked, flips: frozenset[Flip], display: Display
) -> tuple[tuple[Leaning, Kept, Comparison], ...]:
    """The comparisons on the way to a branch that lie within their doubt and would lead elsewhere the other way."""
    found = []
    for index, evaluation in picked.evaluations:
        for comparison in evaluation.comparisons:
            flip = (index, comparison.index)
            if flip in flips or comparison.margin is None or not doubt.is_close(comparison.margin):
                continue
            other = pick(step, state, flips | {flip})
            if isinstance(other, Picked) and other.branch.go.text == picked.branch.go.text:
                continue
            way = other.branch.go.text if isinstance(other, Picked) else None
            leaning = _leaning(comparison, way, display)
            text = f"{leaning.text}: {leaning.measured} against {leaning.limit}"
            kept = Kept(step.name, flips | {flip}, 1 - leaning.likelihood, text)
            found.append((leaning, kept, comparison))
    return tuple(found)


def _leaning(comparison: Comparison, other_way: str | None, display: Display) -> Leaning:
    assert comparison.margin is not None
    above = doubt.probability_positive(comparison.margin)
    measured, limit = sides(comparison, display)
    text, scale = worded(comparison.text, display), _scale(comparison, display)
    return Leaning(text, measured, limit, max(above, 1 - above), other_way, scale)


def scales_at(picked: Picked, display: Display) -> tuple[Scale, ...]:
    """Every comparison on the way to a branch in which there is doubt."""
    found = (
        _scale(comparison, display) for _, evaluation in picked.evaluations for comparison in evaluation.comparisons
    )
    return tuple(scale for scale in found if scale is not None)


def _scale(found: Comparison, display: Display) -> Scale | None:
    """A comparison as a scale of doubt against limit; `None` where a side is not known or nothing is in doubt."""
    if found.left is None or found.right is None or found.margin is None or doubt.standard(found.margin) == 0:
        return None
    left, right = sides(found, display)
    names = (name for name in _QUANTITY.findall(found.text) if display.catalogue.sort_of(name))
    text = worded(found.text, display)
    return scale_of(text, tuple(dict.fromkeys(names)), (found.left, left), (found.right, right), found.margin)


def sides(comparison: Comparison, display: Display) -> tuple[str, str]:
    """Both sides of a comparison as a screen shows them."""
    unit = display.catalogue.unit_in(comparison.text, comparison.kind, display.system)

    def shown(value: doubt.Uncertain) -> str:
        if doubt.standard(value) == 0:
            return show(doubt.nominal(value), unit, display.atmosphere)
        return show_with_doubt(doubt.nominal(value), doubt.expanded(value), unit, display.atmosphere)

    assert comparison.left is not None
    assert comparison.right is not None
    return shown(comparison.left), shown(comparison.right)


def reasons(step: Step, picked: Picked, state: State, display: Display) -> tuple[str, ...]:
    """Why a branch was taken, in words: the condition that held, or those that did not."""
    lines: list[str] = []
    for index, evaluation in picked.evaluations:
        branch = step.branches[index]
        if not isinstance(branch, When) or (isinstance(picked.branch, When) and branch is not picked.branch):
            continue
        verdict = "yes" if evaluation.truth else "no"
        values = values_of(evaluation.comparisons, display)
        lines.append(f"{worded(branch.condition.text, display)}? {verdict}{f' ({values})' if values else ''}")
    if isinstance(picked.branch, CannotTell):
        lines.append("it could not be told")
    return tuple(lines)


def worded(condition: str, display: Display) -> str:
    """A condition as an author wrote it, in the words of a screen: titles for names, values for limits."""
    catalogue = display.catalogue

    def word(found: re.Match[str]) -> str:
        limit = catalogue.limits.get(found["limit"] or "")
        if limit is not None:
            unit = catalogue.unit_in(condition, limit.quantity.kind, display.system)
            return show(limit.quantity.absolute(display.atmosphere), unit, display.atmosphere)
        name = found[0]
        return catalogue.title_of(name).lower() if catalogue.sort_of(name) else name.replace("_", " ")

    return _IDENTIFIER.sub(word, _CHANGE.sub(r"change of \1", " ".join(condition.split())))


def values_of(comparisons: Iterable[Comparison], display: Display) -> str:
    """Both sides of each comparison that is known."""
    known = (item for item in comparisons if item.margin is not None)
    return "; ".join(" against ".join(sides(item, display)) for item in known)
