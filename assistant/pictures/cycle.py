"""The measured cycle on the refrigerant's pressure-enthalpy chart: what is drawn, and what is not.

Only states that readings fix are drawn. Between them the chart shows the paths that physics knows: expansion at
constant enthalpy, as the metering device does no work and takes up no heat, and the sides of high and low pressure
drawn level, as no pressure between the two gauges was measured.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from assistant import doubt
from assistant.errors import CoilsideError
from assistant.pictures.vapour import Enthalpies, Wanted
from assistant.quantity import Kind, Unit, preferred_unit, show
from assistant.thermo.circuit import flash_gas_fraction
from assistant.thermo.curves import Saturation, saturation
from assistant.worksheet.sheet import Sheet, Worked
from assistant.worksheet.showing import Display, edge_note, refusal_reason

SUCTION: Final = "suction line"
DISCHARGE: Final = "discharge line"
LIQUID: Final = "liquid line"
EXPANDED: Final = "after expansion"

_POINTS_OF_CURVE: Final = 80
_COLDEST: Final = 233.15
"""Where the curve begins when no pressure was read [K]."""
_BELOW: Final = 0.5
"""Where it begins otherwise, as a share of the lowest pressure."""


@dataclass(frozen=True, slots=True)
class Mark:
    """A state on the chart: `sign` and `title`, enthalpy [J/kg], pressure [Pa]; `shown` is what it rests on."""

    sign: str
    title: str
    enthalpy: float
    pressure: float
    shown: str


@dataclass(frozen=True, slots=True)
class Level:
    """A measured pressure [Pa], with its value in words."""

    title: str
    pressure: float
    shown: str


@dataclass(frozen=True, slots=True)
class CycleChart:
    """The chart: curves as points of enthalpy [J/kg] and pressure [Pa], the marks, and what is not drawn and why.

    `wanted` are states of which the enthalpy is still to be worked.
    """

    title: str
    refrigerant: str
    bubble: tuple[tuple[float, float], ...]
    dew: tuple[tuple[float, float], ...]
    levels: tuple[Level, ...]
    marks: tuple[Mark, ...]
    missing: tuple[str, ...]
    notes: tuple[str, ...]
    wanted: tuple[Wanted, ...]
    pressure_unit: Unit
    enthalpy_unit: Unit
    atmosphere: float

    def mark(self, title: str) -> Mark | None:
        """Return the mark of a title, if it is drawn."""
        return next((mark for mark in self.marks if mark.title == title), None)

    @property
    def legs(self) -> tuple[tuple[Mark, Mark], ...]:
        """The sides of the cycle of which both ends are there, in the direction of flow."""
        found = [self.mark(title) for title in (SUCTION, DISCHARGE, LIQUID, EXPANDED, SUCTION)]
        return tuple((one, other) for one, other in pairwise(found) if one and other)

    @property
    def enthalpies(self) -> tuple[float, float]:
        """The lowest and the highest enthalpy shown [J/kg]."""
        shown = [point[0] for point in (*self.bubble, *self.dew)] + [mark.enthalpy for mark in self.marks]
        low, high = min(shown), max(shown)
        if self.wanted:
            # Room for what is to come, so that the chart does not move much when it does.
            high += 0.15 * (high - low)
        return low - 0.04 * (high - low), high + 0.06 * (high - low)

    @property
    def pressures(self) -> tuple[float, float]:
        """The lowest and the highest pressure shown [Pa]."""
        shown = [point[1] for point in (*self.bubble, *self.dew)] + [level.pressure for level in self.levels]
        return min(shown), max(shown) * 1.12


@dataclass(frozen=True, slots=True)
class _Found:
    """What one state came to: a mark, or a sentence that says why there is none, or a wish."""

    mark: Mark | None = None
    missing: str | None = None
    note: str | None = None
    wanted: Wanted | None = None


def cycle_chart(sheet: Sheet, display: Display, enthalpies: Enthalpies) -> CycleChart:
    """Return the chart of a call whose refrigerant is known, as far as its readings and the `enthalpies` go.

    Raises:
        ValueError: the refrigerant is not known or has no model.
    """
    refrigerant = sheet.known.refrigerant
    if refrigerant is None:
        raise ValueError("a chart needs a refrigerant")
    worker = _StateFinder(sheet, display, saturation(refrigerant), enthalpies)
    liquid = worker.liquid()
    found = (worker.suction(), worker.discharge(), liquid, worker.expanded(liquid))
    levels = tuple(worker.levels())
    bubble, dew = _curves(worker.curves, levels)
    notes = dict.fromkeys([*worker.edges(), *(item.note for item in found if item.note)])
    return CycleChart(
        title=f"The cycle of {refrigerant.designation} on its pressure-enthalpy chart",
        refrigerant=refrigerant.designation,
        bubble=bubble,
        dew=dew,
        levels=levels,
        marks=tuple(item.mark for item in found if item.mark),
        missing=tuple(dict.fromkeys(item.missing for item in found if item.missing)),
        notes=tuple(notes),
        wanted=tuple(item.wanted for item in found if item.wanted),
        pressure_unit=display.unit("suction_pressure"),
        enthalpy_unit=preferred_unit(Kind.SPECIFIC_ENERGY, display.system),
        atmosphere=display.atmosphere,
    )


def _curves(curves: Saturation, levels: tuple[Level, ...]) -> tuple[tuple[tuple[float, float], ...], ...]:
    """Return the bubble and dew curve, from below what was read up to where the model of the curves ends."""
    bottom, top = max(_COLDEST, curves.minimum_temperature), curves.maximum_temperature
    if levels:
        low, high = curves.dew_pressure_range
        lowest = min(level.pressure for level in levels)
        bottom = curves.dew_temperature(min(max(_BELOW * lowest, low), _BELOW * high))
    # Closer together near the top, where the curves bend.
    shares = (1.0 - (1.0 - step / _POINTS_OF_CURVE) ** 2 for step in range(_POINTS_OF_CURVE + 1))
    temperatures = [min(bottom + share * (top - bottom), top) for share in shares]
    bubble = tuple((curves.liquid_enthalpy(at), curves.bubble_pressure(at)) for at in temperatures)
    dew = tuple((curves.vapour_enthalpy(at), curves.dew_pressure(at)) for at in temperatures)
    return bubble, dew


@dataclass(frozen=True, slots=True)
class _StateFinder:
    """Works the states of one call."""

    sheet: Sheet
    display: Display
    curves: Saturation
    enthalpies: Enthalpies

    def levels(self) -> Iterator[Level]:
        """Yield the measured pressures."""
        for name in ("liquid_pressure", "suction_pressure"):
            value = self.sheet.known.quantities.get(name)
            if value is not None:
                yield Level(self._title(name), doubt.nominal(value), self.display.value(name, value))

    def edges(self) -> Iterator[str]:
        """Yield what to keep in mind of a state that lies within its doubt of a curve."""
        for name in ("superheat", "subcooling"):
            worked = self.sheet.number(name)
            if not isinstance(worked, Worked):
                continue
            note = edge_note(worked)
            if note is not None and doubt.nominal(worked.value) > 0:
                yield f"{self._title(name)} is within its doubt of zero. It {note}."

    def suction(self) -> _Found:
        """Return the vapour where suction pressure and suction line temperature are read."""
        return self._vapour("1", SUCTION, "suction_pressure", "suction_line_temperature")

    def discharge(self) -> _Found:
        """Vapour where the discharge line temperature is read; the liquid pressure stands in for its pressure."""
        found = self._vapour("2", DISCHARGE, "liquid_pressure", "discharge_line_temperature")
        note = "The liquid pressure stands in for the discharge pressure, which is a little higher."
        return _Found(found.mark, found.missing, note, found.wanted) if found.mark else found

    def _vapour(self, sign: str, title: str, pressure_name: str, temperature_name: str) -> _Found:
        lacking = self._lacking(title, pressure_name, temperature_name)
        if lacking:
            return lacking
        pressure, temperature = self._value(pressure_name), self._value(temperature_name)
        try:
            dew = self.curves.dew_temperature(pressure)
        except CoilsideError as error:
            return _Found(missing=f"{sign} {title} is not drawn: {refusal_reason(error, self.display)}")
        shown = self._shown(pressure_name, temperature_name)
        if temperature <= dew:
            return _Found(
                missing=f"{sign} {title} is not drawn: at {shown} it reads at or below dew "
                f"({self.display.value(temperature_name, dew)}), so it may be wet, and pressure and temperature alone "
                "do not tell how wet."
            )
        state = Wanted(self.curves.refrigerant.model_name, pressure, temperature)
        enthalpy = self.enthalpies.get(state)
        if isinstance(enthalpy, str):
            return _Found(missing=f"{sign} {title} is not drawn: {enthalpy}")
        if enthalpy is None:
            return _Found(wanted=state)
        return _Found(Mark(sign, title, enthalpy, pressure, f"{shown}, {self._energy(enthalpy)}"))

    def liquid(self) -> _Found:
        """Return the subcooled liquid, with the enthalpy of saturated liquid at its temperature."""
        lacking = self._lacking(LIQUID, "liquid_pressure", "liquid_line_temperature")
        if lacking:
            return lacking
        pressure, temperature = self._value("liquid_pressure"), self._value("liquid_line_temperature")
        shown = self._shown("liquid_pressure", "liquid_line_temperature")
        try:
            bubble = self.curves.bubble_temperature(pressure)
            enthalpy = self.curves.liquid_enthalpy(temperature)
        except CoilsideError as error:
            return _Found(missing=f"3 {LIQUID} is not drawn: {refusal_reason(error, self.display)}")
        if temperature > bubble:
            return _Found(
                missing=f"3 {LIQUID} is not drawn: at {shown} it reads above bubble "
                f"({self.display.value('liquid_line_temperature', bubble)}), so it may hold bubbles, and pressure and "
                "temperature alone do not tell how many."
            )
        off = "0.5 Btu/lb" if self.display.system == "us" else "1.2 kJ/kg"
        note = f"Liquid has the enthalpy of saturated liquid at its temperature here, which is less than {off} off."
        return _Found(Mark("3", LIQUID, enthalpy, pressure, f"{shown}, {self._energy(enthalpy)}"), note=note)

    def expanded(self, liquid: _Found) -> _Found:
        """Return what the metering device sends into the coil: the enthalpy of the liquid at the suction pressure."""
        suction = self.sheet.known.quantities.get("suction_pressure")
        if liquid.mark is None or suction is None:
            lacking = "the liquid line is not drawn" if liquid.mark is None else "suction pressure was not read"
            return _Found(missing=f"4 {EXPANDED} is not drawn: {lacking}.")
        pressure = doubt.nominal(suction)
        try:
            share = flash_gas_fraction(self.curves, self._value("liquid_line_temperature"), pressure)
        except CoilsideError as error:
            return _Found(missing=f"4 {EXPANDED} is not drawn: {refusal_reason(error, self.display)}")
        energy = self._energy(liquid.mark.enthalpy)
        shown = f"{self.display.value('suction_pressure', pressure)}, {share:.0%} vapour, {energy}"
        note = "The suction pressure stands in for the pressure behind the metering device, which is a little higher."
        return _Found(Mark("4", EXPANDED, liquid.mark.enthalpy, pressure, shown), note=note)

    def _lacking(self, title: str, *names: str) -> _Found | None:
        lacking = [self._title(name).lower() for name in names if name not in self.sheet.known.quantities]
        sign = {SUCTION: "1", DISCHARGE: "2", LIQUID: "3"}[title]
        return _Found(missing=f"{sign} {title} is not drawn: {' and '.join(lacking)} not read.") if lacking else None

    def _value(self, name: str) -> float:
        return doubt.nominal(self.sheet.known.quantities[name])

    def _title(self, name: str) -> str:
        return self.display.catalogue.title_of(name)

    def _shown(self, *names: str) -> str:
        return " and ".join(self.display.value(name, self._value(name)) for name in names)

    def _energy(self, enthalpy: float) -> str:
        return show(enthalpy, preferred_unit(Kind.SPECIFIC_ENERGY, self.display.system))


def cycle_words(chart: CycleChart) -> tuple[str, ...]:
    """Return the chart in words."""
    lines = [f"{level.title}: {level.shown}." for level in chart.levels]
    lines += [f"{mark.sign} {mark.title}: {mark.shown}." for mark in chart.marks]
    expanded, liquid, suction = chart.mark(EXPANDED), chart.mark(LIQUID), chart.mark(SUCTION)
    unit = chart.enthalpy_unit
    if liquid and expanded:
        lines.append("From 3 to 4 the metering device lowers the pressure at constant enthalpy: straight down.")
    if expanded and suction:
        gained = show(suction.enthalpy - expanded.enthalpy, unit)
        lines.append(f"From 4 to 1 coil and suction line take up {gained}.")
    discharge = chart.mark(DISCHARGE)
    if suction and discharge:
        lines.append(f"From 1 to 2 the compressor adds {show(discharge.enthalpy - suction.enthalpy, unit)}.")
    if discharge and liquid:
        lines.append(f"From 2 to 3 the condenser gives off {show(discharge.enthalpy - liquid.enthalpy, unit)}.")
    if chart.wanted:
        lines.append("Superheated states are still being worked; they come in a moment.")
    return (*lines, *chart.missing, *chart.notes)
