"""Quantities as people type them: kind, SI value, and the text itself.

Units exist at the edges only. Inside, every number is SI: K, K of difference, Pa (absolute unless a name says
gauge), m, s, A, and plain ratios. A temperature and a temperature difference are different kinds: 10 F of
superheat is 5.6 K, while 10 F outdoors is 260.9 K.

A gauge reads against the air around it, so a gauge pressure becomes an absolute one only with the atmospheric
pressure of the site. As on a service gauge, `psi`, `kPa` and `bar` with nothing behind them are gauge pressures;
absolute ones say so (`psia`, `kPa abs`, `bar abs`).

Source of the factors: NIST Special Publication 811 (2008), appendix B.8.
"""

import re
from collections.abc import Mapping
from dataclasses import field
from enum import StrEnum
from functools import lru_cache
from typing import Final, Literal

from assistant.errors import QuantityError
from assistant.frozen import dataclass

UnitSystem = Literal["us", "si"]

ZERO_FAHRENHEIT: Final = 459.67
"""Degrees Fahrenheit between absolute zero and 0 °F."""
ZERO_CELSIUS: Final = 273.15
"""Kelvins between absolute zero and 0 °C."""
PSI: Final = 6894.757293168
"""Pascals in one pound-force per square inch."""
KELVIN_PER_FAHRENHEIT: Final = 5.0 / 9.0
SEA_LEVEL: Final = 101325.0
"""Pressure of the standard atmosphere at sea level [Pa]."""
GRAVITY: Final = 9.80665
"""Standard acceleration of free fall [m/s2]."""
FOOT: Final = 0.3048
POUND: Final = 0.45359237
BTU: Final = 1055.05585262
TON: Final = 12000.0 * BTU / 3600.0
"""Watts in one ton of refrigeration."""
CFM: Final = FOOT**3 / 60.0
"""Cubic metres a second in one cubic foot a minute."""

_DECIMALS: Final = 6
"""Decimals that a number keeps when it is written as a text."""

LONGEST_TEXT: Final = 60
"""Characters that a typed quantity may have; anything longer was pasted by mistake."""


def fahrenheit(degrees: float) -> float:
    """Return a temperature [°F] in [K]."""
    return (degrees + ZERO_FAHRENHEIT) * KELVIN_PER_FAHRENHEIT


class Kind(StrEnum):
    """What a quantity measures; two kinds never mix."""

    TEMPERATURE = "temperature"
    TEMPERATURE_DIFFERENCE = "temperature_difference"
    PRESSURE = "pressure"
    PRESSURE_DIFFERENCE = "pressure_difference"
    LENGTH = "length"
    DURATION = "duration"
    CURRENT = "current"
    RATIO = "ratio"
    FRACTION = "fraction"
    AIRFLOW = "airflow"
    POWER = "power"
    SPECIFIC_AIRFLOW = "specific_airflow"
    SPECIFIC_ENERGY = "specific_energy"
    MASS_FLOW = "mass_flow"

    @property
    def words(self) -> str:
        """The kind as a person says it, with its article."""
        return _WORDS[self]


_DIFFERENCE_OF: Final[Mapping[Kind, Kind]] = {
    Kind.TEMPERATURE: Kind.TEMPERATURE_DIFFERENCE,
    Kind.PRESSURE: Kind.PRESSURE_DIFFERENCE,
}


def difference_of(kind: Kind) -> Kind:
    """The kind of a difference of two such quantities; most kinds are their own."""
    return _DIFFERENCE_OF.get(kind, kind)


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit of one kind: SI value = (typed + `offset`) * `factor`; `gauge` is measured from the atmosphere."""

    symbol: str
    kind: Kind
    factor: float
    offset: float = 0.0
    gauge: bool = False
    shown: str = ""
    decimals: int = 1
    aliases: tuple[str, ...] = ()

    def to_si(self, typed: float) -> float:
        """SI value of a typed number; of a gauge unit, the gauge pressure [Pa]."""
        return (typed + self.offset) * self.factor

    def from_si(self, value: float) -> float:
        """The number in this unit of an SI value; of a gauge unit, of a gauge pressure [Pa]."""
        return value / self.factor - self.offset

    @property
    def label(self) -> str:
        """The unit as a screen shows it."""
        return self.shown or self.symbol


@dataclass(frozen=True, slots=True)
class Quantity:
    """A quantity somebody typed.

    `value` is in SI; with a `unit` that is a gauge one it is still a gauge pressure [Pa]: use `absolute`. `number` is
    what was typed, in that unit and to the decimals that a text keeps, `typed` the text itself. `around` is the
    half-width [SI] that who typed it left open beside what the instrument promises.
    """

    kind: Kind
    value: float
    unit: Unit
    number: float
    typed: str = field(compare=False)
    around: float = 0.0

    def absolute(self, atmosphere: float | None) -> float:
        """The SI value, a gauge pressure made absolute with the site's `atmosphere` [Pa].

        Raises:
            QuantityError: a gauge pressure without an atmosphere, or one below a perfect vacuum.
        """
        if not self.unit.gauge:
            return self.value
        if atmosphere is None:
            raise QuantityError(f"{self.typed} is a gauge pressure: the altitude of the site is needed.")
        pressure = self.value + atmosphere
        if pressure < 0:
            raise QuantityError(
                f"{self.typed} is below a perfect vacuum; at this site a gauge cannot read less than "
                f"{self.unit.from_si(-atmosphere):.1f} {self.unit.label}."
            )
        return pressure

    def text(self) -> str:
        """The quantity with its unit spelled out, fit to be parsed again."""
        return f"{self._told()} {self.unit.symbol}".strip()

    def shown(self) -> str:
        """The quantity with its unit as a screen shows it."""
        return f"{self._told()} {self.unit.label}".strip()

    def _told(self) -> str:
        around = f" ± {plain(spread_in_unit(self.around, self.unit))}" if self.around else ""
        return f"{plain(self.number)}{around}"


_F = KELVIN_PER_FAHRENHEIT
_INCH_OF_MERCURY = 3386.389
_INCH_OF_WATER = 249.08891
_MICRON = SEA_LEVEL / 760 / 1000  # a thousandth of a torr
_BTU_PER_HOUR = BTU / 3600

_INCHES_OF_VACUUM = (
    "in hg vac", "in vac", "inhg vacuum", "in hg vacuum", "inhgv", "inches vacuum", "in. hg vac", "inhgvac",
)  # fmt: skip
_MICRONS = ("microns", "micron hg", "microns hg", "um hg", "mtorr")

_UNITS: Final[tuple[Unit, ...]] = (
    Unit("F", Kind.TEMPERATURE, _F, ZERO_FAHRENHEIT, shown="°F", aliases=("°f", "degf", "deg f", "fahrenheit")),
    Unit("C", Kind.TEMPERATURE, 1.0, ZERO_CELSIUS, shown="°C", aliases=("°c", "degc", "deg c", "celsius")),
    Unit("K", Kind.TEMPERATURE, 1.0, aliases=("kelvin",)),
    Unit("F", Kind.TEMPERATURE_DIFFERENCE, _F, shown="°F", aliases=("°f", "degf", "deg f", "fahrenheit")),
    Unit("C", Kind.TEMPERATURE_DIFFERENCE, 1.0, shown="°C", aliases=("°c", "degc", "deg c", "celsius")),
    Unit("K", Kind.TEMPERATURE_DIFFERENCE, 1.0, aliases=("kelvin",)),
    Unit("psig", Kind.PRESSURE, PSI, gauge=True, aliases=("psi", "lb", "lbs", "psi g", "psi gauge")),
    Unit("psia", Kind.PRESSURE, PSI, aliases=("psi abs", "psi absolute", "psi a")),
    Unit("kPa", Kind.PRESSURE, 1e3, gauge=True, decimals=0, aliases=("kpag", "kpa gauge", "kpa g")),
    Unit("kPa abs", Kind.PRESSURE, 1e3, decimals=0, aliases=("kpaa", "kpa a", "kpa absolute")),
    Unit("bar", Kind.PRESSURE, 1e5, gauge=True, decimals=2, aliases=("barg", "bar g", "bar gauge")),
    Unit("bar abs", Kind.PRESSURE, 1e5, decimals=2, aliases=("bara", "bar a", "bar absolute")),
    Unit("MPa", Kind.PRESSURE, 1e6, gauge=True, decimals=3, aliases=("mpag", "mpa gauge")),
    Unit("MPa abs", Kind.PRESSURE, 1e6, decimals=3, aliases=("mpaa", "mpa absolute")),
    Unit("inHg vac", Kind.PRESSURE, -_INCH_OF_MERCURY, gauge=True, aliases=_INCHES_OF_VACUUM),
    Unit("micron", Kind.PRESSURE, _MICRON, decimals=0, aliases=_MICRONS),
    Unit("psi", Kind.PRESSURE_DIFFERENCE, PSI),
    Unit("kPa", Kind.PRESSURE_DIFFERENCE, 1e3),
    Unit("bar", Kind.PRESSURE_DIFFERENCE, 1e5, decimals=2),
    Unit("in wc", Kind.PRESSURE_DIFFERENCE, _INCH_OF_WATER, decimals=2, aliases=("inwc", "in. wc", "iwc", "in wg")),
    Unit("Pa", Kind.PRESSURE_DIFFERENCE, 1.0, decimals=0),
    Unit("micron", Kind.PRESSURE_DIFFERENCE, _MICRON, decimals=0, aliases=_MICRONS),
    Unit("ft", Kind.LENGTH, FOOT, decimals=0, aliases=("feet", "foot", "'")),
    Unit("m", Kind.LENGTH, 1.0, decimals=0, aliases=("meter", "meters", "metre", "metres")),
    Unit("in", Kind.LENGTH, 0.0254, decimals=3, aliases=("inch", "inches", '"')),
    Unit("mm", Kind.LENGTH, 0.001, decimals=1),
    Unit("min", Kind.DURATION, 60.0, decimals=0, aliases=("minute", "minutes", "mins", "m")),
    Unit("s", Kind.DURATION, 1.0, decimals=0, aliases=("sec", "second", "seconds")),
    Unit("h", Kind.DURATION, 3600.0, aliases=("hr", "hrs", "hour", "hours")),
    Unit("A", Kind.CURRENT, 1.0, aliases=("amp", "amps", "ampere", "amperes")),
    Unit("", Kind.RATIO, 1.0, decimals=2, aliases=(":1", "to 1")),
    Unit("%", Kind.FRACTION, 0.01, decimals=0, aliases=("percent", "pct")),
    Unit("cfm", Kind.AIRFLOW, CFM, decimals=0),
    Unit("L/s", Kind.AIRFLOW, 1e-3, decimals=0, aliases=("l per s",)),
    Unit("m3/h", Kind.AIRFLOW, 1 / 3600, decimals=0, shown="m³/h", aliases=("m³/h",)),
    Unit("Btu/h", Kind.POWER, _BTU_PER_HOUR, decimals=0, aliases=("btuh", "btu/hr")),
    Unit("kW", Kind.POWER, 1e3, decimals=2),
    Unit("W", Kind.POWER, 1.0, decimals=0, aliases=("watt", "watts")),
    Unit("ton", Kind.POWER, 12000 * _BTU_PER_HOUR, decimals=2, aliases=("tons",)),
    Unit("cfm/ton", Kind.SPECIFIC_AIRFLOW, CFM / (12000 * _BTU_PER_HOUR), decimals=0),
    Unit("L/s/kW", Kind.SPECIFIC_AIRFLOW, 1e-6, decimals=0),
    Unit("Btu/lb", Kind.SPECIFIC_ENERGY, BTU / POUND),
    Unit("kJ/kg", Kind.SPECIFIC_ENERGY, 1e3),
    Unit("lb/h", Kind.MASS_FLOW, POUND / 3600, decimals=0),
    Unit("kg/h", Kind.MASS_FLOW, 1 / 3600, decimals=0),
)

_BY_NAME: Final[Mapping[tuple[Kind, str], Unit]] = {
    (unit.kind, name.lower()): unit for unit in _UNITS for name in (unit.symbol, *unit.aliases)
}

_PREFERRED: Final[Mapping[UnitSystem, Mapping[Kind, str]]] = {
    "us": {
        Kind.TEMPERATURE: "F",
        Kind.TEMPERATURE_DIFFERENCE: "F",
        Kind.PRESSURE: "psig",
        Kind.PRESSURE_DIFFERENCE: "psi",
        Kind.LENGTH: "ft",
        Kind.DURATION: "min",
        Kind.CURRENT: "A",
        Kind.RATIO: "",
        Kind.FRACTION: "%",
        Kind.AIRFLOW: "cfm",
        Kind.POWER: "Btu/h",
        Kind.SPECIFIC_AIRFLOW: "cfm/ton",
        Kind.SPECIFIC_ENERGY: "Btu/lb",
        Kind.MASS_FLOW: "lb/h",
    },
    "si": {
        Kind.TEMPERATURE: "C",
        Kind.TEMPERATURE_DIFFERENCE: "K",
        Kind.PRESSURE: "kPa abs",
        Kind.PRESSURE_DIFFERENCE: "kPa",
        Kind.LENGTH: "m",
        Kind.DURATION: "min",
        Kind.CURRENT: "A",
        Kind.RATIO: "",
        Kind.FRACTION: "%",
        Kind.AIRFLOW: "L/s",
        Kind.POWER: "kW",
        Kind.SPECIFIC_AIRFLOW: "L/s/kW",
        Kind.SPECIFIC_ENERGY: "kJ/kg",
        Kind.MASS_FLOW: "kg/h",
    },
}

_WORDS: Final[Mapping[Kind, str]] = {
    Kind.TEMPERATURE: "a temperature",
    Kind.TEMPERATURE_DIFFERENCE: "a temperature difference",
    Kind.PRESSURE: "a pressure",
    Kind.PRESSURE_DIFFERENCE: "a pressure difference",
    Kind.LENGTH: "a length",
    Kind.DURATION: "a time",
    Kind.CURRENT: "a current",
    Kind.RATIO: "a plain number",
    Kind.FRACTION: "a percentage",
    Kind.AIRFLOW: "an airflow",
    Kind.POWER: "a power",
    Kind.SPECIFIC_AIRFLOW: "an airflow per capacity",
    Kind.SPECIFIC_ENERGY: "an energy per mass",
    Kind.MASS_FLOW: "a mass flow",
}

_FORMS: Final[Mapping[Kind, str]] = {
    Kind.TEMPERATURE: "54, 54 F or 12.2 C",
    Kind.TEMPERATURE_DIFFERENCE: "12, 12 F or 6.7 K",
    Kind.PRESSURE: "118, 118 psig, 814 kPa, 132.7 psia or 10 inHg vac",
    Kind.PRESSURE_DIFFERENCE: "3, 3 psi, 21 kPa or 0.5 in wc",
    Kind.LENGTH: "5000 ft, 1500 m or 0.875 in",
    Kind.DURATION: "15, 15 min or 0.5 h",
    Kind.CURRENT: "8.4 or 8.4 A",
    Kind.RATIO: "2.7",
    Kind.FRACTION: "20 or 20 %",
    Kind.AIRFLOW: "1200, 1200 cfm or 566 L/s",
    Kind.POWER: "36000 Btu/h, 10.5 kW or 3 ton",
    Kind.SPECIFIC_AIRFLOW: "400 cfm/ton or 54 L/s/kW",
    Kind.SPECIFIC_ENERGY: "70 Btu/lb or 163 kJ/kg",
    Kind.MASS_FLOW: "500 lb/h or 227 kg/h",
}

_NUMBER = re.compile(
    r"(?P<sign>[+-]?)\s*(?P<digits>\d{1,9}(?:[.,]\d{1,9})*|[.,]\d{1,9})(?![\d.,]|e[+-]?\d)", re.ASCII | re.IGNORECASE
)
_THOUSANDS = re.compile(r"\d{1,3}(,\d{3})+(\.\d+)?", re.ASCII)
_MINUS_SIGNS = str.maketrans({"\N{MINUS SIGN}": "-", "\N{EN DASH}": "-", "\N{NO-BREAK SPACE}": " ", "º": "°", "˚": "°"})
_FACE_LEAD = re.compile(r"^(about|approx\.?|approximately|~|=)\s*", re.IGNORECASE)


def unit_named(name: str, kind: Kind) -> Unit | None:
    """The unit of this kind that answers to `name`, in any case; `None` when there is none."""
    return _BY_NAME.get((kind, " ".join(name.lower().split())))


def kinds_of_unit(name: str) -> tuple[Kind, ...]:
    """Every kind that has a unit called `name`: `F` is a temperature and a temperature difference."""
    return tuple(kind for kind in Kind if unit_named(name, kind))


def unit_names(kind: Kind) -> tuple[str, ...]:
    """The symbols of a kind's units, the usual one first."""
    return tuple(unit.symbol for unit in _UNITS if unit.kind is kind)


def preferred_unit(kind: Kind, system: UnitSystem) -> Unit:
    """The unit in which a screen shows this kind."""
    return _BY_NAME[kind, _PREFERRED[system][kind].lower()]


@lru_cache(maxsize=200)
def accepted_forms(kind: Kind, bare: str | None = None) -> str:
    """How a quantity of this kind may be typed, for messages: "a pressure such as 118, 118 psig or ...".

    Where a number without a unit is one of the forms, it is an example in the unit `bare` that such a number takes.
    """
    forms = re.split(", | or ", _FORMS[kind])
    unit = unit_named(bare or "", kind)
    own = next((form for form in forms[1:] if unit and unit_named(form.partition(" ")[2], kind) is unit), "")
    if own and " " not in forms[0]:
        forms = [own.partition(" ")[0], own, *(form for form in forms[1:] if form != own)]
    return (
        f"{kind.words} such as {', '.join(forms[:-1])} or {forms[-1]}"
        if forms[1:]
        else f"{kind.words} such as {forms[0]}"
    )


def split(text: str) -> tuple[float, str] | None:
    """The leading number of a typed text and what stands behind it; `None` when it does not begin with a number.

    A comma is a decimal comma ("12,5") unless every group behind it has three digits ("5,000").
    """
    cleaned = _FACE_LEAD.sub("", text.translate(_MINUS_SIGNS).strip())
    found = _NUMBER.match(cleaned)
    if found is None:
        return None
    digits = found["digits"]
    if _THOUSANDS.fullmatch(digits):
        digits = digits.replace(",", "")
    elif digits.count(",") + digits.count(".") > 1:
        return None
    number = float(digits.replace(",", "."))
    return (-number if found["sign"] == "-" else number), " ".join(cleaned[found.end() :].split())


def parse(text: str, kind: Kind, default_unit: str | None = None) -> Quantity:
    """Read what somebody typed as a quantity of `kind`; a bare number takes `default_unit`.

    Raises:
        QuantityError: not a number, a unit of another kind, no unit where one is needed, or below absolute zero.
    """
    forms = accepted_forms(kind, default_unit)
    if len(text) > LONGEST_TEXT:
        raise QuantityError(f"That is {len(text)} characters long. I need {forms}.")
    parts = split(text)
    if parts is None:
        said = f"I cannot read {text.strip()!r} as a number. " if text.strip() else ""
        raise QuantityError(f"{said}I need {forms}.")
    number, unit_text = round(parts[0], _DECIMALS), parts[1]
    if not unit_text and default_unit is None and kind is not Kind.RATIO:
        raise QuantityError(f"{plain(number)} has no unit: write {plain(number)} {unit_names(kind)[0]}.")
    unit = unit_named(unit_text or default_unit or "", kind)
    if unit is None:
        raise QuantityError(_wrong_unit(unit_text or default_unit or "", kind, forms))
    value = unit.to_si(number)
    if value < 0 and (kind is Kind.TEMPERATURE or (kind is Kind.PRESSURE and not unit.gauge)):
        bound = "absolute zero" if kind is Kind.TEMPERATURE else "a perfect vacuum"
        raise QuantityError(f"{text.strip()} is below {bound}. I need {forms}.")
    return Quantity(kind, value, unit, number, text.strip())


def _wrong_unit(unit_text: str, kind: Kind, forms: str) -> str:
    """The sentence for a unit that does not fit the kind."""
    others = [other for other in kinds_of_unit(unit_text) if other is not kind]
    if others:
        return f"{unit_text} is a unit of {others[0].words.removeprefix('an ').removeprefix('a ')}. I need {forms}."
    return f"I do not know the unit {unit_text!r}. I need {forms}."


def plain(number: float) -> str:
    """A number as a person would type it: no trailing zeros, no exponent."""
    return f"{number:.{_DECIMALS}f}".rstrip("0").rstrip(".") if number % 1 else f"{number:.0f}"


def in_unit(value: float, unit: Unit, atmosphere: float = SEA_LEVEL) -> float:
    """An SI value (pressures absolute [Pa]) as a number in `unit`, gauge units with the site's `atmosphere` [Pa]."""
    return unit.from_si(value - atmosphere if unit.gauge else value)


def spread_in_unit(spread: float, unit: Unit) -> float:
    """A width, such as an uncertainty, in SI as a number in `unit`: no offset, no sign, no atmosphere."""
    return abs(spread / unit.factor)


def spread_to_si(spread: float, unit: Unit) -> float:
    """A width as a number in `unit` in SI."""
    return abs(spread * unit.factor)


def show(value: float, unit: Unit, atmosphere: float = SEA_LEVEL) -> str:
    """An SI value (pressures absolute [Pa]) with its unit, as a screen shows it: `122.8 psig`, `56.0 °F`."""
    return f"{_rounded(in_unit(value, unit, atmosphere), unit.decimals)} {unit.label}".strip()


def show_with_doubt(value: float, spread: float, unit: Unit, atmosphere: float = SEA_LEVEL) -> str:
    """An SI value with its expanded uncertainty (SI, of the same kind): `14.0 ± 2.3 °F`."""
    number = _rounded(in_unit(value, unit, atmosphere), unit.decimals)
    doubt = _rounded(spread_in_unit(spread, unit), unit.decimals)
    return f"{number} ± {doubt} {unit.label}".strip()


def _rounded(number: float, decimals: int) -> str:
    """Fixed decimals, and never a minus sign on a zero."""
    text = f"{number:.{decimals}f}"
    return text.lstrip("-") if float(text) == 0 else text
