"""What the metering device lets through: an expansion valve by its force balance, a fixed orifice by its bore.

The valve: the orifice equation with the opening that bulb, equalizer and spring balance (`assistant.thermo.valve`). The
orifice: a published short-tube correlation (`assistant.simulator.bore`). Both pass less when vapour comes along, in
proportion to the root of the density that the mixture sets against acceleration (chosen). What gets round a device
without being metered - past a piston that is not seated, through a check valve that leaks - obeys the orifice equation.
"""

import math
from dataclasses import dataclass
from typing import Final, assert_never

from assistant.simulator.bore import SLENDERNESS, flux
from assistant.simulator.refrigerant import density, saturation_ends
from assistant.simulator.vapour import Vapour
from assistant.thermo import valve as balance
from assistant.thermo.curves import Saturation
from assistant.thermo.valve import BulbCharge, LiquidCharge, Valve

FULL: Final = LiquidCharge()
"""The charge of a sound bulb: liquid always stays in it."""


@dataclass(frozen=True, slots=True)
class Orifice:
    """A fixed bore: its area [m2], scaled at the rating point, and the area [m2] of what gets round it.

    It is `slenderness` times as long as wide.
    """

    area: float
    bypass: float = 0.0
    slenderness: float = SLENDERNESS


@dataclass(frozen=True, slots=True)
class ExpansionValve:
    """A thermostatic valve: its effective area wide open [m2], its spring, and what may be wrong with it.

    `least` is the opening (0 to 1) below which it does not close. `bulb_contact` (0 to 1) is the share of the line in
    what the bulb feels, `bulb_in_liquid` (0 to 1) that of oil and liquid that lie in the line as cold as its dew point.
    `element` holds the curves of another refrigerant where the head was made for that. `equalizer` 0 feels the coil's
    outlet, 1 its inlet behind the distributor, 2 the valve's own outlet; `trapped` [Pa] is a pressure shut up in
    it. `bulb_held_at` [K] is the temperature of a bulb in a hand or in ice water; then the line does not matter.
    `bypass` [m2] is the area of what gets round the valve. The open area goes with the lift to the power of `stroke`.
    """

    area: float
    spring: Valve
    charge: BulbCharge = FULL
    least: float = 0.0
    bulb_contact: float = 1.0
    bulb_in_liquid: float = 0.0
    element: Saturation | None = None
    equalizer: int = 0
    trapped: float | None = None
    bulb_held_at: float | None = None
    bypass: float = 0.0
    stroke: float = 1.0

    def open_area(self, opening: float) -> float:
        """Return the effective area [m2] at an opening (0 to 1)."""
        lifted: float = opening**self.stroke
        return self.area * lifted

    def opening_for(self, area: float) -> float:
        """Return the opening at which the valve has an area [m2], even beyond 0 and 1."""
        share = area / self.area
        return share if self.stroke == 1.0 else math.copysign(abs(share) ** (1.0 / self.stroke), share)


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


@dataclass(frozen=True, slots=True)
class Passed:
    """Flow [kg/s]; of a valve its opening (0 to 1), bulb pressure and that under the diaphragm [Pa], `nan` without one.

    `flux` is the flow per area [kg/(s·m2)] in a valve.
    """

    flow: float
    opening: float = math.nan
    bulb_pressure: float = math.nan
    equalizer_pressure: float = math.nan
    flux: float = math.nan


def pass_flow(fluid: Vapour, device: Device, feed: Feed) -> Passed:
    """Return what a device lets through.

    Raises:
        OutOfRangeError: outside the curves.
    """
    match device:
        case Orifice(area, bypass, slenderness):
            beside = bypass * valve_flux(fluid, feed) if bypass else 0.0
            return Passed(area * orifice_flux(fluid, feed, slenderness) + beside)
        case ExpansionValve():
            bulb = bulb_pressure(fluid, device, feed)
            under = device.trapped
            if under is None:
                under = (feed.coil_outlet, feed.coil_inlet, feed.valve_outlet)[device.equalizer]
            opening = max(balance.opening(device.spring, bulb, under), device.least)
            flux = valve_flux(fluid, feed)
            return Passed((device.open_area(opening) + device.bypass) * flux, opening, bulb, under, flux)
        case _:
            assert_never(device)


def bulb_pressure(fluid: Vapour, device: ExpansionValve, feed: Feed) -> float:
    """Return the pressure [Pa] over the diaphragm.

    Raises:
        OutOfRangeError: outside the curve.
    """
    felt = device.bulb_held_at
    if felt is None:
        felt = balance.loose_bulb_temperature(feed.line_temperature, feed.bulb_surroundings, device.bulb_contact)
        if device.bulb_in_liquid:
            cold = min(saturation_ends(fluid, feed.coil_outlet).dew, felt)
            felt += device.bulb_in_liquid * (cold - felt)
    return balance.bulb_pressure_of(device.charge, device.element or fluid.curves, felt)


def valve_flux(fluid: Vapour, feed: Feed) -> float:
    """Return the loss-free flow per area [kg/(s·m2)] by the orifice equation.

    Raises:
        OutOfRangeError: outside the curves.
    """
    drop = feed.inlet_pressure - feed.valve_outlet
    if drop <= 0.0:
        return 0.0
    at = saturation_ends(fluid, feed.inlet_pressure)
    quality = at.quality(feed.inlet_enthalpy)
    if 0.0 < quality < 1.0:
        return math.sqrt(2.0 * at.accelerated_density(quality) * drop)
    return math.sqrt(2.0 * density(fluid, feed.inlet_pressure, feed.inlet_enthalpy) * drop)


def orifice_flux(fluid: Vapour, feed: Feed, slenderness: float = SLENDERNESS) -> float:
    """Return the flow per area [kg/(s·m2)] of a short tube that chokes, `slenderness` times as long as wide.

    Raises:
        OutOfRangeError: outside the curves.
    """
    return flux(fluid, feed.inlet_pressure, feed.inlet_enthalpy, feed.valve_outlet, slenderness)
