"""The valve bench: a thermostatic expansion valve whose surroundings are turned by hand, fixed orifices beside it.

Everything on the bench is of the practice system's parts, sized again so that valve and right orifice stand exactly at
its rating point: no lines, no distributor, one pressure in the coil, and the head pressure right at the inlet of every
device. Temperatures [K], pressures absolute [Pa], differences [K] or [Pa].
"""

from dataclasses import dataclass, fields, replace
from enum import StrEnum
from functools import cache
from typing import Any, Final

from assistant.simulator.coils import Coil, evaporate
from assistant.simulator.compressor import Compressor
from assistant.simulator.metering import ExpansionValve, Feed, Orifice, pass_flow
from assistant.simulator.plant import (
    RATED_BUBBLE,
    RATED_DEW,
    RATED_RETURN,
    RATED_SUBCOOLING,
    RATED_SUPERHEAT,
    RATED_WET_BULB,
    Plant,
    rating_conditions,
    size_plant,
)
from assistant.simulator.refrigerant import density, saturation_ends
from assistant.simulator.roots import find_root
from assistant.simulator.vapour import Vapour
from assistant.thermo import valve as balance
from assistant.thermo.valve import Valve

TONS: Final = 3.0
ORIFICE_SIZES: Final = (("small orifice", 0.9), ("right orifice", 1.0), ("large orifice", 1.1))
"""The fixed orifices by name, each with its area over that of the right one: a size or two apart; chosen."""


class Stand(StrEnum):
    """Where the pin of a valve stands."""

    SHUT = "shut"
    BETWEEN = "between"
    WIDE_OPEN = "wide open"


@dataclass(frozen=True, slots=True)
class Turned:
    """How everything is turned.

    `spring` is its pressure at the seat, a difference [Pa]. `bulb` and `equalizer` count where the valve is held by
    hand; on the coil `load`, the air as a share of the rated flow, and `wet_bulb` of the return air [K]. `flash` is the
    vapour's mass fraction of what arrives at the device; while there is any, `subcooling` counts as nought.
    """

    refrigerant: str
    bulb: float
    equalizer: float
    spring: float
    head: float
    subcooling: float
    flash: float = 0.0
    load: float = 1.0
    wet_bulb: float = RATED_WET_BULB
    return_air: float = RATED_RETURN

    def at(self, name: str, value: float) -> "Turned":
        """Return the same with one of its fields at a value, in SI as that field has it."""
        changed: dict[str, Any] = {name: value}
        return replace(self, **changed)


@dataclass(frozen=True, slots=True)
class Rig:
    """The parts on the bench, as built for one refrigerant; `rated_flow` [kg/s]."""

    fluid: Vapour
    valve: ExpansionValve
    orifices: tuple[tuple[str, Orifice], ...]
    coil: Coil
    compressor: Compressor
    rated_flow: float
    rated_airflow: float


@dataclass(frozen=True, slots=True)
class Balance:
    """The valve as bulb, equalizer and spring hold it.

    `left` is what the forces leave to lift the pin [Pa], `rate` what the spring gains over its whole travel. `opening`
    from 0 to 1. `superheat`, and those at which this valve begins to open and is wide open at this pressure [K].
    `flow` [kg/s], `flux_drop` [Pa] the fall of pressure that drives it.
    """

    bulb: float
    bulb_pressure: float
    equalizer: float
    spring: float
    left: float
    rate: float
    opening: float
    evaporating: float
    superheat: float
    opens_at: float
    wide_open_at: float
    flow: float
    flux_drop: float

    @property
    def stand(self) -> Stand:
        """Where the pin stands."""
        if self.opening <= 0.0:
            return Stand.SHUT
        return Stand.WIDE_OPEN if self.opening >= 1.0 else Stand.BETWEEN


@cache
def rig(refrigerant: str) -> Rig:
    """Return the parts on the bench for a refrigerant.

    Raises:
        UnknownNameError: no such refrigerant, or none to practise on.
    """
    with_valve, with_orifice = size_plant(refrigerant, TONS, "txv"), size_plant(refrigerant, TONS, "fixed_orifice")
    fluid, flow = with_valve.fluid, with_valve.rated_flow
    valve, orifice = with_valve.device, with_orifice.device
    assert isinstance(valve, ExpansionValve)
    assert isinstance(orifice, Orifice)
    at = rated_settings(refrigerant)
    feed = feed_of(fluid, at, at.equalizer, at.bulb)
    valve = replace(valve, area=valve.area * flow / pass_flow(fluid, valve, feed).flow)
    right = replace(orifice, area=orifice.area * flow / pass_flow(fluid, orifice, feed).flow)
    drawn = fluid.enthalpy(at.equalizer, RATED_DEW + RATED_SUPERHEAT)
    moved = compressor_draw(fluid, with_valve.compressor, at.equalizer, drawn, at.head)
    compressor = replace(with_valve.compressor, displacement=with_valve.compressor.displacement * flow / moved)
    coil = _coil(with_valve, feed, drawn)
    sizes = tuple((name, replace(right, area=right.area * share)) for name, share in ORIFICE_SIZES)
    return Rig(fluid, valve, sizes, coil, compressor, flow, with_valve.indoor_airflow)


def _coil(plant: Plant, feed: Feed, wanted: float) -> Coil:
    """Return the coil with its conductances so that at the rating point an enthalpy [J/kg] leaves it."""
    indoor, coil = rating_conditions().indoor, plant.evaporator

    def sized(share: float) -> Coil:
        return replace(
            coil,
            air_conductance=share * coil.air_conductance,
            refrigerant_conductance=share * coil.refrigerant_conductance,
        )

    def beyond(share: float) -> float:
        entering, pressure = feed.inlet_enthalpy, feed.coil_outlet
        boiled = evaporate(plant.fluid, sized(share), plant.rated_flow, entering, pressure, coil.air_flow, indoor)
        return (boiled.enthalpy - wanted) / wanted

    share = find_root(beyond, 1.0, 0.1, (0.5, 2.0), 1e-9)
    assert share is not None
    return sized(share)


def compressor_draw(fluid: Vapour, compressor: Compressor, pressure: float, enthalpy: float, head: float) -> float:
    """What a compressor draws [kg/s] at a suction pressure and an enthalpy [Pa, J/kg] against a head pressure [Pa].

    Raises:
        OutOfRangeError: outside curves or tables.
    """
    filled = density(fluid, pressure, enthalpy) * compressor.efficiency.volumetric(head / pressure)
    return compressor.displacement * (1.0 - compressor.leakage) * filled


@cache
def rated_settings(refrigerant: str) -> Turned:
    """Everything at the rating point.

    Raises:
        UnknownNameError: no such refrigerant, or none to practise on.
    """
    plant = size_plant(refrigerant, TONS, "txv")
    assert isinstance(plant.device, ExpansionValve)
    curves = plant.fluid.curves
    return Turned(
        refrigerant=curves.refrigerant.designation,
        bulb=RATED_DEW + RATED_SUPERHEAT,
        equalizer=curves.dew_pressure(RATED_DEW),
        spring=plant.device.spring.closed_spring_pressure,
        head=curves.bubble_pressure(RATED_BUBBLE),
        subcooling=RATED_SUBCOOLING,
    )


def with_refrigerant(turned: Turned, refrigerant: str) -> Turned:
    """Return the same with another refrigerant: pressures and spring go to its rating point, all else stays.

    Raises:
        UnknownNameError: no such refrigerant, or none to practise on.
    """
    of = rated_settings(refrigerant)
    pressures = {"refrigerant", "equalizer", "spring", "head"}
    return replace(turned, **{field.name: getattr(of, field.name) for field in fields(of) if field.name in pressures})


def feed_of(fluid: Vapour, turned: Turned, coil_pressure: float, line: float) -> Feed:
    """Return what surrounds a device: the liquid as turned, a coil pressure [Pa] behind it, a line temperature [K].

    Raises:
        OutOfRangeError: outside the curves.
    """
    at = saturation_ends(fluid, turned.head)
    if turned.flash > 0.0:
        entering = at.liquid_enthalpy + turned.flash * at.latent
    else:
        entering = fluid.curves.liquid_enthalpy(at.bubble - turned.subcooling)
    return Feed(turned.head, entering, coil_pressure, coil_pressure, coil_pressure, line, line)


def valve_as_turned(parts: Rig, turned: Turned) -> ExpansionValve:
    """Return the valve with its spring as turned."""
    spring = Valve(turned.spring, parts.valve.spring.spring_rate)
    return replace(parts.valve, spring=spring)


def balance_by_hand(turned: Turned) -> Balance:
    """Return the valve with its bulb and its equalizer held by hand.

    Raises:
        PhysicsError: outside the curves.
    """
    return balance_at(turned, turned.equalizer, turned.bulb)


def balance_at(turned: Turned, equalizer: float, bulb: float) -> Balance:
    """Return the valve at a pressure of its equalizer [Pa] and a temperature of its bulb [K].

    Raises:
        PhysicsError: outside the curves.
    """
    parts = rig(turned.refrigerant)
    valve, curves = valve_as_turned(parts, turned), parts.fluid.curves
    found = pass_flow(parts.fluid, valve, feed_of(parts.fluid, turned, equalizer, bulb))
    evaporating = curves.dew_temperature(equalizer)
    return Balance(
        bulb=bulb,
        bulb_pressure=found.bulb_pressure,
        equalizer=equalizer,
        spring=turned.spring,
        left=found.bulb_pressure - equalizer - turned.spring,
        rate=valve.spring.spring_rate,
        opening=found.opening,
        evaporating=evaporating,
        superheat=bulb - evaporating,
        opens_at=balance.static_superheat(curves, valve.spring, evaporating),
        wide_open_at=balance.operating_superheat(curves, valve.spring, evaporating, 1.0),
        flow=found.flow,
        flux_drop=turned.head - equalizer,
    )


def orifice_flows(turned: Turned) -> tuple[tuple[str, float], ...]:
    """Return the flow [kg/s] of each fixed orifice between the head pressure and the pressure at the equalizer.

    Raises:
        PhysicsError: outside the curves.
    """
    parts = rig(turned.refrigerant)
    feed = feed_of(parts.fluid, turned, turned.equalizer, turned.bulb)
    return tuple((name, pass_flow(parts.fluid, orifice, feed).flow) for name, orifice in parts.orifices)
