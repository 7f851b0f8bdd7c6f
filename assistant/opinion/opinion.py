"""The opinion: which causes the readings and what was seen fit, how well, and how much each weighs."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from assistant.catalogue.catalogue import Catalogue
from assistant.catalogue.entries import CauseSigns
from assistant.catalogue.keys import HOW_COMMON, HOW_OFTEN
from assistant.opinion.fits import READINGS, Prepared
from assistant.opinion.hypotheses import SOUND
from assistant.opinion.pairs import pair_up
from assistant.opinion.weighing import Predicted, Weighed, WeighedReading, most_distance, shares_of, weigh

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

COMMON_SOUND: Final = 5.0
"""How common a sound unit is against a cause that is there at times: people are rarely called to one; chosen."""
_MAYBE_PUMP: Final = 0.35
"""Share of the units of which nobody said whether they are heat pumps that are; chosen."""
_ODD: Final = 2.0
"""Spreads that a reading lies off what the others make expected before it is named; chosen."""
_PARTED: Final = 0.6
"""Share of what reads alike that one place must hold before it is named instead of what they share."""


@dataclass(frozen=True, slots=True)
class Suspected:
    """A cause with its probability (0 to 1), severity and its standard doubt, and what it makes of the readings.

    `beside` is a second cause that is there as well, where no single one fits; else it is empty.
    """

    cause: str
    probability: float
    severity: float
    severity_doubt: float
    predicted: Mapping[str, Predicted]
    beside: str = ""


@dataclass(frozen=True, slots=True)
class OddReading:
    """The reading that disagrees most with the others under the leading cause: `off_by` [K] and how many spreads."""

    name: str
    off_by: float
    spreads: float


@dataclass(frozen=True)
class Opinion:
    """All readings and observations weighed.

    `fits` tells whether any cause, or a sound unit, makes such readings likely at all. `causes` stand by probability;
    with `sound` they sum to 1. `healthy` is what a sound unit would read.
    """

    fits: bool
    sound: float
    causes: tuple[Suspected, ...]
    worst: OddReading | None
    healthy: Mapping[str, Predicted]
    taken: tuple[WeighedReading, ...]


@dataclass(frozen=True)
class Weights:
    """What stands behind an opinion: the probability of everything fitted, and of each member of what reads alike.

    `shares` [fitted]; `members` gives for each cause as fitted its causes of the catalogue with their share.
    """

    weighed: Weighed
    shares: "Floats"
    members: Mapping[str, Mapping[str, float]]


def weights_of(
    catalogue: Catalogue,
    prepared: Prepared,
    taken: Sequence[WeighedReading],
    seen: Mapping[str, str],
    told: "Floats | None" = None,
) -> Weights:
    """Weigh readings and observations; `told` [fitted] is the likelihood of what else is known."""
    import numpy as np

    weighed = weigh(prepared.fitted, taken)
    members = {cause: _members(catalogue, cause, seen) for cause in {one.cause for one in prepared.fitted}}
    common = {cause: sum(own.values()) for cause, own in members.items()}
    maybe = prepared.facts.heat_pump is None and prepared.facts.mode == "cooling"
    prior = shares_of(prepared.fitted, common)
    if maybe:
        prior = prior * np.array([_MAYBE_PUMP if one.heat_pump else 1.0 for one in prepared.fitted])
    logs = weighed.logs + np.log(np.maximum(prior, 1e-300))
    if told is not None:
        logs = logs + np.log(told)
    likely = np.exp(logs - logs.max())
    return Weights(weighed, likely / likely.sum(), members)


def form_opinion(prepared: Prepared, weights: Weights) -> Opinion:
    """Return the opinion that some weights come to."""
    import numpy as np

    weighed, shares = weights.weighed, weights.shares
    count = len(weighed.used)
    fits = bool(weighed.distances.min() <= most_distance(count)) if count else True
    by_cause: dict[str, list[int]] = {}
    for place, one in enumerate(prepared.fitted):
        by_cause.setdefault(one.cause, []).append(place)
    found: list[Suspected] = []
    for cause, places in by_cause.items():
        whole = float(shares[places].sum())
        if cause == SOUND:
            continue
        severity, doubt = _severity(prepared, weights, places)
        predicted = predict(prepared, weights, places)
        found.extend(
            Suspected(name, share * whole, severity, doubt, predicted)
            for name, share in _told_apart(cause, weights.members[cause]).items()
        )
    sound = float(shares[by_cause[SOUND]].sum())
    healthy = predict(prepared, weights, [0])
    if not fits:
        pairs = pair_up(prepared, weighed.used)
        if pairs:
            found = [Suspected(one.first, one.share, one.severity, 0.0, one.predicted, one.second) for one in pairs]
            sound = 0.0
    total = sound + sum(one.probability for one in found)
    causes = tuple(
        sorted(
            (
                Suspected(o.cause, o.probability / total, o.severity, o.severity_doubt, o.predicted, o.beside)
                for o in found
            ),
            key=lambda one: (-one.probability, one.cause),
        )
    )
    best = int(np.argmax(shares))
    return Opinion(fits, sound / total, causes, _odd(weighed, best), healthy, weighed.used)


def _odd(weighed: Weighed, best: int) -> OddReading | None:
    if not weighed.used:
        return None
    spreads = weighed.left_out[best] / weighed.left_out_spread[best]
    place = max(range(len(weighed.used)), key=lambda i: abs(spreads[i]))
    if abs(spreads[place]) < _ODD:
        return None
    return OddReading(weighed.used[place].name, float(weighed.left_out[best, place]), float(spreads[place]))


def _severity(prepared: Prepared, weights: Weights, places: Sequence[int]) -> tuple[float, float]:
    """Return mean and standard deviation of the severity of a cause, by the fault that is likeliest to be behind it."""
    shares = [float(weights.shares[place]) for place in places]
    faults: dict[str, float] = {}
    for place, share in zip(places, shares, strict=True):
        fault = prepared.fitted[place].fault
        faults[fault] = faults.get(fault, 0.0) + share
    likeliest = max(faults, key=lambda fault: faults[fault])
    inside = [(p, s) for p, s in zip(places, shares, strict=True) if prepared.fitted[p].fault == likeliest]
    total = sum(share for _, share in inside)
    at = [prepared.fitted[place].severity for place, _ in inside]
    mean = sum(share * one for (_, share), one in zip(inside, at, strict=True)) / total
    widths = [prepared.fitted[place].width for place, _ in inside]
    variance = sum(
        share * ((one - mean) ** 2 + width**2 / 12.0) for (_, share), one, width in zip(inside, at, widths, strict=True)
    )
    return mean, math.sqrt(variance / total)


def predict(prepared: Prepared, weights: Weights, places: Sequence[int]) -> dict[str, Predicted]:
    """Return what some of the fitted make of every reading: of one that was taken, from all others."""
    import numpy as np

    chosen = np.array(places)
    values, spreads = expected_readings(prepared, weights.weighed, places)
    shares = weights.shares[chosen]
    shares = shares / shares.sum() if shares.sum() > 0.0 else np.full(len(chosen), 1.0 / len(chosen))
    used = {one.name: place for place, one in enumerate(weights.weighed.used)}
    found = {}
    for place, name in enumerate(READINGS):
        mean, variance = values[:, place], spreads[:, place]
        if name in used:
            one = weights.weighed.used[used[name]]
            mean = one.value - weights.weighed.left_out[chosen, used[name]]
            variance = weights.weighed.left_out_spread[chosen, used[name]] ** 2 - one.doubt**2
        if np.isnan(mean).any():
            continue
        middle = float(shares @ mean)
        doubt = math.sqrt(max(float(shares @ (variance + (mean - middle) ** 2)), 0.0))
        found[name] = Predicted(middle, doubt)
    return found


def expected_readings(prepared: Prepared, weighed: Weighed, chosen: Sequence[int]) -> tuple["Floats", "Floats"]:
    """Return mean [K] and variance [K2] of every reading given those taken, without the error of its instrument.

    Both are [chosen, readings].
    """
    import numpy as np

    fitted = [prepared.fitted[place] for place in chosen]
    values = np.array([one.values for one in fitted])
    spread = np.array([one.spread for one in fitted])
    variance = np.einsum("kii->ki", spread)
    if not weighed.used:
        return values, variance
    places = [READINGS.index(one.name) for one in weighed.used]
    doubts = np.array([one.doubt for one in weighed.used])
    shown = np.array([one.value for one in weighed.used])
    own = spread[:, places][:, :, places] + np.diag(doubts**2)
    gain = np.linalg.solve(own, spread[:, places, :])
    means = values + np.einsum("kij,ki->kj", gain, shown - values[:, places])
    left = variance - np.einsum("kij,kij->kj", gain, spread[:, places, :])
    return means, np.maximum(left, 1e-6)


def chance_of(signs: Mapping[str, CauseSigns], cause: str, observation: str) -> Mapping[str, float] | None:
    """Return how likely each choice of an observation is with a cause; `None` where nothing is said of it."""
    own = signs[cause].shows.get(observation) if cause in signs else None
    usual = signs[SOUND].shows.get(observation) if SOUND in signs else None
    told = own or usual
    if told is None:
        return None
    named = {choice for sign in signs.values() for choice in sign.shows.get(observation, {})}
    weights = {choice: HOW_OFTEN[told.get(choice, "never")] for choice in sorted(named)}
    total = sum(weights.values())
    return {choice: weight / total for choice, weight in weights.items()}


def _members(catalogue: Catalogue, cause: str, seen: Mapping[str, str]) -> dict[str, float]:
    """Return the causes of the catalogue that read like one as fitted, each with how common it is and what was seen."""
    signs = catalogue.signs
    if cause == SOUND:
        return {SOUND: COMMON_SOUND * _likelihood(signs, SOUND, seen)}
    alike = [sign.name for sign in signs.values() if sign.reads_like == cause and sign.name != SOUND] or [cause]
    return {name: _common(signs, name) * _likelihood(signs, name, seen) for name in alike}


def _common(signs: Mapping[str, CauseSigns], cause: str) -> float:
    return HOW_COMMON[signs[cause].common] if cause in signs else 1.0


def _likelihood(signs: Mapping[str, CauseSigns], cause: str, seen: Mapping[str, str]) -> float:
    likely = 1.0
    for observation, choice in seen.items():
        chances = chance_of(signs, cause, observation)
        if chances is not None and choice in chances:
            likely *= chances[choice]
    return likely


def _told_apart(cause: str, members: Mapping[str, float]) -> dict[str, float]:
    """Return the members with their shares, or what they share where no place stands out and that has a name."""
    total = sum(members.values())
    shares = {name: weight / total for name, weight in members.items()}
    if cause in shares or max(shares.values()) >= _PARTED:
        return shares
    return {cause: 1.0}
