"""A practice system from what was asked for: one call gives plant, weather, steady state and readings."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from assistant.errors import InputError, OutOfRangeError, PhysicsError
from assistant.quantity import KELVIN_PER_FAHRENHEIT, fahrenheit
from assistant.simulator.circuit import Circuit
from assistant.simulator.faults import PresentFault, with_faults
from assistant.simulator.metering import ExpansionValve
from assistant.simulator.plant import Conditions, DeviceKind, Mode, Plant
from assistant.simulator.readings import Truth, readings, truth
from assistant.simulator.solve import solve, sound_plant
from assistant.thermo.air import from_relative_humidity, from_wet_bulb, standard_pressure

_OUTDOOR = {"cooling": (283.15, 322.15), "heating": (255.15, 295.15)}
_INDOOR = (288.15, 313.15)
_CHARGE = (0.3, 1.7)
_BULB = (268.15, 318.15)
_RISE = (-15.0, 20.0)
_SOURCE = "what the practice system is made for"
PROTECTOR = fahrenheit(285.0)
"""Discharge line [K] at which the protector inside a compressor surely has opened; chosen.

The valve inside is some 75 °F hotter than the line (trade journals); beyond 350 °F oil breaks down (from memory)."""
_OUTDOOR_HUMIDITY = 0.73
"""Relative humidity of the outdoor air in heating, that of the rating point; chosen."""


@dataclass(frozen=True, slots=True)
class Wish:
    """What is asked for: temperatures [K], altitude [m], charge as a share of the right one.

    The indoor coil sits `rise` [m] above the outdoor unit, below it where that is negative.

    `bulb_held_at` [K] is for the tests of an expansion valve, with its bulb off the line. A system that heats, or that
    has a fault which only a heat pump can have, is one whether `heat_pump` says so or not.
    """

    refrigerant: str
    tons: float
    device: DeviceKind
    outdoor: float
    return_dry_bulb: float
    return_wet_bulb: float
    altitude: float = 0.0
    charge: float = 1.0
    faults: tuple[PresentFault, ...] = ()
    bulb_held_at: float | None = None
    mode: Mode = "cooling"
    heat_pump: bool = False
    rise: float = 0.0

    @property
    def is_heat_pump(self) -> bool:
        """Whether the system is a heat pump."""
        return self.heat_pump or self.mode == "heating" or any(one.fault.heat_pump for one in self.faults)


@dataclass(frozen=True, slots=True)
class System:
    """A solved practice system."""

    wish: Wish
    plant: Plant
    conditions: Conditions
    circuit: Circuit
    readings: Mapping[str, float]
    truth: Truth


def practice_system(wish: Wish) -> System:
    """Build, fault and solve a system.

    Raises:
        InputError: a name, a fault or a combination that there is not.
        PhysicsError: outside what the system is made for, or no steady state.
    """
    if wish.mode not in _OUTDOOR:
        raise InputError(f"A practice system runs in cooling or heating, not in {wish.mode!r}.")
    _check_bounds("outdoor air", wish.outdoor, "K", _OUTDOOR[wish.mode])
    _check_bounds("return air", wish.return_dry_bulb, "K", _INDOOR)
    _check_bounds("charge", wish.charge, "of 1", _CHARGE)
    plant, _ = sound_plant(wish.refrigerant, wish.tons, wish.device, wish.mode, wish.is_heat_pump)
    _check_bounds("rise", wish.rise, "m", _RISE)
    lines = replace(plant.lines, rise=wish.rise)
    plant = with_faults(replace(plant, charge=wish.charge * plant.rated_charge, lines=lines), wish.faults)
    if wish.bulb_held_at is not None:
        _check_bounds("bulb", wish.bulb_held_at, "K", _BULB)
        if not isinstance(plant.device, ExpansionValve):
            raise InputError("Only an expansion valve has a bulb to hold.")
        plant = replace(plant, device=replace(plant.device, bulb_held_at=wish.bulb_held_at))
    atmosphere = standard_pressure(wish.altitude)
    indoor = from_wet_bulb(wish.return_dry_bulb, wish.return_wet_bulb, atmosphere)
    outdoor = None
    if wish.mode == "heating":
        outdoor = from_relative_humidity(wish.outdoor, _OUTDOOR_HUMIDITY, atmosphere)
    conditions = Conditions(wish.outdoor, indoor, atmosphere, outdoor)
    found = solve(plant, conditions)
    told = readings(plant, conditions, found)
    if told["discharge_line_temperature"] > PROTECTOR:
        hot = told["discharge_line_temperature"] / KELVIN_PER_FAHRENHEIT - 459.67
        raise PhysicsError(
            f"No steady state: the discharge line would reach {hot:.0f} F, and the compressor's own protector stops it"
            " long before that. Try a milder fault or weather."
        )
    return System(wish, plant, conditions, found, told, truth(plant, found))


def names_of(faults: Sequence[PresentFault]) -> str:
    """Return the faults in words, for a heading."""
    return ", ".join(f"{one.fault.name} {one.severity:g}" for one in faults) or "none"


def _check_bounds(what: str, value: float, unit: str, bounds: tuple[float, float]) -> None:
    low, high = bounds
    if not low <= value <= high:
        raise OutOfRangeError(what, value, unit, low, high, _SOURCE)
