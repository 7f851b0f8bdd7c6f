"""What stands at the house: the system as built, what is hidden in it, and what has been done to it so far.

A hidden fault is one of the circuit's faults in the guise of a cause: the air may be choked by a filter, a matted coil,
a slow blower or the ducts, and the circuit feels the same. The guise says what the eye finds and what mends it.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final

from assistant.errors import PhysicsError
from assistant.quantity import PSI
from assistant.simulator.faults import FAULTS, PresentFault
from assistant.simulator.plant import rating_conditions
from assistant.simulator.solve import sound_plant
from assistant.simulator.system import System, Wish, practice_system

_VOLTAGE, _POWER_FACTOR = 230.0, 0.95
"""Supply [V] and power factor of a single-phase compressor at load; chosen, usual in practice."""
_INCH_OF_WATER = 249.08891
_STATIC = 0.5 * _INCH_OF_WATER
_STATIC_CLIMB = 0.8 * _INCH_OF_WATER
"""External static pressure at the right airflow, and its climb [Pa] towards a shut duct; chosen."""
_SHUT_DOWN = 40.0 * PSI
"""How far the suction has fallen [Pa] where a valve closed by ice water leaves no steady state; chosen."""
_ADDED_UP: Final = frozenset({"spring_set_wrong", "undercharge", "overcharge", "noncondensables"})


@dataclass(frozen=True, slots=True)
class Guise:
    """A cause of the catalogue as a fault of the circuit, the `place` where it sits, and how it may look there.

    `sign` is that of the severity, 0 for either. `heat_pump`: only a heat pump can have it. `heats`: it is looked for
    in heating as well.
    """

    cause: str
    fault: str
    place: str
    looks: tuple[str, ...] = ("",)
    sign: int = 1
    heat_pump: bool = False
    heats: bool = True


_GUISES: Final = (
    Guise("dirty_filter", "low_airflow", "filter"),
    Guise("dirty_indoor_coil", "low_airflow", "indoor_coil"),
    Guise("blower_fault", "low_airflow", "blower", ("slow", "dirty_wheel")),
    Guise("duct_restriction", "low_airflow", "ducts"),
    Guise("dirty_outdoor_coil", "dirty_outdoor_coil", "outdoor_coil", ("outside", "between_rows")),
    Guise("outdoor_fan_fault", "dirty_outdoor_coil", "outdoor_fan"),
    Guise("undercharge", "undercharge", "charge", ("core_or_cap", "opened")),
    Guise("overcharge", "overcharge", "charge"),
    Guise("noncondensables", "noncondensables", "charge", heats=False),
    Guise("liquid_line_restriction", "liquid_line_restriction", "drier"),
    Guise("liquid_line_restriction", "liquid_line_restriction", "liquid_line", ("kink",)),
    Guise("suction_line_uninsulated", "suction_line_uninsulated", "suction_insulation", heats=False),
    Guise("compressor_not_pumping", "compressor_not_pumping", "compressor"),
    Guise("reversing_valve_leaking", "reversing_valve_leaking", "reversing_valve", heat_pump=True),
    Guise("check_valve_leaking", "check_valve_leaking", "check_valve", heat_pump=True),
    Guise("check_valve_shut", "check_valve_shut", "check_valve", heat_pump=True),
    Guise("bulb_loose", "bulb_loose", "bulb_strap", ("loose", "bare", "dirty")),
    Guise("bulb_misplaced", "bulb_misplaced", "bulb_place", ("fitting", "other_pipe")),
    Guise("bulb_misplaced", "bulb_misplaced", "bulb_place", ("bottom", "trap"), sign=-1),
    Guise("bulb_charge_lost", "bulb_charge_lost", "valve", ("sound", "damaged")),
    Guise("txv_starving", "txv_starving", "strainer"),
    Guise("txv_stuck_open", "txv_stuck_open", "valve"),
    Guise("spring_set_wrong", "spring_set_wrong", "spring", sign=0),
    Guise("equalizer_blocked", "equalizer_blocked", "equalizer", sign=0),
    Guise("equalizer_upstream", "equalizer_upstream", "equalizer_joint"),
    Guise("internal_equalizer_misapplied", "internal_equalizer_misapplied", "valve"),
    Guise("valve_wrong_element", "valve_wrong_element", "valve"),
    Guise("orifice_too_small", "orifice_too_small", "orifice"),
    Guise("orifice_too_large", "orifice_too_large", "orifice"),
    Guise("orifice_not_seated", "orifice_not_seated", "orifice"),
)


def guises(*, heat_pump: bool = False, heating: bool = False) -> tuple[Guise, ...]:
    """Every guise that the circuit can have: those of a heat pump only where it is one, those of the indoor metering
    device only in cooling.
    """
    return tuple(
        one
        for one in _GUISES
        if (heat_pump or heating or not one.heat_pump) and (not heating or (one.heats and not FAULTS[one.fault].device))
    )


@dataclass(frozen=True, slots=True)
class Hidden:
    """A fault that is hidden in the system: the cause that it must be called by, what the circuit has, how it looks."""

    cause: str
    had: PresentFault
    place: str
    look: str = ""


@dataclass(frozen=True, slots=True)
class Site:
    """The system and everything that was done to it.

    `wish` is the sound system in its weather. `added` is refrigerant as a share of the right charge, `lost` [kg] what
    went into the air. `covered` is the share of the outdoor coil that is covered to load it, `bulb_held` [K] a bulb off
    its line, `spring` what was turned at the spring (1: as much again as it pressed at the seat). `tools` are those set
    up, `thawed` is the minute at which the last ice was gone. `came_out` is the whole charge as it was recovered [kg],
    `None` where nobody weighed it.
    """

    wish: Wish
    hidden: tuple[Hidden, ...] = ()
    running: bool = True
    added: float = 0.0
    lost: float = 0.0
    covered: float = 0.0
    bulb_held: float | None = None
    spring: float = 0.0
    tools: frozenset[str] = frozenset()
    empty: bool = False
    evacuated: bool = True
    thawed: float = -1e6
    came_out: float | None = None

    def severity(self, *places: str, fault: str = "") -> float:
        """How much of the hidden faults sits in some places, or is one fault of the circuit; 0 where there is none."""
        return max(
            (one.had.severity for one in self.hidden if one.place in places or one.had.fault.name == fault), default=0.0
        )

    def look(self, place: str) -> str:
        """Return how the fault in a place looks; empty where there is none."""
        return next((one.look for one in self.hidden if one.place == place), "")

    def has(self, cause: str) -> bool:
        """Tell whether a cause is hidden here."""
        return any(one.cause == cause for one in self.hidden)

    def mended(self, *places: str) -> "Site":
        """Return the site without the faults of some places."""
        return replace(self, hidden=tuple(one for one in self.hidden if one.place not in places))


def site_of(wish: Wish) -> Site:
    """Return the site of a system that was asked for: each of its faults in its plainest guise."""
    hidden = []
    for had in wish.faults:
        guise = next((one for one in _GUISES if one.cause == had.fault.name), Guise("", "", ""))
        hidden.append(Hidden(had.fault.name, had, guise.place, guise.looks[0]))
    sound = replace(wish, faults=(), charge=1.0, bulb_held_at=None, heat_pump=wish.is_heat_pump)
    return Site(sound, tuple(hidden), added=wish.charge - 1.0, bulb_held=wish.bulb_held_at)


@dataclass(frozen=True, slots=True)
class Steady:
    """What a site settles to while it runs: readings in SI by name; `system` is the solved circuit behind them."""

    readings: Mapping[str, float]
    system: System


def steady(site: Site) -> Steady:
    """Return the state that a site would settle to with its compressor running.

    A held bulb that leaves no steady state pulls the suction down where it is colder than the line; else it changes
    nothing.

    Raises:
        InputError: no refrigerant is left in it.
        PhysicsError: no steady state: a switch or a protector would stop it.
    """
    wish = wish_of(site)
    try:
        system = solve_wish(wish)
    except PhysicsError:
        if site.bulb_held is None:
            raise
        system = solve_wish(replace(wish, bulb_held_at=None))
        readings = readings_of(site, system)
        if site.bulb_held < readings["evaporator_outlet_temperature"]:
            low = max(readings["suction_pressure"] - _SHUT_DOWN, system.conditions.atmosphere)
            readings["suction_pressure"] = low
        return Steady(readings, system)
    return Steady(readings_of(site, system), system)


def wish_of(site: Site) -> Wish:
    """Return the circuit to solve: the sound one with everything that is hidden in it and was done to it."""
    found: dict[str, PresentFault] = {}
    for had in (*(one.had for one in site.hidden), *_own(site)):
        found[had.fault.name] = _together(found[had.fault.name], had) if had.fault.name in found else had
    faults = tuple(one for one in found.values() if one.severity != 0.0)
    return replace(site.wish, charge=1.0 + site.added, faults=faults, bulb_held_at=site.bulb_held)


def _own(site: Site) -> tuple[PresentFault, ...]:
    """Return what the tech has done that works like a fault."""
    own = []
    if site.covered:
        own.append(PresentFault(FAULTS["dirty_outdoor_coil"], site.covered))
    if site.spring and site.wish.device == "txv":
        own.append(PresentFault(FAULTS["spring_set_wrong"], site.spring))
    return tuple(own)


def _together(one: PresentFault, other: PresentFault) -> PresentFault:
    """Two faults of one kind as one: shares of what is left multiply, amounts add; never beyond what there can be."""
    fault = one.fault
    if fault.name in _ADDED_UP:
        both = one.severity + other.severity
    else:
        both = 1.0 - (1.0 - one.severity) * (1.0 - other.severity)
    return PresentFault(fault, min(max(both, fault.low), fault.high))


@lru_cache(maxsize=512)
def solve_wish(wish: Wish) -> System:
    """Return a solved circuit, kept.

    Raises:
        InputError: a combination that there is not.
        PhysicsError: no steady state.
    """
    return practice_system(wish)


def readings_of(site: Site, system: System) -> dict[str, float]:
    """Return the circuit's readings and those that only the site gives: current [A], external static pressure [Pa]."""
    return {
        **system.readings,
        "compressor_current": current(system),
        "external_static_pressure": _external_static(site, system),
    }


def current(system: System) -> float:
    """Current of the compressor [A]."""
    return system.truth.compressor_power / (_VOLTAGE * _POWER_FACTOR)


def rated_current(system: System) -> float:
    """Rated load amps of the plate [A]: a fifth above the rating point (chosen)."""
    wish, air = system.wish, rating_conditions().indoor
    rated = replace(
        wish,
        outdoor=rating_conditions().outdoor,
        return_dry_bulb=air.dry_bulb,
        return_wet_bulb=air.wet_bulb,
        altitude=0.0,
        mode="cooling",
        heat_pump=wish.is_heat_pump,
        charge=1.0,
        faults=(),
        bulb_held_at=None,
    )
    return 1.2 * current(solve_wish(rated))


def _external_static(site: Site, system: System) -> float:
    """Behind a blockage the blower builds more pressure; where it is weak itself, the pressure falls with it."""
    share = 1.0 - air_lost(site)
    if site.severity("blower"):
        return _STATIC * share * share
    return _STATIC + _STATIC_CLIMB * (1.0 - share)


def air_lost(site: Site) -> float:
    """Return the share of the indoor air that is missing."""
    return next((one.severity for one in wish_of(site).faults if one.fault.name == "low_airflow"), 0.0)


def sound_charge(site: Site) -> float:
    """Return the charge of the plate [kg], with the allowance for these lines.

    Raises:
        InputError: a combination that there is not.
    """
    wish = wish_of(site)
    return sound_plant(wish.refrigerant, wish.tons, wish.device, "cooling", wish.is_heat_pump)[0].rated_charge
