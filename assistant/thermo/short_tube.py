"""What a sharp-edged short-tube orifice lets through, by a published correlation for R-22.

A short tube chokes near its entrance while the liquid is still too quick to flash. The correlation is the orifice
equation with a throat pressure fitted to measurements, in terms of the saturation pressure at the liquid's
temperature: more subcooling or a longer tube raises it, a lower evaporator pressure lowers it a little.

Source: Aaron, Domanski 1990, ASHRAE Transactions 96(1), short-tube restrictors with refrigerant 22. Form, coefficients
and range from memory, not read again; the bores that are common per ton of cooling agree with it within a tenth.
"""

import math
from dataclasses import dataclass
from typing import Final

from assistant.errors import ImpossibleError, OutOfRangeError
from assistant.thermo.curves import Saturation

REFRIGERANT: Final = "R-22"
"""The one refrigerant that was measured; `assistant.thermo.orifice` gives trends for the others."""

_SOURCE = "short-tube correlation, Aaron and Domanski 1990, from memory"
_SUBCOOLING = (0.0, 13.9)
_UPSTREAM = (1.448e6, 2.006e6)
_SLENDERNESS = (5.0, 20.0)


@dataclass(frozen=True, slots=True)
class ShortTube:
    """A straight round bore with sharp edges: length and bore [m].

    Raises:
        ImpossibleError: a length or bore is not above zero.
        OutOfRangeError: it is shorter than 5 or longer than 20 bores.
    """

    length: float
    bore: float

    def __post_init__(self) -> None:
        if not (self.length > 0 and self.bore > 0):
            raise ImpossibleError("A tube is longer and wider than nothing.")
        _within("length over bore", self.slenderness, "bores", _SLENDERNESS)

    @property
    def area(self) -> float:
        """Area of the bore [m2]."""
        return math.pi / 4.0 * self.bore**2

    @property
    def slenderness(self) -> float:
        """Length over bore, a ratio of two lengths [m]."""
        return self.length / self.bore


def mass_flow(
    saturation: Saturation,
    tube: ShortTube,
    upstream_pressure: float,
    liquid_temperature: float,
    downstream_pressure: float,
) -> float:
    """Flow of R-22 [kg/s] through a short tube from liquid [Pa], [K] to a downstream pressure [Pa], all absolute.

    Raises:
        ImpossibleError: the curves are of another refrigerant, there is no liquid upstream, or no fall of pressure.
        OutOfRangeError: upstream pressure or subcooling outside what was measured.

    Source: Aaron, Domanski 1990, from memory; measured to about a tenth.
    """
    if saturation.refrigerant.designation != REFRIGERANT:
        raise ImpossibleError(f"The short-tube correlation was measured with {REFRIGERANT} alone.")
    _within("pressure before the orifice", upstream_pressure, "Pa", _UPSTREAM)
    subcooling = saturation.bubble_temperature(upstream_pressure) - liquid_temperature
    if subcooling < -1e-6:
        raise ImpossibleError("There is no pure liquid before the orifice: it is warmer than its bubble temperature.")
    _within("subcooling", max(subcooling, 0.0), "K", _SUBCOOLING)
    throat = throat_pressure(saturation, tube, liquid_temperature, max(subcooling, 0.0), downstream_pressure)
    if not 0.0 < downstream_pressure < throat:
        raise ImpossibleError(
            "The pressure behind the orifice is too high for it to choke: the correlation ends there."
        )
    density = saturation.liquid_density(liquid_temperature)
    return tube.area * math.sqrt(2.0 * density * (upstream_pressure - throat))


def throat_pressure(
    saturation: Saturation, tube: ShortTube, liquid_temperature: float, subcooling: float, downstream_pressure: float
) -> float:
    """The fitted pressure [Pa] in the throat, from saturation at the liquid's temperature [K] and its subcooling [K].

    It is written in reduced quantities, so it can be worked for any refrigerant; measured it is for R-22 alone, and
    only within the ranges that `mass_flow` holds.

    Raises:
        OutOfRangeError: outside the curves.

    Source: Aaron, Domanski 1990, from memory.
    """
    refrigerant = saturation.refrigerant
    subcooled = subcooling / refrigerant.critical_temperature
    evaporator = (refrigerant.critical_pressure - downstream_pressure) / refrigerant.critical_pressure
    share: float = (
        1.005
        + 12.599 * subcooled**1.293
        - 0.1229 * math.exp(-0.0169 * tube.slenderness**2)
        - 0.04753 * evaporator**0.6192
    )
    return share * saturation.bubble_pressure(liquid_temperature)


def _within(what: str, value: float, unit: str, bounds: tuple[float, float]) -> None:
    low, high = bounds
    if not low <= value <= high:
        raise OutOfRangeError(what, value, unit, low, high, _SOURCE)
