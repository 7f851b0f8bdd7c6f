"""The pictures of a call, and the three ways to give one: in words, in characters, as SVG."""

from collections.abc import Mapping
from dataclasses import dataclass
from textwrap import wrap
from typing import Final, assert_never

from assistant.errors import CoilsideError
from assistant.pictures.balance import TITLE as BALANCE
from assistant.pictures.balance import ValveBalance, balance_words, valve_balance
from assistant.pictures.balance_svg import balance_svg
from assistant.pictures.balance_text import balance_rows
from assistant.pictures.cells import Row, Signs, row
from assistant.pictures.cycle import CycleChart, cycle_chart, cycle_words
from assistant.pictures.cycle_svg import cycle_svg
from assistant.pictures.cycle_text import cycle_rows
from assistant.pictures.drawing import svg, text
from assistant.pictures.scale import Scale, Scales, scales_of, scales_words
from assistant.pictures.scale_svg import scales_svg
from assistant.pictures.scale_text import scales_rows
from assistant.pictures.vapour import Enthalpies, Wanted
from assistant.source.problem import without_controls
from assistant.thermo.refrigerants import find_refrigerant
from assistant.worksheet.sheet import Sheet
from assistant.worksheet.showing import Display, refusal_reason

_CHART: Final = "The cycle on the pressure-enthalpy chart"
_NO_VALVE: Final[Mapping[str, str]] = {
    "fixed_orifice": "A fixed orifice has no moving part: its flow follows the pressures and the subcooling alone.",
    "eev": "An electronic valve has no bulb: its own controller sets the opening, and no force balance shows it.",
}


@dataclass(frozen=True, slots=True)
class NotDrawn:
    """A picture that this call does not have, and why."""

    title: str
    reason: str


Picture = CycleChart | ValveBalance | Scales | NotDrawn


def draw_pictures(
    sheet: Sheet, display: Display, scales: tuple[Scale, ...], enthalpies: Enthalpies
) -> tuple[Picture, ...]:
    """Return the chart, the balance of the valve, and the scales, as far as the sheet goes.

    `enthalpies` are superheated states as far as they were worked; `find_wanted` gives those that are still lacking.
    """
    return _chart(sheet, display, enthalpies), _balance(sheet, display), scales_of(scales)


def _chart(sheet: Sheet, display: Display, enthalpies: Enthalpies) -> Picture:
    told = sheet.known.choices.get("refrigerant")
    if told is None:
        return NotDrawn(_CHART, "The refrigerant was not told, so there is no chart to draw on.")
    try:
        find_refrigerant(told)
    except CoilsideError as error:
        return NotDrawn(_CHART, refusal_reason(error, display))
    return cycle_chart(sheet, display, enthalpies)


def _balance(sheet: Sheet, display: Display) -> Picture:
    device = sheet.known.choices.get("metering_device")
    if device is None:
        return NotDrawn(
            BALANCE, "The metering device was not told; only an expansion valve with a bulb has this balance."
        )
    reason = _NO_VALVE.get(device)
    return valve_balance(sheet, display) if reason is None else NotDrawn(BALANCE, reason)


def find_wanted(shown: tuple[Picture, ...]) -> tuple[Wanted, ...]:
    """Return the superheated states that pictures still lack."""
    return tuple(state for picture in shown if isinstance(picture, CycleChart) for state in picture.wanted)


def in_words(picture: Picture) -> tuple[str, ...]:
    """Return a picture in plain sentences, without control characters."""
    return tuple(without_controls(line) for line in _words(picture))


def _words(picture: Picture) -> tuple[str, ...]:
    match picture:
        case CycleChart():
            return cycle_words(picture)
        case ValveBalance():
            return balance_words(picture)
        case Scales():
            return scales_words(picture)
        case NotDrawn():
            return (picture.reason,)
        case _:
            assert_never(picture)


def in_characters(picture: Picture, width: int, height: int, signs: Signs) -> tuple[Row, ...]:
    """A picture for a width and height [cells]; where that is too little there are more rows, never longer ones."""
    match picture:
        case CycleChart():
            return cycle_rows(picture, width, height, signs)
        case ValveBalance():
            return balance_rows(picture, width, height, signs)
        case Scales():
            return scales_rows(picture, width, height, signs)
        case NotDrawn():
            return tuple(row(line) for line in wrap(picture.reason, width))
        case _:
            assert_never(picture)


def as_svg(picture: Picture) -> str:
    """Return a picture as one `<svg>` element that needs neither style nor script."""
    match picture:
        case CycleChart():
            return cycle_svg(picture)
        case ValveBalance():
            return balance_svg(picture)
        case Scales():
            return scales_svg(picture)
        case NotDrawn():
            return svg(picture.title, (picture.reason,), 680, 30, [text(8, 20, picture.reason)])
        case _:
            assert_never(picture)
