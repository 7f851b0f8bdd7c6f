"""Refrigerant at a pressure with an enthalpy: liquid, mixture or vapour, from curves and tables alone.

Pressures absolute [Pa], temperatures [K], enthalpies [J/kg], densities [kg/m3]. Subcooled liquid counts as saturated at
its own temperature; a mixture's temperature runs from bubble to dew with the vapour's mass fraction.
"""

import math
from dataclasses import dataclass
from functools import lru_cache

from assistant.simulator.vapour import Vapour, ends


@dataclass(frozen=True, slots=True)
class Saturated:
    """Both ends of the two-phase region at one pressure."""

    pressure: float
    bubble: float
    dew: float
    liquid_enthalpy: float
    vapour_enthalpy: float
    liquid_density: float
    vapour_density: float

    @property
    def latent(self) -> float:
        """Enthalpy [J/kg] from bubble to dew."""
        return self.vapour_enthalpy - self.liquid_enthalpy

    def quality(self, enthalpy: float) -> float:
        """Vapour's mass fraction at an enthalpy [J/kg]; below 0 for subcooled liquid, above 1 for superheat."""
        return (enthalpy - self.liquid_enthalpy) / self.latent

    def mixture_temperature(self, quality: float) -> float:
        """Return the temperature [K] of a mixture with a vapour mass fraction of 0 to 1."""
        return self.bubble + quality * (self.dew - self.bubble)

    def mixture_density(self, quality: float) -> float:
        """Density [kg/m3] of a mixture whose two phases travel at one speed, from its vapour mass fraction (0 to 1)."""
        return 1.0 / ((1.0 - quality) / self.liquid_density + quality / self.vapour_density)

    def accelerated_density(self, quality: float) -> float:
        """Return the density [kg/m3] that a mixture sets against acceleration, from its vapour mass fraction (0 to 1).

        The vapour runs ahead, so it is more than that of a mixture at one speed.

        Source: momentum flux of separated flow with the slip of least kinetic energy, Zivi 1964, from memory.
        """
        slip: float = (self.liquid_density / self.vapour_density) ** (1.0 / 3.0)
        volume = quality / self.vapour_density + slip * (1.0 - quality) / self.liquid_density
        return 1.0 / (volume * (quality + (1.0 - quality) / slip))


@lru_cache(maxsize=512)
def saturation_ends(fluid: Vapour, pressure: float) -> Saturated:
    """Return the bubble and dew at a pressure [Pa].

    Worked from the curves at steps of the pressure and read between them by a cubic through four, which is within
    1e-6 of the curves themselves and several times as quick.

    Raises:
        OutOfRangeError: outside the curves.
    """
    bubble, dew, liquid, vapour, liquid_density, vapour_density = ends(fluid, pressure)
    return Saturated(pressure, bubble, dew, liquid, vapour, liquid_density, vapour_density)


def liquid_temperature(fluid: Vapour, at: Saturated, enthalpy: float) -> float:
    """Return the temperature [K] of subcooled liquid with an enthalpy [J/kg], by Newton's method on the bubble curve.

    Raises:
        OutOfRangeError: outside the curve.
    """
    temperature = at.bubble
    for _ in range(20):
        value, slope = fluid.curves.follow_liquid_enthalpy(temperature)
        step = (enthalpy - value) / slope
        temperature = min(temperature + step, at.bubble)
        if abs(step) < 1e-8:
            break
    return temperature


def temperature(fluid: Vapour, pressure: float, enthalpy: float) -> float:
    """Return the temperature [K] of whatever the refrigerant is at a pressure [Pa] and enthalpy [J/kg].

    Raises:
        OutOfRangeError: outside curves or tables.
    """
    at = saturation_ends(fluid, pressure)
    if enthalpy <= at.liquid_enthalpy:
        return liquid_temperature(fluid, at, enthalpy)
    if enthalpy < at.vapour_enthalpy:
        return at.mixture_temperature(at.quality(enthalpy))
    return fluid.temperature(pressure, enthalpy)


def density(fluid: Vapour, pressure: float, enthalpy: float) -> float:
    """Return the density [kg/m3] of whatever the refrigerant is at a pressure [Pa] and enthalpy [J/kg], at one speed.

    Raises:
        OutOfRangeError: outside curves or tables.
    """
    at = saturation_ends(fluid, pressure)
    if enthalpy <= at.liquid_enthalpy:
        return fluid.curves.liquid_density(liquid_temperature(fluid, at, enthalpy))
    if enthalpy < at.vapour_enthalpy:
        return at.mixture_density(at.quality(enthalpy))
    return fluid.density(pressure, fluid.temperature(pressure, enthalpy))


def held_density(at: Saturated, low: float, high: float) -> float:
    """Mean density [kg/m3] along a pipe in which the vapour's mass fraction runs from `low` to `high` with the heat.

    Source: void fraction with the slip of least kinetic energy, Zivi 1964, Journal of Heat Transfer 86, from memory;
    integrated over a constant heat flux.
    """
    low, high = min(max(low, 0.0), 1.0), min(max(high, 0.0), 1.0)
    slip: float = (at.vapour_density / at.liquid_density) ** (2.0 / 3.0)
    rest = 1.0 - slip

    def void_to(quality: float) -> float:
        return quality / rest - slip / rest**2 * math.log(slip + rest * quality)

    width = high - low
    void = high / (slip + rest * high) if width < 1e-6 else (void_to(high) - void_to(low)) / width
    return void * at.vapour_density + (1.0 - void) * at.liquid_density
