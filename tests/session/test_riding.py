"""A call with a trainee riding along: the record holds the call, and no guess."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from assistant.call.keys import Topic
from assistant.call.library import Library
from assistant.call.turns import Answered, Coached
from assistant.catalogue.catalogue import Catalogue
from assistant.plain import run_plain
from assistant.session.riding import Guessing
from assistant.session.session import Accepted, Information, Rejected, Session
from assistant.store.store import Store
from tests.call.small import small_library

NODES = """
first:
  decide:
    - when: superheat > 25 F
      go: starved
    - cannot_tell: open_end
    - otherwise: fed
starved: {undecided: Starved.}
fed: {no_fault: The coil is fed.}
open_end: {undecided: It cannot be told.}
"""
ALL = ("not cold", "", "22", "0 ft", "60 psig", "70 F")


@pytest.fixture
def small(catalogue: Catalogue) -> Library:
    return small_library(catalogue, NODES, facts="refrigerant, altitude")


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with Store(tmp_path / "calls.db") as store:
        yield store


@pytest.fixture
def ride(small: Library, store: Store) -> Session:
    """A ride at its first guess."""
    session = Session.begin(small, store, between=Guessing())
    assert isinstance(session.between, Guessing)
    for reply in ALL:
        assert isinstance(session.say(reply), Accepted)
    return session


def test_a_guess_is_asked_like_a_question_and_not_kept(ride: Session, store: Store) -> None:
    """What is on disk are the answers of the call; picked up without riding along, it is the same call."""
    assert ride.prompt is not None
    assert ride.prompt.name == "guess superheat"
    assert isinstance(ride.say("3"), Accepted)
    assert ride.number is not None
    assert not [answer for answer in store.answers(ride.number) if answer.key.topic is Topic.GUESS]
    plain = Session.resume(ride.library, store, ride.number)
    assert plain.conversation.turns == ride.conversation.turns


def test_words_work_at_a_guess_and_tell_nothing(ride: Session) -> None:
    """Why is told; the work shows no number; what would give it away is refused."""
    work = ride.say("work")
    assert isinstance(work, Information)
    assert not any("superheat" in line.lower() for line in work.lines)
    assert isinstance(ride.say("why"), Information)
    for typed in ("if suction_pressure 50 psig", "picture", "soon"):
        assert isinstance(ride.say(typed), Rejected)
    assert ride.holds_back


def test_back_and_change_work_at_a_guess(ride: Session) -> None:
    """The last answer of the call is taken back; a guess made stays as it was made."""
    assert isinstance(ride.say("3"), Accepted)
    made = next(
        turn for turn in ride.shown.turns if isinstance(turn, Answered) and turn.prompt.key.topic is Topic.GUESS
    )
    assert isinstance(ride.change_turn(made), Rejected)
    assert isinstance(ride.say("back"), Accepted)
    assert ride.prompt is not None
    assert ride.prompt.name == "suction_line_temperature"


def test_a_change_does_not_tell_where_the_call_goes_now(ride: Session) -> None:
    """Another reading sends it elsewhere, and that is to be guessed first."""
    assert isinstance(ride.say("3"), Accepted)
    assert isinstance(ride.say("change suction_line_temperature"), Information)
    assert ride.say("45 F") == Accepted()
    assert ride.holds_back


def test_line_by_line_the_score_ends_the_call(small: Library, store: Store) -> None:
    """Each guess is asked, judged, and counted at the end."""
    lines: list[str] = []
    typed = iter((*ALL, "cannot tell"))
    run_plain(Session.begin(small, store, between=Guessing()), lambda: next(typed, None), lines.append)
    assert "* NOT SAID" in lines
    assert "* RIDING ALONG: the score" in lines
    assert "  0 of 1 numbers" in lines
    assert lines.index("* NOT SAID") < lines.index("UNDECIDED")


def test_without_riding_along_nothing_is_guessed(small: Library, store: Store) -> None:
    """The call as ever shows its numbers at once."""
    session = Session.begin(small, store)
    for reply in ALL:
        assert isinstance(session.say(reply), Accepted)
    assert session.prompt is None
    assert session.shown is session.conversation
    assert not any(isinstance(turn, Coached) for turn in session.shown.turns)


def test_another_value_is_tried_only_when_nothing_is_left_to_be_guessed(small: Library, store: Store) -> None:
    """Tried with the reading that is asked, it would work the number before the guess; at the end it may."""
    session = Session.begin(small, store, between=Guessing())
    for reply in ALL[:-1]:
        assert isinstance(session.say(reply), Accepted)
    refused = session.say("if suction_line_temperature 70 F")
    assert isinstance(refused, Rejected)
    assert refused.message.startswith("Riding along, other values are tried when the call has ended")
    for reply in (ALL[-1], "3"):
        assert isinstance(session.say(reply), Accepted)
    assert session.prompt is None
    assert isinstance(session.say("if suction_line_temperature 50 F"), Information)
