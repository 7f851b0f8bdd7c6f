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
from assistant.simulator.roots import find_root
from assistant.thermo.curves import Saturation, Series, saturation
from assistant.thermo.refrigerants import find_refrigerant

DATA: Final = Path(__file__).parent / "data" / "vapour.json"
BEND: Final = 15.0
"""Superheat [K] at which the coordinate of the superheat bends: properties change fastest close to saturation."""

_SOURCE = "vapour table fitted to the equation of state"


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
        return self._search(lambda above: above * self._at(self._heat, above), enthalpy - self.dew_enthalpy, 1e3)

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
        wanted = entropy - self.dew_entropy
        return self._search(lambda above: math.log1p(above / self.dew) * self._at(self._entropy, above), wanted, 3.0)

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

    def _search(self, gained: Callable[[float], float], wanted: float, slope: float) -> float:
        """Return the temperature [K] at which so much is gained over dew; `slope` is a usual gain [1/K]."""
        if wanted < -1e-3 * slope:
            raise OutOfRangeError("superheat", wanted / slope, "K", 0.0, self.most_superheat, _SOURCE)
        if wanted <= 0.0:
            return self.dew
        bounds = 0.0, self.most_superheat
        found = find_root(lambda above: gained(above) - wanted, wanted / slope, slope, bounds, 1e-10 * slope)
        if found is None:
            raise OutOfRangeError("superheat", wanted / slope, "K", 0.0, self.most_superheat, _SOURCE)
        return self.dew + found


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

    def isobar(self, pressure: float) -> Isobar:
        """Return the vapour at one pressure [Pa], worked anew.

        Raises:
            OutOfRangeError: outside the table.
        """
        if not self.low <= pressure <= self.high:
            name = f"{self.curves.refrigerant.designation} vapour pressure"
            raise OutOfRangeError(name, pressure, "Pa", self.low, self.high, _SOURCE)
        x = scale(math.log(pressure), math.log(self.low), math.log(self.high))
        across = polynomials(x, len(self._heat))
        dew = dew_temperature(self, pressure)
        heat, entropy, density, dew_entropy = (
            Series(tuple(sum(map(operator.mul, across, column)) for column in zip(*rows, strict=True)))
            for rows in (self._heat, self._entropy, self._density, self._dew_entropy)
        )
        return Isobar(
            pressure,
            dew,
            self.curves.vapour_enthalpy(dew),
            dew_entropy.coefficients[0],
            self.curves.vapour_density(dew),
            self.most_superheat,
            heat,
            entropy,
            density,
        )


@lru_cache(maxsize=512)
def dew_temperature(fluid: Vapour, pressure: float) -> float:
    """Return the dew temperature [K] at a pressure [Pa], kept for those that are asked for again.

    Raises:
        OutOfRangeError: outside the curve.
    """
    return fluid.curves.dew_temperature(pressure)


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
