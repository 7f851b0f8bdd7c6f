"""Superheated states worked in a process of their own."""

import json
import subprocess
import sys

import pytest

from assistant.pictures import vapour
from assistant.pictures.vapour import Wanted, work_apart, work_here

STATES = (Wanted("R410A", 0.9e6, 290.0), Wanted("R32", 2.4e6, 350.0))
HOT = Wanted("R32", 2.4e6, 900.0)
ALONE = f"""
import json, sys
from assistant.pictures import vapour
from assistant.pictures.vapour import Wanted, work_apart
vapour.PATIENCE = 300.0
found = work_apart({(*STATES, HOT)!r})
print(json.dumps([list(found.values()), "CoolProp" in sys.modules]))
"""


@pytest.fixture(scope="module")
def worked_alone() -> tuple[list[float | str], bool]:
    """What a program that does nothing else is given for the states, and whether it has the equations itself."""
    run = subprocess.run([sys.executable, "-c", ALONE], capture_output=True, text=True, check=True)
    found, has_the_equations = json.loads(run.stdout)
    return found, has_the_equations


def test_apart_gives_what_here_gives(worked_alone: tuple[list[float | str], bool]) -> None:
    """The numbers come back to the last digit."""
    assert worked_alone[0][:2] == list(work_here(STATES).values())


def test_this_process_stays_free_of_the_equations(worked_alone: tuple[list[float | str], bool]) -> None:
    """Loading them here would hold the screen for two seconds."""
    assert worked_alone[1] is False


def test_a_state_outside_the_equation_is_a_sentence(worked_alone: tuple[list[float | str], bool]) -> None:
    """One bad state does not take the others away."""
    assert "outside the range" in str(worked_alone[0][2])
    assert all(isinstance(value, float) for value in worked_alone[0][:2])


def test_a_cancelled_process_gives_nothing_and_ends() -> None:
    """As when the program is left while it works."""
    assert work_apart(STATES, lambda: True) == {}


def test_nothing_wanted_starts_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    """A page without superheated states costs no process."""
    monkeypatch.setattr(sys, "executable", "/nowhere/python")
    assert work_apart(()) == {}


def test_a_process_that_does_not_start_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    """As where the interpreter has been moved away."""
    monkeypatch.setattr(sys, "executable", "/nowhere/python")
    assert all("could not be started" in str(value) for value in work_apart(STATES).values())


def test_a_process_that_breaks_down_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    """Garbage instead of an answer is no number."""
    monkeypatch.setattr(sys, "executable", "/bin/echo")
    assert set(work_apart(STATES).values()) == {"The equations of state gave no answer."}


def test_a_process_that_hangs_is_ended(monkeypatch: pytest.MonkeyPatch) -> None:
    """Patience has an end."""
    monkeypatch.setattr(vapour, "PATIENCE", 0.05)
    assert set(work_apart(STATES).values()) == {"The equations of state gave no answer."}
