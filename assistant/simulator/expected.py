"""What a sound unit reads in this weather, with a doubt that spans how sound units differ.

The simulated unit is too slow to be asked at every number, so what it does stands in surfaces over the weather, fitted
by `assistant.simulator.fit_expected` and shipped as data: each quantity of the usual unit, how it moves with all that
is not known of a unit (`units.UNKNOWNS`), and how far makes of another structure part from it. Superheat is carried on
below zero as if liquid went on cooling, so that the surfaces have no edge where a coil floods; it is cut when read.

Temperatures and differences [K], pressures absolute [Pa].
"""

import json
import math
import operator
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import product
from pathlib import Path
from typing import Any, Final

from assistant.doubt import Doubtful, Source, Uncertain, lift, nominal, standard
from assistant.errors import InputError, OutOfRangeError
from assistant.quantity import KELVIN_PER_FAHRENHEIT, SEA_LEVEL, fahrenheit
from assistant.simulator.plant import DeviceKind, Mode
from assistant.simulator.units import UNKNOWNS, Facts, Weather, spreads, usual_build
from assistant.simulator.vapour import modelled_designations
from assistant.thermo.air import standard_pressure
from assistant.thermo.curves import saturation

FOLDER: Final = Path(__file__).parent / "data" / "expected"
QUANTITIES: Final = (
    "evaporating",
    "condensing",
    "superheat",
    "subcooling",
    "outlet_superheat",
    "discharge_over_condensing",
    "supply",
    "condenser_air_rise",
    "power",
)
"""What the surfaces tell: boiling (dew), condensing (bubble) and supply air [K], the rest differences [K].

`outlet_superheat` is that at the coil's outlet against the pressure at the outdoor unit; `power` is the compressor's
over that of the usual unit at its rating point.
"""
LOAD: Final = "compressor_load"
"""The current of the compressor as a share of the rated load amps of the plate."""
RATED_LOAD: Final = 1.2
"""Rated load amps over the current at the rating point; chosen."""
CURVED: Final = "condenser"
"""The unknown of which the surfaces hold the curvature as well, since the efficiency class moves it far."""
PUMP: Final = "heat_pump"
_SHARE_OF_PUMPS: Final = 0.3
"""How far what a reversing valve does is in doubt where nobody says whether it is a heat pump; chosen."""
_NO_WEATHER: Final = Weather(0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
FINE: Final = 4
COARSE: Final = 2
"""Degrees of the polynomials of the values, and of everything that moves them."""


@dataclass(frozen=True, slots=True)
class Domain:
    """Where a mode's surfaces hold: middle and half width of each coordinate [K]."""

    middles: tuple[float, ...]
    halves: tuple[float, ...]

    @property
    def names(self) -> tuple[str, ...]:
        """What the coordinates are."""
        whole = ("outdoor air", "return air wet bulb", "return air over its wet bulb")
        return whole if len(self.middles) == 3 else ("outdoor air", "return air")

    def coordinates(self, outdoor: float, dry: float, wet: float) -> tuple[float, ...]:
        """Return the coordinates [K] of outdoor air, return air and its wet bulb [K]."""
        return (outdoor, wet, dry - wet) if len(self.middles) == 3 else (outdoor, dry)

    def place(self, outdoor: float, dry: float, wet: float) -> tuple[float, ...]:
        """Return the same, each from -1 to 1."""
        told = self.coordinates(outdoor, dry, wet)
        return tuple((t - m) / h for t, m, h in zip(told, self.middles, self.halves, strict=True))


_F: Final = KELVIN_PER_FAHRENHEIT
DOMAINS: Final[Mapping[Mode, Domain]] = {
    "cooling": Domain((fahrenheit(85.0), fahrenheit(64.5), 13.0 * _F), (31.0 * _F, 12.5 * _F, 12.0 * _F)),
    "heating": Domain((fahrenheit(36.0), fahrenheit(70.0)), (28.0 * _F, 10.0 * _F)),
}
"""Cooling: 54 to 116 °F outdoors, 52 to 77 °F wet bulb, dry bulb 1 to 25 °F over it; heating: 8 to 64, 60 to 80 °F."""


@cache
def powers(coordinates: int, degree: int) -> tuple[tuple[int, ...], ...]:
    """Return the powers of every term of a polynomial of some degree in so many coordinates."""
    return tuple(p for p in product(range(degree + 1), repeat=coordinates) if sum(p) <= degree)


def terms(place: tuple[float, ...], degree: int) -> list[float]:
    """Return the value of each term at a place."""
    return [math.prod(x**n for x, n in zip(place, p, strict=True)) for p in powers(len(place), degree)]


@dataclass(frozen=True, eq=False)
class Surfaces:
    """The fitted coefficients of one refrigerant with one device in one mode, by quantity and by what moves it."""

    domain: Domain
    values: Mapping[str, tuple[float, ...]]
    slopes: Mapping[str, Mapping[str, tuple[float, ...]]]
    curvature: Mapping[str, tuple[float, ...]]
    makes: Mapping[str, tuple[float, ...]]
    misfit: Mapping[str, float]


@cache
def surfaces(refrigerant: str, device: DeviceKind, mode: Mode) -> Surfaces:
    """Return the surfaces that are shipped.

    Raises:
        InputError: there are none of that refrigerant.
    """
    if refrigerant not in modelled_designations():
        raise InputError(f"There is no simulated unit with {refrigerant}, so nothing is known of a sound one.")
    return surfaces_from(json.loads(file_of(refrigerant, device, mode).read_text(encoding="utf-8")), mode)


def file_of(refrigerant: str, device: str, mode: str) -> Path:
    """Return where the surfaces of one kind of unit lie."""
    return FOLDER / f"{refrigerant}_{device}_{mode}.json"


def surfaces_from(data: Mapping[str, Any], mode: Mode) -> Surfaces:
    """Make surfaces of what a data file holds."""

    def table(rows: Mapping[str, Any]) -> dict[str, tuple[float, ...]]:
        return {name: tuple(map(float, row)) for name, row in rows.items()}

    return Surfaces(
        DOMAINS[mode],
        table(data["values"]),
        {name: table(rows) for name, rows in data["slopes"].items()},
        table(data["curvature"]),
        table(data["makes"]),
        {name: float(value) for name, value in data["misfit"].items()},
    )


def expected_readings(facts: Facts, weather: Mapping[str, Uncertain]) -> dict[str, Uncertain]:
    """Return what a sound unit of these facts reads in this weather, by the names of the catalogue, in SI.

    `weather` holds outdoor air, return air and its wet bulb [K] with the doubt of their thermometers. The doubt of what
    comes out spans how sound units differ, how makes part from the model, and the weather; numbers that rest on the
    same unknown move together.

    Raises:
        InputError: no such unit to ask.
        OutOfRangeError: weather beyond what the surfaces hold.
    """
    found = surfaces(facts.refrigerant, facts.device, facts.mode)
    read = [weather[name] for name in ("outdoor_air_temperature", "return_air_dry_bulb", "return_air_wet_bulb")]
    outdoor, dry, wet = map(nominal, read)
    _check(found.domain, outdoor, dry, wet)
    place = found.domain.place(outdoor, dry, wet)
    fine, coarse = terms(place, FINE), terms(place, COARSE)
    shifts, doubts = _shifts(facts), _doubts(facts)

    def tell(name: str) -> Doubtful:
        value = _dot(found.values[name], fine)
        parts: dict[Source, float] = {}
        for unknown, slope in found.slopes[name].items():
            size = _dot(slope, coarse)
            by = shifts.get(unknown, 0.0)
            value += size * by
            if unknown == CURVED:
                bend = _dot(found.curvature[name], coarse)
                value += bend * by * by
                size += 2.0 * bend * by
            if doubts.get(unknown):
                parts[_SOURCES[unknown]] = size * doubts[unknown]
        for number, moves in zip(read, _weather_slopes(found, name, (outdoor, dry, wet)), strict=True):
            if isinstance(number, Doubtful):
                for source, part in number.parts.items():
                    parts[source] = parts.get(source, 0.0) + moves * part
        parts[_MODEL[name]] = math.hypot(max(_dot(found.makes[name], coarse), 0.0), found.misfit[name])
        return Doubtful(value, parts)

    return _as_read(facts, {name: tell(name) for name in QUANTITIES}, read[0])


_SOURCES: Final[Mapping[str, Source]] = {
    **{one.name: Source(f"sound units differ: {one.what.partition(',')[0]}") for one in UNKNOWNS},
    PUMP: Source("sound units differ: whether it is a heat pump"),
}
_MODEL: Final[Mapping[str, Source]] = {name: Source("makes of units and the model") for name in QUANTITIES}
"""What is not known of a unit is the same wherever it counts, so these causes of doubt are there once."""


def _shifts(facts: Facts) -> dict[str, float]:
    """Return how far what the facts tell lies from the usual unit, by unknown."""
    build = usual_build(facts)
    thin = math.log(standard_pressure(facts.altitude) / SEA_LEVEL)
    return {
        "condenser": build.condenser,
        "subcooling": build.subcooling,
        "rise": build.rise,
        "indoor_airflow": thin,
        "outdoor_airflow": thin,
        PUMP: 1.0 if facts.heat_pump and facts.mode == "cooling" else 0.0,
    }


def _doubts(facts: Facts) -> dict[str, float]:
    """Return one standard deviation of everything that is not known of the unit, by unknown."""
    found = dict(spreads(facts, _NO_WEATHER))
    if facts.heat_pump is None and facts.mode == "cooling":
        found[PUMP] = _SHARE_OF_PUMPS
    return found


def _weather_slopes(found: Surfaces, name: str, weather: tuple[float, float, float]) -> list[float]:
    """Return how a quantity moves with outdoor air, return air and wet bulb [per K]."""
    step = 0.5

    def at(moved: tuple[float, ...]) -> float:
        return _dot(found.values[name], terms(found.domain.place(*moved), FINE))

    middle = at(weather)
    return [(at(tuple(w + step * (k == n) for k, w in enumerate(weather))) - middle) / step for n in range(3)]


def _check(domain: Domain, outdoor: float, dry: float, wet: float) -> None:
    told = domain.coordinates(outdoor, dry, wet)
    for what, value, middle, half in zip(domain.names, told, domain.middles, domain.halves, strict=True):
        if abs(value - middle) > half * (1.0 + 1e-9):
            raise OutOfRangeError(
                what, value, "K", middle - half, middle + half, "the weather that the model is made for"
            )


def _dot(coefficients: Sequence[float], at: Sequence[float]) -> float:
    return math.fsum(map(operator.mul, coefficients, at))


def _as_read(facts: Facts, told: Mapping[str, Doubtful], outdoor: Uncertain) -> dict[str, Uncertain]:
    """Return readings from the quantities of the surfaces."""
    curves = saturation(facts.refrigerant)
    evaporating, condensing = told["evaporating"], told["condensing"]
    superheat, outlet = _cut(told["superheat"]), _cut(told["outlet_superheat"])
    suction, liquid = _pressure(curves.dew_pressure, evaporating), _pressure(curves.bubble_pressure, condensing)
    line = condensing - told["subcooling"]
    found: dict[str, Uncertain] = {
        "suction_pressure": suction,
        "liquid_pressure": liquid,
        "suction_line_temperature": evaporating + superheat,
        "evaporator_outlet_temperature": evaporating + outlet,
        "liquid_line_temperature": line,
        "drier_inlet_temperature": line,
        "drier_outlet_temperature": line,
        "discharge_line_temperature": condensing + told["discharge_over_condensing"],
        "supply_air_dry_bulb": told["supply"],
        LOAD: told["power"] / RATED_LOAD,
    }
    if facts.mode == "cooling":
        found["condenser_leaving_air_temperature"] = told["condenser_air_rise"] + outdoor
    return found


def _cut(superheat: Doubtful) -> Doubtful:
    """Return a superheat that cannot fall below zero: the mean of a normal distribution that is cut there."""
    spread = standard(superheat)
    if spread == 0.0:
        return Doubtful(max(superheat.value, 0.0), {})
    at = superheat.value / spread
    above = 0.5 * (1.0 + math.erf(at / math.sqrt(2.0)))
    mean = superheat.value * above + spread * math.exp(-at * at / 2.0) / math.sqrt(2.0 * math.pi)
    return Doubtful(mean, {source: part * max(above, 0.3) for source, part in superheat.parts.items()})


def _pressure(curve: Callable[[float], float], temperature: Doubtful) -> Uncertain:
    step = 0.05

    def both(value: float) -> tuple[float, float]:
        return curve(value), (curve(value + step) - curve(value - step)) / (2.0 * step)

    return lift(both)(temperature)
