"""Doubt against limit: both sides of a comparison that a decision made, each with the interval that its doubt spans."""

import math
from typing import Final

from assistant import doubt
from assistant.doubt import Uncertain
from assistant.frozen import dataclass

TITLE: Final = "Doubt against limit, the closest first"


@dataclass(frozen=True, slots=True)
class Side:
    """One side: value and expanded uncertainty in SI, and both in words."""

    value: float
    spread: float
    shown: str

    @property
    def ends(self) -> tuple[float, float]:
        """Where its interval begins and ends."""
        return self.value - self.spread, self.value + self.spread


@dataclass(frozen=True, slots=True)
class Scale:
    """A comparison: `measured` against `limit`, and what the difference of the two really tells.

    `text` is the comparison in words, `names` are the readings and numbers in it. `margin` is measured less limit, its
    doubt `margin_spread` [SI]; `likelihood_above` (0 to 1) is how likely the measured side truly lies above.
    """

    text: str
    names: tuple[str, ...]
    measured: Side
    limit: Side
    margin: float
    margin_spread: float
    likelihood_above: float

    @property
    def is_sure(self) -> bool:
        """Whether the margin exceeds its own doubt."""
        return abs(self.margin) >= self.margin_spread

    @property
    def sureness(self) -> float:
        """How many times its own doubt the margin is: below 1 the measurement cannot decide."""
        return abs(self.margin) / self.margin_spread if self.margin_spread else math.inf

    @property
    def is_above(self) -> bool:
        """Whether the measured side reads above the limit."""
        return self.measured.value > self.limit.value

    @property
    def verdict(self) -> str:
        """What the measurement decides, in words."""
        if self.measured.value == self.limit.value and self.is_sure:
            return "exactly at the limit"
        side = "above" if self.is_above else "below"
        if self.is_sure:
            return f"surely {side}"
        likely = max(self.likelihood_above, 1 - self.likelihood_above)
        return f"close: reads {side}, {likely:.0%} likely so"

    @property
    def span(self) -> tuple[float, float]:
        """What the scale has to show: both intervals and some room around them."""
        ends = (*self.measured.ends, *self.limit.ends)
        low, high = min(ends), max(ends)
        room = 0.15 * (high - low) or abs(high) or 1.0
        return low - room, high + room


def scale_of(
    text: str, names: tuple[str, ...], left: tuple[Uncertain, str], right: tuple[Uncertain, str], margin: Uncertain
) -> Scale:
    """Return the scale of a comparison, from both its sides with their words and from `margin`, left less right [SI].

    The side without doubt is taken as the limit, else the right one. The margin brings what the sides share: where
    both come from one thermometer, their difference is surer than their intervals look.
    """
    sides = [Side(doubt.nominal(value), doubt.expanded(value), shown) for value, shown in (left, right)]
    if not sides[0].spread and sides[1].spread:
        sides.reverse()
        margin = -margin
    spread = doubt.expanded(margin)
    return Scale(text, names, sides[0], sides[1], doubt.nominal(margin), spread, doubt.probability_positive(margin))


@dataclass(frozen=True, slots=True)
class Scales:
    """Every comparison that the decisions of a call came to, the closest first."""

    title: str
    scales: tuple[Scale, ...]


def scales_of(scales: tuple[Scale, ...]) -> Scales:
    """Return the comparisons of a call, each once, the closest first."""
    return Scales(TITLE, tuple(sorted(dict.fromkeys(scales), key=lambda scale: scale.sureness)))


def scale_words(scale: Scale) -> str:
    """Return a scale in words."""
    return f"{scale.text}? {scale.measured.shown} against {scale.limit.shown}: {scale.verdict}."


def scales_words(shown: Scales) -> tuple[str, ...]:
    """Return all scales in words."""
    if not shown.scales:
        return ("No decision has compared a number with a limit yet.",)
    return tuple(scale_words(scale) for scale in shown.scales)
