"""The work as text and as plain values: formula, numbers in place, result with doubt, source."""

import re
from collections.abc import Iterable
from typing import Final

from assistant import doubt
from assistant.catalogue.catalogue import Catalogue
from assistant.errors import CoilsideError, OutOfRangeError
from assistant.frozen import dataclass
from assistant.quantity import (
    Kind,
    Unit,
    UnitSystem,
    difference_of,
    in_unit,
    preferred_unit,
    show,
    show_with_doubt,
    spread_in_unit,
)
from assistant.ranges import range_sentence
from assistant.worksheet.known import Known
from assistant.worksheet.plausibility import Contradiction
from assistant.worksheet.sheet import Refused, Sheet, Worked

_NAME = re.compile(r"\{(\w+)\}")


@dataclass(frozen=True)
class Display:
    """How numbers are shown on a call: names from the catalogue, units of one system, the site's atmosphere [Pa]."""

    catalogue: Catalogue
    system: UnitSystem
    atmosphere: float

    def unit(self, name: str) -> Unit:
        """Return the unit of a reading, fact or worked number."""
        return self.catalogue.unit_of(name, self.system)

    def value(self, name: str, value: doubt.Uncertain) -> str:
        """Return a value without its doubt: `56.0 °F`."""
        return show(doubt.nominal(value), self.unit(name), self.atmosphere)

    def with_doubt(self, name: str, value: doubt.Uncertain) -> str:
        """Return a value with its expanded uncertainty, if it has one: `14.0 ± 2.3 °F`."""
        if doubt.standard(value) == 0:
            return self.value(name, value)
        return show_with_doubt(doubt.nominal(value), doubt.expanded(value), self.unit(name), self.atmosphere)

    def difference(self, kind: Kind, value: doubt.Uncertain) -> str:
        """Return a difference of two values of a kind, with its doubt."""
        unit = preferred_unit(difference_of(kind), self.system)
        return show_with_doubt(doubt.nominal(value), doubt.expanded(value), unit, self.atmosphere)

    def change(self, name: str, value: doubt.Uncertain) -> str:
        """Return what a reading changed by, with its doubt: in its own unit where that is one of differences."""
        own = self.unit(name)
        unit = own if own.kind is difference_of(own.kind) else preferred_unit(difference_of(own.kind), self.system)
        return show_with_doubt(doubt.nominal(value), doubt.expanded(value), unit, self.atmosphere)


def display_for(catalogue: Catalogue, system: UnitSystem, known: Known) -> Display:
    """Return the display of one call."""
    return Display(catalogue, system, known.atmosphere)


def range_of(name: str, value: doubt.Uncertain, display: Display) -> str:
    """Return the range in which a value surely lies: `118 to 132 psig`."""
    unit, middle, spread = display.unit(name), doubt.nominal(value), doubt.expanded(value)
    low, high = (in_unit(end, unit, display.atmosphere) for end in (middle - spread, middle + spread))
    digits = 0 if high - low >= _WIDE_ENOUGH else 1
    return f"{low:.{digits}f} to {high:.{digits}f} {unit.symbol}".replace("-0 ", "0 ").rstrip()


_WIDE_ENOUGH: Final = 3.0
"""Width of a range beyond which tenths tell nothing."""
_AT_SATURATION: Final = {
    "superheat": "may be wet: at zero vapour and liquid travel together, and superheat cannot go lower",
    "evaporator_superheat": "may be wet: at zero vapour and liquid travel together, and superheat cannot go lower",
    "subcooling": "may hold bubbles: at zero vapour and liquid travel together, and subcooling cannot go lower",
}
"""What it means when a number lies within its doubt of the saturation line, where its formula ends."""


def edge_note(worked: Worked) -> str | None:
    """Return what to keep in mind of a number that lies within its doubt of saturation, or beyond it."""
    if doubt.nominal(worked.value) >= doubt.expanded(worked.value):
        return None
    return _AT_SATURATION.get(worked.name)


def line_of(worked: Worked, display: Display) -> str:
    """Return a number on one line: title, value with doubt, and a word where it lies at saturation."""
    note = edge_note(worked)
    short = f" ({note.partition(':')[0]})" if note else ""
    return f"{display.catalogue.title_of(worked.name)}: {display.with_doubt(worked.name, worked.value)}{short}"


@dataclass(frozen=True, slots=True)
class Work:
    """How a number was worked, in the words and units of a call.

    `values` is the formula with the values in place, empty where nothing went in; `doubts` are the inputs that its
    doubt comes from, each with its share.
    """

    title: str
    formula: str
    values: str
    result: str
    doubts: tuple[str, ...]
    notes: tuple[str, ...]
    source: str


def tell_work(worked: Worked, display: Display) -> Work:
    """Tell how a number was worked."""
    values = dict(worked.inputs)

    def titled(found: re.Match[str]) -> str:
        return display.catalogue.title_of(found[1]).lower()

    def valued(found: re.Match[str]) -> str:
        value = values[found[1]]
        return value if isinstance(value, str) else display.value(found[1], value)

    note, expression = edge_note(worked), worked.formula.expression
    return Work(
        title=display.catalogue.title_of(worked.name),
        formula=_NAME.sub(titled, expression),
        values=_NAME.sub(valued, expression) if worked.inputs else "",
        result=display.with_doubt(worked.name, worked.value),
        doubts=tuple(f"{_label(label, display)} {share:.0%}" for label, share in doubt.shares(worked.value).items()),
        notes=tuple(text for text in (f"It {note}." if note else "", worked.formula.note) if text),
        source=worked.formula.source,
    )


def work_lines(work: Work) -> tuple[str, ...]:
    """The work of one number, line by line: in words, with values, the result, what the doubt comes from, source."""
    lines = [f"{work.title} = {work.formula}", *(f"  = {step}" for step in (work.values, work.result) if step)]
    if work.doubts:
        lines.append(f"  The doubt comes from: {', '.join(work.doubts)}.")
    return (*lines, *(f"  {note}" for note in work.notes), f"  Source: {work.source}.")


def _label(label: str, display: Display) -> str:
    return display.catalogue.title_of(label).lower() if label in display.catalogue.readings else label


def refusal(refused: Refused, display: Display) -> str:
    """Why a number is not there, in the units of the screen."""
    return f"{display.catalogue.title_of(refused.name)} cannot be worked: {refusal_reason(refused.error, display)}"


def refusal_reason(error: CoilsideError, display: Display) -> str:
    """Why something cannot be worked, in the units of the screen."""
    if isinstance(error, OutOfRangeError):
        return range_sentence(error, display.system, display.atmosphere)
    return str(error)


def as_json(numbers: Iterable[Worked], display: Display) -> dict[str, dict[str, float | str]]:
    """Worked numbers as plain values: name to value, unit and expanded uncertainty."""
    return {worked.name: _plain(worked, display) for worked in numbers}


def _plain(worked: Worked, display: Display) -> dict[str, float | str]:
    unit = display.unit(worked.name)
    value = in_unit(doubt.nominal(worked.value), unit, display.atmosphere)
    uncertainty = spread_in_unit(doubt.expanded(worked.value), unit)
    return {"value": round(value, 4), "unit": unit.symbol, "uncertainty": round(uncertainty, 4)}


def disagreement(found: Contradiction, sheet: Sheet, display: Display) -> tuple[str, ...]:
    """Return the readings that disagree, each with its value."""
    return tuple(
        f"{display.catalogue.title_of(name)}: {display.with_doubt(name, sheet.known.quantities[name])}"
        for name in found.readings
    )


def advice(found: Contradiction) -> tuple[str, ...]:
    """Return the likely slips, the refrigerants that would agree, and what to do."""
    lines = [f"Likely: {'; '.join(found.rule.slips)}."]
    if found.refrigerants:
        lines.append(f"The readings would agree with: {', '.join(found.refrigerants)}. Look at the data plate again.")
    lines.append("Check these before anything is made of them, and correct what was wrong (change NAME).")
    return tuple(lines)
