"""`should NAME` at any time: what a sound unit would read, and how that moves with the weather."""

import re

import pytest

from assistant.session.session import Accepted, Information, Rejected, Session
from assistant.store.store import Store

WEATHER = {
    "metering_device": "txv",
    "mode": "cooling",
    "altitude": "0 ft",
    "outdoor_air_temperature": "95 F",
    "return_air_dry_bulb": "80 F",
    "return_air_wet_bulb": "67 F",
}


@pytest.fixture
def session(library, tmp_path):
    """A call on the shipped tree whose refrigerant is told."""
    with Store(tmp_path / "calls.db") as store:
        session = Session.begin(library, store)
        for reply in ("not cooling enough", "poor_cooling", "R-410A"):
            assert isinstance(session.say(reply), Accepted), reply
        yield session


def told(session: Session, text: str) -> str:
    """What is answered, whichever form it has."""
    found = session.say(text)
    assert isinstance(found, Information), found
    return "\n".join(found.lines)


def with_weather(session: Session) -> None:
    """Put what is right hangs on into the call's state, as if it had been asked by now."""
    from tests.answering import answer

    for name, text in WEATHER.items():
        session.conversation.state.take(name, answer(name, text).value)


def test_before_the_weather_is_known_it_is_said_what_is_missing(session: Session) -> None:
    """Nothing is made up: the answer names what what is right hangs on."""
    assert "outdoor air" in told(session, "should suction pressure")


def test_a_gauge_is_told_its_range(session: Session) -> None:
    """At 95 °F and 80/67 °F a sound R-410A unit reads about 118 psig (common practice), and more with more load."""
    with_weather(session)
    text = told(session, "should suction pressure")
    low, high = map(float, re.search(r"about (\d+) to (\d+) psig", text).groups())
    assert low < 118.0 < high
    assert "more load: +" in text
    assert told(session, "should be the suction pressure?") == text
    assert told(session, "should suction_pressure") == text


def test_what_is_measured_is_set_beside_it(session: Session) -> None:
    """A reading far off is said to be below, one inside within."""
    from tests.answering import answer

    with_weather(session)
    session.conversation.state.take("suction_pressure", answer("suction_pressure", "60 psig").value)
    assert "below that" in told(session, "should suction pressure")
    session.conversation.state.take("suction_pressure", answer("suction_pressure", "120 psig").value)
    assert "within that" in told(session, "should suction pressure")


def test_all_is_told_at_once(session: Session) -> None:
    """Without a name every value has its line; a name that is none is met with how to ask."""
    with_weather(session)
    lines = told(session, "should").splitlines()
    assert len(lines) > 15
    assert any(line.startswith("Subcooling") for line in lines)
    found = session.say("should filter")
    assert isinstance(found, Rejected)
    assert "should suction pressure" in found.message
