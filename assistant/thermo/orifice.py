"""What a fixed orifice lets through, as a trend: how flow changes with bore, pressures and subcooling.

Liquid that flashes inside a short bore chokes: below some outlet pressure the flow no longer rises. The model is the
homogeneous equilibrium one in its omega form (Leung, Grolmes 1988; also in API 520 part I annex C), from memory: the
liquid expands to its saturation pressure and flashes from there, its specific volume rising in proportion to the fall
of pressure, all without loss. Real short bores are too quick for equilibrium and let through more near saturation, so
only ratios are offered, no absolute flow; for R-22 `assistant.thermo.short_tube` has that.
"""

import math

from assistant.errors import ImpossibleError, OutOfRangeError
from assistant.thermo.curves import Saturation

_MOST_SUBCOOLING = 40.0
_OMEGA_STEP = 0.9  # the omega parameter is taken from the density at nine tenths of the saturation pressure
_GOLDEN = (math.sqrt(5.0) - 1.0) / 2.0


def area_ratio(bore: float, other_bore: float) -> float:
    """Area of one round bore over that of another, from two diameters [m].

    Raises:
        ImpossibleError: a bore is not above zero.
    """
    if not (bore > 0 and other_bore > 0):
        raise ImpossibleError("A bore is wider than nothing.")
    return (bore / other_bore) ** 2


def relative_flow(
    saturation: Saturation,
    upstream: tuple[float, float],
    downstream_pressure: float,
    base_upstream: tuple[float, float],
    base_downstream_pressure: float,
) -> float:
    """Flow through one orifice at one condition over the flow through the same orifice at a base condition.

    `upstream` is the absolute pressure [Pa] and the temperature [K] of the liquid, `downstream_pressure` [Pa].

    Raises:
        OutOfRangeError: outside the curves, or more than 40 K of subcooling.
        ImpossibleError: no liquid upstream, or no fall of pressure.
    """
    base = ideal_flux(saturation, *base_upstream, base_downstream_pressure)
    return ideal_flux(saturation, *upstream, downstream_pressure) / base


def is_choked(
    saturation: Saturation, upstream_pressure: float, liquid_temperature: float, downstream_pressure: float
) -> bool:
    """Whether a lower outlet pressure [Pa] would no longer raise the flow; upstream [Pa] and [K].

    Raises:
        OutOfRangeError: outside the curves, or more than 40 K of subcooling.
        ImpossibleError: no liquid upstream, or no fall of pressure.
    """
    _check(saturation, upstream_pressure, liquid_temperature, downstream_pressure)
    return downstream_pressure <= _choking_pressure(saturation, upstream_pressure, liquid_temperature)


def ideal_flux(
    saturation: Saturation, upstream_pressure: float, liquid_temperature: float, downstream_pressure: float
) -> float:
    """Loss-free flow per area [kg/(s·m2)] from liquid [Pa], [K] to a downstream pressure [Pa]; for ratios only.

    Raises:
        OutOfRangeError: outside the curves, or more than 40 K of subcooling.
        ImpossibleError: no liquid upstream, or no fall of pressure.

    Source: Leung and Grolmes 1988, omega method for initially subcooled liquid, from memory.
    """
    _check(saturation, upstream_pressure, liquid_temperature, downstream_pressure)
    throat = max(downstream_pressure, _choking_pressure(saturation, upstream_pressure, liquid_temperature))
    density = saturation.liquid_density(liquid_temperature)
    flashing = saturation.bubble_pressure(liquid_temperature)
    if throat >= flashing:
        return math.sqrt(2.0 * density * (upstream_pressure - throat))
    omega = _omega(saturation, liquid_temperature)
    return math.sqrt(density) * _flashing_flux(omega, upstream_pressure, flashing, throat)


def _flashing_flux(omega: float, upstream_pressure: float, flashing: float, throat: float) -> float:
    """Loss-free flow per area and root of the liquid's density, for a throat pressure [Pa] at or below flashing.

    Speed from the work that the pressure does, over the volume that the mixture has swollen to.
    """
    work = (upstream_pressure - flashing) + omega * flashing * math.log(flashing / throat)
    work -= (omega - 1.0) * (flashing - throat)
    swelling = omega * (flashing / throat - 1.0) + 1.0
    return math.sqrt(2.0 * work) / swelling


def _omega(saturation: Saturation, temperature: float) -> float:
    """How fast the mixture swells as the pressure falls below saturation, without a unit."""
    flashed = _OMEGA_STEP * saturation.bubble_pressure(temperature)
    bubble, dew = saturation.bubble_temperature(flashed), saturation.dew_temperature(flashed)
    liquid = saturation.liquid_enthalpy(bubble)
    quality = (saturation.liquid_enthalpy(temperature) - liquid) / (saturation.vapour_enthalpy(dew) - liquid)
    volume = (1.0 - quality) / saturation.liquid_density(bubble) + quality / saturation.vapour_density(dew)
    return (volume * saturation.liquid_density(temperature) - 1.0) / (1.0 / _OMEGA_STEP - 1.0)


def _choking_pressure(saturation: Saturation, upstream_pressure: float, temperature: float) -> float:
    """The throat pressure [Pa] of the greatest flow, by golden section; never above saturation."""
    flashing, omega = saturation.bubble_pressure(temperature), _omega(saturation, temperature)
    low, high = 0.02 * upstream_pressure, flashing
    while high - low > 1e-7 * upstream_pressure:
        left, right = high - _GOLDEN * (high - low), low + _GOLDEN * (high - low)
        if _flashing_flux(omega, upstream_pressure, flashing, left) < _flashing_flux(
            omega, upstream_pressure, flashing, right
        ):
            low = left
        else:
            high = right
    return (low + high) / 2.0


def _check(
    saturation: Saturation, upstream_pressure: float, liquid_temperature: float, downstream_pressure: float
) -> None:
    subcooling = saturation.bubble_temperature(upstream_pressure) - liquid_temperature
    if not subcooling >= -1e-6:
        raise ImpossibleError("There is no pure liquid before the orifice: it is warmer than its bubble temperature.")
    if subcooling > _MOST_SUBCOOLING:
        raise OutOfRangeError("subcooling", subcooling, "K", 0.0, _MOST_SUBCOOLING, "orifice trend, from memory")
    if not 0.0 < downstream_pressure < upstream_pressure:
        raise ImpossibleError("Flow needs a lower pressure behind the orifice than before it.")
