"""The units that a call may stand at: what is known of one, what is not, and how far that may differ.

A unit is built as a maker builds it: with other coils, lines or compressor its metering device and its charge still
fit, so that at the rating point it has the superheat and the subcooling that are wanted. What differs after that -
airflow, weather readings that err - moves the readings of a sound unit.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import partial
from typing import Final

from assistant.quantity import KELVIN_PER_FAHRENHEIT
from assistant.simulator.circuit import Circuit, work_circuit
from assistant.simulator.coils import Coil
from assistant.simulator.newton import Point, newton
from assistant.simulator.plant import (
    RATED_SUBCOOLING,
    RATED_SUPERHEAT,
    Conditions,
    DeviceKind,
    Mode,
    Plant,
    rating_conditions,
    size_device,
)
from assistant.simulator.refrigerant import saturation_ends
from assistant.simulator.solve import sound_plant
from assistant.simulator.structure import USUAL, Structure
from assistant.thermo.air import (
    from_relative_humidity,
    from_wet_bulb,
    standard_pressure,
)

TONS: Final = 3.0
"""Every size is the same per ton, so one stands for all."""
_OUTDOOR_HUMIDITY: Final = 0.73
_LEAST_SUPERHEAT: Final = 1.0
_F: Final = KELVIN_PER_FAHRENHEIT


@dataclass(frozen=True, slots=True)
class Facts:
    """What is told of the unit: altitude and lift of the liquid line [m], subcooling of the data plate [K].

    What is not known is `None`; so is whether it is a heat pump, where it cools and nobody said.
    """

    refrigerant: str
    device: DeviceKind
    mode: Mode = "cooling"
    altitude: float = 0.0
    subcooling: float | None = None
    lift: float | None = None
    efficiency: str | None = None
    heat_pump: bool | None = None


@dataclass(frozen=True, slots=True)
class Weather:
    """Outdoor air, return air dry and wet bulb [K] as read, each with its standard doubt [K]."""

    outdoor: float
    return_dry_bulb: float
    return_wet_bulb: float
    outdoor_doubt: float
    dry_bulb_doubt: float
    wet_bulb_doubt: float


@dataclass(frozen=True, slots=True)
class Build:
    """How one unit differs from the usual one: factors as their logarithm, temperatures [K], heights [m].

    Where the metering device and the charge are set, `superheat` and `subcooling` [K] at the rating point count.
    """

    displacement: float = 0.0
    evaporator: float = 0.0
    condenser: float = 0.0
    gas_gain: float = 0.0
    gas_loss: float = 0.0
    liquid_line: float = 0.0
    rise: float = 0.0
    superheat: float = 0.0
    subcooling: float = 0.0
    indoor_airflow: float = 0.0
    outdoor_airflow: float = 0.0
    outdoor: float = 0.0
    return_dry_bulb: float = 0.0
    return_wet_bulb: float = 0.0


@dataclass(frozen=True, slots=True)
class Unknown:
    """Something that is not known of a unit: one standard deviation of it, what it is, and where that comes from."""

    name: str
    spread: float
    what: str
    source: str


UNKNOWNS: Final = (
    Unknown(
        "displacement", 0.12, "size of the compressor against its coils, which moves the evaporating dew", "chosen"
    ),
    Unknown("evaporator", 0.18, "conductance of the evaporator", "chosen"),
    Unknown("condenser", 0.20, "conductance of the condenser; 0.15 where the efficiency class is told", "chosen"),
    Unknown("gas_gain", 0.5, "what a foot of suction line gains, and its length", "chosen"),
    Unknown("gas_loss", 0.35, "pressure loss of coil and suction line", "chosen"),
    Unknown("liquid_line", 0.5, "loss and gain of the liquid line", "chosen"),
    Unknown("rise", 1.5, "rise of the liquid line [m]; nothing where it is told", "chosen"),
    Unknown("superheat", 1.7, "setting of the metering device, as superheat at the rating point [K]", "chosen"),
    Unknown("subcooling", 2.2, "subcooling it was charged to [K]; 0.9 where the plate tells it", "chosen"),
    Unknown("indoor_airflow", 0.08, "indoor airflow of a sound unit", "chosen"),
    Unknown("outdoor_airflow", 0.06, "outdoor airflow of a sound unit", "chosen"),
)
"""What is not known of a unit. The three weather readings come on top, with the doubt of their thermometers."""
WEATHER: Final = ("outdoor", "return_dry_bulb", "return_wet_bulb")
_CONDENSER: Final[Mapping[str, float]] = {
    "under_ten": -0.6,
    "ten_to_twelve": -0.3,
    "thirteen_to_fifteen": 0.0,
    "sixteen_up": 0.35,
}
"""Logarithm of the condenser's conductance by efficiency class, so that condensing lies some 26, 23, 20 and 17 F over
the outdoor air.

Common practice has 30, 25, 20 and 15 F, each within 5; beyond these the airflow would have to differ as well."""


def spreads(facts: Facts, weather: Weather) -> dict[str, float]:
    """Return one standard deviation of everything that is not known, by name, without what is known exactly."""
    told = {one.name: one.spread for one in UNKNOWNS}
    if facts.subcooling is not None:
        told["subcooling"] = 0.9
    if facts.lift is not None:
        told["rise"] = 0.0
    if facts.efficiency is not None:
        told["condenser"] = 0.15
    told |= {
        "outdoor": weather.outdoor_doubt,
        "return_dry_bulb": weather.dry_bulb_doubt,
        "return_wet_bulb": weather.wet_bulb_doubt,
    }
    return {name: spread for name, spread in told.items() if spread > 0.0}


def usual_build(facts: Facts) -> Build:
    """Return the build in the middle of what the facts leave open."""
    subcooling = 0.0 if facts.subcooling is None else facts.subcooling - RATED_SUBCOOLING
    return Build(
        condenser=_CONDENSER.get(facts.efficiency or "", 0.0),
        subcooling=subcooling,
        rise=facts.lift or 0.0,
    )


def moved(build: Build, name: str, by: float) -> Build:
    """Return a build with one of its values moved."""
    changed: dict[str, float] = {name: getattr(build, name) + by}
    return replace(build, **changed)


def conditions_of(facts: Facts, weather: Weather, build: Build = Build()) -> Conditions:
    """Return the conditions at the unit, its weather moved as the build tells.

    Raises:
        PhysicsError: air that cannot be.
    """
    atmosphere = standard_pressure(facts.altitude)
    dry = weather.return_dry_bulb + build.return_dry_bulb
    wet = min(weather.return_wet_bulb + build.return_wet_bulb, dry)
    outdoor = weather.outdoor + build.outdoor
    moist = from_relative_humidity(outdoor, _OUTDOOR_HUMIDITY, atmosphere) if facts.mode == "heating" else None
    return Conditions(outdoor, from_wet_bulb(dry, wet, atmosphere), atmosphere, moist)


def build_plant(facts: Facts, build: Build, heat_pump: bool, structure: Structure = USUAL) -> Plant:
    """Return a sound unit as built, its parts answering as a structure tells.

    Raises:
        CoilsideError: no such refrigerant or device, or no unit that would run so.
    """
    usual, at = sound_plant(facts.refrigerant, TONS, facts.device, facts.mode, heat_pump, structure)
    hot, cold = usual.condenser, usual.evaporator
    lines = usual.lines
    fall, gains = math.exp(build.gas_loss), math.exp(build.gas_gain)
    liquid = math.exp(build.liquid_line)
    plant = replace(
        usual,
        compressor=replace(usual.compressor, displacement=usual.compressor.displacement * math.exp(build.displacement)),
        condenser=_scaled(hot, build.condenser),
        evaporator=replace(_scaled(cold, build.evaporator), pressure_loss=cold.pressure_loss * fall),
        lines=replace(
            lines,
            gas_loss=lines.gas_loss * fall,
            gas_gain=lines.gas_gain * gains,
            liquid_loss=lines.liquid_loss * liquid,
            liquid_gain=lines.liquid_gain * liquid,
        ),
    )
    plant = _commission(plant, at, build)
    return replace(
        plant,
        indoor_airflow=plant.indoor_airflow * math.exp(build.indoor_airflow),
        outdoor_airflow=plant.outdoor_airflow * math.exp(build.outdoor_airflow),
        lines=replace(plant.lines, rise=build.rise),
    )


def _scaled(coil: Coil, by: float) -> Coil:
    factor = math.exp(by)
    return replace(
        coil,
        air_conductance=coil.air_conductance * factor,
        refrigerant_conductance=coil.refrigerant_conductance * factor,
    )


def _commission(plant: Plant, at: Circuit, build: Build) -> Plant:
    """Return the plant with the metering device and the charge that its rating point asks for, from a state nearby."""
    fluid, conditions = plant.fluid, rating_conditions(plant.mode)
    superheat = max(RATED_SUPERHEAT + build.superheat, _LEAST_SUPERHEAT)
    subcooling = max(RATED_SUBCOOLING + build.subcooling, 0.5)

    def apart(found: Circuit) -> Point:
        dry = fluid.enthalpy(found.coil_outlet, saturation_ends(fluid, found.coil_outlet).dew + superheat)
        bubble = saturation_ends(fluid, found.condensing_pressure).bubble
        liquid = fluid.curves.liquid_enthalpy(bubble - subcooling)
        warmth = (found.returned_enthalpy - found.suction_enthalpy) / 2e4
        return (found.evaporated.enthalpy - dry) / 2e4, warmth, (found.condensed.enthalpy - liquid) / 2e4

    _, found = newton(partial(work_circuit, plant, conditions), apart, at.point)
    device = size_device(fluid, plant.kind, found.flow, found.feed, plant.structure, superheat)
    if plant.mode == "heating":
        return replace(plant, device=device, stored=plant.stored + plant.charge - found.held)
    return replace(plant, device=device, charge=found.held, rated_charge=found.held)
