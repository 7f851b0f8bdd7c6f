"""What a short tube of a fixed orifice lets through, by a published correlation for several refrigerants.

The flow is written in reduced quantities: how far the pressure stands above saturation at the liquid's temperature, the
subcooling, the density of the vapour, the length over the bore. The tube is taken to choke, so that the pressure behind
it does not count, until so little pressure is left that the orifice equation gives less.

Source: Payne, O'Neal 2004, HVAC&R Research 10(1), a mass flow rate correlation for refrigerants and mixtures through
short tubes, measured with R-22, R-410A, R-407C and others; form and coefficients from memory, not read again. At the
subcooling of a rated system it lies within a tenth of the older correlation for R-22 alone, and the common bores agree.
"""

import math
from typing import Final

from assistant.simulator.refrigerant import liquid_temperature, saturation_ends
from assistant.simulator.vapour import Vapour

SLENDERNESS: Final = 8.0
"""Length of the bore over its width; chosen."""
MOST_SUBCOOLING: Final = 14.0
"""Subcooling [K] up to which short tubes were measured; from memory. Beyond it the orifice equation goes on."""


def flux(
    fluid: Vapour,
    inlet_pressure: float,
    inlet_enthalpy: float,
    outlet_pressure: float,
    slenderness: float = SLENDERNESS,
) -> float:
    """Return the flow per area [kg/(s·m2)] from a pressure [Pa] and an enthalpy [J/kg] to a lower pressure [Pa].

    `slenderness` is the length of the bore over its width, a ratio of two lengths [m].
    Liquid with vapour in it passes in proportion to the root of the density that it sets against acceleration (chosen).

    Raises:
        OutOfRangeError: outside the curves.
    """
    if inlet_pressure <= outlet_pressure:
        return 0.0
    at = saturation_ends(fluid, inlet_pressure)
    quality = at.quality(inlet_enthalpy)
    if quality > 0.0:
        mixture = at.accelerated_density(min(quality, 1.0))
        choked = _choked_flux(fluid, inlet_pressure, at.bubble, at.bubble, slenderness) * math.sqrt(
            mixture / at.liquid_density
        )
        return min(choked, math.sqrt(2.0 * mixture * (inlet_pressure - outlet_pressure)))
    entering = liquid_temperature(fluid, at, inlet_enthalpy)
    density = fluid.curves.liquid_density(entering)
    measured = max(entering, at.bubble - MOST_SUBCOOLING)
    choked = _choked_flux(fluid, inlet_pressure, at.bubble, measured, slenderness)
    if measured > entering:
        beyond = fluid.curves.bubble_pressure(measured) - fluid.curves.bubble_pressure(entering)
        choked = math.sqrt(choked**2 + 2.0 * density * beyond)
    return min(choked, math.sqrt(2.0 * density * (inlet_pressure - outlet_pressure)))


def _choked_flux(fluid: Vapour, pressure: float, bubble: float, entering: float, slenderness: float) -> float:
    """Return the choked flow per area [kg/(s·m2)] of liquid at a pressure [Pa]; its bubble and own temperature [K]."""
    curves = fluid.curves
    refrigerant = curves.refrigerant
    flashing = saturation_ends(fluid, curves.bubble_pressure(entering))
    above = max(pressure - flashing.pressure, 0.0) / refrigerant.critical_pressure
    subcooled = (bubble - entering) / refrigerant.critical_temperature
    vapour = flashing.vapour_density / flashing.liquid_density
    top = 0.38811 + 11.427 * above - 14.194 * subcooled + 1.0703 * vapour - 0.091928 * math.log(slenderness)
    bottom = 1.0 + 21.425 * above - 581.95 * subcooled**2
    return top / bottom * math.sqrt(flashing.liquid_density * refrigerant.critical_pressure)
