"""The state of the unit as far as it matters to safety and truth, and the way from one state to another.

A state is known from what was done alone. A step names the state that it needs; `plan` gives the acts between.
"""

import heapq
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final, Protocol

DIMENSIONS: Final[Mapping[str, tuple[str, ...]]] = {
    "power": ("running", "stopped", "locked"),
    "panel": ("closed", "open"),
    "circuit": ("closed", "hoses", "recovered", "opened"),
    "settled": ("no", "running", "resting"),
    "bulb": ("strapped", "held", "iced", "hanging"),
}
"""What can be said of a unit, and the values of each.

`power`: runs in its mode; stopped at the control; disconnect open, locked, proven dead. `panel`: one behind which parts
are live or move. `circuit`: no hoses; gauges on; emptied; opened. `settled`: since the start or a change of charge;
at rest long enough for pressures to stand still. `bulb`: where the bulb of an expansion valve is.
"""

Needs = Mapping[str, tuple[str, ...]]
"""For each thing that matters, the values of which any will do."""


class Changes(Protocol):
    """What an act is to the state."""

    @property
    def between(self) -> bool:
        """Whether a call puts it in by itself, since all that it does is to change the state."""

    @property
    def name(self) -> str:
        """Its name."""

    @property
    def minutes(self) -> float:
        """How long it takes [min]."""

    @property
    def needs(self) -> Needs:
        """The state before it."""

    @property
    def makes(self) -> Mapping[str, str]:
        """What it changes of the state."""

    @property
    def leaves(self) -> str:
        """What it leaves to be undone before a call ends; empty where nothing."""

    @property
    def undo(self) -> tuple[str, ...]:
        """The acts of which any undoes it, the usual one first."""


@dataclass(frozen=True, slots=True)
class Left:
    """Something that an act has left behind, and the acts of which any undoes it."""

    what: str
    undo: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class UnitState:
    """What holds at the unit; `None` is not known. `left` is what is still to be undone, the oldest first."""

    power: str | None = None
    panel: str | None = None
    circuit: str | None = None
    settled: str | None = None
    bulb: str | None = None
    left: tuple[Left, ...] = ()

    def value(self, dimension: str) -> str | None:
        """Give what holds of one thing; of what no state tells, nothing is known."""
        value: str | None = getattr(self, dimension) if dimension in DIMENSIONS else None
        return value

    def meets(self, needs: Needs) -> bool:
        """Tell whether everything that is needed holds."""
        return all(self.value(dimension) in values for dimension, values in needs.items())

    def make(self, makes: Mapping[str, str]) -> "UnitState":
        """Give the state with some things changed; pressures that stood still do not once it stops, or starts.

        What a catalogue says of anything else changes nothing: the check tells it, a call goes on.
        """
        told = {name: value for name, value in makes.items() if name in DIMENSIONS}
        if not told:
            return self
        made: UnitState = replace(self, **told)  # type: ignore[arg-type]
        wrong = "resting" if made.power == "running" else "running"
        return replace(made, settled="no") if made.settled == wrong else made

    def after(self, act: Changes) -> "UnitState":
        """Give the state after an act: what it makes, and what it leaves or undoes."""
        left = tuple(one for one in self.left if act.name not in one.undo and one.what != act.leaves)
        if act.leaves:
            left = (*left, Left(act.leaves, act.undo))
        return replace(self.make(act.makes), left=left)


FOUND: Final = UnitState(power="running", panel="closed", circuit="closed", bulb="strapped")
"""A unit that runs, as a tech finds it: nobody knows for how long it has."""
FOUND_STOPPED: Final = replace(FOUND, power="stopped")
"""A unit that does not run, as a tech finds it."""


def plan(state: UnitState, needs: Needs, between: Sequence[Changes]) -> tuple[str, ...] | None:
    """Give the shortest chain of acts [min] after which all needs hold; `None` where no chain of these does it.

    Of chains that take as long, the one whose acts stand first. Nothing is undone by the way: what is left stays left.
    """
    waiting: list[tuple[float, tuple[int, ...]]] = [(0.0, ())]
    states: dict[tuple[int, ...], UnitState] = {(): replace(state, left=())}
    done: set[UnitState] = set()
    while waiting:
        minutes, chain = heapq.heappop(waiting)
        now = states.pop(chain)
        if now in done:
            continue
        if now.meets(needs):
            return tuple(between[index].name for index in chain)
        done.add(now)
        for index, act in enumerate(between):
            if now.meets(act.needs):
                longer = (*chain, index)
                states[longer] = now.make(act.makes)
                heapq.heappush(waiting, (minutes + act.minutes, longer))
    return None


@dataclass(frozen=True, slots=True)
class Reached:
    """States of which some needs hold, the acts that led to any of them, and the states from which none leads there."""

    states: frozenset[UnitState]
    acts: tuple[str, ...]
    stuck: frozenset[UnitState]


class Planner:
    """Finds the acts between a state and what is needed; what was found once is kept.

    A walk asks it for one state, a check over every path for all that are possible.
    """

    def __init__(self, between: Sequence[Changes]) -> None:
        self._between = tuple(between)
        self._named = {act.name: act for act in self._between}
        self._plans: dict[object, tuple[str, ...] | None] = {}

    def plan(self, state: UnitState, needs: Needs, without: frozenset[str] = frozenset()) -> tuple[str, ...] | None:
        """Give the shortest chain of acts to what is needed, `without` some; `None` where there is none."""
        if state.meets(needs):
            return ()
        key = (replace(state, left=()) if state.left else state, tuple(needs.items()), without)
        if key not in self._plans:
            self._plans[key] = plan(state, needs, [act for act in self._between if act.name not in without])
        return self._plans[key]

    def reach(self, states: Iterable[UnitState], needs: Needs) -> Reached:
        """Give the states after all acts that are put between some states and what is needed."""
        reached: set[UnitState] = set()
        acts: dict[str, None] = {}
        stuck: set[UnitState] = set()
        for state in states:
            chain = self.plan(state, needs)
            if chain is None:
                stuck.add(state)
                continue
            for name in chain:
                state = state.after(self._named[name])
            acts.update(dict.fromkeys(chain))
            reached.add(state)
        return Reached(frozenset(reached), tuple(acts), frozenset(stuck))

    def perform(self, states: Iterable[UnitState], act: Changes) -> Reached:
        """Give the states after an act that a tree names, with what is put in front of it; one that holds is passed."""
        given = frozenset(states)
        passed = frozenset(state for state in given if holds_already(state, act))
        reached = self.reach(given - passed, act.needs)
        after = frozenset(state.after(act) for state in reached.states)
        return Reached(passed | after, reached.acts, reached.stuck)


def holds_already(state: UnitState, act: Changes) -> bool:
    """Tell whether all that an act does is to make what holds already; where a bulb is, is made sure of each time."""
    lasting = {what: value for what, value in act.makes.items() if what != "settled"} or act.makes
    return act.between and "bulb" not in act.makes and all(state.value(what) == made for what, made in lasting.items())


def find_wrong_values(values: Mapping[str, Iterable[str]]) -> tuple[tuple[str, str], ...]:
    """Find what is no part of a state: the dimension and the value, or an empty value where there is no such one."""
    found = []
    for dimension, some in values.items():
        if dimension not in DIMENSIONS:
            found.append((dimension, ""))
        else:
            found.extend((dimension, value) for value in some if value not in DIMENSIONS[dimension])
    return tuple(found)
