"""`coilside pt`: pressure to saturation temperatures and back, one value or a chart."""

import json
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Final

import click

from assistant.cli.options import json_option, units_option
from assistant.cli.talk import say
from assistant.errors import InputError, OutOfRangeError, QuantityError
from assistant.quantity import (
    Kind,
    Quantity,
    Unit,
    UnitSystem,
    accepted_forms,
    in_unit,
    kinds_of_unit,
    parse,
    plain,
    preferred_unit,
    show,
    split,
)
from assistant.ranges import range_sentence
from assistant.settings import setting
from assistant.thermo.air import standard_pressure
from assistant.thermo.curves import Saturation, saturation
from assistant.thermo.refrigerants import Refrigerant, find_refrigerant

_MOST_ROWS: Final = 500
_USUAL_STEP: Final = {Kind.TEMPERATURE: 5.0, Kind.PRESSURE: 10.0}
_CHART = ("-20 F", "150 F")


@dataclass(frozen=True, slots=True)
class _Point:
    """A given value with what stands against it on the dew and the bubble curve, in SI."""

    given: Quantity
    dew: float
    bubble: float


@click.command(context_settings={"ignore_unknown_options": True})
@click.argument("refrigerant")
@click.argument("value", required=False)
@click.option("--step", default=None, help="Distance between the rows of a chart, in the unit of the range.")
@click.option(
    "--altitude",
    default=lambda: setting("altitude").text or "0 ft",
    show_default="0 ft, or as set",
    help="Of the site: a gauge reads against the air there.",
)
@json_option
@units_option
def pt(refrigerant: str, value: str | None, step: str | None, altitude: str, as_json: bool, units: Any) -> None:
    """Saturation temperatures of a pressure, or pressures of a temperature.

    VALUE is one value with its unit (122.8psig, 42F) or a range (30F..60F), which prints a chart. Without it: what is
    known of the refrigerant, and a chart.
    """
    fluid = find_refrigerant(refrigerant)
    curves = saturation(fluid)
    height = parse(altitude, Kind.LENGTH, "ft")
    atmosphere = standard_pressure(height.value)
    low, dots, high = (value or "..".join(_CHART)).partition("..")
    first = _pressure_or_temperature(low)
    given = _range(first, high, step) if dots else [first]
    try:
        points = list(_points(curves, given, atmosphere, whole=value is None))
    except OutOfRangeError as error:
        raise InputError(range_sentence(error, units, atmosphere)) from error
    if as_json:
        say(json.dumps(_values(fluid, points, units, atmosphere, many=bool(dots)), ensure_ascii=False))
        return
    if value is None:
        say("\n".join(_facts(fluid, curves, units)) + "\n")
    unit = _other_unit(first.kind, units)
    if not dots:
        # An altitude that comes from the settings must not be taken unseen.
        site = f", site at {height.text()}" if height.value else ""
        say(f"{fluid.designation} at {first.text()}{site}")
        say(f"  dew     {show(points[0].dew, unit, atmosphere):>12}   for superheat")
        say(f"  bubble  {show(points[0].bubble, unit, atmosphere):>12}   for subcooling")
        return
    say(f"{first.unit.label:>10}  {'dew ' + unit.label:>14}  {'bubble ' + unit.label:>14}")
    for point in points:
        dew, bubble = (in_unit(side, unit, atmosphere) for side in (point.dew, point.bubble))
        number = plain(round(point.given.unit.from_si(point.given.value), 4))
        say(f"{number:>10}  {dew:14.{unit.decimals}f}  {bubble:14.{unit.decimals}f}")


def _points(curves: Saturation, given: list[Quantity], atmosphere: float, whole: bool) -> Iterator[_Point]:
    """The saturation values of each given one; on a `whole` chart, rows beyond the curve are left out."""
    for quantity in given:
        if quantity.kind is Kind.PRESSURE:
            pressure = quantity.absolute(atmosphere)
            yield _Point(quantity, curves.dew_temperature(pressure), curves.bubble_temperature(pressure))
        elif not whole or curves.minimum_temperature <= quantity.value <= curves.maximum_temperature:
            yield _Point(quantity, curves.dew_pressure(quantity.value), curves.bubble_pressure(quantity.value))


def _pressure_or_temperature(text: str) -> Quantity:
    """A value with its unit, whichever of the two it is."""
    parts = split(text)
    if parts is not None and not parts[1]:
        raise QuantityError(f"{text} has no unit: write {text}psig or {text}F.")
    kinds = kinds_of_unit(parts[1]) if parts else ()
    kind = next((kind for kind in (Kind.PRESSURE, Kind.TEMPERATURE) if kind in kinds), None)
    if kind is None:
        forms = f"{accepted_forms(Kind.PRESSURE)}, or {accepted_forms(Kind.TEMPERATURE)}"
        raise QuantityError(f"I cannot read {text!r}. I need {forms}.")
    return parse(text, kind)


def _range(first: Quantity, high: str, step: str | None) -> list[Quantity]:
    """The values of a chart, both ends included.

    Raises:
        InputError: the end is not above the beginning, the step not above zero, or there would be too many rows.
    """
    unit = first.unit
    last = parse(high, first.kind, unit.symbol)
    distance = split(step or plain(_USUAL_STEP[first.kind]))
    start, stop = unit.from_si(first.value), unit.from_si(last.value)
    if distance is None or distance[0] <= 0 or stop <= start:
        raise InputError("A chart needs a range from low to high and a step above zero, such as 30F..60F --step 2.")
    rows = int((stop - start) / distance[0] + 1e-9) + 1
    if rows > _MOST_ROWS:
        raise InputError(f"That chart would have {rows} rows; with a larger --step it has fewer than {_MOST_ROWS}.")
    numbers = [start + row * distance[0] for row in range(rows)]
    if stop - numbers[-1] > 1e-6:
        numbers.append(stop)
    return [
        Quantity(first.kind, unit.to_si(number), unit, number, f"{plain(number)} {unit.symbol}") for number in numbers
    ]


def _other_unit(kind: Kind, units: UnitSystem) -> Unit:
    return preferred_unit(Kind.TEMPERATURE if kind is Kind.PRESSURE else Kind.PRESSURE, units)


def _values(
    fluid: Refrigerant, points: list[_Point], units: UnitSystem, atmosphere: float, many: bool
) -> dict[str, Any]:
    """One value as one object; of a chart, its `rows`."""
    rows = [_row(point, units, atmosphere) for point in points]
    return {"refrigerant": fluid.designation, **({"rows": rows} if many else rows[0])}


def _row(point: _Point, units: UnitSystem, atmosphere: float) -> dict[str, Any]:
    given = point.given
    unit = _other_unit(given.kind, units)
    return {
        "given": {"value": round(given.unit.from_si(given.value), 6), "unit": given.unit.symbol},
        "dew": {"value": round(in_unit(point.dew, unit, atmosphere), 4), "unit": unit.symbol},
        "bubble": {"value": round(in_unit(point.bubble, unit, atmosphere), 4), "unit": unit.symbol},
    }


def _facts(fluid: Refrigerant, curves: Saturation, units: UnitSystem) -> Iterator[str]:
    """What is known of a refrigerant, each fact with where it comes from."""
    temperature = preferred_unit(Kind.TEMPERATURE, units)
    difference = preferred_unit(Kind.TEMPERATURE_DIFFERENCE, units)
    parts = ", ".join(f"{part.designation} {100 * part.mass_fraction:g} %" for part in fluid.composition)
    cold = curves.dew_pressure(parse("40 F", Kind.TEMPERATURE).value)
    glide = show(curves.glide(cold), difference) if fluid.is_blend else "none"
    yield f"{fluid.designation}  ({fluid.family})"
    yield f"  composition   {parts} by mass ({fluid.composition_source})"
    yield f"  safety group  {fluid.safety_group} ({fluid.safety_group_source})"
    yield f"  GWP           {fluid.gwp:.0f} ({fluid.gwp_basis})"
    yield f"  glide         {glide} at 40 F dew"
    yield f"  critical      {show(fluid.critical_temperature, temperature)}"
    yield (
        f"  curves        {show(curves.minimum_temperature, temperature)} to "
        f"{show(curves.maximum_temperature, temperature)} (fitted to CoolProp, {fluid.model_kind} model)"
    )
