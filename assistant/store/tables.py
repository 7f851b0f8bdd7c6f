"""The tables of the record of calls, and how a file of an earlier format becomes one of this one."""

import sqlite3
from pathlib import Path
from typing import Final

FORMAT: Final = 2
"""Version of the tables; a file of a newer version is refused, never changed."""

TABLES: Final = frozenset({"call", "line", "note", "sqlite_sequence"})
"""All that a record holds; a file with other tables belongs to another program."""

_FIRST: Final = """
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

# What was told last of a name, and the open calls, are looked up before the first question shows: without an index
# each would read the whole file.
_SECOND: Final = """
ALTER TABLE call ADD COLUMN name TEXT NOT NULL DEFAULT '';
ALTER TABLE call ADD COLUMN edition TEXT NOT NULL DEFAULT '';
CREATE TABLE note (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    call INTEGER NOT NULL REFERENCES call (id) ON DELETE CASCADE,
    at TEXT NOT NULL,
    text TEXT NOT NULL
) STRICT;
CREATE INDEX note_by_call ON note (call, id);
CREATE INDEX line_by_name ON line (name, id);
CREATE INDEX call_by_status ON call (status, changed);
"""

_STEPS: Final = (_FIRST, _SECOND)


# How a file of SQLite begins, and where its page size stands in it.
_MAGIC: Final = b"SQLite format 3\x00"
_PAGE_SIZE: Final = slice(16, 18)
_PAGE_SIZES: Final = frozenset({1, *(2**power for power in range(9, 16))})
"""1 stands for 65,536 [bytes]."""


def looks_like_a_record(path: Path) -> bool:
    """Whether a file begins as a database does, is empty, or is not there.

    Of one that does not, SQLite would throw away what it keeps beside it before it says so.

    Raises:
        OSError: the file cannot be read.
    """
    if not path.exists():
        return True
    with path.open("rb") as file:
        head = file.read(18)
    return not head or (head.startswith(_MAGIC) and int.from_bytes(head[_PAGE_SIZE], "big") in _PAGE_SIZES)


def version_of(db: sqlite3.Connection) -> int:
    """The version of a file's tables; 0 where there are none yet."""
    return int(db.execute("PRAGMA user_version").fetchone()[0])


def bring_up(db: sqlite3.Connection) -> None:
    """Make the tables of this format of those of any earlier one, wholly or not at all.

    Raises:
        sqlite3.Error: it could not be done; the file is as it was.
    """
    if version_of(db) >= FORMAT:
        return
    db.execute("BEGIN IMMEDIATE")
    try:
        # Another program may have done it, or more, while this one waited.
        version = version_of(db)
        for step in _STEPS[version:]:
            for statement in step.split(";"):
                if statement.strip():
                    db.execute(statement)
        db.execute(f"PRAGMA user_version = {max(version, FORMAT)}")
        db.execute("COMMIT")
    except BaseException:
        if db.in_transaction:
            db.execute("ROLLBACK")
        raise
