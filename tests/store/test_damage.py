"""A damaged record: nothing is overwritten, a call can be begun all the same, and what can be read is saved."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from assistant.errors import DamagedError, StoreError
from assistant.store.aside import set_aside
from assistant.store.opening import open_or_begin, save_into
from assistant.store.soundness import find_damage
from assistant.store.store import Line, Note, Store
from assistant.store.tables import FORMAT, mark_of
from assistant.store.times import now
from tests.answering import written

FILTER = written("filter_condition", "clean")
GARBAGE = [b"this is no database at all\n" * 100, b"SQLite format 3\x00" + b"\xff" * 5000]
PAGE = 4096


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "home" / "calls.db"


def filled(path: Path, calls: int = 40) -> None:
    """A record of some calls, moved wholly into its file."""
    with Store(path) as store:
        for count in range(calls):
            answers = [written(f"answer_{number}", f"{count} psig" * 20) for number in range(30)]
            number = store.add_call([Line(now(), "set", answer) for answer in answers], f"call {count}")
            store.describe(number, f"complaint {count}", "ended", "Undercharge", "tree 1")
            store.add_note(number, f"note {count}")


def spoil(path: Path, pages: range) -> None:
    """Overwrite pages of a file, counted from 1."""
    with path.open("r+b") as file:
        for page in pages:
            file.seek((page - 1) * PAGE)
            file.write(b"\xa5" * PAGE)


@pytest.mark.parametrize("content", GARBAGE)
def test_a_damaged_record_is_set_aside_and_said(path: Path, content: bytes) -> None:
    """A call can be begun in a fresh record; the old file is there byte for byte under a name with the time."""
    path.parent.mkdir()
    path.write_bytes(content)
    opened = open_or_begin(path)
    with opened.store as store:
        store.record(store.new_call(), "set", FILTER)
    (aside,) = path.parent.glob("calls-damaged-*.db")
    assert aside.read_bytes() == content
    assert len(opened.told) == 1
    assert aside.name in opened.told[0]
    assert "calls mend" in opened.told[0]


def test_a_sound_record_is_only_opened(path: Path) -> None:
    """Nothing is said and nothing set aside."""
    filled(path, 1)
    opened = open_or_begin(path)
    with opened.store as store:
        assert len(store.entries()) == 1
    assert opened.told == ()
    assert list(path.parent.glob("*damaged*")) == []


@pytest.mark.parametrize("content", GARBAGE)
def test_what_lies_beside_a_damaged_record_goes_with_it(path: Path, content: bytes) -> None:
    """SQLite keeps fresh answers in a second file; beside a fresh record it would be taken for a part of that."""
    path.parent.mkdir()
    path.write_bytes(content)
    path.with_name("calls.db-wal").write_bytes(b"the last answers")
    open_or_begin(path).store.close()
    (aside,) = path.parent.glob("calls-damaged-*.db")
    assert aside.with_name(aside.name + "-wal").read_bytes() == b"the last answers"
    assert not path.with_name("calls.db-wal").exists()


def test_two_damaged_records_in_one_second_do_not_meet(path: Path) -> None:
    """A name that is taken is not taken again."""
    path.parent.mkdir()
    names = set()
    for content in (b"one", b"two", b"three"):
        path.write_bytes(content)
        names.add(set_aside(path))
    assert sorted(name.read_bytes() for name in names) == [b"one", b"three", b"two"]


@pytest.mark.parametrize("kind", ["newer", "other program"])
def test_what_is_not_damaged_is_not_set_aside(path: Path, kind: str) -> None:
    """A record of a newer version and the data of another program are refused where they lie."""
    path.parent.mkdir()
    with closing(sqlite3.connect(path)) as other:
        other.execute("CREATE TABLE invoices (id INTEGER)" if kind == "other program" else "CREATE TABLE call (id)")
        other.execute(f"PRAGMA user_version = {FORMAT + 1 if kind == 'newer' else 0}")
        other.execute(f"PRAGMA application_id = {mark_of(FORMAT + 1)}")
    before = path.read_bytes()
    with pytest.raises(StoreError, match="left as it is") as caught:
        open_or_begin(path)
    assert not isinstance(caught.value, DamagedError)
    assert path.read_bytes() == before
    assert [file.name for file in path.parent.iterdir()] == ["calls.db"]


def test_damage_found_later_says_what_to_do(path: Path) -> None:
    """Where the pages of the answers are spoilt, the list still shows, and reading a call names the way out."""
    filled(path)
    with closing(sqlite3.connect(path)) as file:
        (root,) = file.execute("SELECT rootpage FROM sqlite_schema WHERE name = 'line_by_call'").fetchone()
    spoil(path, range(root, root + 1))
    with Store.to_read(path) as store:
        assert len(store.entries()) == 40
        with pytest.raises(DamagedError, match="calls mend"):
            store.answers(1)
    assert find_damage(path)
    with pytest.raises(DamagedError, match="left as it is"):
        Store(path)


def test_what_can_be_read_is_saved(path: Path, tmp_path: Path) -> None:
    """An index that is spoilt loses no call; answers, names, notes and what the list shows come over."""
    filled(path)
    with closing(sqlite3.connect(path)) as file:
        (root,) = file.execute("SELECT rootpage FROM sqlite_schema WHERE name = 'line_by_call'").fetchone()
    spoil(path, range(root, root + 1))
    before = path.read_bytes()
    with Store(tmp_path / "fresh.db") as store:
        saved = save_into(store, path)
        assert (saved.calls, saved.lost) == (40, 0)
        last = store.entries()[0]
        assert (last.name, last.title, last.ending, last.edition) == (
            "call 39",
            "complaint 39",
            "Undercharge",
            "tree 1",
        )
        assert len(store.answers(last.number)) == 30
        assert [note.text for note in store.notes(last.number)] == ["note 39"]
    assert path.read_bytes() == before


def test_a_call_that_cannot_be_read_whole_is_saved_in_part(path: Path, tmp_path: Path) -> None:
    """Where answers themselves are spoilt, all others are saved, and it is told which calls are not whole."""
    filled(path)
    pages = path.stat().st_size // PAGE
    spoil(path, range(pages * 2 // 3, pages * 2 // 3 + 3))
    with Store(tmp_path / "fresh.db") as store:
        saved = save_into(store, path)
        assert (saved.all, saved.lost) == (40, 0)
        assert 20 <= saved.calls < 40
        whole = [entry for entry in store.entries() if len(store.answers(entry.number)) == 30]
        assert len(whole) == saved.calls


def test_nothing_at_all_can_be_saved_of_garbage(path: Path, tmp_path: Path) -> None:
    """A file that never was a record gives no call and no error; one that is not there is said."""
    path.parent.mkdir()
    path.write_bytes(GARBAGE[0])
    with Store(tmp_path / "fresh.db") as store:
        assert save_into(store, path).calls == 0
        with pytest.raises(StoreError, match="no file"):
            save_into(store, tmp_path / "nowhere.db")


def test_notes_of_a_damaged_record_keep_their_time(path: Path, tmp_path: Path) -> None:
    """A note is saved with the time when it was written."""
    with Store(path) as store:
        number = store.add_call([Line(now(), "set", FILTER)], notes=[Note(now(), "old")])
        note = store.notes(number)[0]
    with Store(tmp_path / "fresh.db") as store:
        save_into(store, path)
        assert store.notes(1) == (note,)
