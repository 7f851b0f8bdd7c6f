"""The pressure-enthalpy chart in characters."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from textwrap import wrap
from typing import Final

from assistant.pictures.axes import even_ticks, pressure_ticks
from assistant.pictures.cells import Canvas, CellSpan, Role, Row, Signs, row
from assistant.pictures.cycle import CycleChart, Mark
from assistant.quantity import in_unit

_LEAST_HEIGHT: Final = 9
_MOST_HEIGHT: Final = 40
_BESIDE: Final = 108
"""From this width on, the legend stands at the right of the chart [cells]."""
_LEGEND: Final = 42
_GUTTER: Final = 6
_FOOT: Final = 2


@dataclass(frozen=True, slots=True)
class _Scaled:
    """Where a state lies on a grid of cells."""

    width: int
    height: int
    enthalpies: tuple[float, float]
    pressures: tuple[float, float]

    def x(self, enthalpy: float) -> float:
        """Cells from the left."""
        low, high = self.enthalpies
        return (enthalpy - low) / (high - low) * (self.width - 1)

    def y(self, pressure: float) -> float:
        """Cells from above; pressure goes by its logarithm."""
        low, high = (math.log(end) for end in self.pressures)
        return (high - math.log(pressure)) / (high - low) * (self.height - 1)

    def cell(self, enthalpy: float, pressure: float) -> tuple[int, int]:
        """Return the cell of a state."""
        return round(self.x(enthalpy)), round(self.y(pressure))


def cycle_rows(chart: CycleChart, width: int, height: int, signs: Signs) -> tuple[Row, ...]:
    """The chart with its legend, for a width and height [cells]; where the height is short, there are more rows."""
    if width >= _BESIDE:
        drawn = _draw(chart, width - _LEGEND - 2, max(height, _LEAST_HEIGHT), signs)
        legend = list(_legend(chart, _LEGEND))
        count = max(len(drawn), len(legend))
        blank: Row = (CellSpan(" " * (width - _LEGEND - 2)),)
        left = [*drawn, *[blank] * (count - len(drawn))]
        right = [*legend, *[row("")] * (count - len(legend))]
        return tuple((*one, CellSpan("  "), *other) for one, other in zip(left, right, strict=True))
    legend = list(_legend(chart, width))
    told = sum(1 for line in legend if line[0].role is not Role.QUIET)
    # Marks and what is not drawn stay in view, as long as two thirds of the height are left for the chart.
    room = max(height - min(told, max(height // 3, len(chart.marks))), _LEAST_HEIGHT)
    return (*_draw(chart, width, room, signs), *legend)


def _draw(chart: CycleChart, width: int, height: int, signs: Signs) -> list[Row]:
    """Return the chart between its axes."""
    inner = Canvas(width - _GUTTER, min(height, _MOST_HEIGHT) - _FOOT, signs)
    scaled = _Scaled(inner.width, inner.height, chart.enthalpies, chart.pressures)
    for curve in (chart.bubble, chart.dew):
        inner.curve([(scaled.x(h) + 0.5, scaled.y(p) + 0.5) for h, p in curve])
    for level in chart.levels:
        y = round(scaled.y(level.pressure))
        for x in range(0, inner.width, 1 if signs.dots else 2):
            inner.put(x, y, signs.faint, Role.QUIET)
    cells = _cells_of(chart, scaled)
    for one, other in chart.legs:
        inner.leg(cells[one.sign], cells[other.sign])
    for mark in chart.marks:
        inner.put(*cells[mark.sign], mark.sign, Role.MARK)
    side = _side(chart, scaled, signs)
    return [(*left, *right) for left, right in zip(side, inner.rows(), strict=True)] + _foot(chart, scaled, signs)


def _cells_of(chart: CycleChart, scaled: _Scaled) -> dict[str, tuple[int, int]]:
    """Return the cell of each mark, no two in one."""
    cells: dict[str, tuple[int, int]] = {}
    for mark in chart.marks:
        x, y = scaled.cell(mark.enthalpy, mark.pressure)
        while (x, y) in cells.values():
            x += 1
        cells[mark.sign] = (x, y)
    return cells


def _side(chart: CycleChart, scaled: _Scaled, signs: Signs) -> list[Row]:
    """Return the axis of pressure: the measured ones, and round numbers where these leave room."""
    head = f"{chart.pressure_unit.label} {signs.side}"
    rows = [
        row(f"{head:>{_GUTTER}}"[-_GUTTER:] if y == 0 else f"{signs.side:>{_GUTTER}}", Role.QUIET)
        for y in range(scaled.height)
    ]
    taken = [0]
    for level in chart.levels:
        y = round(scaled.y(level.pressure))
        number = in_unit(level.pressure, chart.pressure_unit, chart.atmosphere)
        rows[y] = (CellSpan(f"{number:>{_GUTTER - 2}.0f}"), CellSpan(f" {signs.edge}", Role.QUIET))
        taken.append(y)
    for pressure, text in reversed(pressure_ticks(*chart.pressures, chart.pressure_unit, chart.atmosphere)):
        y = round(scaled.y(pressure))
        if all(abs(y - other) > 1 for other in taken):
            rows[y] = row(f"{text:>{_GUTTER - 2}} {signs.edge}", Role.QUIET)
            taken.append(y)
    return rows


def _foot(chart: CycleChart, scaled: _Scaled, signs: Signs) -> list[Row]:
    """Return the axis of enthalpy with its numbers."""
    unit = chart.enthalpy_unit
    low, high = (in_unit(end, unit) for end in chart.enthalpies)
    line = [signs.track] * scaled.width
    numbers = [" "] * scaled.width
    label = f" {unit.label}"
    for tick in even_ticks(low, high, scaled.width // 12):
        x = round(scaled.x(unit.to_si(tick)))
        text = f"{tick:g}"
        start = max(x - len(text) // 2, 0)
        if start + len(text) <= scaled.width - len(label):
            line[x] = signs.floor
            numbers[start : start + len(text)] = text
    numbers[-len(label) :] = label
    corner = "└" if signs.dots else "+"
    return [
        row(" " * (_GUTTER - 1) + corner + "".join(line), Role.QUIET),
        row(" " * _GUTTER + "".join(numbers), Role.QUIET),
    ]


def _legend(chart: CycleChart, width: int) -> Iterator[Row]:
    """Yield the marks, then what is not drawn, then what to keep in mind."""
    for mark in chart.marks:
        yield from _mark_rows(mark, width)
    if chart.wanted:
        yield from _hanging("Superheated states are being worked ...", width)
    for text in chart.missing:
        yield from _hanging(text, width)
    for text in chart.notes:
        yield from _hanging(text, width, Role.QUIET)


def _mark_rows(mark: Mark, width: int) -> Iterator[Row]:
    """Yield a mark on one row, or on two where it does not fit."""
    sign, title = CellSpan(mark.sign, Role.MARK), f" {mark.title}: "
    if len(mark.sign + title + mark.shown) <= width:
        yield (sign, CellSpan(title + mark.shown))
    else:
        yield (sign, CellSpan(title))
        yield from (row(f"  {line}") for line in wrap(mark.shown, width - 2))


def _hanging(text: str, width: int, role: Role = Role.PLAIN) -> Iterator[Row]:
    """Yield a text on as many rows as it takes, the first at the edge."""
    yield from (row(line, role) for line in wrap(text, width, subsequent_indent="  "))
