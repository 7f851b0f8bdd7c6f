"""A practice call as plain values, to be kept and read again: all of its site, so that it stays what it was.

Another version of the program may draw another call from the same seed; one that was begun is not drawn again.
"""

import json
import math
from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from typing import Any, Final

from assistant.errors import CoilsideError, FileError
from assistant.practice.training.exercises import Exercise
from assistant.practice.visit.instruments import Kit
from assistant.practice.visit.scenario import Scenario, draw_scenario
from assistant.practice.visit.site import Hidden, Site
from assistant.simulator.faults import FAULTS, with_severity
from assistant.simulator.system import Wish

EXPLICIT: Final = 0
"""Difficulty of a call that a trainer set fault by fault."""
_COMPLAINT: Final = {
    "cooling": ("It does not cool as it should.", "poor_cooling"),
    "heating": ("It does not heat as it should.", "poor_heating"),
}
_FIXED = frozenset({"faults", "bulb_held_at"})


@dataclass(frozen=True, slots=True)
class SetCall:
    """A practice call: its scenario, and what a trainer has to do with it.

    `minutes` is the time allowed, `None` where there is none; `listed` and `title` name the list and the exercise.
    `alone`: the trees stay silent.
    """

    scenario: Scenario
    minutes: float | None = None
    listed: str = ""
    title: str = ""
    trainee: str = ""
    alone: bool = False


def call_of(exercise: Exercise, listed: str = "", trainee: str = "") -> SetCall:
    """Return the practice call of an exercise.

    Raises:
        CoilsideError: no such call can be drawn.
    """
    said = {"minutes": exercise.minutes, "listed": listed, "title": exercise.title, "trainee": trainee}
    if exercise.wish is None or exercise.hidden is None:
        scenario = draw_scenario(exercise.seed, exercise.difficulty, mode=exercise.mode)
    else:
        complaint, tree = _COMPLAINT[exercise.mode]
        site = Site(exercise.wish, exercise.hidden)
        kit, pump = Kit(exercise.seed), exercise.wish.is_heat_pump
        scenario = Scenario(exercise.seed, EXPLICIT, site, complaint, tree, kit, heat_pump=pump)
    if exercise.complaint:
        scenario = replace(scenario, complaint=exercise.complaint)
    return SetCall(scenario, **said)  # type: ignore[arg-type]


def call_text(call: SetCall) -> str:
    """Return a practice call as one line of JSON."""
    scenario = call.scenario
    wish = scenario.site.wish
    values = {
        "seed": scenario.seed,
        "difficulty": scenario.difficulty,
        "complaint": scenario.complaint,
        "tree": scenario.tree,
        "glass": scenario.glass,
        "heat_pump": scenario.heat_pump,
        "running_since": scenario.running_since,
        "kit": {"seed": scenario.kit.seed, "gauges": scenario.kit.gauges, "thermometers": scenario.kit.thermometers},
        "system": {one.name: getattr(wish, one.name) for one in fields(wish) if one.name not in _FIXED},
        "hidden": [
            {
                "cause": one.cause,
                "fault": one.had.fault.name,
                "severity": one.had.severity,
                "place": one.place,
                "look": one.look,
            }
            for one in scenario.site.hidden
        ],
        "minutes": call.minutes,
        "list": call.listed,
        "title": call.title,
        "trainee": call.trainee,
        "alone": call.alone,
    }
    return json.dumps(values, ensure_ascii=False)


def read_call(text: str) -> SetCall:
    """Return a practice call from its line.

    Raises:
        FileError: it is none, or one of a system that there is not.
    """
    try:
        values = json.loads(text)
        if not isinstance(values, dict):
            raise ValueError
        site = Site(_wish(values["system"]), tuple(map(_hidden, values["hidden"])))
        kit = values["kit"]
        scenario = Scenario(
            seed=int(values["seed"]),
            difficulty=int(values["difficulty"]),
            site=site,
            complaint=str(values["complaint"]),
            tree=str(values["tree"]),
            kit=Kit(int(kit["seed"]), _number_or_none(kit["gauges"]), _number_or_none(kit["thermometers"])),
            glass=bool(values["glass"]),
            heat_pump=bool(values["heat_pump"]),
            running_since=_number(values["running_since"]),
        )
        listed, title, trainee = (str(values[name]) for name in ("list", "title", "trainee"))
        minutes, alone = _number_or_none(values["minutes"]), bool(values.get("alone"))
        return SetCall(scenario, minutes, listed, title, trainee, alone)
    except (KeyError, TypeError, ValueError, AttributeError, CoilsideError) as error:
        raise FileError("What is kept of this practice call is no practice call.") from error


def _wish(values: Mapping[str, Any]) -> Wish:
    known = {one.name for one in fields(Wish)} - _FIXED
    if set(values) - known:
        raise ValueError
    made: dict[str, Any] = {name: v if isinstance(v, str | bool) else _number(v) for name, v in values.items()}
    return Wish(**made)


def _hidden(values: Mapping[str, Any]) -> Hidden:
    one = with_severity(FAULTS[values["fault"]], _number(values["severity"]))
    return Hidden(str(values["cause"]), one, str(values["place"]), str(values["look"]))


def _number(value: Any) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        raise ValueError
    return float(value)


def _number_or_none(value: Any) -> float | None:
    return None if value is None else _number(value)
