"""One call in two windows, and what a session does when the record cannot be written."""

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import replace
from pathlib import Path

import pytest

from assistant.call.library import Library
from assistant.catalogue.catalogue import Catalogue
from assistant.errors import ChangedElsewhereError, StoreError
from assistant.session.session import Accepted, Session
from assistant.store.store import Store
from tests.answering import written
from tests.call.small import small_library
from tests.session.test_session import NODES, say_all


@pytest.fixture
def small(catalogue: Catalogue) -> Library:
    return small_library(catalogue, NODES)


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with Store(tmp_path / "calls.db") as store:
        yield store


@pytest.fixture
def other(tmp_path: Path) -> Iterator[Store]:
    """The same record, opened by another program."""
    with Store(tmp_path / "calls.db") as store:
        yield store


def begun(small: Library, store: Store) -> Session:
    """A call up to its first observation."""
    session = Session(small, store)
    say_all(session, "not cold", "")
    return session


def second_version(library: Library) -> Library:
    """The library with its tree one version on."""
    return Library(library.catalogue, {"small": replace(library.trees["small"], version=2)})


def test_a_reply_to_a_call_that_was_changed_elsewhere_is_not_taken(small: Library, store: Store, other: Store) -> None:
    """The second window shows the call as it stands, says so, and its next reply counts."""
    one = begun(small, store)
    assert one.number is not None
    two = Session.resume(small, other, one.number)
    say_all(one, "clean")
    response = two.say("clogged")
    assert isinstance(response, Accepted)
    assert "another window" in response.notices[0]
    assert two.conversation.turns == one.conversation.turns
    assert [answer.text for answer in store.answers(one.number)] == ["not cold", "small", "clean"]
    say_all(two, "70 psig")
    assert other.answers(one.number)[-1].text == "70 psig"


@pytest.mark.parametrize("word", ["back", "instruments gauges 1 psi"])
def test_so_is_a_word_that_would_change_it(small: Library, store: Store, other: Store, word: str) -> None:
    """Back, and telling the instruments, do not undo what another window has done."""
    one = begun(small, store)
    assert one.number is not None
    two = Session.resume(small, other, one.number)
    say_all(one, "clean")
    assert isinstance(two.say(word), Accepted)
    assert [answer.text for answer in store.answers(one.number)] == ["not cold", "small", "clean"]


def test_the_record_itself_refuses_a_line_behind_another(small: Library, store: Store) -> None:
    """A line that counts on an earlier state of the call is not written."""
    session = begun(small, store)
    assert session.number is not None
    answer = store.answers(session.number)[0]
    with pytest.raises(ChangedElsewhereError):
        store.record(session.number, "set", answer, after=store.last_line(session.number) - 1)
    assert len(store.lines(session.number)) == 2


def test_a_call_that_was_deleted_elsewhere_is_kept_anew(small: Library, store: Store, other: Store) -> None:
    """What was answered in the open window is not lost with it: the next answer keeps all of them as a new call."""
    session = begun(small, store)
    old = session.number
    assert old is not None
    other.delete(old)
    say_all(session, "clean")
    assert session.number not in (None, old)
    assert session.number is not None
    assert [answer.text for answer in other.answers(session.number)] == ["not cold", "small", "clean"]
    assert [entry.title for entry in other.entries()] == ["not cold"]


def test_an_answer_counts_though_the_list_could_not_be_set(
    small: Library, store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What is on disk is not asked again; the list is set right with the next answer."""
    session = begun(small, store)
    assert session.number is not None

    def full(*_: object) -> None:
        raise StoreError("the disk is full")

    with monkeypatch.context() as patch:
        patch.setattr(store, "describe", full)
        say_all(session, "clogged")
    assert session.conversation.ended
    assert store.entry(session.number).status == "open"
    session.say("back")
    say_all(session, "clogged")
    assert store.entry(session.number).status == "ended"


def test_the_first_answer_is_kept_with_its_call_or_not_at_all(small: Library, store: Store) -> None:
    """When the disk is full at the first answer, no empty call is left, and the answer can be given again."""
    session = Session(small, store)
    other = store.new_call()
    pages = store._db.execute("PRAGMA page_count").fetchone()[0]
    store._db.execute(f"PRAGMA max_page_count = {pages + 1}")
    with suppress(StoreError):
        for nth in range(1, 1000):
            store.record(other, "set", written("filter_condition", "x" * 100, nth))
    with pytest.raises(StoreError, match="disk is full"):
        session.say("y" * 1900)
    assert session.number is None
    assert [entry.number for entry in store.entries()] == [other]
    store._db.execute("PRAGMA max_page_count = 1000000")
    say_all(session, "not cold")
    assert store.entries()[0].title == "not cold"


def test_changed_trees_are_said_on_picking_up(catalogue: Catalogue, store: Store) -> None:
    """The edition of the trees is kept with the call; a changed one is named, and the answers stay."""
    session = begun(small_library(catalogue, NODES), store)
    assert session.number is not None
    assert store.entry(session.number).edition == "small 1"
    say_all(session, "clogged")
    same = Session.resume(session.library, store, session.number)
    assert same.news == ()
    newer = second_version(small_library(catalogue, NODES.replace("choked: {undecided", "choked: {no_fault")))
    again = Session.resume(newer, store, session.number)
    assert "small 1" in again.news[0]
    assert "small 2" in again.news[0]
    assert "ended with: undecided. Now it ends with: no fault found" in again.news[0]
    assert again.answers == session.answers


def test_the_next_answer_takes_the_new_trees(catalogue: Catalogue, store: Store) -> None:
    """Once an answer was given with them, the changed trees are those of the call."""
    session = begun(small_library(catalogue, NODES), store)
    assert session.number is not None
    newer = second_version(small_library(catalogue, NODES))
    again = Session.resume(newer, store, session.number)
    assert again.news
    say_all(again, "clean")
    assert Session.resume(newer, store, session.number).news == ()
