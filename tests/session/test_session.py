"""A call in progress: what each reply does to the conversation and to the record, in step."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from assistant.call.keys import entry_key
from assistant.call.library import Library
from assistant.call.prompts import AskChoice
from assistant.call.turns import Answered
from assistant.catalogue.catalogue import Catalogue
from assistant.errors import StoreError
from assistant.session.session import Accepted, Information, Leave, Rejected, Session
from assistant.store.store import Store
from tests.answering import kept, written
from tests.call.small import small_library

NODES = """
first:
  ask: filter_condition
  why: A choked filter is seen without a gauge.
  decide:
    - when: filter_condition is clogged
      go: choked
    - cannot_tell: second
    - otherwise: second
second:
  do: wait_settled
  measure_again: suction_pressure
  decide:
    - when: change(suction_pressure) > 3 psi and superheat > 10 F
      go: answers
    - cannot_tell: open_end
    - otherwise: open_end
choked: {undecided: Choked.}
answers: {undecided: It answers.}
open_end: {undecided: It cannot be told.}
"""
ALL = ("not cold", "", "clean", "70 psig", "done", "80 psig", "R-22", "70 F")


@pytest.fixture
def small(catalogue: Catalogue) -> Library:
    return small_library(catalogue, NODES)


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with Store(tmp_path / "calls.db") as store:
        yield store


def say_all(session: Session, *replies: str) -> None:
    """Type replies that are all answers."""
    for reply in replies:
        assert isinstance(session.say(reply), Accepted), (reply, session.prompt)


def test_every_accepted_answer_is_on_disk_before_the_next_prompt(small: Library, tmp_path: Path) -> None:
    """After each reply a second connection finds exactly the answers that the conversation stands on."""
    with Store(tmp_path / "calls.db") as store, Store(tmp_path / "calls.db") as other:
        session = Session(small, store)
        for count, reply in enumerate(ALL, start=1):
            say_all(session, reply)
            assert session.number is not None
            assert other.answers(session.number) == kept(session.conversation.used)
            assert len(other.answers(session.number)) == count
        assert session.conversation.ended


def test_nothing_is_written_before_the_first_answer(small: Library, store: Store) -> None:
    """Opening the chat and leaving it again keeps no empty call."""
    session = Session(small, store)
    assert isinstance(session.say("help"), Information)
    assert isinstance(session.say("quit"), Leave)
    assert session.number is None
    assert store.entries() == []


def test_an_answer_that_cannot_be_written_does_not_count(small: Library, store: Store) -> None:
    """When the record refuses, the conversation stands where it was, and the same reply works later."""
    session = Session(small, store)
    say_all(session, *ALL[:2])
    before = session.conversation
    store._db.execute("PRAGMA query_only = ON")
    with pytest.raises(StoreError, match="could not be written"):
        session.say("clean")
    assert session.conversation is before
    store._db.execute("PRAGMA query_only = OFF")
    say_all(session, *ALL[2:])
    assert session.number is not None
    assert store.answers(session.number) == kept(session.conversation.used)


def test_a_rejected_reply_changes_nothing(small: Library, store: Store) -> None:
    """Garbage is answered; neither the conversation nor the record moves."""
    session = Session(small, store)
    say_all(session, *ALL[:3])
    before, lines = session.conversation, store.lines(1)
    assert isinstance(session.say("lots"), Rejected)
    assert session.conversation is before
    assert store.lines(1) == lines


def test_back_takes_the_last_answer_and_is_a_line(small: Library, store: Store) -> None:
    """Back asks the last question again and is written as a line of its own."""
    session = Session(small, store)
    say_all(session, *ALL[:4])
    assert session.conversation.prompt is not None
    assert isinstance(session.say("back"), Accepted)
    assert session.conversation.prompt.name == "suction_pressure"
    assert [line.deed for line in store.lines(1)] == ["set"] * 4 + ["drop"]
    say_all(session, "72 psig")
    assert store.answers(1) == kept(session.conversation.used)


def test_back_can_be_said_to_the_beginning(small: Library, store: Store) -> None:
    """Back leads through every answer to the complaint, and then says that there is nothing left."""
    session = Session(small, store)
    say_all(session, *ALL)
    names = []
    while isinstance(session.say("back"), Accepted):
        assert session.prompt is not None
        names.append(session.prompt.name)
    assert names == [
        "suction_line_temperature", "refrigerant", "suction_pressure", "do wait_settled @ second", "suction_pressure",
        "filter_condition", "tree", "complaint",
    ]  # fmt: skip
    assert session.conversation.used == ()
    assert isinstance(session.say("back"), Rejected)


def test_back_does_not_put_a_later_reading_in_the_place_of_an_earlier(small: Library, store: Store) -> None:
    """A second reading that was put aside stays aside when the first one is taken back."""
    session = Session(small, store)
    say_all(session, *ALL)
    session.say("change do wait_settled @ second")
    say_all(session, "cannot do")
    assert [answer.key for answer in session.conversation.unused] == [
        entry_key("suction_pressure", 2), entry_key("refrigerant"), entry_key("suction_line_temperature"),
    ]  # fmt: skip
    for _ in range(2):
        session.say("back")
    assert session.prompt is not None
    assert session.prompt.name == "suction_pressure"
    assert session.conversation.prompt.key.nth == 1


def test_change_asks_again_and_is_a_line(small: Library, store: Store) -> None:
    """Change puts the earlier question up, shows what it was, and the new answer is one more line."""
    session = Session(small, store)
    say_all(session, *ALL[:5])
    shown = session.say("change filter condition")
    assert isinstance(shown, Information)
    assert "It was: clean" in shown.lines[0]
    assert isinstance(session.prompt, AskChoice)
    say_all(session, "dirty")
    assert session.conversation.prompt is not None
    assert session.conversation.prompt.name == "suction_pressure"
    assert store.lines(1)[-1].answer == written("filter_condition", "dirty")
    assert len(store.lines(1)) == 6


def test_an_empty_change_leaves_the_answer(small: Library, store: Store) -> None:
    """Enter alone while changing keeps the answer as it was, whatever the prompt's usual answer is."""
    session = Session(small, store)
    for reply in ALL[:3]:
        session.say(reply)
    before = session.answers
    session.say("change filter_condition")
    assert isinstance(session.say("  "), Accepted)
    assert session.changing is None
    assert session.answers == before


def test_change_tells_what_is_no_longer_asked(small: Library, store: Store) -> None:
    """When a correction sends the call another way, what is put aside is named."""
    session = Session(small, store)
    say_all(session, *ALL[:5])
    session.say("change filter_condition")
    response = session.say("clogged")
    assert isinstance(response, Accepted)
    assert response.notices == (
        'At "air filter" the call now goes to "left undecided", not to "let it settle".',
        "No longer asked on this way, and kept aside: Suction pressure, let it settle, at let it settle.",
    )
    assert store.answers(1)[-1].name == "do wait_settled @ second"


def test_change_takes_the_last_of_several(small: Library, store: Store) -> None:
    """Of two readings of one name the later one is changed."""
    session = Session(small, store)
    say_all(session, *ALL)
    session.say("change suction pressure")
    say_all(session, "70.5 psig")
    texts = [turn.answer.text for turn in session.conversation.turns if isinstance(turn, Answered)]
    assert texts[3:6] == ["70 psig", "done", "70.5 psig"]


def test_back_leaves_a_change_undone(small: Library, store: Store) -> None:
    """Back while changing leaves the answer as it was and writes nothing."""
    session = Session(small, store)
    say_all(session, *ALL[:5])
    before = session.conversation
    session.say("change filter_condition")
    response = session.say("back")
    assert isinstance(response, Accepted)
    assert response.notices == ("The answer stays as it was.",)
    assert session.conversation is before
    assert len(store.lines(1)) == 5


def test_change_of_an_unknown_name_names_a_near_one(small: Library, store: Store) -> None:
    """A slip in the name is answered with the name that was probably meant."""
    session = Session(small, store)
    say_all(session, *ALL[:3])
    response = session.say("change filter_conditon")
    assert isinstance(response, Rejected)
    assert "filter_condition" in response.message


def test_why_answers_and_work_only_tell(small: Library, store: Store) -> None:
    """Asking the assistant something changes neither the conversation nor the record."""
    session = Session(small, store)
    say_all(session, *ALL[:2])
    why = session.say("why")
    assert isinstance(why, Information)
    assert why.lines[0] == "A choked filter is seen without a gauge."
    assert why.lines[-1].startswith("How: ")
    say_all(session, *ALL[2:])
    work = session.say("work superheat")
    assert isinstance(work, Information)
    assert work.lines[0].startswith("Superheat at the outdoor unit = ")
    answers = session.say("answers")
    assert isinstance(answers, Information)
    assert "suction_pressure: 80 psig" in answers.lines
    assert isinstance(session.say("work subcoolin"), Rejected)
    assert len(store.lines(1)) == len(ALL)


@pytest.mark.parametrize("word", ["quit", "q", "exit"])
def test_after_the_end_commands_still_work(small: Library, store: Store, word: str) -> None:
    """A call that has ended can be left, taken back and corrected; anything else is told so."""
    session = Session(small, store)
    say_all(session, "not cold", "", "clogged")
    assert session.conversation.ended
    assert isinstance(session.say("thanks"), Rejected)
    assert isinstance(session.say(word), Leave)
    assert isinstance(session.say("undo"), Accepted)
    assert not session.conversation.ended


def test_the_list_follows_the_call(small: Library, store: Store) -> None:
    """The list shows the complaint from the first answer on, and the ending when there is one."""
    session = Session(small, store)
    say_all(session, "not cold at all")
    assert store.entry(1).title == "not cold at all"
    assert store.entry(1).status == "open"
    say_all(session, "", "clogged")
    assert (store.entry(1).status, store.entry(1).ending) == ("ended", "undecided")
    session.say("back")
    assert (store.entry(1).status, store.entry(1).ending) == ("open", "")
    session.say("change complaint")
    say_all(session, "warm air")
    assert store.entry(1).title == "warm air"


def test_resume_gives_the_same_conversation(small: Library, store: Store) -> None:
    """Picked up at any point, a call stands exactly where it was."""
    session = Session(small, store)
    for reply in ALL:
        say_all(session, reply)
        again = Session.resume(small, store, 1)
        assert again.conversation.turns == session.conversation.turns
        assert again.conversation.prompt == session.conversation.prompt
        assert again.conversation.outcome == session.conversation.outcome


def test_resume_after_back_and_change_gives_the_same(small: Library, store: Store) -> None:
    """What was taken back or corrected is so after picking up too."""
    session = Session(small, store)
    say_all(session, *ALL[:5])
    session.say("back")
    session.say("change suction_pressure")
    say_all(session, "71 psig")
    again = Session.resume(small, store, 1)
    assert again.conversation.turns == session.conversation.turns
    assert again.answers == session.answers


def test_a_resumed_call_goes_on_where_the_catalogue_still_fits(small: Library, store: Store) -> None:
    """A stored answer that fits no more stops the call there; a new answer replaces it and the rest is taken up."""
    number = store.new_call()
    stored = [written("complaint", "x"), written("tree", "small"), written("filter_condition", "furry"),
              written("suction_pressure", "70 psig")]  # fmt: skip
    for answer in stored:
        store.record(number, "set", answer)
    session = Session.resume(small, store, number)
    assert session.prompt is not None
    assert session.prompt.name == "filter_condition"
    say_all(session, "clean")
    assert session.prompt.name == "do wait_settled @ second"
