"""A tech who does what a tree asks at a simulated system: measures, looks, and does its steps.

The steps of the trees are known by the name of their node. What a step does to the system holds until its gauge was
read (a bulb in the hand or in ice water), or from then on (a bulb strapped well). A reading or an observation that the
practice system does not give is answered "cannot tell", a step that means nothing to it "cannot do".
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from typing import Final, assert_never

from assistant.call.answers import CANNOT_DO, CANNOT_TELL, DONE, GO_ON, UNDERSTOOD
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
from assistant.errors import PhysicsError
from assistant.practice.answers import HAND, ICE, facts_of
from assistant.practice.readings import KINDS
from assistant.practice.system import System, Wish, practice_system
from assistant.quantity import PSI, Kind, preferred_unit, show

Instrument = Callable[[str, float, int], float]
"""What is shown [SI] of a reading, its true value [SI] and which look it is."""

GAUGES: Final = (Kind.PRESSURE, Kind.TEMPERATURE, Kind.DURATION)
"""Kinds of readings that gauges, thermometers and a watch give."""

HELD: Final[Mapping[str, float]] = {
    "warm_bulb": HAND,
    "warm_holding": HAND,
    "chill_bulb": ICE,
    "chill_holding": ICE,
    "chill_starved": ICE,
}
"""Steps that hold the bulb at a temperature [K], until the suction gauge was read."""
STRAPPED: Final = frozenset({"mend", "spring_tight", "spring_loose"})
"""Steps after which the bulb is strapped and insulated as it should be."""
NO_CHANGE: Final = frozenset(
    {
        "recheck",
        "recheck_suction",
        "recheck_liquid",
        "recheck_subcooling",
        "standing",
        "rest",
        "thaw",
        "tap_valve",
        "stop",
    }
)
"""Steps that can be done and leave the running system as it was."""
_MENDED: Final = ("bulb_loose", "bulb_misplaced")
_SHUT_DOWN = 40.0 * PSI
"""How far the suction has fallen [Pa] where a closed valve leaves no steady state; chosen."""


@dataclass
class Tech:
    """Answers the prompts of one walk, in the order in which they come.

    `eyes` are all observations and every instrument; else gauges, thermometers and a watch alone. `solved` keeps what
    was solved, for other walks over the same system too.
    """

    system: System
    eyes: bool
    instrument: Instrument
    solved: dict[Wish, System | None] = field(default_factory=dict)
    _wish: Wish = field(init=False)
    _facts: Mapping[str, str] = field(init=False)
    _looks: dict[str, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self._wish = self.system.wish
        self._facts = facts_of(self.system)
        self.solved[self._wish] = self.system

    def answer(self, prompt: Prompt) -> str:
        """The answer to a prompt, as typed."""
        match prompt:
            case AskQuantity() | AskChoice() | AskRefrigerant():
                default = None if isinstance(prompt, AskRefrigerant) else prompt.default
                return self._facts.get(prompt.name) or self._taken(prompt.name) or default or CANNOT_TELL
            case AskText() | CheckOut():
                return CANNOT_TELL
            case Acknowledge():
                return UNDERSTOOD
            case DoStep():
                return self._do(prompt.name.removeprefix("do ").rpartition("/")[2])
            case CloseCall():
                return GO_ON
            case _:
                assert_never(prompt)

    def _do(self, step: str) -> str:
        if step in HELD and self._wish.device == "txv":
            self._wish = replace(self._wish, bulb_held_at=HELD[step])
        elif step in STRAPPED:
            faults = tuple(one for one in self._wish.faults if one.fault.name not in _MENDED)
            self._wish = replace(self._wish, faults=faults, bulb_held_at=None)
        elif step in NO_CHANGE:
            self._wish = replace(self._wish, bulb_held_at=None)
        else:
            return CANNOT_DO
        return DONE

    def _taken(self, name: str) -> str | None:
        """A reading or an observation as it stands now; `None` where there is none."""
        kind = KINDS.get(name)
        if kind is None:
            return self.system.observations.get(name) if self.eyes else None
        if not self.eyes and kind not in GAUGES:
            return None
        value = self._true(name)
        if name == "suction_pressure":
            self._wish = replace(self._wish, bulb_held_at=None)
        self._looks[name] = self._looks.get(name, 0) + 1
        value = self.instrument(name, value, self._looks[name])
        return show(value, preferred_unit(kind, "us"), self.system.conditions.atmosphere)

    def _true(self, name: str) -> float:
        now = self._now(self._wish)
        if now is not None:
            return now.readings[name]
        before = self._now(replace(self._wish, bulb_held_at=None)) or self.system
        if name == "suction_pressure":
            return max(before.readings[name] - _SHUT_DOWN, self.system.conditions.atmosphere)
        return before.readings[name]

    def _now(self, wish: Wish) -> System | None:
        """The system as it is then; `None` where it finds no steady state."""
        if wish not in self.solved:
            try:
                self.solved[wish] = practice_system(wish)
            except PhysicsError:
                self.solved[wish] = None
        return self.solved[wish]


def exact(_name: str, value: float, _look: int) -> float:
    """An instrument without an error."""
    return value
