"""Superheated vapour without an equation of state: enthalpy, entropy and density over pressure and superheat.

Each property is kept as a factor on the saturation curve that it starts from, a product of Chebyshev polynomials in
ln p and ln(1 + superheat / 15 K), derived by `assistant.simulator.fit`; tests compare it with the equation of
state.
Temperatures and superheats [K], absolute pressures [Pa], enthalpies [J/kg] on the scale of the saturation curves.

Source: equations of state through CoolProp, by `assistant.thermo.reference`.
"""

import json
import math
import operator
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from pathlib import Path
from typing import Any, Final

from assistant.errors import OutOfRangeError, UnknownNameError
from assistant.thermo.curves import Saturation, Series, saturation
from assistant.thermo.refrigerants import find_refrigerant

DATA: Final = Path(__file__).parent / "data" / "vapour.json"
BEND: Final = 15.0
"""Superheat [K] at which the coordinate of the superheat bends: properties change fastest close to saturation."""

_SOURCE = "vapour table fitted to the equation of state"
_ROUNDS = 30


Rows = tuple[tuple[float, ...], ...]
"""Coefficients of a product of Chebyshev polynomials, the pressure's degree along the rows."""


@dataclass(frozen=True, slots=True, eq=False)
class Isobar:
    """Superheated vapour at one pressure: from its dew point on, series in the superheat alone."""

    pressure: float
    dew: float
    dew_enthalpy: float
    dew_entropy: float
    dew_density: float
    most_superheat: float
    _heat: Series
    _entropy: Series
    _density: Series

    def enthalpy(self, temperature: float) -> float:
        """Return the enthalpy [J/kg] at a temperature [K].

        Raises:
            OutOfRangeError: outside the table, or below dew.
        """
        above = self._above(temperature)
        return self.dew_enthalpy + above * self._at(self._heat, above)

    def temperature(self, enthalpy: float) -> float:
        """Return the temperature [K] at an enthalpy [J/kg].

        Raises:
            OutOfRangeError: outside the table, or below dew.
        """

        def gained(above: float) -> tuple[float, float]:
            value, slope = self._at_with_slope(self._heat, above)
            return above * value, value + above * slope

        return self._search(gained, enthalpy - self.dew_enthalpy, 1e3)

    def entropy(self, temperature: float) -> float:
        """Return the entropy [J/(kg·K)] at a temperature [K], on the scale of the equation of state.

        Raises:
            OutOfRangeError: outside the table, or below dew.
        """
        above = self._above(temperature)
        return self.dew_entropy + math.log(temperature / self.dew) * self._at(self._entropy, above)

    def temperature_at_entropy(self, entropy: float) -> float:
        """Return the temperature [K] at an entropy [J/(kg·K)].

        Raises:
            OutOfRangeError: outside the table, or below dew.
        """

        def gained(above: float) -> tuple[float, float]:
            value, slope = self._at_with_slope(self._entropy, above)
            stretch = math.log1p(above / self.dew)
            return stretch * value, value / (self.dew + above) + stretch * slope

        return self._search(gained, entropy - self.dew_entropy, 3.0)

    def density(self, temperature: float) -> float:
        """Return the density [kg/m3] at a temperature [K].

        Raises:
            OutOfRangeError: outside the table, or below dew.
        """
        above = self._above(temperature)
        return self.dew_density * self.dew / temperature * self._at(self._density, above)

    def _at(self, series: Series, above: float) -> float:
        y = scale(math.log1p(above / BEND), 0.0, math.log1p(self.most_superheat / BEND))
        return float(series.value(y))

    def _above(self, temperature: float) -> float:
        above = temperature - self.dew
        if not -1e-6 <= above <= self.most_superheat + 1e-6:
            raise OutOfRangeError("superheat", above, "K", 0.0, self.most_superheat, _SOURCE)
        return max(above, 0.0)

    def _at_with_slope(self, series: Series, above: float) -> tuple[float, float]:
        span = math.log1p(self.most_superheat / BEND)
        value, slope = series.value_and_slope(scale(math.log1p(above / BEND), 0.0, span))
        return value, slope * 2.0 / span / (BEND + above)

    def _search(self, gained: Callable[[float], tuple[float, float]], wanted: float, usual: float) -> float:
        """Return the temperature [K] at which so much is gained over dew, by Newton's method.

        `gained` gives it with its slope; `usual` is a usual slope [1/K].
        """
        if wanted < -1e-3 * usual:
            raise OutOfRangeError("superheat", wanted / usual, "K", 0.0, self.most_superheat, _SOURCE)
        if wanted <= 0.0:
            return self.dew
        above = min(wanted / usual, self.most_superheat)
        for _ in range(_ROUNDS):
            value, slope = gained(above)
            step = (wanted - value) / slope
            if abs(step) < 1e-9:
                return self.dew + above
            if step > 0.0 and above >= self.most_superheat:
                break
            above = min(max(above + step, 0.0), self.most_superheat)
        raise OutOfRangeError("superheat", wanted / usual, "K", 0.0, self.most_superheat, _SOURCE)


@dataclass(frozen=True, slots=True, eq=False)
class Vapour:
    """Superheated vapour of one refrigerant; `curves` are its saturation curves."""

    curves: Saturation
    low: float
    high: float
    most_superheat: float
    _heat: Rows
    _entropy: Rows
    _density: Rows
    _dew_entropy: Rows

    def at(self, pressure: float) -> Isobar:
        """Return the vapour at one pressure [Pa].

        Raises:
            OutOfRangeError: outside the table.
        """
        return _isobar(self, pressure)

    def enthalpy(self, pressure: float, temperature: float) -> float:
        """Return the enthalpy [J/kg] at a pressure [Pa] and temperature [K].

        Raises:
            OutOfRangeError: outside the table, or below dew.
        """
        return self.at(pressure).enthalpy(temperature)

    def temperature(self, pressure: float, enthalpy: float) -> float:
        """Return the temperature [K] at a pressure [Pa] and enthalpy [J/kg].

        Raises:
            OutOfRangeError: outside the table, or below dew.
        """
        return self.at(pressure).temperature(enthalpy)

    def entropy(self, pressure: float, temperature: float) -> float:
        """Return the entropy [J/(kg·K)] at a pressure [Pa] and temperature [K].

        Raises:
            OutOfRangeError: outside the table, or below dew.
        """
        return self.at(pressure).entropy(temperature)

    def density(self, pressure: float, temperature: float) -> float:
        """Return the density [kg/m3] at a pressure [Pa] and temperature [K].

        Raises:
            OutOfRangeError: outside the table, or below dew.
        """
        return self.at(pressure).density(temperature)

    def coefficients(self, pressure: float) -> tuple[float, ...]:
        """Return the coefficients of heat, entropy and density, then the entropy at dew, at a pressure [Pa]."""
        x = scale(math.log(pressure), math.log(self.low), math.log(self.high))
        across = polynomials(x, len(self._heat))
        tables = (self._heat, self._entropy, self._density, self._dew_entropy)
        return tuple(sum(map(operator.mul, across, column)) for rows in tables for column in zip(*rows, strict=True))

    def isobar(self, pressure: float) -> Isobar:
        """Return the vapour at one pressure [Pa], read between steps of the pressure.

        Raises:
            OutOfRangeError: outside the table.
        """
        if not self.low <= pressure <= self.high:
            name = f"{self.curves.refrigerant.designation} vapour pressure"
            raise OutOfRangeError(name, pressure, "Pa", self.low, self.high, _SOURCE)
        found = _coefficients(self).at(pressure)
        _, dew, _, dew_enthalpy, _, dew_density = ends(self, pressure)
        along = len(self._heat[0])
        heat, entropy, density = (Series(found[k * along : (k + 1) * along]) for k in range(3))
        return Isobar(pressure, dew, dew_enthalpy, found[-1], dew_density, self.most_superheat, heat, entropy, density)


_STEP: Final = 1.0 / 64.0
"""Step of ln p between two nodes of a table."""


class PressureTable:
    """Values over the pressure, worked at steps of ln p as they are asked for, between them by a cubic through four."""

    def __init__(self, work: Callable[[float], tuple[float, ...]], low: float, high: float) -> None:
        """Take what works the values at a pressure, and the lowest and the highest pressure [Pa] at which it can."""
        self._work, self._low, self._high = work, low, high
        self._first, self._last = math.ceil(math.log(low) / _STEP), math.floor(math.log(high) / _STEP)
        self._nodes: dict[int, tuple[float, ...]] = {}

    def at(self, pressure: float) -> tuple[float, ...]:
        """Return the values at a pressure [Pa].

        Raises:
            OutOfRangeError: where they cannot be worked.
        """
        if not self._low <= pressure <= self._high:
            return self._work(pressure)
        place = math.log(pressure) / _STEP
        first = min(max(math.floor(place) - 1, self._first), self._last - 3)
        t = place - first
        a, b, c, d = t, t - 1.0, t - 2.0, t - 3.0
        bc, ad = b * c, a * d
        w, x, y, z = -bc * d / 6.0, ad * c / 2.0, -ad * b / 2.0, a * bc / 6.0
        node = self._node
        corners = zip(node(first), node(first + 1), node(first + 2), node(first + 3), strict=True)
        return tuple([w * p + x * q + y * r + z * s for p, q, r, s in corners])

    def _node(self, index: int) -> tuple[float, ...]:
        found = self._nodes.get(index)
        if found is None:
            found = self._nodes[index] = self._work(math.exp(index * _STEP))
        return found


@cache
def saturation_table(fluid: Vapour) -> PressureTable:
    """Return bubble and dew [K], the enthalpies [J/kg] and the densities [kg/m3] there, over the pressure [Pa]."""
    curves = fluid.curves

    def work(pressure: float) -> tuple[float, ...]:
        bubble, dew = curves.bubble_temperature(pressure), curves.dew_temperature(pressure)
        return (
            bubble,
            dew,
            curves.liquid_enthalpy(bubble),
            curves.vapour_enthalpy(dew),
            curves.liquid_density(bubble),
            curves.vapour_density(dew),
        )

    (low, high), (bottom, top) = curves.bubble_pressure_range, curves.dew_pressure_range
    return PressureTable(work, max(low, bottom), min(high, top))


@lru_cache(maxsize=512)
def ends(fluid: Vapour, pressure: float) -> tuple[float, ...]:
    """Return what `saturation_table` tells at a pressure [Pa], kept for those that are asked for again.

    Raises:
        OutOfRangeError: outside the curves.
    """
    return saturation_table(fluid).at(pressure)


@cache
def _coefficients(fluid: Vapour) -> PressureTable:
    return PressureTable(fluid.coefficients, fluid.low, fluid.high)


@lru_cache(maxsize=256)
def _isobar(fluid: Vapour, pressure: float) -> Isobar:
    return fluid.isobar(pressure)


def scale(value: float, low: float, high: float) -> float:
    """Return a value between two ends as -1 to 1."""
    return (2.0 * value - low - high) / (high - low)


def polynomials(x: float, count: int) -> list[float]:
    """Return the first Chebyshev polynomials at `x`."""
    found = [1.0, x]
    while len(found) < count:
        found.append(2.0 * x * found[-1] - found[-2])
    return found[:count]


def modelled_designations() -> tuple[str, ...]:
    """Return the designations of the refrigerants that have a table."""
    return tuple(_data()["refrigerants"])


@cache
def vapour(name: str) -> Vapour:
    """Return the table of a refrigerant, by any name that `find_refrigerant` accepts.

    Raises:
        UnknownNameError: nothing answers to the name, or there is no table of that refrigerant.
        UnmodelledRefrigerantError: the refrigerant is known, but there is no model of it.
    """
    designation = find_refrigerant(name).designation
    entry = _data()["refrigerants"].get(designation)
    if entry is None:
        raise UnknownNameError("refrigerant to practise on", designation, modelled_designations())
    return build(saturation(designation), entry)


def build(curves: Saturation, entry: Mapping[str, Any]) -> Vapour:
    """Make the table of one refrigerant from its entry in the data file."""

    def table(name: str) -> Rows:
        return tuple(tuple(map(float, row)) for row in entry[name])

    low, high, most = entry["low"], entry["high"], entry["most_superheat"]
    return Vapour(curves, low, high, most, table("heat"), table("entropy"), table("density"), table("dew_entropy"))


@cache
def _data() -> Any:
    return json.loads(DATA.read_text(encoding="utf-8"))
