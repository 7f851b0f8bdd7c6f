"""The tables of the record of calls, and how a file of an earlier format becomes one of this one."""

import sqlite3
from collections.abc import Callable
from contextlib import closing
from functools import cache, partial
from typing import Final

from assistant.call.answers import Written
from assistant.call.keys import NodeAt, PromptKey, Topic
from assistant.store.earlier import written_earlier

FORMAT: Final = 3
"""Version of the tables; a file of a newer version is refused, never changed."""

TABLES: Final = frozenset({"call", "line", "note", "sqlite_sequence"})
"""All that a record holds; a file with other tables belongs to another program."""

_MARK: Final = int.from_bytes(b"Coi\0")

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

# What a prompt is about, its name and its node are columns of their own now, where there was one name for all.
_THIRD_BEFORE: Final = """
ALTER TABLE line RENAME TO line_of_second;
CREATE TABLE line (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    call INTEGER NOT NULL REFERENCES call (id) ON DELETE CASCADE,
    at TEXT NOT NULL,
    deed TEXT NOT NULL CHECK (deed IN ('set', 'drop')),
    topic TEXT NOT NULL,
    name TEXT NOT NULL,
    tree TEXT NOT NULL,
    node TEXT NOT NULL,
    nth INTEGER NOT NULL,
    text TEXT NOT NULL
) STRICT;
"""
_THIRD_BEHIND: Final = """
DROP TABLE line_of_second;
CREATE INDEX line_by_call ON line (call, id);
CREATE INDEX line_by_name ON line (topic, name, id);
"""


def _to_third(db: sqlite3.Connection) -> None:
    _run(db, _THIRD_BEFORE)
    old = db.execute("SELECT id, call, at, deed, name, nth, text FROM line_of_second ORDER BY id").fetchall()
    db.executemany(
        "INSERT INTO line (id, call, at, deed, topic, name, tree, node, nth, text) "
        "VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        ((*front, *row_of(written_earlier(name, nth, text))) for *front, name, nth, text in old),
    )
    _run(db, _THIRD_BEHIND)


def row_of(written: Written) -> tuple[str, str, str, str, int, str]:
    """Give the columns of an answer: topic, name, tree, node, nth, text."""
    key = written.key
    place = key.place or NodeAt("", "")
    return key.topic.value, key.name, place.tree, place.node, key.nth, written.text


def written_of(topic: str, name: str, tree: str, node: str, nth: int, text: str) -> Written:
    """Read the columns of an answer.

    Raises:
        ValueError: there is no such topic.
    """
    return Written(PromptKey(Topic(topic), name, NodeAt(tree, node) if node else None, nth), text)


def _run(db: sqlite3.Connection, statements: str) -> None:
    for statement in statements.split(";"):
        if statement.strip():
            db.execute(statement)


_STEPS: Final[tuple[Callable[[sqlite3.Connection], None], ...]] = (
    partial(_run, statements=_FIRST),
    partial(_run, statements=_SECOND),
    _to_third,
)


def schema_of(db: sqlite3.Connection) -> frozenset[tuple[str, str, str]]:
    """Return the tables and indexes of a file: kind, name, and how each was made."""
    rows = db.execute("SELECT type, name, coalesce(sql, '') FROM sqlite_schema").fetchall()
    return frozenset((str(kind), str(name), "".join(str(sql).split())) for kind, name, sql in rows)


@cache
def tables_of_version(version: int) -> frozenset[tuple[str, str, str]]:
    """Return what `schema_of` gives of a file of a version."""
    with closing(sqlite3.connect(":memory:", isolation_level=None)) as db:
        bring_up(db, version)
        return schema_of(db)


def version_of(db: sqlite3.Connection) -> int:
    """The version of a file's tables; 0 where there are none yet."""
    return int(db.execute("PRAGMA user_version").fetchone()[0])


def is_newer(db: sqlite3.Connection) -> bool:
    """Return whether a file was written by a newer version of the program, and its version is not only damaged."""
    version = version_of(db)
    return version > FORMAT and int(db.execute("PRAGMA application_id").fetchone()[0]) == mark_of(version)


def mark_of(version: int) -> int:
    """Return what stands in a file beside its version and tells that this is as it was written."""
    return _MARK + version


def bring_up(db: sqlite3.Connection, to: int = FORMAT) -> None:
    """Make the tables of this format, or of the one before that is named, of those of any earlier one, or of none.

    It is done wholly or not at all.

    Raises:
        sqlite3.Error: it could not be done; the file is as it was.
    """
    if version_of(db) >= to:
        return
    db.execute("BEGIN IMMEDIATE")
    try:
        # Another program may have done it, or more, while this one waited.
        version = version_of(db)
        for step in _STEPS[version:to]:
            step(db)
        db.execute(f"PRAGMA user_version = {max(version, to)}")
        db.execute(f"PRAGMA application_id = {mark_of(max(version, to))}")
        db.execute("COMMIT")
    except BaseException:
        if db.in_transaction:
            db.execute("ROLLBACK")
        raise
