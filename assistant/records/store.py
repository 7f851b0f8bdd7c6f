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
from assistant.errors import StoreError

FORMAT: Final = 1
"""Version of the tables; a file of a newer version is refused, never changed."""

Status = Literal["open", "ended"]

_TABLES: Final = """
CREATE TABLE IF NOT EXISTS call (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    started TEXT NOT NULL,
    changed TEXT NOT NULL,
    title TEXT NOT NULL DEFAULT '',
    status TEXT NOT NULL DEFAULT 'open',
    ending TEXT NOT NULL DEFAULT ''
) STRICT;
CREATE TABLE IF NOT EXISTS line (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    call INTEGER NOT NULL REFERENCES call (id) ON DELETE CASCADE,
    at TEXT NOT NULL,
    deed TEXT NOT NULL CHECK (deed IN ('set', 'drop')),
    name TEXT NOT NULL,
    nth INTEGER NOT NULL,
    text TEXT NOT NULL
) STRICT;
CREATE INDEX IF NOT EXISTS line_by_call ON line (call, id);
CREATE INDEX IF NOT EXISTS call_by_change ON call (changed);
"""


@dataclass(frozen=True, slots=True)
class Line:
    """One thing done to a call's answers, and when."""

    at: datetime
    deed: Literal["set", "drop"]
    answer: Answer


@dataclass(frozen=True, slots=True)
class CallEntry:
    """A call as a list shows it."""

    number: int
    started: datetime
    changed: datetime
    title: str
    status: Status
    ending: str


def answers_after(lines: Iterable[Line]) -> tuple[Answer, ...]:
    """The answers as they stand after all that was done to them."""
    answers: tuple[Answer, ...] = ()
    for line in lines:
        if line.deed == "set":
            answers = given(answers, line.answer)
        else:
            answers = without(answers, line.answer.name, line.answer.nth)
    return answers


class Store:
    """An open record of calls. Use it as a context manager, or `close` it."""

    def __init__(self, path: Path) -> None:
        """Open the file, or make a new one.

        Raises:
            StoreError: it cannot be opened, is no record of calls, or comes from a newer version.
        """
        self.path = path
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            self._db = sqlite3.connect(path, timeout=5.0, isolation_level=None)
        except (sqlite3.Error, OSError) as error:
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

    def _cannot_open(self, error: Exception) -> StoreError:
        return StoreError(f"The record of calls at {self.path} cannot be opened: {error}.")

    def _prepare(self) -> None:
        version = int(self._db.execute("PRAGMA user_version").fetchone()[0])
        tables = {name for (name,) in self._db.execute("SELECT tbl_name FROM sqlite_schema")}
        if version > FORMAT:
            raise StoreError(
                f"The record of calls at {self.path} was written by a newer version of the program. "
                "It was left as it is; update the program, or name another folder with --home."
            )
        if tables - {"call", "line", "sqlite_sequence"}:
            raise StoreError(
                f"{self.path} is no record of calls; another program keeps its data there. It was left as it is; "
                "name another folder with --home."
            )
        self._db.execute("PRAGMA journal_mode = WAL")
        # FULL: an answer that was acknowledged survives the battery, not just the program.
        self._db.execute("PRAGMA synchronous = FULL")
        self._db.execute("PRAGMA foreign_keys = ON")
        if version == 0:
            self._db.executescript(f"BEGIN IMMEDIATE; {_TABLES} PRAGMA user_version = {FORMAT}; COMMIT;")

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
            raise StoreError(f"The answer could not be written to {self.path}: {error}.") from error

    def new_call(self) -> int:
        """Begin a call; gives its number."""
        now = _stamp()
        with self._writing() as db:
            number = db.execute("INSERT INTO call (started, changed) VALUES (?, ?)", (now, now)).lastrowid
        assert number is not None
        return number

    def record(self, number: int, deed: Literal["set", "drop"], answer: Answer) -> None:
        """Write one line to a call; it is on disk when this returns.

        Raises:
            StoreError: it could not be written; the call is as it was.
        """
        now = _stamp()
        row = (number, now, deed, answer.name, answer.nth, answer.text)
        with self._writing() as db:
            db.execute("INSERT INTO line (call, at, deed, name, nth, text) VALUES (?, ?, ?, ?, ?, ?)", row)
            db.execute("UPDATE call SET changed = ? WHERE id = ?", (now, number))

    def describe(self, number: int, title: str, status: Status, ending: str) -> None:
        """Set what a list shows of a call."""
        with self._writing() as db:
            db.execute(
                "UPDATE call SET title = ?, status = ?, ending = ? WHERE id = ?", (title, status, ending, number)
            )

    def delete(self, number: int) -> None:
        """Delete a call with all its lines.

        Raises:
            StoreError: there is no such call.
        """
        self.entry(number)
        with self._writing() as db:
            db.execute("DELETE FROM call WHERE id = ?", (number,))

    def entries(self, status: Status | None = None) -> Sequence[CallEntry]:
        """The calls, the last changed first."""
        where = "" if status is None else "WHERE status = ?"
        query = f"SELECT id, started, changed, title, status, ending FROM call {where} ORDER BY changed DESC, id DESC"
        return [_entry(row) for row in self._read(query, () if status is None else (status,))]

    def entry(self, number: int) -> CallEntry:
        """One call as a list shows it.

        Raises:
            StoreError: there is no such call.
        """
        rows = self._read("SELECT id, started, changed, title, status, ending FROM call WHERE id = ?", (number,))
        if not rows:
            raise StoreError(f"There is no call number {number}. `coilside calls list` shows the calls there are.")
        return _entry(rows[0])

    def lines(self, number: int) -> tuple[Line, ...]:
        """All that was done to a call's answers, in order.

        Raises:
            StoreError: there is no such call.
        """
        self.entry(number)
        rows = self._read("SELECT at, deed, name, nth, text FROM line WHERE call = ? ORDER BY id", (number,))
        return tuple(_line(row) for row in rows)

    def latest_line(self, name: str) -> Line | None:
        """The last thing done to any answer of a name, on whichever call; `None` when it was never given."""
        rows = self._read("SELECT at, deed, name, nth, text FROM line WHERE name = ? ORDER BY id DESC LIMIT 1", (name,))
        return _line(rows[0]) if rows else None

    def answers(self, number: int) -> tuple[Answer, ...]:
        """A call's answers as they stand."""
        return answers_after(self.lines(number))

    def _read(self, query: str, values: tuple[object, ...]) -> list[tuple[Any, ...]]:
        try:
            return self._db.execute(query, values).fetchall()
        except sqlite3.Error as error:
            raise StoreError(f"The record of calls at {self.path} cannot be read: {error}.") from error


def _stamp() -> str:
    return datetime.now(UTC).isoformat(timespec="milliseconds")


def _line(row: tuple[Any, ...]) -> Line:
    at, deed, name, nth, text = row
    return Line(datetime.fromisoformat(at), deed, Answer(name, text, nth))


def _entry(row: tuple[Any, ...]) -> CallEntry:
    number, started, changed, title, status, ending = row
    return CallEntry(number, datetime.fromisoformat(started), datetime.fromisoformat(changed), title, status, ending)
