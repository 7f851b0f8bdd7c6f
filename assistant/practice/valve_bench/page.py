"""The valve bench laid out for a screen: rows for a width and a height, from what was worked."""

from collections.abc import Iterator, Sequence
from textwrap import wrap
from typing import Final

from assistant.pictures.cells import CellSpan, Role, Row, Signs, row
from assistant.practice.valve_bench.bench import Balance, Turned
from assistant.practice.valve_bench.coil import Found, Settled
from assistant.practice.valve_bench.drawing import ELEMENT, bar_rows, chart_rows, travel_row, valve_rows
from assistant.practice.valve_bench.knobs import Knob
from assistant.practice.valve_bench.sweep import SweepPlace
from assistant.practice.valve_bench.words import (
    FLOW_HEAD,
    coil_head,
    coil_rows,
    flow_line,
    flow_rows,
    force_rows,
    pin_line,
    rated_flow,
    superheat_line,
    verdict_lines,
)
from assistant.quantity import UnitSystem

_BESIDE: Final = 76
"""From this width on, words stand beside the drawn valve [cells]."""
_CHART: Final = 9
_MOST_CHART: Final = 16
_WIDEST: Final = 110


def hand_rows(
    turned: Turned, balance: Balance, flows: Sequence[tuple[str, float]], system: UnitSystem, width: int, signs: Signs
) -> tuple[Row, ...]:
    """Return the valve held by hand: drawn, written out, and beside it what the orifices pass."""
    width, rated = min(width, _WIDEST), rated_flow(turned)
    table = [row(FLOW_HEAD, Role.QUIET), *map(row, flow_rows(balance, flows, rated, system))]
    return (*_valve(balance, rated, system, width, signs), *table, *bar_rows(balance, width, signs))


def _valve(balance: Balance, rated: float, system: UnitSystem, width: int, signs: Signs) -> Iterator[Row]:
    """Yield the valve drawn, its balance written out, and how far the pin has travelled."""
    drawn = valve_rows(balance, rated, signs)
    room = width - ELEMENT - 2 if width >= _BESIDE else width
    written = [row(line) for line in force_rows(balance, system)]
    if width < _BESIDE:
        written.append(travel_row(balance, width, signs))
    written += [row(line, Role.MARK) for line in wrap(pin_line(balance, system), room)]
    for text in (superheat_line(balance, system), flow_line(balance, rated, system)):
        written += [row(line) for line in wrap(text, room)]
    if width < _BESIDE:
        yield from (*written, *drawn)
    else:
        for place in range(max(len(drawn), len(written))):
            left = drawn[place] if place < len(drawn) else row(" " * ELEMENT)
            yield (*left, CellSpan("  "), *(written[place] if place < len(written) else row("")))
        yield travel_row(balance, width, signs)


def on_coil_rows(
    turned: Turned,
    found: Sequence[Found],
    swept: tuple[SweepPlace, ...],
    ends: tuple[float, float],
    knob: Knob,
    system: UnitSystem,
    size: tuple[int, int],
    signs: Signs,
) -> tuple[Row, ...]:
    """Valve and orifices on the coil: the table, what it says, the chart of the sweep, and the valve's balance.

    The sweep may still be on its way; `ends` are those of its knob [SI]. `size` is the room, in cells.
    """
    width, rated = min(size[0], _WIDEST), rated_flow(turned)
    is_wide = width >= len(coil_head())
    table = [row(coil_head(with_heat=is_wide), Role.QUIET)]
    for one, text in zip(found, coil_rows(found, rated, system, with_heat=is_wide), strict=True):
        is_valve = isinstance(one, Settled) and one.balance is not None
        lines = wrap(text, width, subsequent_indent="  ") if len(text) > width else [text]
        table += [row(line, Role.MARK if is_valve else Role.PLAIN) for line in lines]
    said = [row(line) for text in verdict_lines(found, system) for line in wrap(text, width)]
    left = size[1] - len(table) - len(said)
    height = min(max(left, _CHART), _MOST_CHART)
    chart = chart_rows(swept, ends, knob, getattr(turned, knob.turns), system, (width, height), signs)
    balances = [one.balance for one in found if isinstance(one, Settled) and one.balance is not None]
    valve = [
        part
        for balance in balances
        for part in (row(""), *_valve(balance, rated, system, width, signs), *bar_rows(balance, width, signs))
    ]
    return (*table, *said, *chart, *valve)
