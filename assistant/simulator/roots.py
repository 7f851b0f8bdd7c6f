"""The one search for the root of a rising function of one unknown, from a guess on."""

from collections.abc import Callable

_ROUNDS = 60
_BEYOND = 1.2
_FARTHEST = 0.05


def find_root(
    function: Callable[[float], float], guess: float, slope: float, bounds: tuple[float, float], close: float
) -> float | None:
    """Return where a rising function is within `close` of zero; `None` where it has no root between the bounds.

    Search from the guess on, as far away as a `slope` like the function's least leads, or in growing steps farther;
    then narrow down by the Illinois rule. So a function that cannot be worked far away is not asked there.
    """
    bottom, top = bounds
    low = high = min(max(guess, bottom), top)
    at_low = at_high = function(low)
    step = min(_BEYOND * abs(at_low) / slope, _FARTHEST * (top - bottom)) + 1e-12 * abs(low)
    while at_low > 0.0:
        if low <= bottom:
            return None
        high, at_high = low, at_low
        low, step = max(low - step, bottom), step * 3.0
        at_low = function(low)
    while at_high < 0.0:
        if high >= top:
            return None
        low, at_low = high, at_high
        high, step = min(high + step, top), step * 3.0
        at_high = function(high)
    return _narrow(function, (low, at_low), (high, at_high), close)


def _narrow(
    function: Callable[[float], float], below: tuple[float, float], above: tuple[float, float], close: float
) -> float:
    (low, at_low), (high, at_high) = below, above
    side = 0
    middle = low if abs(at_low) < abs(at_high) else high
    if min(abs(at_low), abs(at_high)) < close:
        return middle
    for _ in range(_ROUNDS):
        middle = (low * at_high - high * at_low) / (at_high - at_low)
        found = function(middle)
        if abs(found) < close or not low < middle < high:
            break
        if found < 0.0:
            low, at_low = middle, found
            at_high, side = (at_high / 2.0, -1) if side == -1 else (at_high, -1)
        else:
            high, at_high = middle, found
            at_low, side = (at_low / 2.0, 1) if side == 1 else (at_low, 1)
    return middle
