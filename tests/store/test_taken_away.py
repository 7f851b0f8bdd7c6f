"""What else may become of a record: taken away, locked, read-only, no file at all, with one bad byte in it."""

import os
import shutil
import sqlite3
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable
from contextlib import closing, suppress
from datetime import UTC, datetime
from pathlib import Path

import pytest

from assistant.call.library import Library
from assistant.call.loading import load_library
from assistant.errors import DamagedError, LockedError, StoreError
from assistant.session.responses import Accepted
from assistant.session.session import Session
from assistant.store import aside
from assistant.store.exchange import exported
from assistant.store.opening import mend, open_or_begin, save_into
from assistant.store.soundness import PARTS, find_damage, is_seen
from assistant.store.store import Line, Note, Store
from assistant.store.times import UNKNOWN, now
from tests.answering import kept as as_kept
from tests.answering import written
from tests.cli.lines import REPLIES, folder_of_small
from tests.soak.damaged_files import run as damaged

FILTER = written("filter_condition", "clean")


@pytest.fixture(scope="module")
def library(tmp_path_factory: pytest.TempPathFactory) -> Library:
    return load_library(folder_of_small(tmp_path_factory.mktemp("small") / "trees"))[0]


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "home" / "calls.db"


def filled(path: Path, calls: int = 3) -> None:
    """A record of some calls with a note each."""
    with Store(path) as store:
        for count in range(calls):
            lines = [Line(now(), "set", written(f"answer_{number}", "73 psig")) for number in range(5)]
            number = store.add_call(lines, f"call {count}")
            store.describe(number, f"complaint {count}", "ended", "Undercharge", "tree 1")
            store.add_note(number, f"note {count}")


def spoilt(path: Path, statement: str, *values: object) -> None:
    """Change a record as no program of ours does."""
    with closing(sqlite3.connect(path, isolation_level=None)) as db:
        db.execute(statement, values)


def answered(library: Library, store: Store, replies: int = 4) -> Session:
    """A call that has gone on for some replies."""
    session = Session.begin(library, store)
    for reply in REPLIES[:replies]:
        session.say(reply)
    return session


@pytest.mark.parametrize("how", ["taken away", "another in its place", "folder taken away"])
def test_a_record_taken_away_beneath_a_call_is_begun_anew(library: Library, path: Path, how: str) -> None:
    """It is said, and the whole call is in the new one, with what is answered from then on."""
    with Store(path) as store:
        session = answered(library, store)
        before = session.answers
        if how == "folder taken away":
            shutil.rmtree(path.parent)
        else:
            for part in PARTS[:3]:
                path.with_name(path.name + part).unlink(missing_ok=True)
        if how == "another in its place":
            filled(path)
        response = session.say(REPLIES[4])
        assert isinstance(response, Accepted)
        assert "taken away" in response.notices[0]
        assert session.answers[: len(before)] == before
        assert session.number is not None
        with Store(path) as other:
            assert other.answers(session.number) == as_kept(session.answers)
            assert len(other.entries()) == (4 if how == "another in its place" else 1)
        session.say("back")
    with Store(path) as other:
        assert other.answers(session.number) == as_kept(session.answers)


def test_a_record_damaged_beneath_a_call_is_set_aside(
    library: Library, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """When SQLite comes upon it, the call goes on in a fresh record with all its answers, and that is said."""
    filled(path)
    with Store(path) as store:
        session = answered(library, store)

        def upon_damage(*_: object, **__: object) -> int:
            monkeypatch.undo()
            path.write_bytes(b"garbage" * 5000)
            raise DamagedError("a page cannot be read")

        monkeypatch.setattr(store, "record", upon_damage)
        response = session.say(REPLIES[4])
        assert isinstance(response, Accepted)
        assert "was damaged" in response.notices[0]
    (kept,) = path.parent.glob("calls-damaged-*.db")
    assert kept.read_bytes() == b"garbage" * 5000
    with Store(path) as store:
        assert session.number is not None
        assert store.answers(session.number) == as_kept(session.answers)


def test_a_lock_is_said_and_waited_for(path: Path) -> None:
    """Who waits is told after a moment; then the answer is written, or it is said that it was not."""
    filled(path)
    said: list[str] = []
    with Store(path) as store, closing(sqlite3.connect(path, isolation_level=None, check_same_thread=False)) as other:
        store.tell = said.append
        other.execute("BEGIN IMMEDIATE")
        timer = threading.Timer(0.6, lambda: other.execute("COMMIT"))
        timer.start()
        store.record(1, "set", FILTER)
        timer.join()
        assert len(said) == 1
        assert "waiting" in said[0]
        other.execute("BEGIN IMMEDIATE")
        store.patience = 0.0
        begun = time.monotonic()
        with pytest.raises(LockedError, match="locked by another program"):
            store.record(1, "set", FILTER)
        assert time.monotonic() - begun < 0.5
        assert FILTER in store.answers(1)


@pytest.mark.parametrize("part", PARTS)
@pytest.mark.parametrize("kind", ["pipe", "folder", "device"])
def test_what_is_no_file_is_no_record(path: Path, kind: str, part: str) -> None:
    """It is refused at once, and nobody is waited for, whichever part of the record it stands for."""
    with Store(path) as store:
        store.new_call()
    put = path.with_name(path.name + part)
    put.unlink(missing_ok=True)
    if kind == "pipe":
        os.mkfifo(put)
    elif kind == "folder":
        put.mkdir()
    else:
        put.symlink_to("/dev/zero")
    for opening in (Store, Store.to_read, open_or_begin, mend):
        with pytest.raises(StoreError, match="no ordinary file"):
            opening(path)


@pytest.mark.parametrize("note", ["-seen", "-moving"])
@pytest.mark.parametrize("kind", ["pipe", "device"])
def test_a_note_beside_the_record_is_not_waited_for(path: Path, note: str, kind: str) -> None:
    """What is remembered of a record may be missing, so it may be anything."""
    with Store(path) as store:
        number = store.new_call()
    put = path.with_name(path.name + note)
    put.unlink(missing_ok=True)
    if kind == "pipe":
        os.mkfifo(put)
    else:
        put.symlink_to("/dev/zero")
    for opening in (Store.to_read, Store):
        with opening(path) as store:
            assert [entry.number for entry in store.entries()] == [number]


@pytest.mark.parametrize("left", [(), ("-wal",), ("-wal", "-shm")], ids=str)
def test_a_folder_that_may_only_be_read_can_be_listed_and_exported(path: Path, left: tuple[str, ...]) -> None:
    """Also where the last answers were not yet moved into the file; nothing in it is changed."""
    safe = Path(tempfile.mkdtemp())
    filled(path)
    with Store(path):
        if left:
            filled(path)
        for part in ("", *left):
            shutil.copyfile(path.with_name(path.name + part), safe / (path.name + part))
    before = {file.name: file.read_bytes() for file in safe.iterdir()}
    for file in safe.iterdir():
        file.chmod(0o444)
    safe.chmod(0o555)
    code = (
        "import os, sys\nfrom pathlib import Path\nfrom assistant.store.store import Store\n"
        "from assistant.store.exchange import exported\n"
        "os.getuid() or os.setuid(65534)\n"
        "store = Store.to_read(Path(sys.argv[1]))\n"
        "print(len(store.entries()), *(len(exported(store, one.number)) > 100 for one in store.entries()))\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code, str(safe / path.name)], capture_output=True, text=True, check=False
    )
    safe.chmod(0o755)
    after = {file.name: file.read_bytes() for file in safe.iterdir()}
    shutil.rmtree(safe)
    assert done.stdout.split() == (["6"] + ["True"] * 6 if left else ["3"] + ["True"] * 3), done.stderr
    assert {name: after[name] for name in before if name != "calls.db-shm"} == {
        name: data for name, data in before.items() if name != "calls.db-shm"
    }


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE line SET at = 'yesterday' WHERE call = 2",
        "UPDATE line SET at = '9999-12-31T23:59:59-12:00' WHERE call = 2",
        "UPDATE line SET at = '0001-01-01T00:00:00+00:00' WHERE call = 2",
        "UPDATE line SET at = '2026-01-01T00:00:00' WHERE call = 2",
        "UPDATE call SET started = 'x', changed = 'y' WHERE id = 2",
        "UPDATE note SET at = '' WHERE call = 2",
        "UPDATE line SET text = CAST(x'37ff33' AS TEXT), name = CAST(x'ff' AS TEXT) WHERE call = 2",
        "UPDATE call SET title = CAST(x'c328' AS TEXT) WHERE id = 2",
    ],
)
def test_one_bad_byte_concerns_one_call(library: Library, path: Path, statement: str) -> None:
    """The list shows all calls, each can be shown, exported and picked up, and all are saved by mend."""
    filled(path)
    spoilt(path, statement)
    for opening in (Store.to_read, Store):
        with opening(path) as store:
            assert [entry.number for entry in store.entries()][-1] in (1, 2)
            assert {entry.number for entry in store.entries()} == {1, 2, 3}
            for number in (1, 2, 3):
                assert len(store.lines(number)) == 5
                exported(store, number)
                Session.resume(library, store, number)
    fresh = path.with_name("fresh.db")
    with Store(fresh) as store:
        assert save_into(store, path).all == 3
        assert [len(store.lines(number)) for number in (1, 2, 3)] == [5, 5, 5]


def test_bytes_of_no_encoding_in_the_tables_are_damage(path: Path) -> None:
    """A traceback in no command: it is set aside like any damage, and mend saves what lies beside them."""
    filled(path)
    spoilt(path, "PRAGMA journal_mode = DELETE")
    data = path.read_bytes()
    path.write_bytes(data.replace(b"note_by_call", b"note_by_\xff\xfe\xfdl"))
    assert find_damage(path)
    with pytest.raises(StoreError):
        Store(path)
    mended = mend(path)
    assert mended is not None
    assert mended.saved.all == 3
    with Store(path) as store:
        assert [note.text for note in store.notes(2)] == ["note 1"]


def test_calls_keep_their_numbers_and_are_not_saved_twice(path: Path, tmp_path: Path) -> None:
    """Where a number is taken, the saved call gets another one; saving again adds nothing."""
    filled(path)
    with Store(path) as store:
        store.delete(2)
    with Store(tmp_path / "fresh.db") as store:
        assert save_into(store, path).all == 2
        assert {entry.number for entry in store.entries()} == {1, 3}
        save_into(store, path)
        assert {entry.number for entry in store.entries()} == {1, 3}
    with Store(tmp_path / "other.db") as store:
        store.add_call([Line(now(), "set", FILTER)])
        save_into(store, path)
        save_into(store, path)
        assert {entry.number for entry in store.entries()} == {1, 2, 3}
        assert store.answers(1) == (FILTER,)


@pytest.mark.parametrize("is_read", [False, True], ids=["opened", "only read"])
def test_one_killed_while_it_was_begun_is_gone_on_with(path: Path, is_read: bool) -> None:
    """What SQLite would take back before it reads is looked at in a copy; nothing is in the way of the next program."""
    path.parent.mkdir()
    with closing(sqlite3.connect(path, isolation_level=None)) as db:
        db.execute("CREATE TABLE one (x)")
        db.execute("DROP TABLE one")
        db.execute("PRAGMA journal_mode = PERSIST")
        db.execute("BEGIN IMMEDIATE")
        db.execute("PRAGMA cache_size = 1")
        db.execute("CREATE TABLE two (x)")
        db.executemany("INSERT INTO two VALUES (?)", [("x" * 5000,) for _ in range(50)])
        journal = path.with_name(path.name + "-journal").read_bytes()
        half = path.read_bytes()
    path.write_bytes(half)
    path.with_name(path.name + "-journal").write_bytes(journal)
    if is_read:
        with Store.to_read(path) as store:
            assert not store.entries()
        assert path.read_bytes() == half
    with Store(path) as store:
        assert not store.entries()
        assert store.new_call() == 1


class Killed(BaseException):
    """The program ends here."""


STEPS: list[tuple[object, str]] = [
    (Path, "rename"),
    (Path, "replace"),
    (Path, "unlink"),
    (aside, "write_whole"),
    (os, "replace"),
]


@pytest.mark.parametrize("place", range(14))
def test_a_mend_killed_anywhere_is_gone_on_with(path: Path, monkeypatch: pytest.MonkeyPatch, place: int) -> None:
    """Whoever opens the record next finds all calls, under their numbers; the damaged file is kept whole."""
    with Store(path):
        filled(path, 14)
        lying = {part: path.with_name(path.name + part).read_bytes() for part in PARTS[:3]}
    for part, data in lying.items():
        path.with_name(path.name + part).write_bytes(data)
    data = bytearray(path.read_bytes())
    with closing(sqlite3.connect(path)) as db:
        assert db.execute("SELECT count(*) FROM call").fetchone() == (14,)
    for part, kept in lying.items():
        path.with_name(path.name + part).write_bytes(kept)
    data[18] = 7
    path.write_bytes(data)
    wal = path.with_name(path.name + "-wal").read_bytes()
    done = [0]

    def counted(act: Callable[..., object]) -> Callable[..., object]:
        def step(*arguments: object, **others: object) -> object:
            done[0] += 1
            if done[0] > place:
                raise Killed
            return act(*arguments, **others)

        return step

    with monkeypatch.context() as patched:
        for owner, name in STEPS:
            patched.setattr(owner, name, counted(getattr(owner, name)))
        with suppress(Killed):
            mend(path)
    mend(path)
    with Store(path) as store:
        assert {entry.number for entry in store.entries()} == set(range(1, 15))
        assert all(len(store.answers(entry.number)) == 5 for entry in store.entries())
    (kept_file,) = path.parent.glob("calls-damaged-*.db")
    assert kept_file.read_bytes() == bytes(data)
    assert kept_file.with_name(kept_file.name + "-wal").read_bytes() == wal


def test_a_record_is_looked_through_when_it_has_changed(path: Path) -> None:
    """As it was when it was closed it is taken as sound; a changed one is looked through."""
    filled(path)
    assert is_seen(path)
    spoilt(path, "UPDATE call SET title = 'x'")
    assert not is_seen(path)
    assert not find_damage(path)
    Store(path).close()
    assert is_seen(path)


def test_times_beyond_the_calendar_do_not_come_in(path: Path) -> None:
    """A time that was damaged is told as unknown, and goes out and in as such."""
    with Store(path) as store:
        number = store.add_call([Line(UNKNOWN, "set", FILTER)], notes=[Note(UNKNOWN, "x")], started=UNKNOWN)
        assert "1970-01-01" in exported(store, number)
        assert store.entry(number).started == UNKNOWN == datetime(1970, 1, 1, tzinfo=UTC)


def test_some_damaged_files() -> None:
    """A part of the long run: nothing overwritten, no call gone, everything saved that could be read."""
    ways, wrong = damaged(12, 5)
    assert sum(ways.values()) == 12
    assert wrong == []
