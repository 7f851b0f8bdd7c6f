"""Reading of a damaged record all that can be read, row by row, whatever stands around it."""

import sqlite3
import tempfile
from collections.abc import Iterable, Iterator
from contextlib import ExitStack, closing, suppress
from pathlib import Path
from typing import Any, Final

from assistant.files import make_private_file
from assistant.frozen import dataclass
from assistant.store.soundness import copied, with_whole_wal
from assistant.store.tables import FORMAT, bring_up, version_of

_FARTHEST: Final = 2**40
_TABLES: Final = ("call", "line", "note")


@dataclass(frozen=True, slots=True)
class Saved:
    """How many calls could be read whole, how many in part, and of how many only the number."""

    calls: int = 0
    in_part: int = 0
    lost: int = 0

    @property
    def all(self) -> int:
        """How many calls there are now."""
        return self.calls + self.in_part


def salvage(damaged: Path, new: Path) -> Saved:
    """Put all that can be read of a damaged record into a new file, under the same numbers.

    The damaged one is left as it is. The new file is whole when this returns, and has nothing beside it.

    Raises:
        sqlite3.Error: the new file cannot be written.
        OSError: one of them cannot be used.
    """
    make_private_file(new)
    with (
        tempfile.TemporaryDirectory() as folder,
        closing(sqlite3.connect(new, isolation_level=None)) as target,
        ExitStack() as opened,
    ):
        # Only reading a record already moves pages about in it.
        copies = [copied(damaged, _made(Path(folder) / name)) for name in ("read", "forced")]
        with_whole_wal(copies[1])
        sources = [opened.enter_context(closing(_opened(copy))) for copy in copies]
        target.execute("PRAGMA synchronous = FULL")
        version = _version(sources[0]) or _version(sources[1]) or FORMAT
        bring_up(target, version)
        target.execute("BEGIN")
        # What SQLite itself would read comes first; the other one only fills what is missing.
        for source in sources:
            for table in _TABLES:
                _copy(source, target, table)
        saved = _whole(sources, target)
        target.execute("COMMIT")
        bring_up(target)
    return saved


def _made(folder: Path) -> Path:
    folder.mkdir()
    return folder


def _opened(path: Path) -> sqlite3.Connection:
    db = sqlite3.connect(path, isolation_level=None)
    db.text_factory = lambda data: data.decode("utf-8", "replace")
    with suppress(sqlite3.Error):
        # Where one table's making cannot be read, the others still can.
        db.execute("PRAGMA writable_schema = ON")
    return db


def _version(db: sqlite3.Connection) -> int:
    """The version that the tables have; what the file says of it may be damaged. 0 where nothing tells."""
    with suppress(sqlite3.Error):
        columns = {str(row[1]) for row in db.execute("PRAGMA table_info(line)")}
        for version in range(FORMAT, 0, -1):
            if columns == set(_columns_of(version, "line")) and (version > 1 or not _columns(db, "note")):
                return version
    with suppress(sqlite3.Error):
        version = version_of(db)
        if 0 < version <= FORMAT:
            return version
    return 0


def _columns_of(version: int, table: str) -> list[str]:
    with closing(sqlite3.connect(":memory:", isolation_level=None)) as db:
        bring_up(db, version)
        return _columns(db, table)


def _columns(db: sqlite3.Connection, table: str) -> list[str]:
    return [str(row[1]) for row in db.execute(f"PRAGMA table_info({table})")]


def _copy(source: sqlite3.Connection, target: sqlite3.Connection, table: str) -> None:
    """Copy the rows of a table that can be read and that fit."""
    columns = _columns(target, table)
    if not columns:
        return
    put = f"INSERT OR IGNORE INTO {table} ({', '.join(columns)}) VALUES ({', '.join('?' * len(columns))})"
    for row in _rows(source, table, columns):
        with suppress(sqlite3.IntegrityError, sqlite3.DataError, OverflowError):
            target.execute(put, row)


def _rows(db: sqlite3.Connection, table: str, columns: list[str]) -> Iterator[tuple[Any, ...]]:
    """The rows of a table in order, on both sides of what cannot be read."""
    query = f"SELECT {', '.join(columns)} FROM {table} NOT INDEXED WHERE id >= ? ORDER BY id"
    begin: int | None = -(2**62)
    while begin is not None:
        last = begin
        try:
            for row in db.execute(query, (begin,)):
                last = max(last, row[0] if isinstance(row[0], int) else last)
                yield row
            return
        except (sqlite3.Error, OverflowError):
            begin = _next_readable(db, table, max(last, 0) + 1)


def _next_readable(db: sqlite3.Connection, table: str, start: int) -> int | None:
    """The number of the first row, from a number on, that can be read; `None` where there is none any more."""
    step, bad = 1, start - 1
    while not _is_readable(db, table, start + step - 1):
        bad, step = start + step - 1, step * 2
        if step > _FARTHEST:
            return None
    good = start + step - 1
    while good - bad > 1:
        middle = (good + bad) // 2
        good, bad = (middle, bad) if _is_readable(db, table, middle) else (good, middle)
    return good


def _is_readable(db: sqlite3.Connection, table: str, number: int) -> bool:
    try:
        db.execute(f"SELECT * FROM {table} NOT INDEXED WHERE id >= ? ORDER BY id LIMIT 1", (number,)).fetchall()
    except (sqlite3.Error, OverflowError):
        return False
    return True


def _whole(sources: Iterable[sqlite3.Connection], target: sqlite3.Connection) -> Saved:
    """Give calls back of which only the lines could be read, and count."""
    target.execute(
        "INSERT INTO call (id, started, changed) SELECT call, min(at), max(at) FROM line "
        "WHERE call > 0 AND call NOT IN (SELECT id FROM call) GROUP BY call"
    )
    target.execute("DELETE FROM line WHERE call NOT IN (SELECT id FROM call)")
    target.execute("DELETE FROM note WHERE call NOT IN (SELECT id FROM call)") if _columns(target, "note") else None
    there = {number for (number,) in target.execute("SELECT id FROM call")}
    lines: dict[int, int] = dict(target.execute("SELECT id, call FROM line").fetchall())
    missed: set[int] = set()
    # The index tells of lines that cannot be read themselves.
    for source in sources:
        with suppress(sqlite3.Error, OverflowError):
            for call, line in source.execute("SELECT call, id FROM line INDEXED BY line_by_call"):
                if lines.get(line) != call:
                    missed |= {call, lines.get(line, call)}
    in_part = len(there & missed)
    return Saved(len(there) - in_part, in_part, len(missed - there))
