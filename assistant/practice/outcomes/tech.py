"""A tech who does what a tree asks at a simulated system: measures, looks, and does its steps.

The steps of the trees are known by the name of their node. What a step does to the system holds as long as the step has
something measured again (a bulb in the hand or in ice water), or from then on (a bulb strapped well). A reading or an
observation that the practice system does not give is answered "cannot tell", a step that means nothing to it "cannot
do".
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from typing import Final, assert_never

from assistant.call.answers import UNTOLD, Acted, GoOn, Understood, Value
from assistant.call.keys import PromptKey, Topic
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
from assistant.call.replies import value_for
from assistant.practice.visit.acts import HAND, ICE
from assistant.practice.visit.answers import facts_of
from assistant.practice.visit.observing import Scene, scene_of, see
from assistant.practice.visit.site import Site, steady
from assistant.quantity import Kind, show

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
"""Steps that hold the bulb at a temperature [K], while they have something measured again."""
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
        "valve_once_more",
        "once_more",
        "slips_again",
        "stop",
    }
)
"""Steps that can be done and leave the running system as it was."""


@dataclass
class Tech:
    """Answers the prompts of one walk at a site, in the order in which they come.

    `eyes` are all observations and every instrument; else gauges, thermometers and a watch alone.

    Raises:
        PhysicsError: the site's system does not run.
    """

    site: Site
    eyes: bool
    instrument: Instrument
    scene: Scene = field(init=False)
    _facts: Mapping[str, str] = field(init=False)
    _looks: dict[str, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.scene = scene_of(self.site)
        self._facts = facts_of(self.scene.system)

    def answer(self, prompt: Prompt) -> Value:
        """Answer a prompt."""
        if not (isinstance(prompt, AskQuantity) and prompt.again):
            self.site = replace(self.site, bulb_held=None)
        match prompt:
            case AskQuantity():
                return _value(prompt, self._facts.get(prompt.key.name) or self._read(prompt) or prompt.default)
            case AskChoice():
                found = see(prompt.key.name, self.scene) if self.eyes else None
                return _value(prompt, self._facts.get(prompt.key.name) or found or prompt.default)
            case AskRefrigerant():
                return value_for(prompt, self._facts[prompt.key.name])
            case AskText() | CheckOut():
                return UNTOLD
            case Acknowledge():
                return Understood()
            case DoStep():
                return self._do(prompt.key)
            case CloseCall():
                return GoOn()
            case _:
                assert_never(prompt)

    def _do(self, key: PromptKey) -> Value:
        step = key.place.node if key.topic is Topic.ACT and key.place else ""
        if step in HELD and self.site.wish.device == "txv":
            self.site = replace(self.site, bulb_held=HELD[step])
        elif step in STRAPPED:
            self.site = replace(self.site.mended("bulb_strap", "bulb_place"), bulb_held=None)
        elif step not in NO_CHANGE:
            return Acted(is_done=False)
        return Acted(is_done=True)

    def _read(self, prompt: AskQuantity) -> str | None:
        """A reading as it stands now; `None` where there is none."""
        name = prompt.key.name
        true = steady(self.site).readings.get(name)
        if true is None or not (self.eyes or prompt.kind in GAUGES):
            return None
        self._looks[name] = self._looks.get(name, 0) + 1
        value = self.instrument(name, true, self._looks[name])
        return show(value, prompt.unit, self.scene.system.conditions.atmosphere)


def exact(_name: str, value: float, _look: int) -> float:
    """An instrument without an error."""
    return value


def _value(prompt: Prompt, text: str | None) -> Value:
    return UNTOLD if text is None else value_for(prompt, text)
