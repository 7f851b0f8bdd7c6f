"""The system as built: its parts, sized to one rating point, and what it is in cooling and in heating.

Rating point: 95 °F (35 °C) outdoors, 80 °F dry and 67 °F wet bulb (26.7, 19.4 °C) indoors, at sea level, as AHRI
210/240 rates an air conditioner. Everything the point leaves open is chosen, with values that are usual in practice,
and stands in `CHOSEN`. Per ton of cooling all sizes are the same, so tons only scale.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final, Literal

from assistant.errors import InputError, OutOfRangeError, PhysicsError
from assistant.quantity import CFM, KELVIN_PER_FAHRENHEIT, SEA_LEVEL, TON, fahrenheit
from assistant.simulator import coils
from assistant.simulator.coils import Coil
from assistant.simulator.compressor import Compressor, compress
from assistant.simulator.metering import Device, ExpansionValve, Feed, Orifice, orifice_flux, valve_flux
from assistant.simulator.refrigerant import saturation_ends
from assistant.simulator.roots import find_root
from assistant.simulator.structure import USUAL, Structure
from assistant.simulator.vapour import Vapour, vapour
from assistant.thermo.air import MoistAir, from_wet_bulb
from assistant.thermo.valve import Valve

DeviceKind = Literal["txv", "fixed_orifice"]
Mode = Literal["cooling", "heating"]

RATED_OUTDOOR: Final = fahrenheit(95.0)
RATED_RETURN: Final = fahrenheit(80.0)
RATED_WET_BULB: Final = fahrenheit(67.0)
RATED_DEW: Final = fahrenheit(45.0)
RATED_BUBBLE: Final = fahrenheit(115.0)
RATED_SUBCOOLING: Final = 10.0 * KELVIN_PER_FAHRENHEIT
RATED_SUPERHEAT: Final = 9.0 * KELVIN_PER_FAHRENHEIT
INDOOR_AIR: Final = 400.0 * CFM
OUTDOOR_AIR: Final = 850.0 * CFM
BLOWER_HEAT: Final = 365.0 / (1000.0 * CFM)
FAN_POWER: Final = 75.0
HEATING_OUTDOOR: Final = fahrenheit(47.0)
HEATING_OUTDOOR_WET_BULB: Final = fahrenheit(43.0)
HEATING_RETURN: Final = fahrenheit(70.0)
HEATING_WET_BULB: Final = fahrenheit(60.0)
LINE: Final = 50.0 * 0.3048
"""Length [m] of the lines; chosen."""
INSULATED: Final = 0.28
BARE: Final = 0.75
"""Heat [W/(m·K)] that a metre of the suction line of three tons, 7/8 in wide, takes from the air, insulated and bare.

Natural convection and radiation on a pipe, about 9 W/(m2·K); on a bare one that is cold and wet a fifth more for the
water that condenses; 3/8 in of foam of 0.036 W/(m·K). Source: ASHRAE Handbook-Fundamentals, heat transfer, from memory;
the share of the water is chosen. So 50 ft bare gain 5 to 10 F in warm weather, as common practice has it."""
DISTRIBUTOR: Final = 0.13
"""Loss in nozzle and tubes of the distributor, as a share of the whole fall: 22 psi with R-22, 34 psi with R-410A.

Common practice, no source: 20 to 35 psi."""
_EXCHANGE: Final = 0.25
"""Heat [W/K] a ton that a sound reversing valve lets pass from hot gas to suction gas at the rated flow.

Chosen, so that the suction gas warms by 2 to 4 °F."""

CHOSEN: Final = (
    "At the rating point: 45 F dew at the coil's outlet, 115 F bubble at the liquid port, 9 F superheat at the coil,"
    " 10 F subcooling; 400 cfm of indoor and 850 cfm of outdoor air a ton.",
    "Pressure losses there: 1 K of saturation each in indoor coil and suction line, 0.5 K in the outdoor coil, 35 kPa"
    " in the liquid line, 13 % of the whole fall in the distributor.",
    "The valve passes 1.35 times the rated flow when wide open; static superheat 5 F; its bulb holds liquid of the"
    " system's own refrigerant.",
    "The fixed orifice follows a correlation that was measured with several refrigerants, and is scaled at the rating"
    " point. With R-22 its superheat keeps within 5 F of the common target line at wet bulbs of 65 to 71 F; with the"
    " others it falls less as it gets hotter outdoors, with R-410A about a quarter as much.",
    "The compressor's best efficiency; how its efficiencies follow the pressure ratio is that of published curves. A"
    " tenth of its power leaves through the shell.",
    "Volumes of coils and lines, and how conductances follow the flows.",
    "The suction line is 50 ft long with 3/8 in of insulation; what surrounds the bulb is at the temperature of the air"
    " that enters its coil.",
    "A heat pump has one more device of the same kind outdoors, sized at 47 F outdoors and 70 F indoors with the charge"
    " that cooling wants; outdoor air at 73 % relative humidity in heating; a reversing valve that warms the suction"
    " by 2 to 4 F; a vessel on the liquid line that takes up what the indoor coil has no room for in heating, so that"
    " 10 F of subcooling are left there.",
)
NOT_MODELLED: Final = (
    "starting and settling, hunting, frost on the coil, defrost, auxiliary heat, oil, uneven circuits, accumulators,"
    " head-pressure control, ducts",
)

# Volumes [m3] a ton: chosen so that the charge comes out near 2 lb a ton, as usual.
_EVAPORATOR_VOLUME, _CONDENSER_VOLUME = 1.4e-3, 1.6e-3
_GAS_VOLUME, _LIQUID_VOLUME, _SHELL_VOLUME = 0.6e-3, 0.13e-3, 1.5e-3
_LEAST_TONS, _MOST_TONS = 1.5, 5.0


@dataclass(frozen=True, slots=True)
class Lines:
    """Lines and what sits in them.

    The gas line is the larger one: suction in cooling, hot gas in heating. Losses [Pa] at the rated flow: of the gas
    line at `gas_density` [kg/m3], of the liquid line and the metering device that stands `idle` at `liquid_density`,
    `restriction` on top, `outdoor_restriction` between condenser and liquid port, `gas_restriction` in the gas line.
    Gains [W/K] from the outdoor air, volumes [m3], `rise` [m] from outdoor to indoor coil.
    """

    gas_loss: float
    gas_density: float
    gas_gain: float
    gas_volume: float
    liquid_loss: float
    liquid_density: float
    liquid_gain: float
    liquid_volume: float
    shell_volume: float
    distributor_loss: float
    distributor_density: float
    restriction: float = 0.0
    outdoor_restriction: float = 0.0
    gas_restriction: float = 0.0
    idle: float = 0.0
    rise: float = 0.0


@dataclass(frozen=True, slots=True)
class Conditions:
    """The weather and the house: outdoor air [K], return air, pressure of the air [Pa].

    `outdoor_moist` is the outdoor air with its moisture, which only a coil that evaporates feels.
    """

    outdoor: float
    indoor: MoistAir
    atmosphere: float = SEA_LEVEL
    outdoor_moist: MoistAir | None = None


@dataclass(frozen=True, slots=True)
class Plant:
    """A whole system in one of its modes. Air flows [m3/s], flow at the rating point [kg/s], charges [kg].

    `condenser`, `evaporator` and `device` are those that do this work in this mode. At the rating point the coil's
    outlet has `rated_outlet` [Pa], the liquid port `rated_fall` [Pa] more, and `full_area` [m2] would pass its flow by
    the orifice equation. `noncondensables` is the partial pressure [Pa] of foreign gas in the condenser,
    `reversing_leak` the share of hot gas (0 to under 1) that slips into the suction, `exchange` [W/K] what a sound
    reversing valve lets pass at the rated flow, `stored` [kg] what the vessel for heating holds,
    `structure` how the parts answer.
    """

    fluid: Vapour
    tons: float
    kind: DeviceKind
    compressor: Compressor
    condenser: Coil
    evaporator: Coil
    device: Device
    lines: Lines
    indoor_airflow: float
    outdoor_airflow: float
    rated_flow: float
    rated_charge: float
    charge: float
    rated_fall: float
    rated_outlet: float
    full_area: float
    noncondensables: float = 0.0
    mode: Mode = "cooling"
    heat_pump: bool = False
    exchange: float = 0.0
    reversing_leak: float = 0.0
    stored: float = 0.0
    structure: Structure = USUAL


def rating_conditions(mode: Mode = "cooling") -> Conditions:
    """Return the rating point of a mode.

    Source: AHRI 210/240, points A and H1, from memory.
    """
    if mode == "heating":
        outdoor = from_wet_bulb(HEATING_OUTDOOR, HEATING_OUTDOOR_WET_BULB)
        indoor = from_wet_bulb(HEATING_RETURN, HEATING_WET_BULB)
        return Conditions(HEATING_OUTDOOR, indoor, outdoor_moist=outdoor)
    return Conditions(RATED_OUTDOOR, from_wet_bulb(RATED_RETURN, RATED_WET_BULB))


def air_mass_flow(volume: float, dry_bulb: float, humidity_ratio: float, pressure: float) -> float:
    """Return the flow of dry air [kg/s] in a volume flow [m3/s] at a dry bulb [K], humidity ratio and pressure [Pa].

    Source: ideal gas, ASHRAE Handbook-Fundamentals 2017 ch. 1 eq. (26).
    """
    return volume * pressure / (287.042 * dry_bulb * (1.0 + 1.607858 * humidity_ratio))


def size_plant(
    refrigerant: str, tons: float, kind: DeviceKind, heat_pump: bool = False, structure: Structure = USUAL
) -> Plant:
    """Return a sound system in cooling, sized to give `tons` net at the rating point; its charge is still zero.

    Raises:
        UnknownNameError: no such refrigerant, or none to practise on.
        OutOfRangeError: outside 1.5 to 5 tons.
        InputError: no such metering device.
    """
    if kind not in ("txv", "fixed_orifice"):
        raise InputError(f"A practice system meters by txv or fixed_orifice, not by {kind!r}.")
    if not _LEAST_TONS <= tons <= _MOST_TONS:
        raise OutOfRangeError("size", tons, "tons", _LEAST_TONS, _MOST_TONS, "systems to practise on")
    fluid = vapour(refrigerant)
    curves = fluid.curves
    outlet, port = curves.dew_pressure(RATED_DEW), curves.bubble_pressure(RATED_BUBBLE)
    inlet = curves.dew_pressure(RATED_DEW + 1.0)
    suction = curves.dew_pressure(RATED_DEW - 1.0)
    discharge = curves.bubble_pressure(RATED_BUBBLE + 0.5)
    liquid = curves.liquid_enthalpy(RATED_BUBBLE - RATED_SUBCOOLING)
    vapour_out = fluid.enthalpy(outlet, RATED_DEW + RATED_SUPERHEAT)
    flow = tons * (TON + INDOOR_AIR * BLOWER_HEAT) / (vapour_out - liquid)
    lines = _lines(fluid, tons, port, outlet)
    arriving = vapour_out + lines.gas_gain * (RATED_OUTDOOR - RATED_DEW - RATED_SUPERHEAT) / flow
    drawn = fluid.density(suction, fluid.temperature(suction, arriving))
    efficiency = structure.efficiency
    compressor = Compressor(flow / (drawn * efficiency.volumetric(discharge / suction)), efficiency=efficiency)
    condenser = _condenser(
        fluid, tons, flow, (port + discharge) / 2.0, compressor, (suction, arriving, discharge), liquid, structure
    )
    evaporator = _evaporator(fluid, tons, flow, liquid, (outlet, inlet), vapour_out, structure)
    valve_outlet = inlet + lines.distributor_loss
    feed = Feed(port - lines.liquid_loss, liquid, valve_outlet, inlet, outlet, RATED_DEW, RATED_DEW)
    device = size_device(fluid, kind, flow, feed, structure)
    return Plant(
        fluid=fluid,
        tons=tons,
        kind=kind,
        compressor=compressor,
        condenser=condenser,
        evaporator=evaporator,
        device=device,
        lines=lines,
        indoor_airflow=tons * INDOOR_AIR,
        outdoor_airflow=tons * OUTDOOR_AIR,
        rated_flow=flow,
        rated_charge=0.0,
        charge=0.0,
        rated_fall=port - outlet,
        rated_outlet=outlet,
        full_area=flow / valve_flux(fluid, feed),
        heat_pump=heat_pump,
        exchange=tons * _EXCHANGE if heat_pump else 0.0,
        structure=structure,
    )


def _lines(fluid: Vapour, tons: float, port: float, outlet: float) -> Lines:
    curves = fluid.curves
    at = saturation_ends(fluid, outlet)
    liquid = RATED_BUBBLE - RATED_SUBCOOLING
    quality = at.quality(curves.liquid_enthalpy(liquid))
    return Lines(
        gas_loss=outlet - curves.dew_pressure(RATED_DEW - 1.0),
        gas_density=fluid.density(outlet, RATED_DEW + RATED_SUPERHEAT),
        gas_gain=tons / 3.0 * LINE * INSULATED,
        gas_volume=tons * _GAS_VOLUME,
        liquid_loss=35e3,
        liquid_density=curves.liquid_density(liquid),
        liquid_gain=tons * 1.0,
        liquid_volume=tons * _LIQUID_VOLUME,
        shell_volume=tons * _SHELL_VOLUME,
        distributor_loss=DISTRIBUTOR * (port - outlet),
        distributor_density=at.mixture_density(quality),
    )


def _condenser(
    fluid: Vapour,
    tons: float,
    flow: float,
    pressure: float,
    compressor: Compressor,
    compression: tuple[float, float, float],
    liquid: float,
    structure: Structure,
) -> Coil:
    entering = compress(fluid, compressor, *compression).enthalpy
    air = air_mass_flow(tons * OUTDOOR_AIR, RATED_OUTDOOR, 0.014, SEA_LEVEL)
    loss = compression[2] - fluid.curves.bubble_pressure(RATED_BUBBLE)
    density = saturation_ends(fluid, pressure).vapour_density

    def coil(conductance: float) -> Coil:
        volume = tons * _CONDENSER_VOLUME
        split = structure.outdoor_split * conductance
        return Coil(conductance, split, air, flow, volume, loss, density, structure.outdoor)

    def leaving(conductance: float) -> float:
        return -coils.condense(fluid, coil(conductance), flow, entering, pressure, air, RATED_OUTDOOR).enthalpy

    return coil(_size_conductance(leaving, -liquid, tons))


def _evaporator(
    fluid: Vapour,
    tons: float,
    flow: float,
    entering: float,
    ends: tuple[float, float],
    wanted: float,
    structure: Structure,
) -> Coil:
    outlet, inlet = ends
    indoor = rating_conditions().indoor
    air = air_mass_flow(tons * INDOOR_AIR, indoor.dry_bulb, indoor.humidity_ratio, SEA_LEVEL)
    density = saturation_ends(fluid, outlet).vapour_density

    def coil(conductance: float) -> Coil:
        volume = tons * _EVAPORATOR_VOLUME
        split = structure.indoor_split * conductance
        return Coil(conductance, split, air, flow, volume, inlet - outlet, density, structure.indoor)

    def leaving(conductance: float) -> float:
        pressure = (inlet + outlet) / 2.0
        return coils.evaporate(fluid, coil(conductance), flow, entering, pressure, air, indoor).enthalpy

    return coil(_size_conductance(leaving, wanted, tons))


def _size_conductance(leaving: Callable[[float], float], wanted: float, tons: float) -> float:
    """Return the conductance [W/K] at which what leaves [J/kg] reaches what is wanted; the one rises with the other.

    Raises:
        PhysicsError: no coil of this refrigerant is of a size to be found.
    """
    bounds = math.log(30.0 * tons), math.log(6000.0 * tons)
    found = find_root(lambda size_plant: leaving(math.exp(size_plant)) - wanted, sum(bounds) / 2.0, 1e3, bounds, 1e-4)
    if found is None:
        raise PhysicsError("No coil brings the refrigerant to its rated state.")
    return math.exp(found)


def size_device(
    fluid: Vapour,
    kind: DeviceKind,
    flow: float,
    feed: Feed,
    structure: Structure = USUAL,
    superheat: float = RATED_SUPERHEAT,
) -> Device:
    """Return the metering device that passes a flow [kg/s] where this surrounds it.

    A valve stands there at its usual opening when its bulb feels this `superheat` [K]: its spring is set so.

    Raises:
        OutOfRangeError: outside the curves.
    """
    if kind == "fixed_orifice":
        return Orifice(flow / orifice_flux(fluid, feed, structure.slenderness), slenderness=structure.slenderness)
    curves = fluid.curves
    evaporating = curves.dew_temperature(feed.coil_outlet)
    lifts = curves.dew_pressure(evaporating + structure.static_superheat)
    lifted = curves.dew_pressure(evaporating + RATED_SUPERHEAT) - lifts
    felt = curves.dew_pressure(evaporating + superheat) - feed.coil_outlet
    spring = Valve(felt - lifted, lifted * structure.reserve)
    opening = 1.0 / structure.reserve
    area = flow / valve_flux(fluid, feed) / opening**structure.stroke
    return ExpansionValve(area, spring, stroke=structure.stroke)
