"""Two faults at once, where no single one fits: what they do to the readings is added up.

Adding up is right for slight faults only, so the model counts as further off there.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from assistant.opinion.fits import READINGS, Hypothesis, Prepared
from assistant.opinion.hypotheses import SOUND
from assistant.opinion.weighing import Predicted, WeighedReading, most_distance, weigh

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

_ADDED: Final = 1.5
"""How far off two faults added up are on top [K]; chosen."""
_KEPT: Final = 4


@dataclass(frozen=True, slots=True)
class FittingPair:
    """Two causes that fit together, their share among such pairs, the severity of the first, and what they read."""

    first: str
    second: str
    share: float
    severity: float
    predicted: Mapping[str, Predicted]


def pair_up(prepared: Prepared, taken: Sequence[WeighedReading]) -> list[FittingPair]:
    """Return pairs of causes that fit where no single one does, the likeliest first; none where no pair fits."""
    import numpy as np

    sound = prepared.fitted[0]
    single = [one for one in prepared.fitted if one.cause != SOUND]
    more = np.eye(len(READINGS)) * _ADDED**2
    together: list[tuple[Hypothesis, Hypothesis]] = []
    added: list[Hypothesis] = []
    for i, first in enumerate(single):
        for second in single[i + 1 :]:
            if second.cause == first.cause or second.heat_pump != first.heat_pump:
                continue
            values = first.values + second.values - sound.values
            # The wider of both: picked part by part, two of them would be the spread of nothing.
            wider = max(first.spread, second.spread, key=lambda spread: float(np.nansum(np.diag(spread))))
            added.append(replace(first, values=values, spread=wider + more))
            together.append((first, second))
    if not added:
        return []
    weighed = weigh(added, taken)
    if weighed.distances.min() > most_distance(len(weighed.used)):
        return []
    likely = np.exp(weighed.logs - weighed.logs.max()) * np.array([a.share * b.share for a, b in together])
    likely = likely / likely.sum()
    best: dict[tuple[str, str], tuple[float, int]] = {}
    for place, (first, second) in enumerate(together):
        key = (first.cause, second.cause)
        total, at = best.get(key, (0.0, place))
        best[key] = (total + float(likely[place]), place if likely[place] > likely[at] else at)
    found = []
    for names in sorted(best, key=lambda key: -best[key][0])[:_KEPT]:
        share, at = best[names]
        values, spread = added[at].values, np.sqrt(np.diag(added[at].spread))
        predicted: Mapping[str, Predicted] = {
            name: Predicted(float(values[i]), float(spread[i]))
            for i, name in enumerate(READINGS)
            if not math.isnan(values[i])
        }
        found.append(FittingPair(*names, share, together[at][0].severity, predicted))
    return found
