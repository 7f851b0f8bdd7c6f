"""The force balance of the valve as SVG: the power element at the left, the forces as bars at the right."""

from collections.abc import Iterator
from typing import Final

from assistant.pictures.balance import Force, Push, ValveBalance, balance_words
from assistant.pictures.drawing import CURVE, CYCLE, FAINT, INK, QUIET, arrow, box, line, path, svg, text

_WIDTH: Final = 680.0
_HEIGHT: Final = 250.0
_MIDDLE: Final = 130.0
_HALF: Final = 105.0
_FLAT: Final = 92.0
_BARS: Final = 280.0
_LONGEST: Final = 380.0
_FULL_ARROW: Final = 44.0


def balance_svg(balance: ValveBalance) -> str:
    """Return the balance as one `<svg>` element."""
    return svg(balance.title, balance_words(balance), _WIDTH, _HEIGHT, [*_element(balance), *_bars(balance)])


def _element(balance: ValveBalance) -> Iterator[str]:
    """Casing, diaphragm, pin and seat; the diaphragm bows the way it is pushed, arrows are as long as the pressures."""
    bow = {Push.OPEN: 14.0, Push.SHUT: -14.0}.get(balance.push, 0.0)
    left, right = _MIDDLE - _HALF, _MIDDLE + _HALF
    yield box(left, _FLAT - 26, 2 * _HALF, 52, fill="none", stroke=INK)
    bowed = [(left, _FLAT), (_MIDDLE - 45, _FLAT + bow), (_MIDDLE + 45, _FLAT + bow), (right, _FLAT)]
    yield path(bowed, stroke=CYCLE, width=3)
    yield line(_MIDDLE, _FLAT + bow, _MIDDLE, 196 + bow / 2, stroke=CYCLE, width=3)
    yield line(left, 200, _MIDDLE - 12, 200, stroke=CURVE, width=4)
    yield line(_MIDDLE + 12, 200, right, 200, stroke=CURVE, width=4)
    yield text(_MIDDLE, 14, "bulb: opens", anchor="middle")
    yield text(_MIDDLE - 60, 184, "equalizer: closes", anchor="middle")
    yield text(_MIDDLE + 60, 184, "spring: closes", anchor="middle")
    greatest = max((abs(force.pressure) for force in balance.forces if force.pressure is not None), default=0.0) or 1.0
    places = (
        (balance.bulb, (-50, 0, 50), 62.0),
        (balance.equalizer, (-80, -50), 124.0),
        (balance.spring, (50, 80), 124.0),
    )
    for force, offsets, near in places:
        for offset in offsets:
            yield _arrow(force, _MIDDLE + offset, near, greatest)
    words = {
        Push.OPEN: "pin: pushed open",
        Push.SHUT: "pin: pushed shut",
        Push.BALANCED: "pin: balanced",
        Push.UNKNOWN: "pin: push not known",
    }
    yield text(_MIDDLE, 226, words[balance.push], anchor="middle", bold=True)


def _arrow(force: Force, x: float, near: float, greatest: float) -> str:
    """Return the arrow of a force, its tip at the casing; a question mark where it is not known."""
    if force.pressure is None:
        return text(x, near + 4, "?", anchor="middle", bold=True)
    length = max(_FULL_ARROW * abs(force.pressure) / greatest, 8.0)
    far = near - length if force.opens else near + length
    return arrow(x, far, near) if force.pressure >= 0 else arrow(x, near, far)


def _bars(balance: ValveBalance) -> Iterator[str]:
    under = balance.equalizer.pressure
    springs = [force.pressure for force in (balance.spring, balance.target_spring) if force.pressure is not None]
    sums = [(under or 0.0) + max(spring, 0.0) for spring in springs]
    longest = max([balance.bulb.pressure or 0.0, under or 0.0, *sums]) or 1.0

    def length(pressure: float | None) -> float:
        return _LONGEST * max(pressure or 0.0, 0.0) / longest

    rows = (("OPENS", balance.bulb, None), ("CLOSES", balance.equalizer, balance.spring),
            ("FOR THE TARGET", balance.equalizer, balance.target_spring))  # fmt: skip
    for place, (word, first, second) in enumerate(rows):
        y = 26.0 + 74.0 * place
        yield text(_BARS, y, f"{word}: {_label(first)}", bold=not place)
        fill = CYCLE if first.opens else CURVE
        yield box(_BARS, y + 24, length(first.pressure), 18, fill=fill)
        if second is not None:
            yield text(_BARS, y + 17, f"and {_label(second)}")
            yield box(_BARS + length(first.pressure), y + 24, length(second.pressure), 18, fill=FAINT, stroke=QUIET)


def _label(force: Force) -> str:
    return f"{force.title} {force.shown}"
