"""Finding calls again: names, notes, words, days, and the trees that a call was worked with."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from assistant.errors import NoCallError
from assistant.store.store import Line, Note, Search, Store
from assistant.store.tables import FORMAT, bring_up, version_of
from assistant.store.times import now
from tests.answering import written

FILTER = written("filter_condition", "clean")


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with Store(tmp_path / "calls.db") as store:
        yield store


def kept(store: Store, title: str, ending: str = "", name: str = "", days_ago: int = 0) -> int:
    """A call with one answer, as a list would show it."""
    at = now() - timedelta(days=days_ago)
    number = store.add_call([Line(at, "set", FILTER)], name)
    store.describe(number, title, "ended" if ending else "open", ending)
    return number


def found(store: Store, *words: str, **more: object) -> set[int]:
    """The numbers of the calls that a search finds."""
    return {entry.number for entry in store.entries(search=Search(words=words, **more))}  # type: ignore[arg-type]


def test_all_words_must_be_there_wherever_they_stand(store: Store) -> None:
    """Complaint, name, ending and notes are looked through together, in any case and in any alphabet."""
    one = kept(store, "not cooling enough", "Too little refrigerant", "Lantern Street")
    two = kept(store, "not cooling", "", "Café Ölmühle")
    store.add_note(two, "photo IMG_0231.jpg: oil at the flare nut")
    assert found(store, "cooling") == {one, two}
    assert found(store, "REFRIGERANT", "lantern") == {one}
    assert found(store, "img_0231", "not") == {two}
    assert found(store, "ÖLMÜHLE") == {two}
    assert found(store, "cooling", "zeppelin") == set()


@pytest.mark.parametrize("word", ["%", "_", "'", '"', "\\", "*", "x' OR 1=1 --"])
def test_a_word_is_never_a_pattern(store: Store, word: str) -> None:
    """Marks that a database knows find only themselves."""
    plain, marked = kept(store, "warm"), kept(store, f"warm {word} air")
    assert found(store, word) == {marked}
    assert found(store, "warm") == {plain, marked}


def test_open_ended_and_since_narrow_a_search(store: Store) -> None:
    """A call is found by how it stands and by the day of its last change."""
    old, fresh = kept(store, "warm", days_ago=40), kept(store, "warm", "Undercharge", days_ago=2)
    assert found(store, status="open") == {old}
    assert found(store, "warm", status="ended") == {fresh}
    assert found(store, since=datetime.now(UTC) - timedelta(days=7)) == {fresh}
    assert store.count(Search(words=("warm",))) == 2
    assert len(store.entries(most=1)) == 1


def test_a_name_stands_in_place_of_the_complaint(store: Store) -> None:
    """A call is shown by its own name, and by its complaint again when the name is taken away."""
    number = kept(store, "not cooling")
    store.rename(number, "Lantern Street, rooftop 2")
    assert store.entry(number).shown == "Lantern Street, rooftop 2"
    assert store.entry(number).title == "not cooling"
    store.rename(number, "")
    assert store.entry(number).shown == "not cooling"


def test_notes_are_kept_in_order_with_their_times(store: Store) -> None:
    """Each note has its time; a call without one has none; deleting the call deletes them."""
    number, other = kept(store, "warm"), kept(store, "ice")
    begun = now()
    store.add_note(number, "first")
    store.add_note(number, "IMG_0231.jpg")
    assert [note.text for note in store.notes(number)] == ["first", "IMG_0231.jpg"]
    assert begun <= store.notes(number)[0].at <= now()
    assert store.notes(other) == ()
    store.delete(number)
    with closing(sqlite3.connect(store.path)) as file:
        assert file.execute("SELECT count(*) FROM note").fetchone() == (0,)


@pytest.mark.parametrize("deed", ["rename", "add_note", "delete"])
def test_what_concerns_no_call_is_refused(store: Store, deed: str) -> None:
    """A wrong number changes nothing and says where to look."""
    arguments = (7,) if deed == "delete" else (7, "text")
    with pytest.raises(NoCallError, match="calls list"):
        getattr(store, deed)(*arguments)


def test_a_call_is_kept_whole_or_not_at_all(store: Store) -> None:
    """When one of its lines does not fit, nothing of a new call is there."""
    lines = [Line(now(), "set", FILTER), Line(now(), "lost", FILTER)]  # type: ignore[arg-type]
    with pytest.raises(Exception, match="could not be written"):
        store.add_call(lines, "name", [Note(now(), "note")])
    assert store.entries() == []


def test_a_record_of_the_first_format_goes_on(tmp_path: Path) -> None:
    """A file of an earlier version keeps every call and answer, and takes names and notes from then on."""
    path = tmp_path / "calls.db"
    with closing(sqlite3.connect(path, isolation_level=None)) as old:
        old.executescript(
            """
            CREATE TABLE call (id INTEGER PRIMARY KEY AUTOINCREMENT, started TEXT NOT NULL, changed TEXT NOT NULL,
                title TEXT NOT NULL DEFAULT '', status TEXT NOT NULL DEFAULT 'open', ending TEXT NOT NULL DEFAULT '')
                STRICT;
            CREATE TABLE line (id INTEGER PRIMARY KEY AUTOINCREMENT,
                call INTEGER NOT NULL REFERENCES call (id) ON DELETE CASCADE, at TEXT NOT NULL,
                deed TEXT NOT NULL CHECK (deed IN ('set', 'drop')), name TEXT NOT NULL, nth INTEGER NOT NULL,
                text TEXT NOT NULL) STRICT;
            CREATE INDEX line_by_call ON line (call, id);
            CREATE INDEX call_by_change ON call (changed);
            INSERT INTO call (started, changed, title) VALUES ('2026-01-02T03:04:05.678+00:00',
                '2026-01-02T03:04:05.678+00:00', 'not cooling');
            INSERT INTO line (call, at, deed, name, nth, text) VALUES (1, '2026-01-02T03:04:05.678+00:00', 'set',
                'filter_condition', 1, 'clean');
            PRAGMA user_version = 1;
            """
        )
    with Store(path) as store:
        assert store.answers(1) == (FILTER,)
        assert (store.entry(1).shown, store.entry(1).edition) == ("not cooling", "")
        store.add_note(1, "later")
        store.rename(1, "named")
        assert [entry.shown for entry in store.entries()] == ["named"]


def test_two_programs_bring_a_file_up_once(tmp_path: Path) -> None:
    """The second of two that open an old file at once finds it done."""
    path = tmp_path / "calls.db"
    with Store(path), closing(sqlite3.connect(path, isolation_level=None)) as other:
        bring_up(other)
        assert version_of(other) == FORMAT
