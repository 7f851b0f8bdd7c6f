"""`coilside pt`: pressure to saturation temperatures and back."""

import json
from typing import Any

import click

from assistant.cli.options import json_option, units_option
from assistant.errors import QuantityError
from assistant.quantity import (
    Kind,
    Quantity,
    Unit,
    accepted_forms,
    in_unit,
    kinds_of_unit,
    parse,
    preferred_unit,
    show,
    split,
)
from assistant.thermo.atmosphere import standard_pressure
from assistant.thermo.curves import saturation
from assistant.thermo.refrigerants import find


@click.command(context_settings={"ignore_unknown_options": True})
@click.argument("refrigerant")
@click.argument("value")
@click.option("--altitude", default="0 ft", show_default=True, help="Of the site: a gauge reads against the air there.")
@json_option
@units_option
def pt(refrigerant: str, value: str, altitude: str, as_json: bool, units: Any) -> None:
    """Saturation temperatures of a pressure, or pressures of a temperature: coilside pt R-410A 122.8psig."""
    fluid = find(refrigerant)
    atmosphere = standard_pressure(parse(altitude, Kind.LENGTH, "ft").value)
    given = _pressure_or_temperature(value)
    curves = saturation(fluid)
    if given.kind is Kind.PRESSURE:
        pressure = given.absolute(atmosphere)
        dew, bubble = curves.dew_temperature(pressure), curves.bubble_temperature(pressure)
        unit = preferred_unit(Kind.TEMPERATURE, units)
    else:
        dew, bubble = curves.dew_pressure(given.value), curves.bubble_pressure(given.value)
        unit = preferred_unit(Kind.PRESSURE, units)
    if as_json:
        values = {
            "refrigerant": fluid.designation,
            "given": {"value": round(given.unit.from_si(given.value), 6), "unit": given.unit.symbol},
            "dew": _plain(dew, unit, atmosphere),
            "bubble": _plain(bubble, unit, atmosphere),
        }
        click.echo(json.dumps(values, ensure_ascii=False))
        return
    click.echo(f"{fluid.designation} at {given.text()}")
    click.echo(f"  dew     {show(dew, unit, atmosphere):>12}   for superheat")
    click.echo(f"  bubble  {show(bubble, unit, atmosphere):>12}   for subcooling")


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


def _plain(value: float, unit: Unit, atmosphere: float) -> dict[str, float | str]:
    return {"value": round(in_unit(value, unit, atmosphere), 4), "unit": unit.symbol}
