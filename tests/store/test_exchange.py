"""A call as a file: out, in, and out again the same; a file that is none is refused with its lines."""

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.call.answers import Written
from assistant.call.keys import Topic, entry_key
from assistant.call.library import Library
from assistant.catalogue.catalogue import Catalogue
from assistant.errors import FileError
from assistant.session.session import Session
from assistant.store.exchange import exported, imported
from assistant.store.store import Line, Note, Store
from assistant.store.times import now
from assistant.store.transcripts import Transcript, read_transcript, transcript_text
from tests.answering import written
from tests.call.small import small_library
from tests.session.test_session import ALL, NODES, say_all


@pytest.fixture
def small(catalogue: Catalogue) -> Library:
    return small_library(catalogue, NODES)


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with Store(tmp_path / "calls.db") as store:
        yield store


def taken_in(text: str, folder: Path, small: Library) -> tuple[Store, int]:
    """A fresh record with the call of a text."""
    file = folder / "call.yaml"
    file.write_text(text, encoding="utf-8")
    store = Store(folder / "other" / "calls.db")
    return store, imported(store, file, small)[0]


def test_a_call_goes_out_and_in_without_change(small: Library, store: Store, tmp_path: Path) -> None:
    """Answers, times, name, notes, trees and end: what was taken in is written out to the same bytes."""
    session = Session(small, store)
    say_all(session, *ALL)
    session.say("back")
    say_all(session, "75 F")
    assert session.number is not None
    store.rename(session.number, 'Lantern Street: "roof" # 2')
    store.add_note(session.number, "IMG_0231.jpg – oil – ölig 🙂")
    text = exported(store, session.number)
    other, number = taken_in(text, tmp_path, small)
    with other:
        assert exported(other, number) == text
        assert other.answers(number) == store.answers(session.number)
        assert other.notes(number) == store.notes(session.number)
        mine, theirs = store.entry(session.number), other.entry(number)
        assert (mine.name, mine.title, mine.status, mine.ending) == (
            theirs.name, theirs.title, theirs.status, theirs.ending,
        )  # fmt: skip
        assert mine.started == theirs.started
        assert Session.resume(small, other, number).conversation.turns == session.conversation.turns


def test_a_second_reading_without_its_first_stays_the_second(small: Library, store: Store, tmp_path: Path) -> None:
    """Where the first answer to a name was taken back, the file says that the other is number 2."""
    answers = (written("complaint", "x"), written("suction_pressure", "80 psig", 2))
    text = exported(store, store.add_call([Line(now(), "set", answer) for answer in answers]))
    assert "as number: 2" in text
    other, number = taken_in(text, tmp_path, small)
    with other:
        assert other.answers(number) == answers


def test_a_story_becomes_a_note_and_a_title_a_name(small: Library, tmp_path: Path) -> None:
    """A file written by hand may have neither times nor notes; what it tells is kept all the same."""
    text = "call: The cold room\nstory: A long day.\nanswers:\n  - complaint: not cold\n"
    store, number = taken_in(text, tmp_path, small)
    with store:
        assert store.entry(number).shown == "The cold room"
        assert store.entry(number).title == "not cold"
        assert [note.text for note in store.notes(number)] == ["A long day."]


def test_what_the_trees_do_not_ask_is_kept_and_said(small: Library, store: Store, tmp_path: Path) -> None:
    """Answers that no question waits for stay with the call; and that is told."""
    file = tmp_path / "call.yaml"
    start = "answers:\n  - complaint: not cold\n  - tree: small\n  - filter_condition: "
    file.write_text(start + "clogged\n  - suction_pressure: 70 psig\n", encoding="utf-8")
    number, told = imported(store, file, small)
    assert "Suction pressure" in told[0]
    assert store.answers(number)[-1].text == "70 psig"


def test_imported_answers_are_kept_as_if_typed_or_refused(small: Library, store: Store, tmp_path: Path) -> None:
    """A bare number gets its unit, a choice its name; what cannot be read is told, and nothing of the call is kept."""
    file = tmp_path / "call.yaml"
    start = "answers:\n  - complaint: not cold\n  - tree: small\n"
    file.write_text(start + "  - filter_condition: Clogged\n  - suction_pressure: '70'\n", encoding="utf-8")
    number, _ = imported(store, file, small)
    assert [answer.text for answer in store.answers(number)][2:] == ["clogged", "70 psig"]
    file.write_text(start + "  - filter_condition: purple\n", encoding="utf-8")
    with pytest.raises(FileError, match="nothing of it is kept"):
        imported(store, file, small)
    assert len(store.entries()) == 1


WRONG = [
    ("answers: warm\n", 1, "answers:"),
    ("- complaint: warm\n", 1, "answers:"),
    ("answers:\n  - complaint: warm\ncolour: red\n", 3, "the keys are call"),
    ("answers:\n  - complaint\n", 2, "- name: text"),
    ("answers:\n  - complaint: [a, b]\n", 2, "complaint: text"),
    ("answers:\n  - complaint: warm\n    when: today\n", 2, "- name: text"),
    ("answers:\n  - complaint: warm\n    answered at: today\n", 3, "2026-07-14T08:05:00+00:00"),
    ("answers:\n  - complaint: warm\n    answered at: 2026-07-14T08:05:00\n", 3, "with a zone"),
    ("answers:\n  - complaint: warm\n    as number: -1\n", 3, "as number: 2"),
    ("answers:\n  - a: b\n  - a: c\n    as number: 1\n", 3, "keep one"),
    (f"answers:\n  - complaint: {'x' * 3000}\n", 2, "2000 characters"),
    ("answers:\n  - a: b\nnotes: words\n", 3, "- note: text"),
    ("answers:\n  - a: b\nnotes:\n  - note: words\n", 4, "written at:"),
    ("answers:\n  - a: b\ncall: [x]\n", 3, "call: text"),
    ("answers:\n  - a: b\nbegun: yesterday\n", 3, "2026-07-14T08:05:00+00:00"),
    ("answers:\n  - a: *b\n", 2, "write it out"),
]


@pytest.mark.parametrize(("text", "line", "hint"), WRONG)
def test_a_file_that_is_no_call_is_refused(
    small: Library, store: Store, tmp_path: Path, text: str, line: int, hint: str
) -> None:
    """The line is named and what to write there; nothing is kept."""
    file = tmp_path / "call.yaml"
    file.write_text(text, encoding="utf-8")
    with pytest.raises(FileError) as caught:
        imported(store, file, small)
    assert f"call.yaml:{line}" in str(caught.value)
    assert hint in str(caught.value)
    assert store.entries() == []


@pytest.mark.parametrize("content", [b"\xff\xfe\x00garbage", b"", b"%PDF-1.7 ...", b"{" * 100, b"\x00" * 50])
def test_garbage_is_refused(small: Library, store: Store, tmp_path: Path, content: bytes) -> None:
    """Whatever a file holds, it is told and nothing is kept."""
    file = tmp_path / "call.yaml"
    file.write_bytes(content)
    with pytest.raises(FileError, match=r"call\.yaml"):
        imported(store, file, small)
    assert store.entries() == []


def test_a_file_that_is_not_there_is_said(small: Library, store: Store, tmp_path: Path) -> None:
    """The path is named."""
    with pytest.raises(FileError, match=r"nowhere\.yaml"):
        imported(store, tmp_path / "nowhere.yaml", small)


_PRINTED = st.characters(exclude_categories=["C", "Z"]) | st.just(" ")
# No entry of a catalogue is called as what else a call answers.
_NAMES = st.text(_PRINTED, min_size=1, max_size=20).filter(lambda name: name not in set(Topic))
_TIMES = st.datetimes(datetime(2000, 1, 1), datetime(2100, 1, 1), timezones=st.just(UTC))


@given(
    st.dictionaries(
        st.tuples(_NAMES, st.integers(1, 9)),
        st.tuples(st.text(_PRINTED, max_size=40), st.none() | _TIMES),
        min_size=1,
        max_size=6,
    ),
    st.lists(st.tuples(st.text(_PRINTED, min_size=1, max_size=40), _TIMES), max_size=3),
)
def test_any_call_is_read_as_it_was_written(
    tmp_path_factory: pytest.TempPathFactory,
    book: dict[tuple[str, int], tuple[str, datetime | None]],
    notes: list[tuple[str, datetime]],
) -> None:
    """Any names, numbers, texts, times and notes survive the file."""
    answers = tuple(Written(entry_key(name, nth), text) for (name, nth), (text, _) in sorted(book.items()))
    times = {entry_key(*key): time for key, (_, time) in book.items() if time is not None}
    call = Transcript("t", "", answers, None, times, tuple(Note(at, text) for text, at in notes), "tree 1", "end")
    file = tmp_path_factory.mktemp("call") / "call.yaml"
    file.write_text(transcript_text(call), encoding="utf-8")
    again = read_transcript(file)
    assert sorted(again.answers, key=lambda answer: answer.key) == list(answers)
    assert again.times == times
    assert again.notes == call.notes
    assert transcript_text(again) == transcript_text(call)


@pytest.mark.parametrize(
    "time",
    [
        "0001-01-01T00:00:00+00:00",
        "9999-12-31T23:59:59-12:00",
        "0001-01-01T00:00:00+14:00",
        "2026-07-14T08:05:00",
        "2300-01-01T00:00:00+00:00",
        "1900-01-01T00:00:00+00:00",
    ],
)
def test_a_time_beyond_the_calendar_is_refused(tmp_path: Path, time: str) -> None:
    """One imported file must not make the list unreadable."""
    for place in (f"begun: {time}\n", f"notes:\n  - note: x\n    written at: {time}\n"):
        file = tmp_path / "call.yaml"
        file.write_text(f"answers:\n  - complaint: not cold\n{place}", encoding="utf-8")
        with pytest.raises(FileError, match="no time with a zone"):
            read_transcript(file)
