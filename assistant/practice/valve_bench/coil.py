"""Valve and fixed orifices on one coil: where each settles when the load or the head pressure is turned.

Two balances fix the state: the device passes what the compressor draws, and the coil's outlet follows from that flow.
For each coil pressure a flow is found that the device agrees with; the coil pressure is where the compressor draws as
much. Both searches are bracketed, so that a state is found wherever there is one. Temperatures [K], pressures absolute
[Pa], flows [kg/s].
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final

from assistant.errors import CoilsideError, OutOfRangeError, PhysicsError
from assistant.practice.valve_bench.bench import (
    Balance,
    Rig,
    Turned,
    balance_at,
    compressor_draw,
    feed_of,
    rig,
    valve_as_turned,
)
from assistant.quantity import ZERO_CELSIUS, fahrenheit
from assistant.simulator import coils
from assistant.simulator.coils import Evaporated
from assistant.simulator.metering import Device, ExpansionValve, bulb_pressure, pass_flow
from assistant.simulator.plant import RATED_DEW, air_mass_flow
from assistant.simulator.refrigerant import saturation_ends
from assistant.simulator.roots import find_root
from assistant.thermo.air import MoistAir, from_wet_bulb
from assistant.thermo.valve import opening

VALVE: Final = "TXV"
_COLDEST: Final = fahrenheit(-35.0)
_LEAST_FLOW: Final = 0.02
_CLOSE: Final = 1e-5
_NOWHERE: Final = "no steady state on this coil"


@dataclass(frozen=True, slots=True)
class Settled:
    """Where a device has settled on the coil.

    `superheat` at the coil's outlet [K], nought where it floods; `liquid` is the liquid's mass fraction of what leaves.
    `heat` [W] that the coil takes from the air. `balance` is that of the valve, `None` for an orifice.
    """

    name: str
    flow: float
    pressure: float
    evaporating: float
    outlet: float
    superheat: float
    liquid: float
    heat: float
    balance: Balance | None

    @property
    def floods(self) -> bool:
        """Whether liquid leaves the coil."""
        return self.liquid > 1e-4

    @property
    def freezes(self) -> bool:
        """Whether frost would grow on a real coil."""
        return self.evaporating < ZERO_CELSIUS


@dataclass(frozen=True, slots=True)
class Unsettled:
    """A device that finds no steady state, and why."""

    name: str
    reason: str


Found = Settled | Unsettled


def device_names(refrigerant: str) -> tuple[str, ...]:
    """Return the devices on the bench, the valve first."""
    return VALVE, *(name for name, _ in rig(refrigerant).orifices)


def settle_all(turned: Turned, near: Sequence[Found] = ()) -> tuple[Found, ...]:
    """Return the valve and the orifices, each alone on the coil.

    `near` is what was found where things were turned a little otherwise; the search begins there.
    """
    starts = {found.name: found for found in near}
    return tuple(settle_device(turned, name, starts.get(name)) for name in device_names(turned.refrigerant))


def settle_device(turned: Turned, name: str, near: Found | None = None) -> Found:
    """One device on the coil; the search begins `near` a state where one is given."""
    try:
        return _Coil(turned, name).settle(near)
    except OutOfRangeError as error:
        return Unsettled(name, f"{_NOWHERE} ({error.quantity} out of range)")
    except CoilsideError as error:
        return Unsettled(name, str(error).rstrip("."))


@lru_cache(maxsize=64)
def _air(dry_bulb: float, wet_bulb: float) -> MoistAir:
    return from_wet_bulb(dry_bulb, wet_bulb)


class _Coil:
    """The coil with one device, its air and its compressor."""

    def __init__(self, turned: Turned, name: str) -> None:
        self.turned, self.name = turned, name
        self.parts: Rig = rig(turned.refrigerant)
        self.device: Device = valve_as_turned(self.parts, turned) if name == VALVE else dict(self.parts.orifices)[name]
        self.air = _air(turned.return_air, turned.wet_bulb)
        volume = turned.load * self.parts.rated_airflow
        self.airflow = air_mass_flow(volume, self.air.dry_bulb, self.air.humidity_ratio, self.air.pressure)
        feed = feed_of(self.parts.fluid, turned, turned.equalizer, turned.bulb)
        self.entering = feed.inlet_enthalpy
        self.flow = self.parts.rated_flow

    def settle(self, near: Found | None) -> Settled:
        """Return where device and compressor agree.

        Raises:
            PhysicsError: nowhere, or outside curves and tables.
        """
        curves = self.parts.fluid.curves
        low = math.log(curves.dew_pressure(_COLDEST))
        high = math.log(min(curves.dew_pressure(self.air.dry_bulb - 0.5), 0.9 * self.turned.head))
        guess = curves.dew_pressure(RATED_DEW)
        if isinstance(near, Settled):
            guess, self.flow = near.pressure, near.flow

        def too_much(logarithm: float) -> float:
            pressure = math.exp(logarithm)
            flow = self.flow = self.agreed(pressure)
            boiled = self.boiled(pressure, flow)
            fluid, compressor = self.parts.fluid, self.parts.compressor
            return compressor_draw(fluid, compressor, pressure, boiled.enthalpy, self.turned.head) / flow - 1.0

        logarithm = find_root(too_much, math.log(guess), 1.0, (low, high), _CLOSE)
        if logarithm is None:
            raise PhysicsError(_NOWHERE)
        pressure = math.exp(logarithm)
        return self._state(pressure, self.agreed(pressure))

    def agreed(self, pressure: float) -> float:
        """Return the flow [kg/s] at which the device passes what the coil is fed, at a coil pressure [Pa].

        The more flows, the less superheat is left, and the less a valve opens: there is exactly one such flow.
        """
        rated = self.parts.rated_flow
        least = _LEAST_FLOW * rated
        fluid, device = self.parts.fluid, self.device
        feed = feed_of(fluid, self.turned, pressure, self.air.dry_bulb)
        if not isinstance(device, ExpansionValve):
            return max(pass_flow(fluid, device, feed).flow, least)
        wide_open = pass_flow(fluid, replace(device, least=1.0), feed).flow

        def too_much(flow: float) -> float:
            line = coils.outlet_temperature(fluid, pressure, self.boiled(pressure, flow))
            bulb = bulb_pressure(fluid, device, replace(feed, line_temperature=line))
            return (flow - wide_open * opening(device.spring, bulb, pressure)) / rated

        found = find_root(too_much, self.flow, 1.0 / rated, (least, max(1.01 * wide_open, 2.0 * least)), _CLOSE / 10.0)
        return least if found is None else found

    def boiled(self, pressure: float, flow: float) -> Evaporated:
        """Return the coil at a pressure [Pa] and a flow [kg/s]."""
        parts = self.parts
        return coils.evaporate(parts.fluid, parts.coil, flow, self.entering, pressure, self.airflow, self.air)

    def _state(self, pressure: float, flow: float) -> Settled:
        fluid = self.parts.fluid
        boiled, at = self.boiled(pressure, flow), saturation_ends(fluid, pressure)
        outlet = coils.outlet_temperature(fluid, pressure, boiled)
        return Settled(
            name=self.name,
            flow=flow,
            pressure=pressure,
            evaporating=at.dew,
            outlet=outlet,
            superheat=max(outlet - at.dew, 0.0),
            liquid=max(1.0 - at.quality(boiled.enthalpy), 0.0),
            heat=boiled.heat,
            balance=balance_at(self.turned, pressure, outlet) if self.name == VALVE else None,
        )
