"""The valve bench in characters: the pin on its seat, the travel, the forces as bars, and the chart of a sweep."""

import math
from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import Final

from assistant.pictures.axes import even_ticks
from assistant.pictures.cells import ASCII, UNICODE, Canvas, CellSpan, Role, Row, Signs, row, text_of
from assistant.practice.valve_bench.bench import Balance, Stand, Turned
from assistant.practice.valve_bench.coil import VALVE, Found, Settled, Unsettled
from assistant.practice.valve_bench.knobs import Knob
from assistant.practice.valve_bench.sweep import SweepPlace
from assistant.practice.valve_bench.words import outlet_words, share
from assistant.quantity import Kind, UnitSystem, in_unit, preferred_unit, show, spread_in_unit

ELEMENT: Final = 33
"""Cells across the drawn valve."""
_MOST_ARROWS: Final = 7
_LETTERS: Final = "TSRL"
_AXIS: Final = 5
_LOWEST_TOP: Final = 20.0 * 5.0 / 9.0
_HIGHEST_TOP: Final = 80.0 * 5.0 / 9.0


def valve_rows(balance: Balance, rated: float, signs: Signs) -> tuple[Row, ...]:
    """Casing and diaphragm, the pin over its seat, arrows for what flows, and how far the pin has travelled."""
    canvas = Canvas(ELEMENT, 10, signs)
    middle = ELEMENT // 2
    words = "bulb pushes down, opens"
    canvas.put(middle - len(words) // 2, 0, words)
    corners = "┌┐└┘" if signs.dots else "++++"
    canvas.put(0, 1, corners[0] + signs.track * (ELEMENT - 2) + corners[1], Role.QUIET)
    canvas.put(0, 4, corners[2] + signs.track * (ELEMENT - 2) + corners[3], Role.QUIET)
    for y in (2, 3):
        canvas.put(0, y, signs.side, Role.QUIET)
        canvas.put(ELEMENT - 1, y, signs.side, Role.QUIET)
    _diaphragm(canvas, balance, middle)
    lifted = _lift_rows(balance.opening)
    for y in range(4, 6 + lifted):
        canvas.put(middle, y, signs.upright, Role.CYCLE)
    canvas.put(1, 5, "equalizer")
    canvas.put(1, 6, "and")
    canvas.put(5, 6, "spring")
    canvas.put(middle + 4, 5, "push up,")
    canvas.put(middle + 4, 6, "close")
    gap = 1 + lifted
    canvas.put(0, 7, signs.level * (middle - gap + 1), Role.CURVE)
    canvas.put(middle + gap, 7, signs.level * (ELEMENT - middle - gap), Role.CURVE)
    canvas.put(middle, 6 + lifted, signs.down if lifted else signs.limit, Role.MARK)
    if not lifted:
        canvas.put(middle, 7, signs.level, Role.MARK)
    arrows = 0 if balance.flow <= 0.0 else max(1, min(round(4.0 * balance.flow / rated), _MOST_ARROWS))
    text = " ".join(signs.down * arrows) if arrows else "no flow"
    canvas.put(middle - len(text) // 2, 8 + (1 if lifted > 1 else 0), text, Role.CYCLE)
    return canvas.rows()


def _lift_rows(opening: float) -> int:
    """Return rows by which the pin is off its seat: none only where it is shut."""
    return 0 if opening <= 0.0 else 1 if opening < 0.6 else 2


def _diaphragm(canvas: Canvas, balance: Balance, middle: int) -> None:
    """A line across the casing that bows down when the pin is lifted."""
    bowed = balance.opening > 0.0
    signs = canvas.signs
    for x in range(1, ELEMENT - 1):
        away = abs(x - middle)
        if bowed and away == 8:
            canvas.put(x, 2, signs.falling if x < middle else signs.rising, Role.CYCLE)
        else:
            canvas.put(x, 3 if bowed and away < 8 else 2, signs.level, Role.CYCLE)


def travel_row(balance: Balance, width: int, signs: Signs) -> Row:
    """Return how far the pin has travelled between its seat and its stop."""
    words = {Stand.SHUT: "SHUT", Stand.WIDE_OPEN: "OUT OF TRAVEL"}.get(balance.stand, f"{share(balance.opening)} open")
    # The words change, the track does not.
    cells = max(width - len("pin: seat  stop  OUT OF TRAVEL"), 8)
    place = round(balance.opening * (cells - 1))
    track = signs.track * place
    rest = signs.track * (cells - 1 - place)
    return (
        CellSpan("pin: seat "),
        CellSpan(track, Role.QUIET),
        CellSpan(signs.value, Role.MARK),
        CellSpan(rest, Role.QUIET),
        CellSpan(f" stop  {words}", Role.MARK),
    )


def bar_rows(balance: Balance, width: int, signs: Signs) -> Iterator[Row]:
    """Yield the pressure that opens over those that close, as bars on one scale; what is left lifts the pin."""
    shut = balance.equalizer + balance.spring
    longest = max(balance.bulb_pressure, shut, 1.0)
    cells = max(width - 8, 10)
    thick, middling, thin = (signs.bar, "▒", "░") if signs.dots else ("#", "=", ".")

    def length(pressure: float) -> int:
        return round(cells * max(pressure, 0.0) / longest)

    under = length(balance.equalizer)
    bulb, spring = CellSpan(thick * length(balance.bulb_pressure), Role.CYCLE), thin * (length(shut) - under)
    yield CellSpan("opens  "), bulb
    yield CellSpan("closes "), CellSpan(middling * under, Role.CURVE), CellSpan(spring, Role.CYCLE)
    yield row(f"{'':7}{thick} bulb  {middling} equalizer  {thin} spring", Role.QUIET)


@lru_cache(maxsize=8)
def chart_rows(
    swept: tuple[SweepPlace, ...],
    ends: tuple[float, float],
    knob: Knob,
    now: float,
    system: UnitSystem,
    size: tuple[int, int],
    signs: Signs,
) -> tuple[Row, ...]:
    """Return the superheat over a knob: a letter for each device at each place, a line where the knob stands.

    `ends` are those of the knob [SI], `now` where it stands, `size` the width and height [cells].
    """
    width, height = size
    canvas = Canvas(width, height, signs)
    unit, over = preferred_unit(Kind.TEMPERATURE_DIFFERENCE, system), knob.unit(system)
    low, high = ends
    top = _top(swept)
    bottom = height - 3

    def across(value: float) -> int:
        return round(_AXIS + (width - _AXIS - 2) * (value - low) / (high - low))

    def down(superheat: float) -> int:
        return round(bottom * (1.0 - min(superheat, top) / top))

    for tick in even_ticks(0.0, spread_in_unit(top, unit), max(2 * bottom // 3, 1)):
        y = down(unit.to_si(tick))
        canvas.put(0, y, f"{tick:>3g} ", Role.QUIET)
        canvas.put(_AXIS, y, (f"{signs.faint} " * width)[: width - _AXIS], Role.QUIET)
    if low <= now <= high:
        for y in range(bottom + 1):
            canvas.put(across(now), y, signs.limit, Role.LIMIT)
    # The valve is drawn last, so that it stays to be seen where letters meet.
    for place in reversed(range(len(_LETTERS))):
        for at, found in _of(swept, place):
            role = Role.MARK if found.name == VALVE else Role.CYCLE
            canvas.put(across(at.value), down(found.superheat), _LETTERS[place], role)
    _axis(canvas, [(across(at.value), f"{in_unit(at.value, over):g}") for at in swept], height - 2)
    devices = "T TXV, S small, R right, L large"
    legend = f"{unit.label} over {knob.title.lower()}, {over.label}: {devices}; 0: floods"
    short = f"over {knob.title.lower()}: {devices}"
    canvas.put(0, height - 1, legend if len(legend) <= width else short, Role.QUIET)
    return canvas.rows()


def _of(swept: Sequence[SweepPlace], place: int) -> Iterator[tuple[SweepPlace, Settled]]:
    for at in swept:
        found = at.found[place]
        if isinstance(found, Settled):
            yield at, found


def _top(swept: Sequence[SweepPlace]) -> float:
    """Return the highest superheat of the chart [K]; what lies above is drawn at its upper edge."""
    most = max((found.superheat for at in swept for found in at.found if isinstance(found, Settled)), default=0.0)
    return min(max(math.ceil(most / 2.5) * 2.5, _LOWEST_TOP), _HIGHEST_TOP)


def _axis(canvas: Canvas, ticks: Sequence[tuple[int, str]], y: int) -> None:
    """Numbers below the chart, those left out that would touch."""
    free = 0
    for x, text in ticks:
        start = min(max(x - len(text) // 2, 0), canvas.width - len(text))
        if start >= free:
            canvas.put(start, y, text, Role.QUIET)
            free = start + len(text) + 2


def sweep_rows(
    swept: tuple[SweepPlace, ...], knob: Knob, turned: Turned, system: UnitSystem, width: int, *, is_ascii: bool
) -> Iterator[str]:
    """Yield a sweep in lines: what each device has at each place, then the chart."""
    yield f"{knob.title:>14} {'TXV open':>9} {'TXV':>11} {'small':>11} {'right':>11} {'large':>11}"
    for at in swept:
        cells = [_cell(found, system) for found in at.found]
        opening = next((share(one.balance.opening) for one in at.found if isinstance(one, Settled) and one.balance), "")
        yield f"{show(at.value, knob.unit(system)):>14} {opening:>9} " + " ".join(f"{cell:>11}" for cell in cells)
    yield ""
    now, ends = getattr(turned, knob.turns), (swept[0].value, swept[-1].value)
    signs = ASCII if is_ascii else UNICODE
    yield from map(text_of, chart_rows(swept, ends, knob, now, system, (min(width, 100), 16), signs))


def _cell(found: Found, system: UnitSystem) -> str:
    return "none" if isinstance(found, Unsettled) else outlet_words(found, system)
