"""Sheets from readings as a tech would type them."""

from assistant import doubt
from assistant.catalogue.catalogue import Catalogue
from assistant.pictures.album import Picture, draw_pictures, find_wanted
from assistant.pictures.scale import Scale
from assistant.pictures.vapour import work_here
from assistant.quantity import SEA_LEVEL, UnitSystem, parse
from assistant.worksheet.known import Known
from assistant.worksheet.sheet import Sheet
from assistant.worksheet.showing import Display, display_for

FULL = {
    "suction_pressure": "118 psig",
    "suction_line_temperature": "62 F",
    "liquid_pressure": "340 psig",
    "liquid_line_temperature": "92 F",
    "discharge_line_temperature": "165 F",
    "evaporator_outlet_temperature": "54 F",
}
"""A sound R-410A system on a hot day."""


def sheet_of(catalogue: Catalogue, refrigerant: str = "R-410A", device: str = "txv", **readings: str) -> Sheet:
    """A sheet at sea level, each reading with the accuracy that the catalogue gives it."""
    quantities = {}
    for name, typed in readings.items():
        entry = catalogue.readings.get(name) or catalogue.facts[name]
        assert entry.kind is not None
        value = parse(typed, entry.kind).absolute(SEA_LEVEL)
        accuracy = catalogue.readings[name].accuracy.of(value, entry.kind) if name in catalogue.readings else 0.0
        quantities[name] = doubt.within(value, accuracy, name)
    known = Known(quantities, {"refrigerant": refrigerant, "metering_device": device}, frozenset(quantities))
    return Sheet(known)


def display(catalogue: Catalogue, sheet: Sheet, system: UnitSystem = "us") -> Display:
    return display_for(catalogue, system, sheet.known)


def finished(catalogue: Catalogue, sheet: Sheet, scales: tuple[Scale, ...] = ()) -> tuple[Picture, ...]:
    """The pictures of a sheet with all that can be worked."""
    shown = draw_pictures(sheet, display(catalogue, sheet), scales, {})
    return draw_pictures(sheet, display(catalogue, sheet), scales, work_here(find_wanted(shown)))
