"""Saturation curves: temperature, pressure, density and enthalpy along bubble and dew, without an equation of state.

Everything is a Chebyshev series in one coordinate, the square root of the distance to a temperature just above the
top of the curve, in which densities and enthalpies stay smooth up to the critical point. Pressure is fitted as
ln p over temperature; temperature from pressure is Newton's method on that same series, started from a second, coarse
series, so that the two directions agree to rounding. `assistant.thermo.fit` derives the coefficients.

Outside the fitted range every method raises; nothing is extrapolated.
"""

import math
from functools import cache

from assistant.errors import OutOfRangeError
from assistant.frozen import dataclass
from assistant.thermo.refrigerants import CurveData, Refrigerant, find_refrigerant, load_curves

# Rounding must not push the end of a curve out of its own range.
_SLACK = 1e-12


@dataclass(frozen=True, slots=True)
class Series:
    """A Chebyshev series on -1..1, coefficients from degree 0 up."""

    coefficients: tuple[float, ...]

    def value(self, x: float) -> float:
        """Return the value at `x` on -1..1, by Clenshaw's recurrence."""
        b1 = b2 = 0.0
        twice = x + x
        for c in self.coefficients[:0:-1]:
            b1, b2 = c + twice * b1 - b2, b1
        return self.coefficients[0] + x * b1 - b2

    def value_and_slope(self, x: float) -> tuple[float, float]:
        """Return value and derivative at `x` on -1..1, by Clenshaw's recurrence and its derivative."""
        b1 = b2 = d1 = d2 = 0.0
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
    top: float
    span: float

    def of(self, temperature: float) -> float:
        """Return the coordinate of a temperature [K]."""
        return (2.0 * (math.sqrt(self.origin - temperature) - self.top)) / self.span - 1.0

    def of_with_slope(self, temperature: float) -> tuple[float, float]:
        """Return the coordinate of a temperature [K] and its derivative [1/K]."""
        root = math.sqrt(self.origin - temperature)
        return (2.0 * (root - self.top)) / self.span - 1.0, -1.0 / (root * self.span)


def _coordinate(origin: float, low: float, high: float) -> Coordinate:
    top = math.sqrt(origin - high)
    return Coordinate(origin, low, high, top, math.sqrt(origin - low) - top)


@dataclass(frozen=True, slots=True)
class _PressureCurve:
    """One of bubble or dew: ln p [ln Pa] over the coordinate, and a coarse T [K] over ln p to start from."""

    phase: str
    coordinate: Coordinate
    logarithm: Series
    start: Series
    low: float
    high: float

    def pressure(self, temperature: float) -> float:
        return math.exp(self.logarithm.value(self.coordinate.of(temperature)))

    def pressure_slope(self, temperature: float) -> float:
        x, stretch = self.coordinate.of_with_slope(temperature)
        value, slope = self.logarithm.value_and_slope(x)
        return math.exp(value) * slope * stretch

    def temperature(self, pressure: float) -> float:
        wanted = math.log(pressure)
        bottom, top = math.log(self.low), math.log(self.high)
        coldest, hottest = self.coordinate.low, self.coordinate.high
        guess = self.start.value((2.0 * wanted - bottom - top) / (top - bottom))
        temperature = min(max(guess, coldest), hottest)
        for _ in range(12):
            x, stretch = self.coordinate.of_with_slope(temperature)
            value, slope = self.logarithm.value_and_slope(x)
            step = (wanted - value) / (slope * stretch)
            temperature = min(max(temperature + step, coldest), hottest)
            if abs(step) < 1e-9:
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

    def dew_temperature(self, pressure: float) -> float:
        """Return the temperature [K] at which the last liquid boils off at an absolute pressure [Pa].

        Raises:
            OutOfRangeError: outside the curve.
        """
        return self._temperature(self._dew, pressure)

    def bubble_temperature(self, pressure: float) -> float:
        """Return the temperature [K] at which the first vapour appears at an absolute pressure [Pa].

        Raises:
            OutOfRangeError: outside the curve.
        """
        return self._temperature(self._bubble, pressure)

    def dew_pressure(self, temperature: float) -> float:
        """Return the absolute pressure [Pa] of saturated vapour at a temperature [K].

        Raises:
            OutOfRangeError: outside the curve.
        """
        self._check_temperature(temperature)
        return self._dew.pressure(temperature)

    def bubble_pressure(self, temperature: float) -> float:
        """Return the absolute pressure [Pa] of saturated liquid at a temperature [K].

        Raises:
            OutOfRangeError: outside the curve.
        """
        self._check_temperature(temperature)
        return self._bubble.pressure(temperature)

    def follow_dew(self, pressure: float) -> tuple[float, float]:
        """Return the dew temperature [K] at an absolute pressure [Pa] and its change with pressure [K/Pa].

        Raises:
            OutOfRangeError: outside the curve.
        """
        return self._follow(self._dew, pressure)

    def follow_bubble(self, pressure: float) -> tuple[float, float]:
        """Return the bubble temperature [K] at an absolute pressure [Pa] and its change with pressure [K/Pa].

        Raises:
            OutOfRangeError: outside the curve.
        """
        return self._follow(self._bubble, pressure)

    def glide(self, pressure: float) -> float:
        """Dew minus bubble temperature [K] at an absolute pressure [Pa]; zero for a single substance.

        Raises:
            OutOfRangeError: outside either curve.
        """
        return self.dew_temperature(pressure) - self.bubble_temperature(pressure)

    def liquid_density(self, temperature: float) -> float:
        """Return the density of saturated liquid [kg/m3] at a bubble temperature [K].

        Raises:
            OutOfRangeError: outside the curve.
        """
        return math.exp(self._along(self._liquid_density, temperature))

    def vapour_density(self, temperature: float) -> float:
        """Return the density of saturated vapour [kg/m3] at a dew temperature [K].

        Raises:
            OutOfRangeError: outside the curve.
        """
        return math.exp(self._along(self._vapour_density, temperature))

    def liquid_enthalpy(self, temperature: float) -> float:
        """Return the enthalpy of saturated liquid [J/kg] at a bubble temperature [K].

        Raises:
            OutOfRangeError: outside the curve.
        """
        return self._along(self._liquid_enthalpy, temperature)

    def vapour_enthalpy(self, temperature: float) -> float:
        """Return the enthalpy of saturated vapour [J/kg] at a dew temperature [K].

        Raises:
            OutOfRangeError: outside the curve.
        """
        return self._along(self._vapour_enthalpy, temperature)

    def follow_liquid_enthalpy(self, temperature: float) -> tuple[float, float]:
        """Return the enthalpy of saturated liquid [J/kg] at a temperature [K], and its change with it [J/(kg·K)].

        Raises:
            OutOfRangeError: outside the curve.
        """
        self._check_temperature(temperature)
        x, stretch = self._coordinate.of_with_slope(temperature)
        value, slope = self._liquid_enthalpy.value_and_slope(x)
        return value, slope * stretch

    def liquid_enthalpy_slope(self, temperature: float) -> float:
        """Change of saturated liquid enthalpy along the bubble curve [J/(kg·K)] at a temperature [K].

        Raises:
            OutOfRangeError: outside the curve.
        """
        return self._slope_along(self._liquid_enthalpy, temperature)

    def _temperature(self, curve: _PressureCurve, pressure: float) -> float:
        self._check(f"{curve.phase} pressure", pressure, "Pa", curve.low, curve.high)
        return curve.temperature(pressure)

    def _follow(self, curve: _PressureCurve, pressure: float) -> tuple[float, float]:
        temperature = self._temperature(curve, pressure)
        return temperature, 1.0 / curve.pressure_slope(temperature)

    def _along(self, series: Series, temperature: float) -> float:
        self._check_temperature(temperature)
        return series.value(self._coordinate.of(temperature))

    def _slope_along(self, series: Series, temperature: float) -> float:
        self._check_temperature(temperature)
        x, stretch = self._coordinate.of_with_slope(temperature)
        return series.value_and_slope(x)[1] * stretch

    def _check_temperature(self, temperature: float) -> None:
        self._check("temperature", temperature, "K", self.minimum_temperature, self.maximum_temperature)

    def _check(self, quantity: str, value: float, unit: str, low: float, high: float) -> None:
        if not low * (1 - _SLACK) <= value <= high * (1 + _SLACK):
            name = f"{self.refrigerant.designation} {quantity}"
            raise OutOfRangeError(name, value, unit, low, high, self.source)


@cache
def _load(designation: str) -> Saturation:
    return build(find_refrigerant(designation), load_curves()[designation])


def saturation(refrigerant: Refrigerant | str) -> Saturation:
    """Return the saturation curves of a refrigerant, given as such or by any name that `find_refrigerant` accepts.

    Raises:
        UnknownNameError: nothing answers to the name.
        UnmodelledRefrigerantError: the refrigerant is known, but there is no model of it.
    """
    found = find_refrigerant(refrigerant) if isinstance(refrigerant, str) else refrigerant
    return _load(found.designation)


def build(refrigerant: Refrigerant, data: CurveData) -> Saturation:
    """Make the curves of one refrigerant from its entry in the data file."""
    coordinate = _coordinate(data["origin_temperature"], data["minimum_temperature"], data["maximum_temperature"])
    dew = _pressure_curve(
        "saturation" if data["kind"] == "pure" else "dew", coordinate, data["dew_pressure"], data["dew_temperature"]
    )
    bubble = dew
    if "bubble_pressure" in data:
        bubble = _pressure_curve("bubble", coordinate, data["bubble_pressure"], data["bubble_temperature"])
    return Saturation(
        refrigerant=refrigerant,
        minimum_temperature=coordinate.low,
        maximum_temperature=coordinate.high,
        source=f"saturation curve fitted to {data['model']} in {data['library']}",
        _coordinate=coordinate,
        _bubble=bubble,
        _dew=dew,
        _liquid_density=Series(tuple(data["liquid_density"])),
        _vapour_density=Series(tuple(data["vapour_density"])),
        _liquid_enthalpy=Series(tuple(data["liquid_enthalpy"])),
        _vapour_enthalpy=Series(tuple(data["vapour_enthalpy"])),
    )


def _pressure_curve(phase: str, coordinate: Coordinate, pressures: list[float], starts: list[float]) -> _PressureCurve:
    logarithm = Series(tuple(pressures))
    low, high = (math.exp(logarithm.value(coordinate.of(end))) for end in (coordinate.low, coordinate.high))
    return _PressureCurve(phase, coordinate, logarithm, Series(tuple(starts)), low, high)
