"""The accuracy of the tech's own instruments, told on a call."""

import math

import pytest

from assistant import doubt
from assistant.session.session import Accepted, Information, Rejected, Session
from assistant.store.store import Store
from tests.answering import answer

PSI = 6894.757293168361


@pytest.fixture
def store(tmp_path):
    with Store(tmp_path / "calls.db") as store:
        yield store


@pytest.fixture
def session(library, store):
    """A call on the shipped tree, with its facts told."""
    session = Session.begin(library, store)
    for reply in ("not cooling enough", "poor_cooling", "R-410A"):
        assert isinstance(session.say(reply), Accepted), reply
    return session


def half_width(session, name="suction_pressure", text="120 psig"):
    """What the instrument promises for a reading, from the reading's standard uncertainty [SI]."""
    state = session.conversation.state
    state.take(name, answer(name, text).value)
    return doubt.standard(state.quantities[name]) * math.sqrt(3)


def test_own_gauges_and_thermometers_set_the_doubt(session):
    """Told good to 1 psi and 0.9 F, readings carry just that; before, the usual 3.5 psi.

    Source: 3.5 psi for the suction gauge is California Title 24 RA3.2.
    """
    assert half_width(session) == pytest.approx(3.5 * PSI)
    assert isinstance(session.say("instruments gauges 1 psi"), Accepted)
    assert isinstance(session.say("Instruments thermometer 0.9 F"), Accepted)
    assert half_width(session) == pytest.approx(1.0 * PSI)
    assert half_width(session, "suction_line_temperature", "55 F") == pytest.approx(0.5)


def test_usual_takes_it_back(session):
    """The word usual in place of a number brings the field accuracy back, on the next calls too."""
    session.say("instruments gauges 1 psi")
    session.say("instruments gauges usual")
    assert half_width(session) == pytest.approx(3.5 * PSI)
    assert half_width(Session.begin(session.library, session.store)) == pytest.approx(3.5 * PSI)


def test_the_next_call_keeps_the_instruments(session):
    """Told once, a new call begins with it, and picking that call up still has it when another call says otherwise."""
    session.say("instruments gauges 1 psi")
    second = Session.begin(session.library, session.store)
    second.say("not cooling enough")
    assert half_width(second) == pytest.approx(1.0 * PSI)
    third = Session.begin(session.library, session.store)
    third.say("not cooling enough")
    third.say("instruments gauges 2 psi")
    assert half_width(Session.resume(session.library, session.store, second.number)) == pytest.approx(1.0 * PSI)
    assert half_width(Session.begin(session.library, session.store)) == pytest.approx(2.0 * PSI)


def test_back_takes_an_answer_back_and_leaves_the_instruments(session):
    """The instruments were not asked for, so back passes over them."""
    session.say("instruments gauges 1 psi")
    session.say("back")
    assert session.prompt.name == "refrigerant"
    assert half_width(session) == pytest.approx(1.0 * PSI)
    fresh = Session.begin(session.library, session.store)
    assert isinstance(fresh.say("back"), Rejected)


def test_the_word_alone_shows_what_is_taken(session):
    """Own accuracies are named as told, the usual ones with the readings they are for."""
    session.say("instruments gauges 1 psi")
    shown = session.say("instruments")
    assert isinstance(shown, Information)
    assert "gauges: ± 1 psi, as you told" in shown.lines
    assert any("1.3 F" in line and "suction line" in line for line in shown.lines)


@pytest.mark.parametrize(
    ("reply", "says"),
    [
        ("instruments clamp 1 F", "Which instruments"),
        ("instruments gauges", "instruments gauges 1 psi"),
        ("instruments gauges good", "instruments gauges 1 psi"),
        ("instruments gauges 0 psi", "more than nothing"),
        ("instruments gauges -1 psi", "more than nothing"),
        ("instruments gauges 1 F", "instruments gauges 1 psi"),
        ("instruments thermometers nan", "instruments thermometers 0.9 F"),
        ("instruments gauges 1 psig", "instruments gauges 1 psi"),
    ],
)
def test_what_is_no_accuracy_is_refused(session, reply, says):
    """A refusal says what can be typed, and nothing changes."""
    response = session.say(reply)
    assert isinstance(response, Rejected)
    assert says in response.message
    assert half_width(session) == pytest.approx(3.5 * PSI)
