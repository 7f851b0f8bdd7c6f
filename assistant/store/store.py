"""The calls of one user in one SQLite file.

A call is stored as what was done to its answers, line by line and never rewritten: an answer set, or an answer
dropped. Reading the lines again gives the answers as they stand. Each line is on disk before `record` returns.
"""

import sqlite3
from collections.abc import Iterable, Sequence
from datetime import datetime
from pathlib import Path
from typing import Any, Final, Literal

from assistant.call.answers import Written
from assistant.call.keys import PromptKey, Topic
from assistant.errors import ChangedElsewhereError, NoCallError
from assistant.frozen import dataclass
from assistant.store.record_file import RecordFile
from assistant.store.tables import row_of, written_of
from assistant.store.times import now, stamp_of, time_of

Status = Literal["open", "ended"]

_ENTRY: Final = "SELECT id, started, changed, title, status, ending, name, edition FROM call"
_LINE: Final = "SELECT at, deed, topic, name, tree, node, nth, text FROM line"
_NEW_LINE: Final = (
    "INSERT INTO line (call, at, deed, topic, name, tree, node, nth, text) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)"
)
_NEW_NOTE: Final = "INSERT INTO note (call, at, text) VALUES (?, ?, ?)"

# Numbers that a row has in its own file only.
_OWN: Final = ("id", "call")
_LAST: Final = "SELECT coalesce(max(id), 0) FROM line WHERE call = ?"
_MOST: Final = 2**62


@dataclass(frozen=True, slots=True)
class Line:
    """One thing done to a call's answers, and when."""

    at: datetime
    deed: Literal["set", "drop"]
    answer: Written


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


def answers_after(lines: Iterable[Line]) -> tuple[Written, ...]:
    """The answers as they stand after all that was done to them."""
    # A name and count that is there already is answered in its place, as when it was corrected.
    answers: dict[PromptKey, Written] = {}
    for line in lines:
        if line.deed == "set":
            answers[line.answer.key] = line.answer
        else:
            answers.pop(line.answer.key, None)
    return tuple(answers.values())


def times_of(lines: Iterable[Line]) -> dict[PromptKey, datetime]:
    """When each answer was given as it stands; a corrected one when it was corrected."""
    return {line.answer.key: line.at for line in lines if line.deed == "set"}


class Store(RecordFile):
    """An open record of calls. Use it as a context manager, or `close` it."""

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
        begun, changed = stamp_of(started or times[0]), stamp_of(max(times))
        with self._writing() as db:
            call = db.execute(
                "INSERT INTO call (started, changed, name) VALUES (?, ?, ?)",
                (begun, changed, name),
            ).lastrowid
            db.executemany(_NEW_LINE, [(call, *_row(line)) for line in lines])
            db.executemany(_NEW_NOTE, [(call, stamp_of(note.at), note.text) for note in notes])
        assert call is not None
        return call

    def take_in(self, other: Path) -> None:
        """Take the calls of another file of this format, under their numbers where these are free.

        Those that are here already are not taken again.

        Raises:
            StoreError: it could not be written; nothing of it is kept.
        """
        self._db.execute("ATTACH ? AS other", (str(other),))
        try:
            with self._writing() as db:
                for (number,) in db.execute("SELECT id FROM other.call ORDER BY id").fetchall():
                    _take_call(db, number)
        finally:
            self._db.execute("DETACH other")

    def record(self, number: int, deed: Literal["set", "drop"], answer: Written, after: int | None = None) -> int:
        """Write one line to a call; it is on disk when this returns. Gives the line's number.

        `after` is the last line of the call that is known: nothing is written when there is a later one.

        Raises:
            NoCallError: the call is not there any more.
            ChangedElsewhereError: it has a later line.
            StoreError: it could not be written; the call is as it was.
        """
        line = Line(now(), deed, answer)
        with self._writing() as db:
            changed = db.execute("UPDATE call SET changed = ? WHERE id = ?", (stamp_of(line.at), number))
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
            db.execute(_NEW_NOTE, (number, stamp_of(now()), text))

    def notes(self, number: int) -> tuple[Note, ...]:
        """The notes of a call, in the order in which they were written."""
        rows = self._read("SELECT at, text FROM note WHERE call = ? ORDER BY id", (number,))
        return tuple(Note(time_of(at), str(text)) for at, text in rows)

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
        rows = self._read(f"{_LINE} WHERE call = ? ORDER BY id", (number,))
        # Of a damaged file only what is a line at all can be read; none of it is trusted further.
        return tuple(_line(row) for row in rows if _is_line(row))

    def latest_line(self, key: PromptKey) -> Line | None:
        """The last thing done to any answer to such a prompt, on whichever call; `None` when there was none."""
        where = "WHERE topic = ? AND name = ? ORDER BY id DESC LIMIT 1"
        rows = self._read(f"{_LINE} {where}", (key.topic.value, key.name))
        return _line(rows[0]) if rows and _is_line(rows[0]) else None

    def answers(self, number: int) -> tuple[Written, ...]:
        """A call's answers as they stand."""
        return answers_after(self.lines(number))


def _where(search: Search) -> tuple[str, tuple[object, ...]]:
    """The condition of a search, and its values."""
    parts: list[str] = []
    values: list[object] = []
    if search.status is not None:
        parts.append("status = ?")
        values.append(search.status)
    if search.since is not None:
        parts.append("changed >= ?")
        values.append(stamp_of(search.since))
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


def _take_call(db: sqlite3.Connection, number: int) -> None:
    columns = {
        table: ", ".join(str(row[1]) for row in db.execute(f"PRAGMA main.table_info({table})") if row[1] not in _OWN)
        for table in ("call", "line", "note")
    }

    def rows(place: str, which: int) -> tuple[str, list[Any]]:
        ((begun,),) = db.execute(f"SELECT started FROM {place}.call WHERE id = ?", (which,)).fetchall()
        query = f"SELECT {columns['line']} FROM {place}.line WHERE call = ? ORDER BY id"
        return begun, db.execute(query, (which,)).fetchall()

    begun, lines = rows("other", number)
    same = db.execute("SELECT id FROM main.call WHERE started = ?", (begun,)).fetchall()
    if any(rows("main", here) == (begun, lines) for (here,) in same):
        return
    is_free = not db.execute("SELECT id FROM main.call WHERE id = ?", (number,)).fetchall()
    wanted = number if is_free else None
    query = f"INSERT INTO main.call (id, {columns['call']}) SELECT ?, {columns['call']} FROM other.call WHERE id = ?"
    kept = db.execute(query, (wanted, number)).lastrowid
    for table in ("line", "note"):
        names = columns[table]
        db.execute(
            f"INSERT INTO main.{table} (call, {names}) SELECT ?, {names} FROM other.{table} WHERE call = ? ORDER BY id",
            (kept, number),
        )


def _no_call(number: int) -> NoCallError:
    return NoCallError(f"There is no call number {number}. `coilside calls list` shows the calls there are.")


def _row(line: Line) -> tuple[object, ...]:
    return (stamp_of(line.at), line.deed, *row_of(line.answer))


_TOPICS: Final = frozenset(Topic)


def _is_line(row: tuple[Any, ...]) -> bool:
    _, deed, topic, name, tree, node, nth, text = row
    texts = all(isinstance(one, str) for one in (name, tree, node, text))
    return deed in ("set", "drop") and topic in _TOPICS and texts and isinstance(nth, int)


def _line(row: tuple[Any, ...]) -> Line:
    at, deed, *columns = row
    return Line(time_of(at), deed, written_of(*columns))


def _entry(row: tuple[Any, ...]) -> CallEntry:
    number, started, changed, title, status, *words = row
    known: Status = "ended" if status == "ended" else "open"
    return CallEntry(number, time_of(started), time_of(changed), str(title), known, *map(str, words))
