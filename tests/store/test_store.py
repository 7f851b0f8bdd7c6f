"""The record of calls: what is on disk and when, what is refused, and that nothing refused is changed."""

import os
import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from assistant.errors import StoreError
from assistant.store.store import Store
from assistant.store.tables import FORMAT, mark_of
from tests.answering import written

FILTER = written("filter_condition", "clean")
SUCTION = written("suction_pressure", "73 psig")
SECOND = written("suction_pressure", "80 psig", 2)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "home" / "calls.db"


def seen_by_another(path: Path) -> list[tuple[str, str, int, str]]:
    """The lines that another program sees in the file now."""
    with closing(sqlite3.connect(f"{path.as_uri()}?mode=ro", uri=True)) as other:
        return other.execute("SELECT deed, name, nth, text FROM line ORDER BY id").fetchall()


def test_what_record_returns_from_is_on_disk(path: Path) -> None:
    """When `record` returns, another connection sees the answer: nothing waits for a close."""
    with Store(path) as store:
        number = store.new_call()
        store.record(number, "set", FILTER)
        assert seen_by_another(path) == [("set", "filter_condition", 1, "clean")]
        store.record(number, "set", SUCTION)
        assert seen_by_another(path)[-1] == ("set", "suction_pressure", 1, "73 psig")


def test_an_acknowledged_answer_survives_the_battery(path: Path) -> None:
    """Each write waits until the disk has it: no power cut takes what was acknowledged. Source: SQLite's manual."""
    with Store(path) as store:
        full = 2
        assert store._db.execute("PRAGMA synchronous").fetchone() == (full,)
        assert store._db.execute("PRAGMA journal_mode").fetchone() == ("wal",)


def test_a_correction_is_one_more_line(path: Path) -> None:
    """Setting an answer again and dropping one are lines of their own; no line is ever rewritten."""
    with Store(path) as store:
        number = store.new_call()
        for deed, answer in (("set", FILTER), ("set", SUCTION), ("set", written("filter_condition", "dirty"))):
            store.record(number, deed, answer)  # type: ignore[arg-type]
        store.record(number, "drop", SUCTION)
        assert [deed for deed, *_ in seen_by_another(path)] == ["set", "set", "set", "drop"]
        assert store.answers(number) == (written("filter_condition", "dirty"),)
        assert [line.answer.text for line in store.lines(number)] == ["clean", "73 psig", "dirty", "73 psig"]


def test_dropping_an_answer_leaves_a_later_one_of_that_name_where_it_is(path: Path) -> None:
    """The second reading of a name does not take the first one's place when that is taken back."""
    with Store(path) as store:
        number = store.new_call()
        store.record(number, "set", SUCTION)
        store.record(number, "set", SECOND)
        store.record(number, "drop", SUCTION)
        assert store.answers(number) == (SECOND,)


def test_lines_carry_when_they_were_written(path: Path) -> None:
    """Each line has its time, with a zone, and times do not run backwards."""
    with Store(path) as store:
        number = store.new_call()
        store.record(number, "set", FILTER)
        store.record(number, "set", SUCTION)
        first, second = (line.at for line in store.lines(number))
        entry = store.entry(number)
    assert first.tzinfo is not None
    assert entry.started <= first <= second == entry.changed


def test_calls_are_kept_apart(path: Path) -> None:
    """Two calls in one file do not see each other's answers."""
    with Store(path) as store:
        one, two = store.new_call(), store.new_call()
        store.record(one, "set", FILTER)
        store.record(two, "set", SUCTION)
        assert store.answers(one) == (FILTER,)
        assert store.answers(two) == (SUCTION,)


def test_two_stores_share_one_file(path: Path) -> None:
    """Two programs write to one record in turn, and each sees what the other has written."""
    with Store(path) as one, Store(path) as two:
        first, second = one.new_call(), two.new_call()
        assert first != second
        for count in range(1, 21):
            one.record(first, "set", written("suction_pressure", f"{count} psig", count))
            two.record(second, "set", written("liquid_pressure", f"{count} psig", count))
        assert len(two.answers(first)) == len(one.answers(second)) == 20
        assert {entry.number for entry in one.entries()} == {first, second}


def test_the_list_shows_the_last_changed_first(path: Path) -> None:
    """Calls are listed by their last change; open ones can be had alone."""
    with Store(path) as store:
        one, two = store.new_call(), store.new_call()
        store.record(two, "set", FILTER)
        store.describe(two, "not cooling", "ended", "Undercharge")
        store.record(one, "set", FILTER)
        entries = store.entries()
        assert {entry.number for entry in entries} == {one, two}
        assert [entry.changed for entry in entries] == sorted((entry.changed for entry in entries), reverse=True)
        assert [entry.number for entry in store.entries("open")] == [one]
        (ended,) = store.entries("ended")
        assert (ended.title, ended.ending) == ("not cooling", "Undercharge")


def test_deleting_leaves_nothing_of_a_call(path: Path) -> None:
    """A deleted call is gone with its lines, and the others stay."""
    with Store(path) as store:
        one, two = store.new_call(), store.new_call()
        store.record(one, "set", FILTER)
        store.record(two, "set", SUCTION)
        store.delete(one)
        assert seen_by_another(path) == [("set", "suction_pressure", 1, "73 psig")]
        with pytest.raises(StoreError, match=f"no call number {one}"):
            store.answers(one)
        assert store.answers(two) == (SUCTION,)


def test_a_number_is_never_given_twice(path: Path) -> None:
    """The number of a deleted call is not used for a new one."""
    with Store(path) as store:
        one = store.new_call()
        store.delete(one)
        assert store.new_call() != one


def test_reopening_finds_everything(path: Path) -> None:
    """What one run has written the next one reads."""
    with Store(path) as store:
        number = store.new_call()
        store.record(number, "set", written("complaint", "doesn’t cool – 🙂"))
    with Store(path) as store:
        assert store.answers(number) == (written("complaint", "doesn’t cool – 🙂"),)


@pytest.mark.parametrize("number", [0, -1, 7, 2**62])
def test_a_call_that_is_not_there_is_said(path: Path, number: int) -> None:
    """A wrong number gives a plain sentence that says where to look."""
    with Store(path) as store, pytest.raises(StoreError, match="coilside calls list"):
        store.answers(number)


def untouched(path: Path) -> tuple[bytes, list[str]]:
    """The bytes of a file, and what lies beside it."""
    return path.read_bytes(), sorted(entry.name for entry in path.parent.iterdir())


def refused(path: Path) -> str:
    """The sentence with which a file is refused, which is then as it was."""
    before = untouched(path)
    with pytest.raises(StoreError) as caught:
        Store(path)
    assert untouched(path) == before
    return str(caught.value)


def test_a_newer_format_is_refused_and_untouched(path: Path) -> None:
    """A record of a newer version is left byte for byte as it is, and what to do is said."""
    with Store(path) as store:
        store.record(store.new_call(), "set", FILTER)
    with closing(sqlite3.connect(path)) as newer:
        newer.execute(f"PRAGMA user_version = {FORMAT + 1}")
        newer.execute(f"PRAGMA application_id = {mark_of(FORMAT + 1)}")
        newer.execute("PRAGMA journal_mode = DELETE")
    message = refused(path)
    assert "newer version" in message
    assert "--home" in message


@pytest.mark.parametrize("content", [b"this is no database at all\n" * 100, b"SQLite format 3\x00" + b"\xff" * 5000])
def test_a_file_that_is_no_database_is_refused_and_untouched(path: Path, content: bytes) -> None:
    """Garbage in the place of the record is told, and not overwritten."""
    path.parent.mkdir()
    path.write_bytes(content)
    assert str(path) in refused(path)


def test_another_programs_database_is_refused_and_untouched(path: Path) -> None:
    """A database with tables of somebody else's is not written into."""
    path.parent.mkdir()
    with closing(sqlite3.connect(path)) as other:
        other.execute("CREATE TABLE invoices (id INTEGER)")
    assert "no record of calls" in refused(path)


def test_an_empty_file_becomes_a_record(path: Path) -> None:
    """A file of no bytes holds nothing that could be lost, so it is used."""
    path.parent.mkdir()
    path.touch()
    with Store(path) as store:
        assert store.entries() == []


def test_a_folder_in_the_place_of_the_file_is_said(path: Path) -> None:
    """A folder where the file should be gives a plain sentence."""
    path.mkdir(parents=True)
    with pytest.raises(StoreError, match="cannot be opened"):
        Store(path)


def test_a_home_that_cannot_be_made_is_said(tmp_path: Path) -> None:
    """A home folder inside a file gives a plain sentence."""
    (tmp_path / "file").write_text("x")
    with pytest.raises(StoreError, match="cannot be opened"):
        Store(tmp_path / "file" / "home" / "calls.db")


@pytest.fixture
def read_only_folder() -> Iterator[Path]:
    """A folder into which this process cannot write, even where the tests run as root."""
    root = os.geteuid() == 0
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        folder.chmod(0o555)
        if root:
            os.seteuid(65534)
        try:
            yield folder
        finally:
            if root:
                os.seteuid(0)
            folder.chmod(0o755)


def test_a_folder_that_cannot_be_written_to_is_said(read_only_folder: Path) -> None:
    """A read-only home gives a plain sentence with the place, and no file appears."""
    with pytest.raises(StoreError) as caught:
        Store(read_only_folder / "calls.db")
    assert str(read_only_folder) in str(caught.value)
    assert "cannot be opened" in str(caught.value)
    assert list(read_only_folder.iterdir()) == []


def test_a_full_disk_loses_the_answer_but_not_the_call(path: Path) -> None:
    """An answer that does not fit on the disk is refused; what was there stays, and with room writing goes on."""
    with Store(path) as store:
        number = store.new_call()
        store.record(number, "set", FILTER)
        pages = store._db.execute("PRAGMA page_count").fetchone()[0]
        store._db.execute(f"PRAGMA max_page_count = {pages}")
        with pytest.raises(StoreError, match="could not be written"):
            store.record(number, "set", written("complaint", "x" * 200_000))
        assert store.answers(number) == (FILTER,)
        store._db.execute("PRAGMA max_page_count = 1000000")
        store.record(number, "set", SUCTION)
        assert store.answers(number) == (FILTER, SUCTION)


def test_a_locked_record_is_said(path: Path) -> None:
    """When another program holds the record for longer than one waits, that is said, and nothing is half written."""
    with Store(path) as store, closing(sqlite3.connect(path, isolation_level=None)) as other:
        number = store.new_call()
        store.patience = 0.1
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(StoreError, match="locked"):
            store.record(number, "set", FILTER)
        other.execute("ROLLBACK")
        store.record(number, "set", FILTER)
        assert store.answers(number) == (FILTER,)
