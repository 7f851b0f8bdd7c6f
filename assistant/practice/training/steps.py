"""What a tree asks for, done at a practice site: readings, observations and acts."""

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
from assistant.call.keys import COMPLAINT, TREE, Topic, entry_key
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
from assistant.practice.visit.ways import WAYS, Way
from assistant.quantity import UnitSystem

UNKNOWN_MINUTES: Final = 5.0
"""What a step counts that means nothing to a practice site; chosen."""


_TOOLS: Final = {SCALE: "set_up_scale", RECOVERY: "set_up_recovery"}
_SETTLE: Final = (Event("wait", amount=15.0),)
HOLDS: Final = frozenset({"warm_bulb", "ice_bulb"})
"""Acts that hold the bulb off its line, until it is put back."""
PUT_BACK: Final = Event("act", "put_bulb_back")


def step_events(prompt: DoStep, site: Site, acknowledged: tuple[str, ...]) -> tuple[Event, ...]:
    """What a step that a tree asks for is at a site; nothing where it means nothing there."""
    if prompt.key.topic is Topic.SETTLE:
        return _SETTLE
    way = WAYS.get(prompt.key.name)
    return tuple(_events(way, site, acknowledged)) if way else ()


def _events(way: Way, site: Site, acknowledged: tuple[str, ...]) -> list[Event]:
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


def cautions_of(event: Event, catalogue: Catalogue) -> tuple[str, ...]:
    """Return the cautions that belong before an event: of what is taken, those of the state that it needs as well."""
    return act_named(event.name).cautions if event.kind == "act" else catalogue.cautions_of_taking(event.name)
