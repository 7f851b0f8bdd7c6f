"""Enthalpies of superheated vapour for a picture, worked in a process of their own.

The equations of state take about two seconds to load and hold the interpreter lock meanwhile, so that neither a
thread nor a coroutine would keep the screen alive.
"""

import json
import os
import subprocess
import sys
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Final

from assistant.errors import PhysicsError
from assistant.thermo import reference

PATIENCE: Final = 30.0
"""So long the process may take [s]: where much else is going on, a picture is not worth more."""
_LOOK: Final = 0.05


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
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(part for part in sys.path if part)}
    # Without -P a file json.py beside the customer's photos, where the program was started, would be run.
    question = json.dumps([[state.model, state.pressure, state.temperature] for state in states])
    try:
        process = subprocess.Popen(
            [sys.executable, "-P", "-m", __name__],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            env=environment,
            text=True,
        )
    except OSError as error:
        return dict.fromkeys(states, f"The equations of state could not be started ({error}).")
    with process:
        answer = _answer(process, question, is_cancelled)
    if answer is None:
        return {}
    return _read(states, answer)


def _answer(process: "subprocess.Popen[str]", question: str, is_cancelled: Callable[[], bool]) -> str | None:
    """Return what the process writes; empty when it takes too long, `None` when it was cancelled."""
    waited = 0.0
    asked: str | None = question
    while not is_cancelled():
        try:
            return process.communicate(asked, timeout=_LOOK)[0]
        except subprocess.TimeoutExpired:
            # The question was taken with the first attempt; a later one only goes on waiting.
            asked = None
            waited += _LOOK
        if waited > PATIENCE:
            process.kill()
            process.communicate()
            return ""
    process.kill()
    process.communicate()
    return None


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
    if hasattr(os, "nice"):
        os.nice(10)
    asked = json.load(sys.stdin)
    states = [Wanted(str(model), float(pressure), float(temperature)) for model, pressure, temperature in asked]
    print(json.dumps(list(work_here(states).values())))


if __name__ == "__main__":
    main()
