"""Enthalpies of superheated vapour for a picture, worked in a process of their own.

The equations of state take about two seconds to load and hold the interpreter lock meanwhile, so that neither a
thread nor a coroutine would keep the screen alive.
"""

import json
import sys
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Final

from assistant.apart import ask_apart, give_way
from assistant.errors import PhysicsError
from assistant.thermo import reference

PATIENCE: Final = 30.0
"""So long the process may take [s]: where much else is going on, a picture is not worth more."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """A superheated state: the `model` of the refrigerant, absolute pressure [Pa], temperature [K]."""

    model: str
    pressure: float
    temperature: float


Enthalpies = Mapping[Wanted, float | str]
"""Specific enthalpy [J/kg] by state, or the sentence that says why there is none."""


def work_here(wanted: Iterable[Wanted]) -> dict[Wanted, float | str]:
    """Return the work the states in this process: whoever calls waits until the equations are loaded."""
    return {state: _enthalpy(state) for state in wanted}


def _enthalpy(state: Wanted) -> float | str:
    try:
        return reference.vapour_state(state.model, state.pressure, state.temperature).enthalpy
    except PhysicsError as error:
        return str(error)


def work_apart(wanted: Iterable[Wanted], is_cancelled: Callable[[], bool] = lambda: False) -> dict[Wanted, float | str]:
    """Return the work the states in a process of their own; nothing comes back when it was cancelled.

    Made for a thread: it waits, but holds no lock that the screen needs. A state that the process could not work comes
    back with the reason.
    """
    states = tuple(wanted)
    if not states:
        return {}
    question = json.dumps([[state.model, state.pressure, state.temperature] for state in states])
    try:
        answer = ask_apart(__name__, question, PATIENCE, is_cancelled)
    except OSError as error:
        return dict.fromkeys(states, f"The equations of state could not be started ({error}).")
    if answer is None:
        return {}
    return _read(states, answer)


def _read(states: tuple[Wanted, ...], answer: str) -> dict[Wanted, float | str]:
    try:
        found = json.loads(answer)
    except ValueError:
        found = None
    if not isinstance(found, list) or len(found) != len(states):
        return dict.fromkeys(states, "The equations of state gave no answer.")
    return {
        state: value if isinstance(value, float | str) else "There is no number for it."
        for state, value in zip(states, found, strict=True)
    }


def main() -> None:
    """Read states from standard input, write their enthalpies to standard output; give way to who types meanwhile."""
    give_way()
    asked = json.load(sys.stdin)
    states = [Wanted(str(model), float(pressure), float(temperature)) for model, pressure, temperature in asked]
    print(json.dumps(list(work_here(states).values())))


if __name__ == "__main__":
    main()
