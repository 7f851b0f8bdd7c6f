"""The pressure-enthalpy chart as SVG."""

import math
from collections.abc import Callable, Iterator
from textwrap import wrap
from typing import Final

from assistant.pictures.axes import even_ticks, pressure_ticks
from assistant.pictures.cycle import CycleChart, cycle_words
from assistant.pictures.drawing import CURVE, CYCLE, FAINT, QUIET, line, number, path, svg, text
from assistant.quantity import in_unit

_WIDTH: Final = 680.0
_HEIGHT: Final = 400.0
_LEFT: Final = 62.0
_RIGHT: Final = 16.0
_TOP: Final = 22.0
_BOTTOM: Final = 44.0
_APART: Final = 18.0
_LETTERS: Final = 92


def cycle_svg(chart: CycleChart) -> str:
    """Return the chart as one `<svg>` element; what the marks rest on, and what is not drawn, stands below it."""
    legend = [f"{mark.sign} {mark.title}: {mark.shown}" for mark in chart.marks]
    lines = [told for said in (*legend, *chart.missing) for told in wrap(said, _LETTERS)]
    below = [text(_LEFT, _HEIGHT + 12 + _APART * place, words) for place, words in enumerate(lines)]
    return svg(chart.title, cycle_words(chart), _WIDTH, _HEIGHT + _APART * len(lines), [*_parts(chart), *below])


def _parts(chart: CycleChart) -> Iterator[str]:
    (left, right), (bottom, top) = chart.enthalpies, chart.pressures

    def x(enthalpy: float) -> float:
        return _LEFT + (enthalpy - left) / (right - left) * (_WIDTH - _LEFT - _RIGHT)

    def y(pressure: float) -> float:
        share = math.log(pressure / bottom) / math.log(top / bottom)
        return _HEIGHT - _BOTTOM - share * (_HEIGHT - _TOP - _BOTTOM)

    yield from _axes(chart, x, y)
    for curve in (chart.bubble, chart.dew):
        yield path([(x(h), y(p)) for h, p in curve], stroke=CURVE)
    for level in chart.levels:
        yield line(_LEFT, y(level.pressure), _WIDTH - _RIGHT, y(level.pressure), stroke=QUIET, dash="2 4")
        yield text(_LEFT + 6, y(level.pressure) - 5, f"{level.title} {level.shown}", fill=QUIET)
    for one, other in chart.legs:
        yield line(x(one.enthalpy), y(one.pressure), x(other.enthalpy), y(other.pressure), stroke=CYCLE, width=2.5)
    for mark in chart.marks:
        centre = f'cx="{number(x(mark.enthalpy))}" cy="{number(y(mark.pressure))}"'
        yield f'<circle {centre} r="9" fill="#ffffff" stroke="{CYCLE}" stroke-width="1.5"/>'
        yield text(x(mark.enthalpy), y(mark.pressure) + 4.5, mark.sign, anchor="middle", bold=True)


def _axes(chart: CycleChart, x: Callable[[float], float], y: Callable[[float], float]) -> Iterator[str]:
    floor = _HEIGHT - _BOTTOM
    low, high = (in_unit(end, chart.enthalpy_unit) for end in chart.enthalpies)
    for tick in even_ticks(low, high, 8):
        at = x(chart.enthalpy_unit.to_si(tick))
        yield line(at, _TOP, at, floor, stroke=FAINT)
        yield text(at, floor + 16, f"{tick:g}", anchor="middle")
    taken: list[float] = []
    for pressure, shown in reversed(pressure_ticks(*chart.pressures, chart.pressure_unit, chart.atmosphere)):
        at = y(pressure)
        if all(abs(at - other) >= _APART for other in taken):
            taken.append(at)
            yield line(_LEFT, at, _WIDTH - _RIGHT, at, stroke=FAINT)
            yield text(_LEFT - 6, at + 4, shown, anchor="end")
    yield line(_LEFT, _TOP, _LEFT, floor)
    yield line(_LEFT, floor, _WIDTH - _RIGHT, floor)
    yield text(4, 14, chart.pressure_unit.label)
    yield text(_WIDTH - _RIGHT, _HEIGHT - 8, f"enthalpy, {chart.enthalpy_unit.label}", anchor="end")
