"""Saturation curves: temperature, pressure, density and enthalpy along bubble and dew, without an equation of state.

Everything is a Chebyshev series in one coordinate, the square root of the distance to a temperature just above the
top of the curve, in which densities and enthalpies stay smooth up to the critical point. Pressure is fitted as
ln p over temperature; temperature from pressure is Newton's method on that same series, started from a second, coarse
series, so that the two directions agree to rounding. `assistant.thermo.fit` derives the coefficients.

Every method takes a float and gives a float, without numpy, or takes an array and gives an array. Outside the
fitted range it raises; nothing is extrapolated.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Any, TypeVar

from assistant.errors import OutOfRangeError
from assistant.thermo.refrigerants import Refrigerant, find, load_data

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

Value = TypeVar("Value", float, "NDArray[np.float64]")

# Rounding must not push the end of a curve out of its own range.
_SLACK = 1e-12


@dataclass(frozen=True, slots=True)
class Series:
    """A Chebyshev series on -1..1, coefficients from degree 0 up."""

    coefficients: tuple[float, ...]

    def value(self, x: Any) -> Any:
        """Value at `x`, by Clenshaw's recurrence."""
        b1 = b2 = 0.0 * x
        twice = x + x
        for c in self.coefficients[:0:-1]:
            b1, b2 = c + twice * b1 - b2, b1
        return self.coefficients[0] + x * b1 - b2

    def value_and_slope(self, x: Any) -> tuple[Any, Any]:
        """Value and derivative at `x`, by Clenshaw's recurrence and its derivative."""
        b1 = b2 = d1 = d2 = 0.0 * x
        twice = x + x
        for c in self.coefficients[:0:-1]:
            d1, d2 = 2.0 * b1 + twice * d1 - d2, d1
            b1, b2 = c + twice * b1 - b2, b1
        return self.coefficients[0] + x * b1 - b2, b1 + x * d1 - d2


@dataclass(frozen=True, slots=True)
class Coordinate:
    """Temperature [K] to the coordinate of the series: -1 at the top of the range, +1 at the bottom."""

    origin: float
    low: float
    high: float

    def of(self, temperature: Any) -> tuple[Any, Any]:
        """The coordinate and its derivative [1/K]."""
        top = math.sqrt(self.origin - self.high)
        span = math.sqrt(self.origin - self.low) - top
        root = (self.origin - temperature) ** 0.5
        return (2.0 * (root - top)) / span - 1.0, -1.0 / (root * span)


@dataclass(frozen=True, slots=True)
class _PressureCurve:
    """One of bubble or dew: ln p [ln Pa] over the coordinate, and a coarse T [K] over ln p to start from."""

    phase: str
    coordinate: Coordinate
    logarithm: Series
    start: Series
    low: float
    high: float

    def pressure(self, temperature: Any) -> Any:
        return _exp(self.logarithm.value(self.coordinate.of(temperature)[0]))

    def pressure_slope(self, temperature: Any) -> Any:
        x, stretch = self.coordinate.of(temperature)
        value, slope = self.logarithm.value_and_slope(x)
        return _exp(value) * slope * stretch

    def temperature(self, pressure: Any) -> Any:
        wanted = _log(pressure)
        bottom, top = math.log(self.low), math.log(self.high)
        temperature = _clip(
            self.start.value((2.0 * wanted - bottom - top) / (top - bottom)),
            self.coordinate.low,
            self.coordinate.high,
        )
        for _ in range(12):
            x, stretch = self.coordinate.of(temperature)
            value, slope = self.logarithm.value_and_slope(x)
            step = (wanted - value) / (slope * stretch)
            temperature = _clip(temperature + step, self.coordinate.low, self.coordinate.high)
            if _largest(step) < 1e-9:
                break
        return temperature


@dataclass(frozen=True, slots=True)
class Saturation:
    """The saturation curves of one refrigerant; see the module for what they rest on.

    Temperatures [K], absolute pressures [Pa], densities [kg/m3], enthalpies [J/kg] with 200 kJ/kg for bubble
    liquid at 0 °C. Liquid values lie on the bubble curve, vapour values on the dew curve, each at its temperature.
    """

    refrigerant: Refrigerant
    minimum_temperature: float
    maximum_temperature: float
    source: str
    _coordinate: Coordinate
    _bubble: _PressureCurve
    _dew: _PressureCurve
    _liquid_density: Series
    _vapour_density: Series
    _liquid_enthalpy: Series
    _vapour_enthalpy: Series

    @property
    def dew_pressure_range(self) -> tuple[float, float]:
        """Lowest and highest pressure [Pa] for which there is a dew temperature."""
        return self._dew.low, self._dew.high

    @property
    def bubble_pressure_range(self) -> tuple[float, float]:
        """Lowest and highest pressure [Pa] for which there is a bubble temperature."""
        return self._bubble.low, self._bubble.high

    def dew_temperature(self, pressure: Value) -> Value:
        """Temperature [K] at which the last liquid boils off at an absolute pressure [Pa].

        Raises:
            OutOfRangeError: outside the curve.
        """
        return self._temperature(self._dew, pressure)

    def bubble_temperature(self, pressure: Value) -> Value:
        """Temperature [K] at which the first vapour appears at an absolute pressure [Pa].

        Raises:
            OutOfRangeError: outside the curve.
        """
        return self._temperature(self._bubble, pressure)

    def dew_pressure(self, temperature: Value) -> Value:
        """Absolute pressure [Pa] of saturated vapour at a temperature [K].

        Raises:
            OutOfRangeError: outside the curve.
        """
        self._check_temperature(temperature)
        return self._dew.pressure(temperature)  # type: ignore[no-any-return]

    def bubble_pressure(self, temperature: Value) -> Value:
        """Absolute pressure [Pa] of saturated liquid at a temperature [K].

        Raises:
            OutOfRangeError: outside the curve.
        """
        self._check_temperature(temperature)
        return self._bubble.pressure(temperature)  # type: ignore[no-any-return]

    def dew_temperature_slope(self, pressure: Value) -> Value:
        """Change of the dew temperature with pressure [K/Pa] at a pressure [Pa].

        Raises:
            OutOfRangeError: outside the curve.
        """
        return 1.0 / self._dew.pressure_slope(self._temperature(self._dew, pressure))  # type: ignore[no-any-return]

    def bubble_temperature_slope(self, pressure: Value) -> Value:
        """Change of the bubble temperature with pressure [K/Pa] at a pressure [Pa].

        Raises:
            OutOfRangeError: outside the curve.
        """
        return 1.0 / self._bubble.pressure_slope(self._temperature(self._bubble, pressure))  # type: ignore[no-any-return]

    def dew_pressure_slope(self, temperature: Value) -> Value:
        """Change of the dew pressure with temperature [Pa/K] at a temperature [K].

        Raises:
            OutOfRangeError: outside the curve.
        """
        self._check_temperature(temperature)
        return self._dew.pressure_slope(temperature)  # type: ignore[no-any-return]

    def bubble_pressure_slope(self, temperature: Value) -> Value:
        """Change of the bubble pressure with temperature [Pa/K] at a temperature [K].

        Raises:
            OutOfRangeError: outside the curve.
        """
        self._check_temperature(temperature)
        return self._bubble.pressure_slope(temperature)  # type: ignore[no-any-return]

    def glide(self, pressure: Value) -> Value:
        """Dew minus bubble temperature [K] at an absolute pressure [Pa]; zero for a single substance.

        Raises:
            OutOfRangeError: outside either curve.
        """
        return self.dew_temperature(pressure) - self.bubble_temperature(pressure)

    def liquid_density(self, temperature: Value) -> Value:
        """Density of saturated liquid [kg/m3] at a bubble temperature [K].

        Raises:
            OutOfRangeError: outside the curve.
        """
        return _exp(self._along(self._liquid_density, temperature))  # type: ignore[no-any-return]

    def vapour_density(self, temperature: Value) -> Value:
        """Density of saturated vapour [kg/m3] at a dew temperature [K].

        Raises:
            OutOfRangeError: outside the curve.
        """
        return _exp(self._along(self._vapour_density, temperature))  # type: ignore[no-any-return]

    def liquid_enthalpy(self, temperature: Value) -> Value:
        """Enthalpy of saturated liquid [J/kg] at a bubble temperature [K].

        Raises:
            OutOfRangeError: outside the curve.
        """
        return self._along(self._liquid_enthalpy, temperature)

    def vapour_enthalpy(self, temperature: Value) -> Value:
        """Enthalpy of saturated vapour [J/kg] at a dew temperature [K].

        Raises:
            OutOfRangeError: outside the curve.
        """
        return self._along(self._vapour_enthalpy, temperature)

    def liquid_enthalpy_slope(self, temperature: Value) -> Value:
        """Change of saturated liquid enthalpy along the bubble curve [J/(kg·K)] at a temperature [K].

        Raises:
            OutOfRangeError: outside the curve.
        """
        return self._slope_along(self._liquid_enthalpy, temperature)

    def vapour_enthalpy_slope(self, temperature: Value) -> Value:
        """Change of saturated vapour enthalpy along the dew curve [J/(kg·K)] at a temperature [K].

        Raises:
            OutOfRangeError: outside the curve.
        """
        return self._slope_along(self._vapour_enthalpy, temperature)

    def _temperature(self, curve: _PressureCurve, pressure: Value) -> Value:
        self._check(f"{curve.phase} pressure", pressure, "Pa", curve.low, curve.high)
        return curve.temperature(pressure)  # type: ignore[no-any-return]

    def _along(self, series: Series, temperature: Value) -> Value:
        self._check_temperature(temperature)
        return series.value(self._coordinate.of(temperature)[0])  # type: ignore[no-any-return]

    def _slope_along(self, series: Series, temperature: Value) -> Value:
        self._check_temperature(temperature)
        x, stretch = self._coordinate.of(temperature)
        return series.value_and_slope(x)[1] * stretch  # type: ignore[no-any-return]

    def _check_temperature(self, temperature: Any) -> None:
        self._check("temperature", temperature, "K", self.minimum_temperature, self.maximum_temperature)

    def _check(self, quantity: str, value: Any, unit: str, low: float, high: float) -> None:
        bottom, top = low * (1 - _SLACK), high * (1 + _SLACK)
        if isinstance(value, float | int):
            bad = None if bottom <= value <= top else value
        else:
            outside = value[~((value >= bottom) & (value <= top))]
            bad = outside.flat[0] if outside.size else None
        if bad is not None:
            name = f"{self.refrigerant.designation} {quantity}"
            raise OutOfRangeError(name, float(bad), unit, low, high, self.source)


@cache
def _load(designation: str) -> Saturation:
    return build(find(designation), load_data("curves.json")["refrigerants"][designation])


def saturation(refrigerant: Refrigerant | str) -> Saturation:
    """The saturation curves of a refrigerant, given as such or by any name that `find` accepts.

    Raises:
        UnknownNameError: nothing answers to the name.
        UnmodelledRefrigerantError: the refrigerant is known, but there is no model of it.
    """
    found = find(refrigerant) if isinstance(refrigerant, str) else refrigerant
    return _load(found.designation)


def build(refrigerant: Refrigerant, data: Mapping[str, Any]) -> Saturation:
    """Make the curves of one refrigerant from its entry in the data file."""
    coordinate = Coordinate(data["origin_temperature"], data["minimum_temperature"], data["maximum_temperature"])
    dew = _pressure_curve("dew", coordinate, data)
    return Saturation(
        refrigerant=refrigerant,
        minimum_temperature=coordinate.low,
        maximum_temperature=coordinate.high,
        source=f"saturation curve fitted to {data['model']} in {data['library']}",
        _coordinate=coordinate,
        _bubble=_pressure_curve("bubble", coordinate, data) if "bubble_pressure" in data else dew,
        _dew=dew,
        _liquid_density=Series(tuple(data["liquid_density"])),
        _vapour_density=Series(tuple(data["vapour_density"])),
        _liquid_enthalpy=Series(tuple(data["liquid_enthalpy"])),
        _vapour_enthalpy=Series(tuple(data["vapour_enthalpy"])),
    )


def _pressure_curve(phase: str, coordinate: Coordinate, data: Mapping[str, Any]) -> _PressureCurve:
    logarithm = Series(tuple(data[f"{phase}_pressure"]))
    ends = [math.exp(logarithm.value(coordinate.of(end)[0])) for end in (coordinate.low, coordinate.high)]
    start = Series(tuple(data[f"{phase}_temperature"]))
    return _PressureCurve("saturation" if data["kind"] == "pure" else phase, coordinate, logarithm, start, *ends)


def _exp(x: Any) -> Any:
    if isinstance(x, float):
        return math.exp(x)
    import numpy as np

    return np.exp(x)


def _log(x: Any) -> Any:
    if isinstance(x, float | int):
        return math.log(x)
    import numpy as np

    return np.log(x)


def _clip(x: Any, low: float, high: float) -> Any:
    return min(max(x, low), high) if isinstance(x, float) else x.clip(low, high)


def _largest(x: Any) -> float:
    return abs(x) if isinstance(x, float) else float(abs(x).max(initial=0.0))
