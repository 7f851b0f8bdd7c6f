"""Outside models of a fixed orifice, to hold the simulator's against: one fitted to R-22 alone, one without any fit."""

import math

from assistant.thermo.curves import Saturation


def short_tube_flux(
    curves: Saturation, slenderness: float, upstream_pressure: float, liquid_temperature: float, downstream: float
) -> float:
    """Flow of R-22 per area [kg/(s·m2)] through a choked short tube, `slenderness` bores long; [Pa], [K].

    Source: Aaron, Domanski 1990, ASHRAE Transactions 96(1); form, coefficients and range (up to 13.9 K of subcooling,
    1.45 to 2.01 MPa, 5 to 20 bores) from memory.
    """
    critical = curves.refrigerant.critical_pressure
    subcooling = max(curves.bubble_temperature(upstream_pressure) - liquid_temperature, 0.0)
    subcooled = subcooling / curves.refrigerant.critical_temperature
    share = (
        1.005
        + 12.599 * subcooled**1.293
        - 0.1229 * math.exp(-0.0169 * slenderness**2)
        - 0.04753 * ((critical - downstream) / critical) ** 0.6192
    )
    throat = share * curves.bubble_pressure(liquid_temperature)
    return math.sqrt(2.0 * curves.liquid_density(liquid_temperature) * (upstream_pressure - throat))


def equilibrium_flux(curves: Saturation, upstream_pressure: float, liquid_temperature: float) -> float:
    """Choked flow per area [kg/(s·m2)] of subcooled liquid that flashes at once and without loss; [Pa], [K].

    Source: Leung, Grolmes 1988, omega method, from memory. Real tubes are too quick for it near saturation.
    """
    flashing = curves.bubble_pressure(liquid_temperature)
    flashed = 0.9 * flashing
    bubble, dew = curves.bubble_temperature(flashed), curves.dew_temperature(flashed)
    liquid = curves.liquid_enthalpy(bubble)
    quality = (curves.liquid_enthalpy(liquid_temperature) - liquid) / (curves.vapour_enthalpy(dew) - liquid)
    volume = (1.0 - quality) / curves.liquid_density(bubble) + quality / curves.vapour_density(dew)
    density = curves.liquid_density(liquid_temperature)
    omega = (volume * density - 1.0) / (1.0 / 0.9 - 1.0)

    def flux(throat: float) -> float:
        work = (upstream_pressure - flashing) + omega * flashing * math.log(flashing / throat)
        work -= (omega - 1.0) * (flashing - throat)
        return math.sqrt(2.0 * density * work) / (omega * (flashing / throat - 1.0) + 1.0)

    return max(flux(flashing * (1.0 - k / 400.0)) for k in range(380))
