"""A visit to a practice site: a scenario and what was done in it, minute by minute.

A visit is its scenario and its events: `again(scenario, events)` gives the same visit, so that a practice call is
stored as its seed and its events. Taking a reading, looking, doing something and waiting each give a new visit and what
came of it; nothing else moves the clock. Readings follow what is done over minutes, as `settling` says, and are shown
by the instruments of the scenario's kit. All values in SI; the clock in minutes from the arrival.
"""

import random
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Final

from assistant.errors import InputError, PhysicsError
from assistant.practice.visit.acts import SiteAct, act_named, effect
from assistant.practice.visit.events import Event
from assistant.practice.visit.instruments import USED, instrument_of, seating, settled_share, show_reading
from assistant.practice.visit.observing import Scene, see
from assistant.practice.visit.scenario import Scenario
from assistant.practice.visit.settling import PRESSURES, Pace, Traces, at_rest, rest_at, surroundings, turn_towards
from assistant.practice.visit.site import Site, Steady, steady
from assistant.quantity import SEA_LEVEL, Kind, UnitSystem, show
from assistant.simulator.system import System
from assistant.thermo.air import standard_pressure

_LONGEST_WAIT = 600.0
_WAITED = 2.0
"""Minutes that a thermometer is given after it was put on, as the questions ask."""
_STARTING = 1.0
"""Minutes that it has run when an act is over that ends with a start."""
_LOOK = 2.0
_OPENING_LOOK = 12.0
_RESEAT = 2.0
_OPENED: Final = frozenset({"indoor_coil_face", "blower_state", "condenser_inside", "ducts_seen", "orifice_found"})


@dataclass(frozen=True, slots=True)
class TakenReading:
    """A reading as it was taken: what is shown [SI], or `None` with a sentence that says why there is none.

    `true` is what a perfect instrument would have shown there and then; `off_pipe` tells that the probe sat badly.
    """

    name: str
    minute: float
    value: float | None
    said: str = ""
    true: float | None = None
    off_pipe: bool = False
    atmosphere: float = SEA_LEVEL

    def text(self, units: UnitSystem = "us") -> str:
        """The reading as the display shows it, or the sentence."""
        if self.value is None:
            return self.said
        return show(self.value, instrument_of(self.name).unit(units), self.atmosphere)


@dataclass(frozen=True, slots=True)
class Did:
    """What came of an act: what was seen, cautions that were skipped, refrigerant lost by it [kg]."""

    act: SiteAct
    minute: float
    seen: str
    skipped: tuple[str, ...] = ()
    lost: float = 0.0


@dataclass(frozen=True, slots=True)
class Fitted:
    """A probe in its place: since when, and how often it was put on."""

    since: float
    times: int


@dataclass(frozen=True)
class Visit:
    """A visit so far. Begin one with `begin_visit`; the same events bring it back.

    `site` is the site as it is now, `since` the minute at which the compressor last started or stopped, `traces` tell
    how the readings move. All but scenario and events follows from those.
    """

    scenario: Scenario
    events: tuple[Event, ...]
    minute: float = field(compare=False)
    site: Site = field(compare=False)
    since: float = field(compare=False)
    traces: Traces = field(compare=False, repr=False)
    fitted: Mapping[str, Fitted] = field(default_factory=dict, compare=False, repr=False)
    tripped: str = field(default="", compare=False)

    @cached_property
    def settles_to(self) -> Steady | None:
        """The state that the site settles to, or would if it ran; `None` where it would trip or is empty."""
        return _steady(self.site)

    @property
    def system(self) -> System:
        """The circuit that the site settles to; where there is none, as it was found."""
        goal = self.settles_to
        return goal.system if goal else self.scenario.system

    @property
    def heating(self) -> bool:
        """Whether it heats."""
        return self.site.wish.mode == "heating"

    @property
    def minutes_running(self) -> float:
        """Minutes since the last start; 0 while it stands."""
        return self.minute - self.since if self.site.running else 0.0

    def true(self, name: str) -> float:
        """Return what a perfect instrument would show now [SI].

        Raises:
            UnknownNameError: no reading of a practice site.
        """
        instrument_of(name)
        if name == "minutes_running":
            return 60.0 * self.minutes_running
        trace = self.traces["liquid_pressure" if name == "standing_pressure" else name]
        return trace.at(self.minute)

    def has(self, name: str) -> bool:
        """Tell whether a reading can be taken on this system at all, running or not."""
        return name in ("minutes_running", "standing_pressure") or name in self.traces

    def take(self, name: str, wait: float | None = None) -> "tuple[Visit, TakenReading]":
        """Take a reading; `wait` [min] is what its probe is given after it was put on.

        Raises:
            UnknownNameError: no reading of a practice site.
            InputError: a wait that makes no sense.
        """
        instrument = instrument_of(name)
        _check_wait(wait)
        place = _place(name)
        before = self.fitted.get(place)
        if not self.has(name):
            nothing = TakenReading(name, self.minute, None, "There is no place for that on this system.")
            return self._later(0.0, Event("take", name, wait)), nothing
        minutes = instrument.reading if before else instrument.fitting
        if not before and instrument.kind is Kind.TEMPERATURE:
            minutes += _WAITED if wait is None else wait
        put_on = before or Fitted(self.minute + instrument.fitting, 1)
        after = self._later(minutes, Event("take", name, wait))
        after = replace(after, fitted={**after.fitted, place: put_on})
        return after, after._shown(name)

    def reseat(self, name: str) -> "tuple[Visit, TakenReading]":
        """Look at a probe, put it on anew, and take the reading again.

        Raises:
            UnknownNameError: no reading of a practice site.
        """
        if not self.has(name):
            return self.take(name)
        place = _place(name)
        times = self.fitted[place].times + 1 if place in self.fitted else 1
        after = self._later(_RESEAT + _WAITED, Event("reseat", name))
        fitted = Fitted(after.minute - _WAITED, times)
        after = replace(after, fitted={**after.fitted, place: fitted})
        return after, after._shown(name)

    def looks_seated(self, name: str) -> bool | None:
        """Tell whether a probe that is on sits well, as one sees who looks at it; `None` where none is on."""
        fitted = self.fitted.get(_place(name))
        return None if fitted is None else seating(name, self.scenario.kit, fitted.times) == 0.0

    def look(self, name: str) -> "tuple[Visit, str | None]":
        """Return the choice of an observation that fits, or `None`: it cannot be told."""
        after = self._later(_OPENING_LOOK if name in _OPENED else _LOOK, Event("look", name))
        return after, see(name, after.scene)

    def wait(self, minutes: float) -> "Visit":
        """Let the time pass [min].

        Raises:
            InputError: a time that makes no sense.
        """
        _check_wait(minutes)
        return self._later(minutes, Event("wait", amount=minutes))

    def act(self, name: str, amount: float | None = None, acknowledged: Iterable[str] = ()) -> "tuple[Visit, Did]":
        """Do something: `amount` in kg, as a share of 1 or in turns; with the cautions acknowledged before.

        Raises:
            UnknownNameError: nothing that can be done.
            InputError: it cannot be done as things stand.
        """
        act = act_named(name)
        known = tuple(sorted(acknowledged))
        chance = random.Random(f"{self.scenario.seed} {self.scenario.difficulty} act {len(self.events)}")
        result = effect(act, self.site, amount, chance)
        skipped = tuple(caution for caution in act.cautions if caution not in known)
        after = self._later(act.minutes, Event("act", name, amount, known))
        site = result.site
        if name == "thaw":
            site = replace(site, thawed=after.minute)
        late = act.pauses or act.pace == "start"
        begun = after.minute - _STARTING if late else self.minute
        after = after._turned(site, act.pace, (self.minute, begun), paused=act.pauses)
        seen_now = f"{result.seen} {after.tripped}".strip()
        return after, Did(act, after.minute, seen_now, skipped, site.lost - self.site.lost)

    @property
    def scene(self) -> Scene:
        """What there is to see now."""
        standing = 0.0 if self.site.running else self.minute - self.since
        pressures = (self.true("suction_pressure"), self.true("liquid_pressure"))
        glass, heat_pump = self.scenario.glass, self.site.wish.is_heat_pump
        return Scene(self.site, self.system, self.minute, self.minutes_running, standing, pressures, glass, heat_pump)

    def _later(self, minutes: float, event: Event) -> "Visit":
        return replace(self, minute=self.minute + minutes, events=(*self.events, event))

    def _turned(self, site: Site, pace: Pace, minutes: tuple[float, float], *, paused: bool) -> "Visit":
        """Return the visit with another site: its readings turn towards where that settles.

        Of the two `minutes` it stopped at the first, if it paused, and the new state holds from the second on.
        """
        if not paused and _circuit(site) == _circuit(self.site):
            return replace(self, site=site, tripped="")
        stopped, minute = minutes
        traces, since = self.traces, self.since
        goal = None if site.empty else _steady(site)
        tripped = ""
        if site.running and goal is None:
            tripped = "It does not stay on: a pressure switch or the compressor's protector stops it."
            site = replace(site, running=False)
        last = goal or self.settles_to
        readings = last.readings if last else self.scenario_readings
        if paused and self.site.running:
            traces = turn_towards(traces, at_rest(readings, heating=self.heating), stopped, "stop")
        if site.running:
            started = paused or not self.site.running
            pace = "start" if started else pace
            since = minute if started else since
            traces = turn_towards(traces, readings, minute, pace)
        else:
            since = minute if self.site.running else since
            traces = turn_towards(traces, _standing(site, readings), minute, "stop")
        return replace(self, site=site, since=since, traces=traces, tripped=tripped)

    @property
    def scenario_readings(self) -> Mapping[str, float]:
        """The readings of the site as it was found."""
        return steady(self.scenario.site).readings

    def _shown(self, name: str) -> TakenReading:
        atmosphere = self.system.conditions.atmosphere
        if name == "standing_pressure" and self.site.running:
            said = "It runs. The standing pressure is read with the compressor off."
            return TakenReading(name, self.minute, None, said, atmosphere=atmosphere)
        true, fitted = self.true(name), self.fitted[_place(name)]
        value, share = true, 0.0
        if instrument_of(name).kind is Kind.TEMPERATURE:
            air = surroundings(name, self.scenario_readings, heating=self.heating)
            share = seating(name, self.scenario.kit, fitted.times)
            gone = settled_share(name, 60.0 * (self.minute - fitted.since))
            value = air + gone * ((1.0 - share) * true + share * air - air)
        draw = len(self.events)
        value = show_reading(name, value, self.scenario.kit, draw, atmosphere)
        return TakenReading(name, self.minute, value, "", true, share > 0.0, atmosphere)


def begin_visit(scenario: Scenario) -> Visit:
    """Return the visit at the door: it runs since some time and has settled."""
    traces = rest_at(steady(scenario.site).readings)
    return Visit(scenario, (), 0.0, scenario.site, scenario.running_since, traces)


def _steady(site: Site) -> Steady | None:
    try:
        return None if site.empty else steady(site)
    except (PhysicsError, InputError):
        return None


def _circuit(site: Site) -> Site:
    """Return the site without what no reading feels."""
    return replace(site, tools=frozenset(), lost=0.0, thawed=0.0)


def _standing(site: Site, readings: Mapping[str, float]) -> dict[str, float]:
    """Return where the readings go while it stands; an empty circuit holds a vacuum, or the air."""
    goals = at_rest(readings, heating=site.wish.mode == "heating")
    if site.empty:
        air = standard_pressure(site.wish.altitude)
        goals |= dict.fromkeys(PRESSURES & readings.keys(), 0.0 if site.evacuated else air)
    return goals


def _place(name: str) -> str:
    """Where the instrument of a reading sits: a gauge stays on its port, a thermometer has a place for each reading."""
    return USED[name] if instrument_of(name).kind is Kind.PRESSURE else name


def _check_wait(minutes: float | None) -> None:
    if minutes is not None and not 0.0 <= minutes <= _LONGEST_WAIT:
        raise InputError(f"Wait between 0 and {_LONGEST_WAIT:g} minutes.")


def readings_here() -> tuple[str, ...]:
    """Return readings that can be taken at a practice site, in the order in which they are taken."""
    return tuple(USED)
