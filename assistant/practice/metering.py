"""What the metering device lets through: an expansion valve by its force balance, a fixed orifice by its bore.

The valve: the orifice equation with the opening that bulb, equalizer and spring balance (`assistant.thermo.valve`). The
orifice: the trend of a short bore that chokes (`assistant.thermo.orifice`), scaled at the rating point; for R-22 it
stays within a fourth of the published short-tube correlation. Both pass less when vapour comes along, in
proportion to the root of the density of the mixture (chosen).
"""

import math
from dataclasses import dataclass
from typing import assert_never

from assistant.practice.refrigerant import density, liquid_temperature, saturated
from assistant.practice.vapour import Vapour
from assistant.thermo import valve as balance
from assistant.thermo.atmosphere import SEA_LEVEL_PRESSURE
from assistant.thermo.orifice import ideal_flux
from assistant.thermo.valve import Valve


@dataclass(frozen=True, slots=True)
class Orifice:
    """A fixed bore: its effective area [m2], scaled at the rating point."""

    area: float


@dataclass(frozen=True, slots=True)
class ExpansionValve:
    """A thermostatic valve: its effective area wide open [m2], its spring, and what may be wrong with it.

    `least` and `most` bound the opening (0 to 1). `bulb_contact` (0 to 1) is the share of the line in what the bulb
    feels; `charge_lost` (0 to 1) the share of its pressure over the air's that is gone. `equalizer` 0 feels the
    coil's outlet, 1 its inlet behind the distributor, 2 the valve's own outlet.
    """

    area: float
    spring: Valve
    least: float = 0.0
    most: float = 1.0
    bulb_contact: float = 1.0
    charge_lost: float = 0.0
    equalizer: int = 0


Device = Orifice | ExpansionValve


@dataclass(frozen=True, slots=True)
class Feed:
    """What surrounds the device: inlet [Pa], [J/kg], pressures [Pa] along the coil, line and air at the bulb [K]."""

    inlet_pressure: float
    inlet_enthalpy: float
    valve_outlet: float
    coil_inlet: float
    coil_outlet: float
    line_temperature: float
    bulb_surroundings: float
    atmosphere: float = SEA_LEVEL_PRESSURE


@dataclass(frozen=True, slots=True)
class Passed:
    """Flow [kg/s]; opening (0 to 1) and bulb pressure [Pa] of a valve, `nan` without one."""

    flow: float
    opening: float = math.nan
    bulb_pressure: float = math.nan


def passed(fluid: Vapour, device: Device, feed: Feed) -> Passed:
    """What a device lets through.

    Raises:
        OutOfRangeError: outside the curves.
        ImpossibleError: no fall of pressure over an orifice.
    """
    match device:
        case Orifice(area):
            return Passed(area * orifice_flux(fluid, feed))
        case ExpansionValve():
            bulb = bulb_pressure(fluid, device, feed)
            under = (feed.coil_outlet, feed.coil_inlet, feed.valve_outlet)[device.equalizer]
            opening = min(max(balance.opening(device.spring, bulb, under), device.least), device.most)
            return Passed(device.area * opening * valve_flux(fluid, feed), opening, bulb)
        case _:
            assert_never(device)


def bulb_pressure(fluid: Vapour, device: ExpansionValve, feed: Feed) -> float:
    """Pressure [Pa] over the diaphragm, from a liquid charge of the system's own refrigerant.

    Raises:
        OutOfRangeError: outside the curve.
    """
    felt = balance.loose_bulb_temperature(feed.line_temperature, feed.bulb_surroundings, device.bulb_contact)
    whole = balance.bulb_pressure(fluid.curves, felt)
    return whole - device.charge_lost * (whole - feed.atmosphere)


def valve_flux(fluid: Vapour, feed: Feed) -> float:
    """Loss-free flow per area [kg/(s·m2)] by the orifice equation.

    Raises:
        OutOfRangeError: outside the curves.
    """
    drop = feed.inlet_pressure - feed.valve_outlet
    if drop <= 0.0:
        return 0.0
    return math.sqrt(2.0 * density(fluid, feed.inlet_pressure, feed.inlet_enthalpy) * drop)


def orifice_flux(fluid: Vapour, feed: Feed) -> float:
    """Loss-free flow per area [kg/(s·m2)] of a choking bore; a trend, to be scaled.

    Raises:
        OutOfRangeError: outside the curves.
        ImpossibleError: no fall of pressure.
    """
    at = saturated(fluid, feed.inlet_pressure)
    quality = at.quality(feed.inlet_enthalpy)
    if quality <= 0.0:
        entering = liquid_temperature(fluid, at, feed.inlet_enthalpy)
        return ideal_flux(fluid.curves, feed.inlet_pressure, entering, feed.valve_outlet)
    thinner = at.mixture_density(min(quality, 1.0)) / at.liquid_density
    return ideal_flux(fluid.curves, feed.inlet_pressure, at.bubble, feed.valve_outlet) * math.sqrt(thinner)
