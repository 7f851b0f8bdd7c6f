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
        """Give what holds of one thing."""
        value: str | None = getattr(self, dimension)
        return value

    def meets(self, needs: Needs) -> bool:
        """Tell whether everything that is needed holds."""
        return all(self.value(dimension) in values for dimension, values in needs.items())

    def make(self, makes: Mapping[str, str]) -> "UnitState":
        """Give the state with some things changed."""
        return replace(self, **makes) if makes else self  # type: ignore[arg-type]

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


def find_wrong_values(values: Mapping[str, Iterable[str]]) -> tuple[tuple[str, str], ...]:
    """Find what is no part of a state: the dimension and the value, or an empty value where there is no such one."""
    found = []
    for dimension, some in values.items():
        if dimension not in DIMENSIONS:
            found.append((dimension, ""))
        else:
            found.extend((dimension, value) for value in some if value not in DIMENSIONS[dimension])
    return tuple(found)
