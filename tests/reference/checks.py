"""The outside values of this folder, and how this program's own value for each of them is worked."""

import csv
import math
from dataclasses import dataclass
from pathlib import Path

from assistant.quantity import GRAVITY, SEA_LEVEL
from assistant.simulator.bore import flux
from assistant.simulator.vapour import vapour
from assistant.thermo import air
from assistant.thermo.curves import saturation
from assistant.thermo.refrigerants import find_refrigerant
from tests.thermo.units import PSI, celsius, fahrenheit, psig, to_psig

HERE = Path(__file__).parent
FOOT = 0.3048
INCH = 0.0254
BTU_PER_POUND = 2326.0
TON = 3516.85
SATURATION_TOLERANCES = {
    "US DOE building-energy program": "0.1 %",
    "Perry's Chemical Engineers' Handbook": "0.3 %",
    "VDI Heat Atlas": "0.2 %",
    "refrigerant producer": "0.8 %",
}
SATURATION_DISAGREEMENTS = {
    "US DOE building-energy program": "an equation of state too: it checks the wiring, not the equation",
    "Perry's Chemical Engineers' Handbook": "a five-term fit of its own",
    "VDI Heat Atlas": "a Wagner fit of its own",
    "refrigerant producer": "a producer's fit, -0.4 to +0.7 % from -40 to 55 °C",
}


@dataclass(frozen=True)
class Check:
    """One outside value: what it is, where it holds, how close ours must be, and who says so."""

    quantity: str
    refrigerant: str
    at: float | None
    at_unit: str
    value: float
    unit: str
    tolerance: str
    source: str
    known_disagreement: str

    @property
    def allowed(self) -> float:
        """The tolerance in the unit of the value."""
        number = float(self.tolerance.removesuffix("%"))
        return abs(self.value) * number / 100 if self.tolerance.endswith("%") else number

    @property
    def name(self) -> str:
        """A short name for a test's title."""
        where = "" if self.at is None else f" at {self.at:g} {self.at_unit}"
        return f"{self.quantity} {self.refrigerant}{where} ({self.unit})".replace("  ", " ")

    def ours(self) -> float:
        """This program's value, in the unit of the check."""
        return from_si(_QUANTITIES[self.quantity](self), self.unit)

    def at_si(self) -> float:
        """The condition in SI."""
        assert self.at is not None
        return _TO_SI[self.at_unit](self.at)


_TO_SI = {
    "F": fahrenheit,
    "C": celsius,
    "ft": lambda x: x * FOOT,
    "in": lambda x: x * INCH,
    "m": lambda x: x,
    "kPa": lambda x: x * 1000,
    "psig": psig,
}
_FROM_SI = {
    "psia": lambda x: x / PSI,
    "psig": to_psig,
    "Pa": lambda x: x,
    "kPa": lambda x: x / 1000,
    "MPa": lambda x: x / 1e6,
    "kPa/K": lambda x: x / 1000,
    "C": lambda x: x - 273.15,
    "F difference": lambda x: x * 1.8,
    "psi/ft": lambda x: x * FOOT / PSI,
    "lb/lb": lambda x: x,
    "Btu/lb": lambda x: x / BTU_PER_POUND,
    "tons": lambda x: x / TON,
}


def from_si(value: float, unit: str) -> float:
    """A value in SI, in the unit of a check."""
    return _FROM_SI[unit](value)


def _saturated_enthalpy(check: Check) -> float:
    """Enthalpy on the handbook's inch-pound base: dry air and liquid water's vapour counted from 0 °F [J/kg]."""
    state = air.from_relative_humidity(check.at_si(), 1.0)
    dry_air_shift = 0.24 * 32
    vapour_shift = 1061 - (2501e3 / BTU_PER_POUND - 0.444 * 32)
    return state.enthalpy + (dry_air_shift + vapour_shift * state.humidity_ratio) * BTU_PER_POUND


def _glide_at_dew(check: Check) -> float:
    curves = saturation(check.refrigerant)
    return curves.glide(curves.dew_pressure(check.at_si()))


def _water_vapour_pressure(check: Check) -> float:
    ratio = air.saturated_humidity_ratio(check.at_si())
    return SEA_LEVEL * ratio / (0.621945 + ratio)


def _dew_pressure_slope(check: Check) -> float:
    curves = saturation(check.refrigerant)
    return 1 / curves.follow_dew(curves.dew_pressure(check.at_si()))[1]


def _cooling_through_bore(check: Check) -> float:
    """What a half-inch orifice of this bore feeds [W]: 115 °F condensing, 10 °F subcooling, 45 °F evaporating."""
    curves = saturation(check.refrigerant)
    evaporating, liquid = fahrenheit(45), fahrenheit(105)
    through = flux(
        vapour(check.refrigerant),
        curves.bubble_pressure(fahrenheit(115)),
        curves.liquid_enthalpy(liquid),
        curves.dew_pressure(evaporating),
        0.5 * INCH / check.at_si(),
    )
    flow = through * math.pi / 4 * check.at_si() ** 2
    return flow * (curves.vapour_enthalpy(evaporating) - curves.liquid_enthalpy(liquid))


_QUANTITIES = {
    "standard_pressure": lambda c: air.standard_pressure(c.at_si()),
    "water_vapour_pressure": _water_vapour_pressure,
    "saturated_humidity_ratio": lambda c: air.saturated_humidity_ratio(c.at_si()),
    "saturated_air_enthalpy": _saturated_enthalpy,
    "dew_pressure": lambda c: saturation(c.refrigerant).dew_pressure(c.at_si()),
    "dew_temperature": lambda c: saturation(c.refrigerant).dew_temperature(c.at_si()),
    "bubble_temperature": lambda c: saturation(c.refrigerant).bubble_temperature(c.at_si()),
    "critical_temperature": lambda c: find_refrigerant(c.refrigerant).critical_temperature,
    "equalizer_limit": _dew_pressure_slope,
    "dew_pressure_slope": _dew_pressure_slope,
    "lift_of_liquid": lambda c: saturation(c.refrigerant).liquid_density(c.at_si()) * GRAVITY,
    "glide_at_dew": _glide_at_dew,
    "cooling_through_bore": _cooling_through_bore,
}


def _rows(name: str) -> list[dict[str, str]]:
    return list(csv.DictReader((HERE / name).read_text(encoding="utf-8").splitlines()))


def all_checks() -> list[Check]:
    """Every outside value of this folder."""
    return [*_saturation_checks(), *_value_checks()]


def _value_checks() -> list[Check]:
    return [
        Check(
            quantity=row["quantity"],
            refrigerant=row["refrigerant"],
            at=float(row["at"]) if row["at"] else None,
            at_unit=row["at_unit"],
            value=float(row["value"]),
            unit=row["unit"],
            tolerance=row["tolerance"],
            source=row["source"],
            known_disagreement=row["known_disagreement"],
        )
        for row in _rows("value_checks.csv")
    ]


def _saturation_checks() -> list[Check]:
    checks = []
    for row in _rows("saturation_checks.csv"):
        begin = next(begin for begin in SATURATION_TOLERANCES if row["source"].startswith(begin))
        checks.append(
            Check(
                quantity="dew_pressure",
                refrigerant=row["refrigerant"],
                at=float(row["temp_C"]),
                at_unit="C",
                value=float(row["p_kPa_abs"]),
                unit="kPa",
                tolerance=SATURATION_TOLERANCES[begin],
                source=row["source"],
                known_disagreement=SATURATION_DISAGREEMENTS[begin],
            )
        )
    return checks
