"""Between which limits a worked number is in range, as far as a decision compares it with some."""

from collections.abc import Iterator

from assistant import doubt
from assistant.call.state import State
from assistant.frozen import dataclass
from assistant.tree.evaluation import total
from assistant.tree.meaning import alone
from assistant.tree.model import Step

LOW, IN_RANGE, HIGH = "low", "in range", "high"


@dataclass(frozen=True, slots=True)
class Band:
    """The limits [SI] on either side of what is in range; `None` where the decision names none."""

    low: float | None
    high: float | None

    def fitting(self, value: doubt.Uncertain) -> frozenset[str]:
        """What can be said of a value: more than one word where a limit is lacking, or lies within the doubt."""
        measured, spread = doubt.nominal(value), doubt.expanded(value)
        is_low = self.low is not None and measured < self.low
        is_high = self.high is not None and measured > self.high
        said = {LOW} if is_low else {HIGH} if is_high else {IN_RANGE}
        if self.low is not None and abs(measured - self.low) < spread:
            said |= {LOW, IN_RANGE}
        if self.high is not None and abs(measured - self.high) < spread:
            said |= {HIGH, IN_RANGE}
        if said == {IN_RANGE}:
            said |= ({LOW} if self.low is None else set()) | ({HIGH} if self.high is None else set())
        return frozenset(said)


def band_of(name: str, step: Step, state: State) -> Band | None:
    """The band of a number at a decision; `None` where it is compared with nothing, or with limits that cross."""
    found = list(_limits(name, step, state))
    lows = [limit for side, limit in found if side == LOW]
    highs = [limit for side, limit in found if side == HIGH]
    low, high = max(lows, default=None), min(highs, default=None)
    if not found or (low is not None and high is not None and low >= high):
        return None
    return Band(low, high)


def _limits(name: str, step: Step, state: State) -> Iterator[tuple[str, float]]:
    """Each limit that the number alone is compared with, and what it is beyond it."""
    for test in step.decision(state.catalogue).comparisons:
        beyond = (HIGH, LOW) if test.operator in (">", ">=") else (LOW, HIGH)
        for side, other, what in ((test.left, test.right, beyond[0]), (test.right, test.left, beyond[1])):
            if alone(side) == name:
                limit = total(other, state)
                if limit is not None:
                    yield what, doubt.nominal(limit)
                break
