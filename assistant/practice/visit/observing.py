"""What eye, ear and hand find at a site, by the observations of the catalogue.

What a simulated system cannot know - who worked here last, what a board shows - is not in here, and stays "cannot
tell". Where an observation depends on how far something has gone, the limits are chosen.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Final

from assistant.errors import PhysicsError
from assistant.practice.visit.site import Site, air_lost, current, rated_current, solve_wish, sound_charge, steady
from assistant.quantity import KELVIN_PER_FAHRENHEIT, PSI, ZERO_CELSIUS
from assistant.simulator.refrigerant import saturation_ends
from assistant.simulator.system import System

_WEAK = 0.25
"""Share of the indoor air that must be missing before the vents feel weak."""
_CLOGGED, _GREY = 0.15, 0.05
_MATTED = 0.15
_FELT = 3.0
"""Fall of temperature along the liquid line [K] that a hand feels."""
_ICING = ZERO_CELSIUS - 4.0
_ICED_AFTER = 45.0
"""An indoor coil that boils below this [K] is iced after so many minutes."""
_WARMED = 6.0 * KELVIN_PER_FAHRENHEIT
_MUCH_LEAKAGE = 0.45
_PART_FROST = 14.0 * KELVIN_PER_FAHRENHEIT
"""Superheat at the outdoor coil [K] from which on part of it stays plainly dry."""
_CHARTED = (6.0 * PSI, 12.0 * PSI)
"""How far suction and head [Pa] may lie from a maker's chart."""


@dataclass(frozen=True, slots=True)
class Scene:
    """A site at a minute: what it settles to, how long it has run or stood, the two pressures now [Pa].

    `system` is the state that it settles to, or settled to before it stopped. `glass` and `heat_pump` tell how it is
    built.
    """

    site: Site
    system: System
    minute: float
    minutes_running: float
    minutes_standing: float
    pressures: tuple[float, float]
    glass: bool = False
    heat_pump: bool = False

    @property
    def heating(self) -> bool:
        """Whether it heats."""
        return self.site.wish.mode == "heating"


def see(name: str, scene: Scene) -> str | None:
    """Return the choice that fits an observation, or `None`: it cannot be told here."""
    look = _LOOKS.get(name)
    return look(scene) if look else None


def answerable_observations() -> tuple[str, ...]:
    """Observations that a practice site can answer, at least at times."""
    return tuple(_LOOKS)


def scene_of(site: Site, *, glass: bool = True, heat_pump: bool = False) -> Scene:
    """Return a site that has long settled.

    Raises:
        PhysicsError: no steady state.
    """
    system = steady(site).system
    pair = (system.readings["suction_pressure"], system.readings["liquid_pressure"])
    pump = heat_pump or system.wish.is_heat_pump
    return Scene(site, system, 60.0, 60.0, 0.0, pair, glass, pump)


def see_all(site: Site, *, glass: bool = True, heat_pump: bool = False) -> dict[str, str]:
    """Return every observation that can be made at a settled site, by name.

    Raises:
        PhysicsError: no steady state.
    """
    scene = scene_of(site, glass=glass, heat_pump=heat_pump)
    found = {name: look(scene) for name, look in _LOOKS.items()}
    return {name: choice for name, choice in found.items() if choice is not None}


def _running(look: Callable[[Scene], str | None]) -> Callable[[Scene], str | None]:
    """Return what only shows while it runs; at rest it cannot be told."""
    return lambda scene: look(scene) if scene.site.running else None


# ---------------------------------------------------------------------------- air


def _filter(scene: Scene) -> str | None:
    blocked = scene.site.severity("filter")
    return "clogged" if blocked > _CLOGGED else "dirty" if blocked > _GREY else "clean"


def _vents(scene: Scene) -> str | None:
    return "weak" if air_lost(scene.site) > _WEAK else "normal"


def _grows_ice(scene: Scene) -> bool:
    """The circuit is solved without ice, so this is only what would grow; once melted it is gone for a while."""
    if scene.heating:
        return False
    since = min(scene.minutes_running, scene.minute - scene.site.thawed)
    return scene.system.truth.evaporating_temperature < _ICING and since > _ICED_AFTER


def _indoor_coil(scene: Scene) -> str | None:
    if _grows_ice(scene):
        return "iced"
    return "matted" if scene.site.severity("indoor_coil") > _MATTED else "clean"


def _blower(scene: Scene) -> str | None:
    return scene.site.look("blower") or "right"


def _ducts(scene: Scene) -> str | None:
    return "choked" if scene.site.severity("ducts") > _GREY else "in_order"


def _heating_outdoor_unit(scene: Scene) -> str | None:
    site = scene.site
    if not site.running:
        return "compressor_off"
    if site.severity("outdoor_fan"):
        return "fan_off"
    if site.severity("outdoor_coil") > _MATTED and site.look("outdoor_coil") != "between_rows":
        return "coil_matted"
    return "part_frost" if scene.system.truth.evaporator_superheat > _PART_FROST else "all_well"


def _outdoor_unit(scene: Scene) -> str | None:
    site = scene.site
    if not site.running:
        return "compressor_off"
    if site.severity("outdoor_fan"):
        return "fan_wrong"
    if site.severity("outdoor_coil") > _MATTED and site.look("outdoor_coil") != "between_rows":
        return "coil_matted"
    return "air_comes_back" if site.covered else "all_well"


def _outdoor_inside(scene: Scene) -> str | None:
    if scene.site.severity("outdoor_coil"):
        return "dirt_between_rows"
    return "fan_weak" if scene.site.severity("outdoor_fan") else "clean_through"


def _ice_place(scene: Scene) -> str | None:
    if scene.system.readings["drier_outlet_temperature"] < ZERO_CELSIUS:
        return "liquid_line"
    return "indoor" if _grows_ice(scene) else "gone"


# ---------------------------------------------------------------------------- lines


def _liquid_line(scene: Scene) -> str | None:
    readings = scene.system.readings
    if not scene.site.running:
        return "cold_spot" if scene.site.look("liquid_line") else None
    fallen = readings["drier_inlet_temperature"] - readings["drier_outlet_temperature"]
    return "cold_spot" if fallen > _FELT or scene.site.look("liquid_line") else "even"


def _sight_glass(scene: Scene) -> str | None:
    if not scene.glass:
        return "no_glass"
    if not scene.site.running:
        return None
    found = scene.system.circuit
    state = saturation_ends(scene.system.plant.fluid, found.liquid_pressure - found.restriction_loss)
    return "bubbling" if state.quality(found.liquid_enthalpy) > 0.0 else "clear"


def _reversing_valve(scene: Scene) -> str | None:
    if not scene.heat_pump:
        return "no_valve"
    if not scene.site.running:
        return None
    readings = scene.system.readings
    gained = readings["reversing_valve_suction_out"] - readings["reversing_valve_suction_in"]
    return "warmer" if gained > _WARMED else "same"


def _heat_pump_only(choice: str) -> Callable[[Scene], str | None]:
    return lambda scene: choice if scene.heat_pump else None


def _cooling_only(choice: str) -> Callable[[Scene], str | None]:
    return lambda scene: choice if scene.site.wish.mode == "cooling" else None


def _heating_only(choice: str) -> Callable[[Scene], str | None]:
    return lambda scene: choice if scene.heating else None


def _bypass(scene: Scene) -> str | None:
    if not scene.heat_pump:
        return None
    return "passes" if scene.site.has("check_valve_leaking") else "quiet"


def _chart(scene: Scene) -> str | None:
    """Against a sound system in the same weather, as the maker's chart would tell."""
    if not (scene.heating and scene.site.running):
        return None
    try:
        usual = solve_wish(scene.site.wish).readings
    except PhysicsError:
        return None
    pairs = zip(scene.pressures, (usual["suction_pressure"], usual["liquid_pressure"]), _CHARTED, strict=True)
    off = [(now - right) / far for now, right, far in pairs]
    if off[0] > 1.0 and off[1] < -1.0:
        return "drawn_together"
    below, above = min(off) < -1.0, max(off) > 1.0
    return "below" if below else "above" if above else "on_the_chart"


def _identifier(scene: Scene) -> str | None:
    return "air" if scene.site.severity(fault="noncondensables") else "as_plate"


def _leak(scene: Scene) -> str | None:
    """Where refrigerant is missing there is a leak, found with what is left of the charge in it."""
    if scene.site.empty:
        return None
    return next((one.look for one in scene.site.hidden if one.cause == "undercharge"), "") or "not_found"


def _left_behind(scene: Scene) -> str | None:
    return "narrow" if scene.site.look("liquid_line") else "in_order"


# ---------------------------------------------------------------------------- metering device


def _valve_only(look: Callable[[Scene], str | None]) -> Callable[[Scene], str | None]:
    return lambda scene: look(scene) if scene.site.wish.device == "txv" else None


def _bulb_contact(scene: Scene) -> str | None:
    return "loose" if scene.site.bulb_held is not None else scene.site.look("bulb_strap") or "sound"


def _bulb_place(scene: Scene) -> str | None:
    return scene.site.look("bulb_place") or "right"


def _capillary(scene: Scene) -> str | None:
    return "damaged" if scene.site.look("valve") == "damaged" else "sound"


def _equalizer(scene: Scene) -> str | None:
    if scene.site.has("internal_equalizer_misapplied"):
        return "no_line"
    return "blocked" if scene.site.severity("equalizer") else "sound"


def _equalizer_joint(scene: Scene) -> str | None:
    return "ahead_of_bulb" if scene.site.severity("equalizer_joint") else "past_bulb"


def _valve_cold(scene: Scene) -> str | None:
    return "at_inlet" if scene.site.severity("strainer") else "at_outlet"


def _valve_head(scene: Scene) -> str | None:
    return "lower" if scene.site.has("valve_wrong_element") else "right"


def _orifice(scene: Scene) -> str | None:
    if scene.site.wish.device != "fixed_orifice":
        return None
    found = {"orifice_too_small": "too_small", "orifice_too_large": "too_large", "orifice_not_seated": "not_seated"}
    return next((choice for cause, choice in found.items() if scene.site.has(cause)), "right")


# ---------------------------------------------------------------------------- compressor


def _current(scene: Scene) -> str | None:
    """Against a sound system in the same weather, as the maker's chart would tell."""
    if not scene.site.running:
        return None
    drawn = current(scene.system)
    try:
        usual, rated = current(solve_wish(scene.site.wish)), rated_current(scene.system)
    except PhysicsError:
        return None
    if drawn > rated:
        return "above"
    return "well_below" if drawn < 0.8 * usual else "as_expected"


def _liquid_signs(scene: Scene) -> str | None:
    """Wet suction gas that goes on cools the oil; a little of it still boils on the way through the shell."""
    site_wet = scene.system.truth.superheat
    if not scene.site.running or site_wet > 5.0 * KELVIN_PER_FAHRENHEIT:
        return None
    system = scene.system
    state = saturation_ends(system.plant.fluid, system.circuit.suction_pressure)
    return "shell_wet" if state.quality(system.circuit.suction_enthalpy) < 0.97 else "line_only"


def _gauges_at_rest(scene: Scene) -> str | None:
    if scene.site.running or scene.minutes_standing < 10.0:
        return None
    return "equal" if abs(scene.pressures[1] - scene.pressures[0]) < 10.0 * PSI else "apart"


def _pressures_part(scene: Scene) -> str | None:
    leaks = scene.site.severity("compressor", "reversing_valve", "check_valve")
    return "part_little" if leaks > _MUCH_LEAKAGE else "part"


def _pump_down(scene: Scene) -> str | None:
    leaks = scene.site.severity("compressor")
    return "will_not_pull" if leaks > _MUCH_LEAKAGE else "rises" if leaks > _GREY else "holds"


def _recovered(scene: Scene) -> str | None:
    """What the scale showed against the plate, as long as it stands in the cylinder; within a tenth is about right."""
    if scene.site.came_out is None:
        return None
    share = scene.site.came_out / sound_charge(scene.site)
    return "less" if share < 0.9 else "more" if share > 1.1 else "about"


def _always(choice: str) -> Callable[[Scene], str | None]:
    return lambda scene: choice


_LOOKS: Final[Mapping[str, Callable[[Scene], str | None]]] = {
    "filter_condition": _filter,
    "air_at_vents": _running(_vents),
    "indoor_coil_face": _indoor_coil,
    "blower_state": _blower,
    "ducts_seen": _ducts,
    "outdoor_unit": _outdoor_unit,
    "condenser_inside": _outdoor_inside,
    "ice_place": _ice_place,
    "heating_outdoor_unit": _heating_outdoor_unit,
    "heating_chart": _chart,
    "bypass_check_valve": _bypass,
    "drier_direction": _heat_pump_only("both_ways"),
    "changeover": _heat_pump_only("shifts"),
    "valve_coil": _heat_pump_only("pulls"),
    "auxiliary_heat": _heating_only("comes_on"),
    "frost_pattern": _heating_only("clears"),
    "base_pan": _heating_only("drains"),
    "forced_defrost": _heating_only("clears"),
    "defrost_sensor": _heating_only("right"),
    "defrost_settings": _heating_only("right"),
    "defrost_when_due": _heating_only("starts"),
    "two_modes": _heat_pump_only("not_tried"),
    "liquid_line_feel": _liquid_line,
    "sight_glass": _sight_glass,
    "left_behind": _left_behind,
    "leak_place": _leak,
    "identifier_result": _identifier,
    "reversing_valve": _reversing_valve,
    "current_draw": _current,
    "liquid_signs": _liquid_signs,
    "gauges_at_rest": _gauges_at_rest,
    "pressures_part": _pressures_part,
    "pump_down_result": _pump_down,
    "recovered_weight": _recovered,
    "orifice_found": _orifice,
    "bulb_contact": _valve_only(_bulb_contact),
    "bulb_place": _valve_only(_bulb_place),
    "capillary": _valve_only(_capillary),
    "equalizer_state": _valve_only(_equalizer),
    "equalizer_joint": _valve_only(_equalizer_joint),
    "valve_cold": _valve_only(_running(_valve_cold)),
    "valve_refrigerant": _valve_only(_valve_head),
    "valve_capacity": _valve_only(_always("right")),
    "second_device": _valve_only(_always("none")),
    "distributor": _valve_only(_always("fitted")),
    "gauge_still": _running(_always("still")),
    "swing_with": _running(_always("steady")),
    "coil_circuits": _running(_cooling_only("even")),
    "capacity_control": _always("none"),
    "cooling_switched_off": _always("as_it_should"),
    "fan_setting": _always("with_cooling"),
    "run_length": _always("long"),
    "what_stops": _always("does_not_stop"),
    "thermostat_sign": _always("in_order"),
}
