"""What a tree asks for, done at a practice site: readings, observations, and the steps that trees have done.

Steps are known by the tree that they are written in and the name of their node. One that is not known here changes
nothing at a practice site.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Final, assert_never

from assistant.call.answers import (
    CANNOT_TELL,
    UNTOLD,
    Acted,
    Answer,
    Chosen,
    GoOn,
    OwnWords,
    Understood,
    Value,
    Written,
)
from assistant.call.keys import COMPLAINT, TREE, NodeAt, Topic, entry_key
from assistant.call.library import Library
from assistant.call.prompts import (
    Acknowledge,
    AskChoice,
    AskQuantity,
    AskRefrigerant,
    AskText,
    CheckOut,
    CloseCall,
    DoStep,
    Prompt,
)
from assistant.call.replies import read_written, value_for
from assistant.call.walk import Conversation, walk
from assistant.catalogue.catalogue import Catalogue
from assistant.errors import InputError
from assistant.practice.training.history import SETTLED_AFTER, Moment, apply_event
from assistant.practice.visit.acts import act_named
from assistant.practice.visit.doing import RECOVERY, SCALE
from assistant.practice.visit.events import Event
from assistant.practice.visit.instruments import USED, instrument_of
from assistant.practice.visit.observing import answerable_observations
from assistant.practice.visit.scenario import Scenario
from assistant.practice.visit.site import Site
from assistant.practice.visit.visit import Visit, begin_visit
from assistant.quantity import POUND, UnitSystem

_OUNCES_A_TON = 1.5 * POUND / 16.0
"""Refrigerant [kg] for each ton that a tree has added or taken at a time: the middle of one to two ounces."""
UNKNOWN_MINUTES: Final = 5.0
"""What a step counts that means nothing to a practice site; chosen."""


@dataclass(frozen=True, slots=True)
class _Way:
    """What a step is at a site: acts by name and waits [min], in order. `per_ton` is the mass [kg] of its charging."""

    parts: tuple[str | float, ...]
    per_ton: float = 0.0


_STRAP = _Way(("strap_bulb", "move_bulb", 15.0))
_STRAP_AGAIN = _Way(("strap_bulb", 10.0))
_HAND, _ICE = _Way(("warm_bulb",)), _Way(("ice_bulb",))
_CHECK = _Way((2.0,))
_REST = _Way(("stop", 30.0, "start", 5.0))
_WAYS: Final[Mapping[str, _Way]] = {
    "valve_bench/mend": _STRAP,
    "superheat_hunting/mend": _STRAP,
    "warm_bulb": _HAND,
    "warm_holding": _HAND,
    "chill_bulb": _ICE,
    "chill_starved": _ICE,
    "chill_holding": _ICE,
    "spring_tight": _STRAP_AGAIN,
    "spring_loose": _STRAP_AGAIN,
    "tap_valve": _Way(("tap_valve",)),
    "thaw": _Way(("thaw",)),
    "standing": _Way(("stop", 30.0)),
    "stop": _Way(("stop",)),
    "high_head/restart": _Way(("start", 5.0)),
    "low_suction/restart": _Way(("start", 5.0)),
    "compressor_pumping/rest": _REST,
    "compressor_pumping/backwards": _Way(("stop", 5.0, "start", 2.0)),
    "poor_heating/rest": _Way(("stop", 30.0, "start", 10.0)),
    "recheck": _CHECK,
    "recheck_suction": _CHECK,
    "recheck_liquid": _CHECK,
    "recheck_subcooling": _CHECK,
    "add_some": _Way((SCALE, "add_charge", 15.0), _OUNCES_A_TON),
    "take_some": _Way((SCALE, RECOVERY, "recover_charge", 15.0), _OUNCES_A_TON),
    "empty_it": _Way((SCALE, RECOVERY, "recover_all")),
    "heating_charge/weigh": _Way((SCALE, RECOVERY, "recover_all")),
    "charge_by_weight/evacuate": _Way(("evacuate",)),
    "charge_by_weight/stand": _Way((10.0,)),
    "charge_by_weight/rest": _Way((10.0,)),
    "charge_by_weight/weigh": _Way((SCALE, "weigh_in")),
    "leak_repair/evacuate": _Way(("evacuate",)),
    "leak_repair/stand": _Way((10.0,)),
    "leak_repair/rest": _Way((10.0,)),
    "leak_repair/weigh": _Way((SCALE, "weigh_in")),
}
_TOOLS: Final = {SCALE: "set_up_scale", RECOVERY: "set_up_recovery"}
_SETTLE: Final = (Event("wait", amount=15.0),)
HOLDS: Final = frozenset({"warm_bulb", "ice_bulb"})
"""Acts that hold the bulb off its line, until it is put back."""
PUT_BACK: Final = Event("act", "put_bulb_back")


def step_events(prompt: DoStep, site: Site, acknowledged: tuple[str, ...]) -> tuple[Event, ...]:
    """What a step that a tree asks for is at a site; nothing where it means nothing there."""
    if prompt.key.topic is Topic.SETTLE:
        return _SETTLE
    way = _way(prompt.key.place) if prompt.key.place else None
    return tuple(_events(way, site, acknowledged)) if way else ()


def _way(at: NodeAt) -> _Way | None:
    return _WAYS.get(f"{at.tree}/{at.node}") or _WAYS.get(at.node)


def _events(way: _Way, site: Site, acknowledged: tuple[str, ...]) -> list[Event]:
    found = []
    for part in way.parts:
        if isinstance(part, float):
            found.append(Event("wait", amount=part))
        elif part in _TOOLS:
            if part not in site.tools:
                found.append(_act(_TOOLS[part], acknowledged))
        elif part == "move_bulb" and not site.severity("bulb_place"):
            # Who straps it sees that it sits in the right place.
            continue
        elif not act_named(part).device or act_named(part).device == site.wish.device:
            event = _act(part, acknowledged)
            is_charging = act_named(part).amount == "mass"
            found.append(replace(event, amount=way.per_ton * site.wish.tons) if is_charging else event)
    return found


def _act(name: str, acknowledged: tuple[str, ...]) -> Event:
    """An act with those of its cautions that were acknowledged."""
    return Event("act", name, None, tuple(sorted(set(act_named(name).cautions) & set(acknowledged))))


def reading_event(name: str, visit: Visit, *, again: bool) -> Event:
    """How a reading is taken; measured again, a clamp is put on anew, as the reason may be its seat."""
    anew = again and name in visit.fitted and instrument_of(name).clamps
    return Event("reseat" if anew else "take", name)


def waited_before(prompt: Prompt, visit: Visit) -> Event | None:
    """The wait that a tree means where it asks for the running time again, as nothing had settled; else `None`."""
    is_again = isinstance(prompt, AskQuantity) and prompt.again and prompt.key.name == "minutes_running"
    left = SETTLED_AFTER - visit.minutes_running
    return Event("wait", amount=left) if is_again and visit.site.running and left > 0.0 else None


def asked_event(prompt: Prompt, visit: Visit) -> Event | None:
    """The event that answers what is asked; `None` where no instrument and no eye at a practice site does."""
    if isinstance(prompt, AskQuantity) and prompt.key.name in USED:
        return reading_event(prompt.key.name, visit, again=prompt.again)
    if isinstance(prompt, AskChoice) and prompt.key.name in answerable_observations():
        return Event("look", prompt.key.name)
    return None


def answer_of(moment: Moment, units: UnitSystem = "us") -> str:
    """What a reading or an observation answers."""
    if moment.taken is not None:
        return CANNOT_TELL if moment.taken.value is None else moment.taken.text(units)
    return moment.choice or CANNOT_TELL


@dataclass
class _Walker:
    """Does at a fresh visit what a tree asks, and nothing else."""

    visit: Visit
    moments: list[Moment]
    held: tuple[str, ...] = ()

    def answer(self, prompt: Prompt) -> Value:
        match prompt:
            case AskQuantity() | AskChoice():
                return self._told(prompt)
            case AskRefrigerant() | AskText() | CheckOut():
                return UNTOLD
            case Acknowledge():
                self.held = (*self.held, prompt.caution)
                return Understood()
            case DoStep():
                return self._do(prompt)
            case CloseCall():
                return GoOn()
            case _:
                assert_never(prompt)

    def _told(self, prompt: AskQuantity | AskChoice) -> Value:
        event = asked_event(prompt, self.visit)
        if event is None:
            return UNTOLD if prompt.default is None else value_for(prompt, prompt.default)
        if (wait := waited_before(prompt, self.visit)) is not None:
            self._happen(wait)
        self._happen(event)
        told = value_for(prompt, answer_of(self.moments[-1]))
        if event.name == "suction_pressure" and self.visit.site.bulb_held is not None:
            self._happen(PUT_BACK)
        return told

    def _do(self, prompt: DoStep) -> Value:
        events = step_events(prompt, self.visit.site, self.held)
        try:
            for event in events:
                self._happen(event)
        except InputError:
            return Acted(is_done=False)
        return Acted(is_done=bool(events))

    def _happen(self, event: Event) -> None:
        self.moments.append(apply_event(self.visit, event, asked=True))
        self.visit = self.moments[-1].after


@dataclass(frozen=True)
class TreesWay:
    """A call as a tree goes it, with all that was done at the site for it."""

    conversation: Conversation
    moments: tuple[Moment, ...]

    @property
    def minutes(self) -> float:
        """How long it took."""
        return self.moments[-1].minute if self.moments else 0.0


def known_at_the_door(catalogue: Catalogue, scenario: Scenario) -> tuple[Answer, ...]:
    """Give the answers that a practice call begins with: the complaint, the plate and the site, the tree that fits."""
    plate = (Written(entry_key(name), text) for name, text in scenario.facts.items())
    return (
        Answer(COMPLAINT, OwnWords(scenario.complaint)),
        *(read_written(fact, catalogue, "us") for fact in plate),
        Answer(TREE, Chosen(scenario.tree)),
    )


def trees_way(library: Library, scenario: Scenario) -> TreesWay:
    """The same call from the beginning, as the tree that fits it goes.

    Raises:
        UnknownNameError: there is no such tree any more.
        CoilsideError: the scenario does not run.
    """
    library.tree(scenario.tree)
    walker = _Walker(begin_visit(scenario), [])
    conversation = walk(library, known_at_the_door(library.catalogue, scenario), fill=walker.answer)
    return TreesWay(conversation, tuple(walker.moments))


GUARDS: Final[Mapping[str, tuple[str, ...]]] = {
    "suction_pressure": ("hoses_and_liquid",),
    "liquid_pressure": ("hoses_and_liquid",),
    "standing_pressure": ("hoses_and_liquid",),
    "discharge_line_temperature": ("hot_surfaces",),
    "compressor_current": ("live_panels", "moving_parts"),
    "external_static_pressure": ("live_panels", "moving_parts"),
    "filter_condition": ("live_panels", "moving_parts"),
    "indoor_coil_face": ("live_panels", "moving_parts"),
    "blower_state": ("live_panels", "moving_parts"),
    "condenser_inside": ("live_panels", "moving_parts"),
    "coil_circuits": ("live_panels", "moving_parts"),
    "evaporator_outlet_temperature": ("live_panels", "moving_parts"),
    "bulb_contact": ("live_panels", "moving_parts"),
    "bulb_place": ("live_panels", "moving_parts"),
    "orifice_found": ("opening_circuit", "refrigerant_release"),
}
"""Cautions that come before a reading or a look which a trainee takes unasked; where a tree asks, it has its own."""


def cautions_of(event: Event) -> tuple[str, ...]:
    """The cautions that belong before an event."""
    return act_named(event.name).cautions if event.kind == "act" else GUARDS.get(event.name, ())
