"""The calls of one user in one SQLite file.

A call is stored as what was done to its answers, line by line and never rewritten: an answer set, or an answer
dropped. Reading the lines again gives the answers as they stand. Each line is on disk before `record` returns.
"""

import sqlite3
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from types import TracebackType
from typing import Any, Final, Literal, Self

from assistant.call.answers import Answer, given, without
from assistant.errors import ChangedElsewhereError, DamagedError, FileError, NoCallError, StoreError
from assistant.files import make_private_file, make_private_folder
from assistant.store.tables import FORMAT, TABLES, bring_up, looks_like_a_record, version_of

Status = Literal["open", "ended"]

_ENTRY: Final = "SELECT id, started, changed, title, status, ending, name, edition FROM call"
_LINE: Final = "SELECT at, deed, name, nth, text FROM line"
_NEW_LINE: Final = "INSERT INTO line (call, at, deed, name, nth, text) VALUES (?, ?, ?, ?, ?, ?)"
_NEW_NOTE: Final = "INSERT INTO note (call, at, text) VALUES (?, ?, ?)"

_LAST: Final = "SELECT coalesce(max(id), 0) FROM line WHERE call = ?"
_MOST: Final = 2**62

# What SQLite says of a file whose pages do not hold what they should, in the low byte of its code.
_DAMAGED: Final = frozenset({sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB})


@dataclass(frozen=True, slots=True)
class Line:
    """One thing done to a call's answers, and when."""

    at: datetime
    deed: Literal["set", "drop"]
    answer: Answer


@dataclass(frozen=True, slots=True)
class CallEntry:
    """A call as a list shows it: `title` is its complaint, `name` what a person called it since, if they did.

    `edition` tells the versions of the trees with which its last answer was given.
    """

    number: int
    started: datetime
    changed: datetime
    title: str
    status: Status
    ending: str
    name: str = ""
    edition: str = ""

    @property
    def shown(self) -> str:
        """What the call is called: its own name, else its complaint."""
        return self.name or self.title


@dataclass(frozen=True, slots=True)
class Note:
    """A remark on a call, or the name of a photo's file, and when it was written."""

    at: datetime
    text: str


@dataclass(frozen=True, slots=True)
class Search:
    """Which calls: all `words` in complaint, name, ending or notes; changed `since`; a number that begins `digits`."""

    status: Status | None = None
    words: tuple[str, ...] = ()
    since: datetime | None = None
    digits: str = ""


def answers_after(lines: Iterable[Line]) -> tuple[Answer, ...]:
    """The answers as they stand after all that was done to them."""
    answers: tuple[Answer, ...] = ()
    for line in lines:
        if line.deed == "set":
            answers = given(answers, line.answer)
        else:
            answers = without(answers, line.answer.name, line.answer.nth)
    return answers


def times_of(lines: Iterable[Line]) -> dict[tuple[str, int], datetime]:
    """When each answer was given as it stands; a corrected one when it was corrected."""
    return {line.answer.key: line.at for line in lines if line.deed == "set"}


class Store:
    """An open record of calls. Use it as a context manager, or `close` it."""

    def __init__(self, path: Path) -> None:
        """Open the file, or make a new one.

        Raises:
            DamagedError: the file is damaged, or no database at all.
            StoreError: it cannot be opened, is no record of calls, or comes from a newer version.
        """
        self.path = path
        try:
            make_private_folder(path.parent)
            if not looks_like_a_record(path):
                raise self._damaged("it does not begin like one")
            make_private_file(path)
            self._db = sqlite3.connect(path, timeout=5.0, isolation_level=None)
        except (sqlite3.Error, OSError, FileError) as error:
            raise self._cannot_open(error) from error
        try:
            self._prepare()
        except StoreError:
            self._db.close()
            raise
        except sqlite3.Error as error:
            self._db.close()
            raise self._cannot_open(error) from error

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        """Close the file; everything recorded is already in it."""
        self._db.close()

    def is_sound(self) -> bool:
        """Whether every page of the file holds what it should; reads all of it."""
        try:
            return [row[0] for row in self._db.execute("PRAGMA quick_check(1)")] == ["ok"]
        except sqlite3.Error:
            return False

    def _cannot_open(self, error: Exception) -> StoreError:
        if _is_damage(error):
            return self._damaged(error)
        return StoreError(
            f"The record of calls at {self.path} cannot be opened: {_plainly(error)}. "
            "Make that folder one that you can write to, or name another with --home."
        )

    def _damaged(self, error: Exception | str) -> DamagedError:
        return DamagedError(
            f"The record of calls at {self.path} is damaged ({error}). It was left as it is. Beginning a call sets it "
            "aside under another name and starts a fresh record; `coilside calls mend` also saves what can be read."
        )

    def _prepare(self) -> None:
        version = version_of(self._db)
        tables = {name for (name,) in self._db.execute("SELECT tbl_name FROM sqlite_schema")}
        if version > FORMAT:
            raise StoreError(
                f"The record of calls at {self.path} was written by a newer version of the program. "
                "It was left as it is; update the program, or name another folder with --home."
            )
        if tables - TABLES:
            raise StoreError(
                f"{self.path} is no record of calls; another program keeps its data there. It was left as it is; "
                "name another folder with --home."
            )
        self._db.execute("PRAGMA journal_mode = WAL")
        # FULL: an answer that was acknowledged survives the battery, not just the program.
        self._db.execute("PRAGMA synchronous = FULL")
        self._db.execute("PRAGMA foreign_keys = ON")
        bring_up(self._db)
        # SQL's own comparison of letters knows only the plain ones.
        self._db.create_function("folded", 1, str.casefold, deterministic=True)

    @contextmanager
    def _writing(self) -> Iterator[sqlite3.Connection]:
        try:
            self._db.execute("BEGIN IMMEDIATE")
            try:
                yield self._db
                self._db.execute("COMMIT")
            except BaseException:
                # A full disk ends the transaction by itself.
                if self._db.in_transaction:
                    self._db.execute("ROLLBACK")
                raise
        except sqlite3.Error as error:
            if _is_damage(error):
                raise self._damaged(error) from error
            raise StoreError(f"It could not be written to {self.path}: {_plainly(error)}.") from error

    def new_call(self) -> int:
        """Begin a call without an answer; gives its number."""
        return self.add_call(())

    def add_call(
        self, lines: Sequence[Line], name: str = "", notes: Sequence[Note] = (), started: datetime | None = None
    ) -> int:
        """Keep a call with all that was done to it so far, wholly or not at all; gives its number.

        Raises:
            StoreError: it could not be written; nothing of it is kept.
        """
        times = [line.at for line in lines] or [started or now()]
        begun, changed = _stamp(started or times[0]), _stamp(max(times))
        with self._writing() as db:
            call = db.execute(
                "INSERT INTO call (started, changed, name) VALUES (?, ?, ?)",
                (begun, changed, name),
            ).lastrowid
            db.executemany(_NEW_LINE, [(call, *_row(line)) for line in lines])
            db.executemany(_NEW_NOTE, [(call, _stamp(note.at), note.text) for note in notes])
        assert call is not None
        return call

    def record(self, number: int, deed: Literal["set", "drop"], answer: Answer, after: int | None = None) -> int:
        """Write one line to a call; it is on disk when this returns. Gives the line's number.

        `after` is the last line of the call that is known: nothing is written when there is a later one.

        Raises:
            NoCallError: the call is not there any more.
            ChangedElsewhereError: it has a later line.
            StoreError: it could not be written; the call is as it was.
        """
        line = Line(now(), deed, answer)
        with self._writing() as db:
            changed = db.execute("UPDATE call SET changed = ? WHERE id = ?", (_stamp(line.at), number))
            if changed.rowcount == 0:
                raise _no_call(number)
            if after is not None and self.last_line(number) != after:
                raise ChangedElsewhereError(f"Call {number} was changed in another window.")
            written = db.execute(_NEW_LINE, (number, *_row(line))).lastrowid
        assert written is not None
        return written

    def last_line(self, number: int) -> int:
        """The number of a call's last line; 0 when it has none."""
        return max((int(last) for (last,) in self._read(_LAST, (number,))), default=0)

    def describe(self, number: int, title: str, status: Status, ending: str, edition: str = "") -> None:
        """Set what a list shows of a call."""
        with self._writing() as db:
            db.execute(
                "UPDATE call SET title = ?, status = ?, ending = ?, edition = ? WHERE id = ?",
                (title, status, ending, edition, number),
            )

    def rename(self, number: int, name: str) -> None:
        """Give a call a name of its own; an empty one brings its complaint back.

        Raises:
            NoCallError: there is no such call.
        """
        self.entry(number)
        with self._writing() as db:
            db.execute("UPDATE call SET name = ? WHERE id = ?", (name, number))

    def add_note(self, number: int, text: str) -> None:
        """Attach a remark, or the name of a photo's file, to a call.

        Raises:
            NoCallError: there is no such call.
        """
        self.entry(number)
        with self._writing() as db:
            db.execute(_NEW_NOTE, (number, _stamp(now()), text))

    def notes(self, number: int) -> tuple[Note, ...]:
        """The notes of a call, in the order in which they were written."""
        rows = self._read("SELECT at, text FROM note WHERE call = ? ORDER BY id", (number,))
        return tuple(Note(datetime.fromisoformat(at), text) for at, text in rows)

    def delete(self, number: int) -> None:
        """Delete a call with all its lines and notes.

        Raises:
            NoCallError: there is no such call.
        """
        self.entry(number)
        with self._writing() as db:
            db.execute("DELETE FROM call WHERE id = ?", (number,))

    def entries(
        self, status: Status | None = None, *, search: Search | None = None, most: int | None = None
    ) -> Sequence[CallEntry]:
        """The calls, the last changed first, no more than `most`."""
        where, values = _where(search or Search(status))
        query = f"{_ENTRY}{where} ORDER BY changed DESC, id DESC LIMIT ?"
        return [_entry(row) for row in self._read(query, (*values, -1 if most is None else min(most, _MOST)))]

    def count(self, search: Search) -> int:
        """How many calls a search finds."""
        where, values = _where(search)
        return int(self._read(f"SELECT count(*) FROM call{where}", values)[0][0])

    def entry(self, number: int) -> CallEntry:
        """One call as a list shows it.

        Raises:
            NoCallError: there is no such call.
        """
        rows = self._read(f"{_ENTRY} WHERE id = ?", (number,))
        if not rows:
            raise _no_call(number)
        return _entry(rows[0])

    def lines(self, number: int) -> tuple[Line, ...]:
        """All that was done to a call's answers, in order.

        Raises:
            NoCallError: there is no such call.
        """
        self.entry(number)
        return tuple(_line(row) for row in self._read(f"{_LINE} WHERE call = ? ORDER BY id", (number,)))

    def latest_line(self, name: str) -> Line | None:
        """The last thing done to any answer of a name, on whichever call; `None` when it was never given."""
        rows = self._read(f"{_LINE} WHERE name = ? ORDER BY id DESC LIMIT 1", (name,))
        return _line(rows[0]) if rows else None

    def answers(self, number: int) -> tuple[Answer, ...]:
        """A call's answers as they stand."""
        return answers_after(self.lines(number))

    def _read(self, query: str, values: tuple[object, ...]) -> list[tuple[Any, ...]]:
        try:
            return self._db.execute(query, values).fetchall()
        except (OverflowError, UnicodeEncodeError):
            # A number of more digits, or a word of other signs, than any that was ever kept.
            return []
        except sqlite3.Error as error:
            if _is_damage(error):
                raise self._damaged(error) from error
            raise StoreError(f"The record of calls at {self.path} cannot be read: {_plainly(error)}.") from error


def _where(search: Search) -> tuple[str, tuple[object, ...]]:
    """The condition of a search, and its values."""
    parts: list[str] = []
    values: list[object] = []
    if search.status is not None:
        parts.append("status = ?")
        values.append(search.status)
    if search.since is not None:
        parts.append("changed >= ?")
        values.append(_stamp(search.since))
    if search.digits:
        parts.append("instr(CAST(id AS TEXT), ?) = 1")
        values.append(search.digits)
    for word in search.words:
        parts.append(
            "(instr(folded(title || ' ' || name || ' ' || ending), ?) "
            "OR id IN (SELECT call FROM note WHERE instr(folded(text), ?)))"
        )
        values += [word.casefold()] * 2
    return (f" WHERE {' AND '.join(parts)}" if parts else "", tuple(values))


def _is_damage(error: Exception) -> bool:
    return (getattr(error, "sqlite_errorcode", 0) & 0xFF) in _DAMAGED


_PLAINLY: Final = {
    sqlite3.SQLITE_FULL: "the disk is full; make room",
    sqlite3.SQLITE_BUSY: "it is locked by another program that is writing to it",
    sqlite3.SQLITE_READONLY: "it may only be read",
    sqlite3.SQLITE_CANTOPEN: "the file cannot be made or opened there",
}


def _plainly(error: Exception) -> str:
    """What went wrong, in words of a person's, with what the system says of it."""
    words = _PLAINLY.get(getattr(error, "sqlite_errorcode", 0) & 0xFF)
    return f"{words} ({error})" if words else str(error)


def _no_call(number: int) -> NoCallError:
    return NoCallError(f"There is no call number {number}. `coilside calls list` shows the calls there are.")


def now() -> datetime:
    """The time as it is kept: to the millisecond, in the zone of the whole world."""
    time = datetime.now(UTC)
    return time.replace(microsecond=time.microsecond // 1000 * 1000)


def _stamp(time: datetime) -> str:
    return time.astimezone(UTC).isoformat(timespec="milliseconds")


def _row(line: Line) -> tuple[str, str, str, int, str]:
    return (_stamp(line.at), line.deed, line.answer.name, line.answer.nth, line.answer.text)


def _line(row: tuple[Any, ...]) -> Line:
    at, deed, name, nth, text = row
    return Line(datetime.fromisoformat(at), deed, Answer(name, text, nth))


def _entry(row: tuple[Any, ...]) -> CallEntry:
    number, started, changed, *words = row
    return CallEntry(number, datetime.fromisoformat(started), datetime.fromisoformat(changed), *words)
