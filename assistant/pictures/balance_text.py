"""The force balance of the valve in characters: the power element at the left, the forces as bars beside or below."""

from collections.abc import Iterator
from textwrap import wrap
from typing import Final

from assistant.pictures.balance import Force, Push, ValveBalance
from assistant.pictures.cells import Canvas, CellSpan, Role, Row, Signs, row

_ELEMENT: Final = 31
"""Cells across the drawn valve."""
_HEIGHT: Final = 12
_BESIDE: Final = 74
"""From this width on, the bars stand at the right [cells]."""
_MOST_BAR: Final = 60
_ARROWS: Final = 9
"""Arrows that the greatest force has."""

_ON_THE_PIN: Final = {
    Push.OPEN: "pushed open",
    Push.BALANCED: "balanced",
    Push.SHUT: "pushed shut",
    Push.UNKNOWN: "push not known",
}


def balance_rows(balance: ValveBalance, width: int, height: int, signs: Signs) -> tuple[Row, ...]:
    """Return the balance for a width [cells]; it takes the rows that it needs, whatever the height."""
    element = _element(balance, signs)
    if width >= _BESIDE:
        bars = list(_bars(balance, width - _ELEMENT - 3, signs))
        count = max(len(element), len(bars))
        left = [*element, *[row(" " * _ELEMENT)] * (count - len(element))]
        right = [*bars, *[row("")] * (count - len(bars))]
        drawn = [(*one, CellSpan("   "), *other) for one, other in zip(left, right, strict=True)]
    else:
        drawn = [*element, row(""), *_bars(balance, width, signs)]
    return (*drawn, row(""), *_said_rows(balance, width))


def _said_rows(balance: ValveBalance, width: int) -> Iterator[Row]:
    yield from (row(line, Role.MARK) for line in wrap(balance.verdict, width))
    for note in balance.notes:
        yield from (row(line, Role.QUIET) for line in wrap(note, width, subsequent_indent="  "))


def _element(balance: ValveBalance, signs: Signs) -> list[Row]:
    """Casing, diaphragm, pin and seat; the diaphragm bows the way it is pushed, arrows go by the pressures."""
    canvas = Canvas(_ELEMENT, _HEIGHT, signs)
    middle = _ELEMENT // 2
    canvas.put(middle - 6, 0, "bulb: opens")
    _arrows(canvas, balance, balance.bulb, middle, 1, spread=3)
    corners = "┌┐└┘" if signs.dots else "++++"
    canvas.put(0, 2, corners[0] + signs.track * (_ELEMENT - 2) + corners[1], Role.QUIET)
    canvas.put(0, 6, corners[2] + signs.track * (_ELEMENT - 2) + corners[3], Role.QUIET)
    for y in (3, 4, 5):
        canvas.put(0, y, signs.side, Role.QUIET)
        canvas.put(_ELEMENT - 1, y, signs.side, Role.QUIET)
    _diaphragm(canvas, balance.push, middle)
    for y in (6, 7, 8, 9):
        canvas.put(middle, y, signs.upright, Role.CYCLE)
    _arrows(canvas, balance, balance.equalizer, middle // 2, 7, spread=1)
    _arrows(canvas, balance, balance.spring, middle + middle // 2 + 1, 7, spread=1)
    for x, name in ((2, "equalizer:"), (middle + 4, "spring:")):
        canvas.put(x, 8, name)
        canvas.put(x, 9, "closes")
    canvas.put(0, 10, signs.level * (middle - 2), Role.CURVE)
    canvas.put(middle + 3, 10, signs.level * (_ELEMENT - middle - 3), Role.CURVE)
    tip = {Push.OPEN: signs.down, Push.SHUT: signs.up, Push.BALANCED: signs.value, Push.UNKNOWN: "?"}[balance.push]
    canvas.put(middle, 10, tip, Role.MARK)
    words = f"pin: {_ON_THE_PIN[balance.push]}"
    canvas.put(middle - len(words) // 2, 11, words, Role.MARK)
    return list(canvas.rows())


def _arrows(canvas: Canvas, balance: ValveBalance, force: Force, middle: int, y: int, spread: int) -> None:
    """Arrows around a place, as many as the force has of the greatest one; a question mark where it is not known."""
    greatest = max((abs(other.pressure) for other in balance.forces if other.pressure is not None), default=0.0)
    if force.pressure is None or greatest <= 0:
        canvas.put(middle, y, "?", Role.MARK)
        return
    count = max(1, round(_ARROWS * abs(force.pressure) / greatest)) if force.pressure else 0
    opens = force.opens == (force.pressure >= 0)
    first = middle - (count - 1) * spread // 2
    for place in range(count):
        canvas.put(first + place * spread, y, canvas.signs.down if opens else canvas.signs.up, Role.CYCLE)


def _diaphragm(canvas: Canvas, push: Push, middle: int) -> None:
    """A line across the casing, in its middle row, bowed down or up where it is pushed."""
    bow = {Push.OPEN: 1, Push.SHUT: -1}.get(push, 0)
    signs = canvas.signs
    for x in range(1, _ELEMENT - 1):
        away = abs(x - middle)
        y = 4 + (bow if away < 8 else 0)
        sign = signs.level
        if bow and away == 8:
            left = x < middle
            sign = signs.falling if left == (bow > 0) else signs.rising
        canvas.put(x, y, sign, Role.CYCLE)


def _bars(balance: ValveBalance, width: int, signs: Signs) -> Iterator[Row]:
    """Each force with its number; bars as long as the absolute pressures."""
    known = [force.pressure for force in (*balance.forces, balance.target_spring) if force.pressure is not None]
    equalizer = balance.equalizer.pressure or 0.0
    longest = max((equalizer + max(pressure, 0.0) for pressure in known), default=1.0)
    cells = min(width, _MOST_BAR)

    def bar(*parts: tuple[float | None, str]) -> Row:
        spans, start, place = [], 0.0, 0
        for pressure, sign in parts:
            end = start + max(pressure or 0.0, 0.0)
            stop = round(cells * end / longest) if longest else 0
            spans.append(CellSpan(sign * (stop - place), Role.CYCLE))
            start, place = end, stop
        return tuple(spans)

    longest = max(longest, balance.bulb.pressure or 0.0) or 1.0
    thick, thin = (signs.bar, "░") if signs.dots else ("#", ".")
    middling = "▒" if signs.dots else "="
    bulb, under = balance.bulb, balance.equalizer
    yield from _label("OPENS", bulb, width)
    yield bar((bulb.pressure, thick)) if bulb.pressure is not None else row("?", Role.MARK)
    yield from _label("CLOSES", under, width, middling)
    yield from _label("", balance.spring, width, thin)
    yield bar((under.pressure, middling), (balance.spring.pressure, thin))
    yield from _label("FOR THE TARGET", balance.target_spring, width, thin)
    yield bar((under.pressure, middling), (balance.target_spring.pressure, thin))


def _label(word: str, force: Force, width: int, sign: str = "") -> Iterator[Row]:
    """Yield a force by name and number, the sign of its bar in front of it."""
    text = " ".join(part for part in (word, sign, f"{force.title}: {force.shown}") if part)
    yield from (row(line) for line in wrap(text, width, subsequent_indent="  "))
