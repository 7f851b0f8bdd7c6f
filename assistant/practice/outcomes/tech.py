"""A tech who does what a tree asks at a simulated system: measures, looks, and does its steps.

What an act does to the system holds as long as its step has something measured again (a bulb in the hand or in ice
water), or from then on (a bulb strapped well). A reading or an observation that the practice system does not give is
answered "cannot tell", an act that means nothing to it "cannot do".
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from typing import Final, assert_never

from assistant.call.answers import UNTOLD, Acted, GoOn, Understood, Value
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
from assistant.practice.visit.ways import WAYS
from assistant.quantity import Kind, show

Instrument = Callable[[str, float, int], float]
"""What is shown [SI] of a reading, its true value [SI] and which look it is."""

GAUGES: Final = (Kind.PRESSURE, Kind.TEMPERATURE, Kind.DURATION)
"""Kinds of readings that gauges, thermometers and a watch give."""

_HELD: Final[Mapping[str, float]] = {"warm_bulb": HAND, "ice_bulb": ICE}
"""Temperatures [K] at which what is done at a site holds the bulb, while a step has something measured again."""
_LEAVES_AS_IT_WAS: Final = frozenset({"stop", "start", "thaw", "tap_valve"})
"""What can be done and leaves the running system as it was."""


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
                return self._do(prompt.key.name)
            case CloseCall():
                return GoOn()
            case _:
                assert_never(prompt)

    def _do(self, act: str) -> Value:
        way = WAYS.get(act)
        if way is None:
            return Acted(is_done=False)
        held = next((_HELD[part] for part in _HELD if part in way.does), None)
        if held is not None and self.site.wish.device == "txv":
            self.site = replace(self.site, bulb_held=held)
        elif way.has("strap_bulb"):
            self.site = replace(self.site.mended("bulb_strap", "bulb_place"), bulb_held=None)
        elif not way.does <= _LEAVES_AS_IT_WAS:
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
