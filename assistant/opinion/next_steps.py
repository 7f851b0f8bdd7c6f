"""What to do next: of everything not yet read, seen or tried, what parts the leading causes best for its minutes.

What a look is worth is the information that it is expected to give about the cause [bit]: how much less open the
question is after it, on average over what it may show.

Source: mutual information, Shannon 1948; experiments chosen by it, Lindley 1956, both from memory.
"""

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, Literal

from assistant.catalogue.catalogue import Catalogue
from assistant.catalogue.entries import Act, Taking
from assistant.catalogue.unit_state import FOUND, UnitState, plan
from assistant.opinion.fits import READINGS, Prepared
from assistant.opinion.opinion import Weights, chance_of, expected_readings
from assistant.opinion.weighing import Predicted
from assistant.quantity import PSI

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

StepKind = Literal["reading", "observation", "test"]
WARM: Final = "warm_bulb"
CHILL: Final = "chill_bulb"
OUTCOMES: Final = ("rises", "stays", "falls")
"""What the suction pressure does when the bulb is warmed or chilled."""
_TEST_TRUTH: Final = 0.92
"""Share of such tests that show what the valve does; chosen."""
_SEEN_MOVE: Final = 0.12
"""Share of a valve's travel from which its move shows on the gauge; chosen."""
_LEAST_MOVE: Final = 2.0 * PSI
"""Change of the suction pressure [Pa] that is none; chosen."""
_LEAST_BITS: Final = 0.02
_STEADY: Final = 6.0
"""Minutes that go with anything that is looked at: to get there and to write it down; chosen."""
_WITHIN: Final = 0.3
"""What it is worth to part causes that read alike to gauges, against causes that do not; chosen."""
_MOST: Final = 6
_GRID: Final = 81
_OWN: Final[Mapping[str, tuple[str, ...]]] = {
    "capillary": ("txv",),
    "valve_cold": ("txv",),
    "bulb_contact": ("txv",),
    "bulb_place": ("txv",),
    "equalizer_state": ("txv",),
    "equalizer_joint": ("txv",),
    "valve_capacity": ("txv",),
    "valve_refrigerant": ("txv",),
    "eev_sensor_contact": ("eev",),
    "orifice_found": ("fixed_orifice",),
}
"""Observations that only make sense at some metering devices."""
_AFTER: Final = frozenset({"identifier_result", "recovered_weight", "left_behind", "pump_down_result", "orifice_found"})
"""Observations that follow work on the circuit: no look that is proposed."""
_MODE: Final[Mapping[str, str]] = {
    "outdoor_unit": "cooling",
    "heating_outdoor_unit": "heating",
    "heating_chart": "heating",
}


@dataclass(frozen=True)
class NextStep:
    """One thing to do next: what it is, the information it gives [bit], its minutes and cautions.

    It parts two causes best; `would` tells of each what it would show: a reading [K], or a choice.
    """

    name: str
    kind: StepKind
    bits: float
    minutes: float
    cautions: tuple[str, ...]
    parts: tuple[str, str]
    would: Mapping[str, Predicted | str]


@dataclass(frozen=True)
class _Look:
    """What a look may show: of each cause the share with which each outcome comes."""

    name: str
    kind: StepKind
    chances: Mapping[str, "Floats"]
    would: Mapping[str, Predicted | str]
    taking: Taking


def next_steps(
    catalogue: Catalogue,
    prepared: Prepared,
    weights: Weights,
    done: frozenset[str],
    doubts: Mapping[str, float],
    state: UnitState = FOUND,
) -> tuple[NextStep, ...]:
    """Return what to do next, the best first; `doubts` [K] are those of each reading's instrument."""
    found: list[tuple[float, NextStep]] = []
    causes = cause_shares(prepared, weights)
    alike = {member: cause for cause, members in weights.members.items() for member in members}
    for look in (
        *_readings(catalogue, prepared, weights, done, doubts),
        *_observations(catalogue, prepared, weights, done),
        *_tests(catalogue, prepared, weights, done),
    ):
        bits = _information(causes, look.chances)
        if bits < _LEAST_BITS:
            continue
        minutes, cautions = cost_of_look(catalogue, look.taking, state)
        parts = _parted(causes, look.chances)
        would = {name: look.would[name] for name in parts}
        between = _information(*_joined(causes, look.chances, alike))
        worth = between + _WITHIN * max(bits - between, 0.0)
        found.append(
            (worth / (minutes + _STEADY), NextStep(look.name, look.kind, bits, minutes, cautions, parts, would))
        )
    found.sort(key=lambda pair: (-pair[0], pair[1].name))
    return tuple(step for _, step in found[:_MOST])


def _joined(
    causes: Mapping[str, float], chances: Mapping[str, "Floats"], alike: Mapping[str, str]
) -> tuple[dict[str, float], dict[str, "Floats"]]:
    """Return shares and chances with the causes that read alike taken together."""
    shares: dict[str, float] = {}
    mixed: dict[str, Floats] = {}
    for name, chance in chances.items():
        share, group = causes.get(name, 0.0), alike[name]
        shares[group] = shares.get(group, 0.0) + share
        mixed[group] = mixed[group] + share * chance if group in mixed else share * chance
    return shares, {group: mixed[group] / max(shares[group], 1e-300) for group in mixed}


def cause_shares(prepared: Prepared, weights: Weights) -> dict[str, float]:
    """Return the probability of every cause of the catalogue, and of a sound unit."""
    whole: dict[str, float] = {}
    for place, one in enumerate(prepared.fitted):
        whole[one.cause] = whole.get(one.cause, 0.0) + float(weights.shares[place])
    found = {}
    for cause, share in whole.items():
        members = weights.members[cause]
        total = sum(members.values())
        found.update({name: share * weight / total for name, weight in members.items()})
    return found


def _information(causes: Mapping[str, float], chances: Mapping[str, "Floats"]) -> float:
    """Return what a look tells about the cause [bit]."""
    import numpy as np

    names = [name for name in causes if name in chances]
    share = np.array([causes[name] for name in names])
    share = share / share.sum()
    table = np.array([chances[name] for name in names])
    mixed = share @ table
    with np.errstate(divide="ignore", invalid="ignore"):
        part = table * np.log2(table / mixed)
    return max(float(share @ np.nan_to_num(part).sum(axis=1)), 0.0)


def _parted(causes: Mapping[str, float], chances: Mapping[str, "Floats"]) -> tuple[str, str]:
    """Return the two causes that a look parts best, weighed by how likely both are; the likelier first."""
    import numpy as np

    names = sorted((name for name in causes if name in chances), key=lambda name: -causes[name])[:6]
    best, most = (names[0], names[-1]), -1.0
    for i, one in enumerate(names):
        for other in names[i + 1 :]:
            apart = 1.0 - float(np.minimum(chances[one], chances[other]).sum())
            worth = apart * causes[one] * causes[other]
            if worth > most:
                best, most = (one, other), worth
    return best


def _readings(
    catalogue: Catalogue, prepared: Prepared, weights: Weights, done: frozenset[str], doubts: Mapping[str, float]
) -> Iterator[_Look]:
    import numpy as np

    everything = range(len(prepared.fitted))
    means, variances = expected_readings(prepared, weights.weighed, everything)
    for place, name in enumerate(READINGS):
        mean = means[:, place]
        if name in done or name not in catalogue.readings or np.isnan(mean).any():
            continue
        doubt = doubts.get(name, 0.4)
        spread = np.sqrt(variances[:, place] + doubt**2)
        heavy = weights.shares > 1e-6
        low, high = (mean - 4.0 * spread)[heavy].min(), (mean + 4.0 * spread)[heavy].max()
        grid = np.linspace(low, high, _GRID)
        density = np.exp(-0.5 * ((grid[None, :] - mean[:, None]) / spread[:, None]) ** 2) / spread[:, None]
        density = density / np.maximum(density.sum(axis=1, keepdims=True), 1e-300)
        by_fitted = {}
        would: dict[str, Predicted | str] = {}
        for cause, places in _places(prepared).items():
            share = weights.shares[places]
            share = share / share.sum() if share.sum() > 0.0 else np.full(len(places), 1.0 / len(places))
            middle = float(share @ mean[places])
            wide = math.sqrt(float(share @ (variances[places, place] + (mean[places] - middle) ** 2)))
            for member in weights.members[cause]:
                by_fitted[member] = share @ density[places]
                would[member] = Predicted(middle, wide)
        yield _Look(name, "reading", by_fitted, would, catalogue.taking(name))


def _places(prepared: Prepared) -> dict[str, "list[int]"]:
    found: dict[str, list[int]] = {}
    for place, one in enumerate(prepared.fitted):
        found.setdefault(one.cause, []).append(place)
    return found


def _observations(catalogue: Catalogue, prepared: Prepared, weights: Weights, done: frozenset[str]) -> Iterator[_Look]:
    import numpy as np

    mode = prepared.facts.mode
    named = {name for sign in catalogue.signs.values() for name in sign.shows}
    for name in sorted(named - done - _AFTER):
        if prepared.device not in _OWN.get(name, (prepared.device,)) or _MODE.get(name, mode) != mode:
            continue
        chances: dict[str, Floats] = {}
        would: dict[str, Predicted | str] = {}
        for members in weights.members.values():
            for cause in members:
                told = chance_of(catalogue.signs, cause, name)
                if told is not None:
                    chances[cause] = np.array(list(told.values()))
                    would[cause] = max(told, key=lambda choice: told[choice])
        if len(chances) > 1:
            yield _Look(name, "observation", chances, would, catalogue.taking(name))


def _tests(catalogue: Catalogue, prepared: Prepared, weights: Weights, done: frozenset[str]) -> Iterator[_Look]:
    import numpy as np

    if prepared.device != "txv" or not {WARM, CHILL} <= catalogue.acts.keys():
        return
    for name in (WARM, CHILL):
        if name in done:
            continue
        table = outcome_chances(prepared, name)
        chances: dict[str, Floats] = {}
        would: dict[str, Predicted | str] = {}
        for cause, places in _places(prepared).items():
            share = weights.shares[places]
            share = share / share.sum() if share.sum() > 0.0 else np.full(len(places), 1.0 / len(places))
            mixed = share @ table[places]
            for member in weights.members[cause]:
                chances[member] = mixed
                would[member] = OUTCOMES[int(np.argmax(mixed))]
        yield _Look(name, "test", chances, would, _taking_of(catalogue.acts[name]))


def outcome_chances(prepared: Prepared, test: str) -> "Floats":
    """Return [fitted, outcomes] how likely a test of the bulb makes the suction rise, stay or fall.

    By sign and rough size alone: a valve that shuts has no steady state.
    """
    import numpy as np

    moves = [one.opens[0 if test == WARM else 1] for one in prepared.fitted]
    other = (1.0 - _TEST_TRUTH) / 2.0
    table = np.full((len(moves), 3), other)
    for place, move in enumerate(moves):
        table[place, 0 if move > _SEEN_MOVE else 2 if move < -_SEEN_MOVE else 1] = _TEST_TRUTH
    return table


def outcome_of(change: float, repeatability: float) -> int:
    """Return which outcome a change of the suction pressure [Pa] is, with what two looks differ by anyhow [Pa]."""
    most = max(3.0 * repeatability, _LEAST_MOVE)
    return 0 if change > most else 2 if change < -most else 1


def _taking_of(act: Act) -> Taking:
    return Taking(act.needs, act.who, act.minutes, act.cautions)


def cost_of_look(catalogue: Catalogue, taking: Taking, state: UnitState) -> tuple[float, tuple[str, ...]]:
    """Return the minutes of a look with the acts that its state of the unit asks for, and all their cautions."""
    acts = plan(state, taking.needs, catalogue.between) or ()
    minutes = taking.minutes + sum(catalogue.acts[name].minutes for name in acts)
    cautions = [caution for name in acts for caution in catalogue.acts[name].cautions]
    return minutes, tuple(dict.fromkeys([*cautions, *taking.cautions]))
