"""Readings weighed against every cause: how likely each makes them, whatever the unit and the severity.

Each severity of each cause is a normal distribution of readings. An instrument may be far off once in a while, so the
evidence is that of a mixture: all readings good, or one of them bad, which then counts with a wide error. That is exact
but for two bad readings at once.

Source: Bayes' rule over a mixture of normal distributions; leaving one out of a normal distribution by the inverse of
its covariance, Rasmussen and Williams, Gaussian Processes for Machine Learning, 2006, section 5.4.2, from memory.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from assistant.opinion.fits import READINGS, Hypothesis

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

BAD_READING: Final = 0.03
"""Share of readings that are far off; that clamps sit badly as often is chosen for the practice kit too."""
_FITS: Final = 2.9
"""Standard deviations of a normal distribution beyond which nothing fits (2 in 1,000); chosen."""
FAR_OFF: Final = 8.0
"""How far off those are [K, standard deviation]; chosen."""


@dataclass(frozen=True)
class WeighedReading:
    """A reading as it is weighed [K], with its standard doubt [K]."""

    name: str
    value: float
    doubt: float


@dataclass(frozen=True, slots=True)
class Predicted:
    """What a cause makes of a reading: as it is weighed [K], with its standard doubt [K]."""

    value: float
    doubt: float


@dataclass(frozen=True)
class Weighed:
    """What some readings say of every severity of every cause.

    `logs` is the logarithm of the evidence of each of `Prepared.fitted`, `distances` the squared Mahalanobis distance,
    `left_out` [readings] how far each reading lies from what the others make expected [K] and the spread of that [K].
    """

    used: tuple[WeighedReading, ...]
    logs: "Floats"
    distances: "Floats"
    left_out: "Floats"
    left_out_spread: "Floats"


def most_distance(count: int) -> float:
    """Return the squared distance of so many readings beyond which nothing fits them.

    Source: Wilson and Hilferty 1931, from memory.
    """
    part = 2.0 / (9.0 * max(count, 1))
    return float(count * (1.0 - part + _FITS * math.sqrt(part)) ** 3)


def weigh(fitted: Sequence[Hypothesis], taken: Sequence[WeighedReading]) -> Weighed:
    """Weigh readings against everything that is fitted; a reading that a unit does not give is not used."""
    import numpy as np

    count = len(fitted)
    values = np.array([one.values for one in fitted])
    used = tuple(one for one in taken if not np.isnan(values[:, READINGS.index(one.name)]).any())
    places = [READINGS.index(one.name) for one in used]
    if not places:
        nothing = np.zeros((count, 0))
        return Weighed((), np.zeros(count), np.zeros(count), nothing, nothing)
    shown, doubts = np.array([one.value for one in used]), np.array([one.doubt for one in used])
    spread = np.array([one.spread[np.ix_(places, places)] for one in fitted]) + np.diag(doubts**2)
    off = shown - values[:, places]
    inverse = np.linalg.inv(spread)
    _, size = np.linalg.slogdet(spread)
    pulled = np.einsum("kij,kj->ki", inverse, off)
    distances = np.einsum("ki,ki->k", pulled, off)
    good = -0.5 * (distances + size + len(places) * math.log(2.0 * math.pi))
    alone = 1.0 / np.einsum("kii->ki", inverse)
    missed = pulled * alone
    # One reading bad: its own term is taken out of the evidence and put back with a wide error.
    swapped = good[:, None] - _log_normal(missed, alone) + _log_normal(missed, alone + FAR_OFF**2)
    terms = np.concatenate([good[:, None], swapped + math.log(BAD_READING / (1.0 - BAD_READING))], axis=1)
    return Weighed(used, _log_sum(terms), distances, missed, np.sqrt(alone))


def _log_normal(value: "Floats", variance: "Floats") -> "Floats":
    import numpy as np

    logs: Floats = -0.5 * (value**2 / variance + np.log(2.0 * math.pi * variance))
    return logs


def _log_sum(terms: "Floats") -> "Floats":
    """Return the logarithm of the sum over the last axis of what these are the logarithms of."""
    import numpy as np

    most = terms.max(axis=-1)
    total: Floats = most + np.log(np.exp(terms - most[..., None]).sum(axis=-1))
    return total


def shares_of(fitted: Sequence[Hypothesis], common: Mapping[str, float]) -> "Floats":
    """Return the prior of everything fitted, from how common each cause is; within a cause by its severities.

    Of "sound" half is a unit without a fault, the rest faults too slight to matter, all alike.
    """
    import numpy as np

    totals: dict[tuple[str, str], float] = {}
    for one in fitted:
        key = (one.cause, one.fault)
        totals[key] = totals.get(key, 0.0) + one.share
    faults: dict[str, set[str]] = {}
    for cause, fault in totals:
        faults.setdefault(cause, set()).add(fault)
    shares = []
    for one in fitted:
        own = one.share / totals[one.cause, one.fault] / len(faults[one.cause])
        shares.append(common.get(one.cause, 1.0) * own)
    told = np.array(shares)
    whole: Floats = told / told.sum()
    return whole
