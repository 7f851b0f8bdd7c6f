"""Opening the record of calls where it may be damaged: nothing is overwritten, and a call can be begun all the same."""

import shutil
import sqlite3
import tempfile
from contextlib import closing, suppress
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any, Final

from assistant.call.answers import Answer
from assistant.errors import DamagedError, StoreError
from assistant.store.store import Line, Note, Store, now

# Beside the file itself, SQLite keeps what was not yet moved into it; without these some answers would be lost.
_PARTS: Final = ("", "-wal", "-shm")


@dataclass(frozen=True, slots=True)
class Opened:
    """A record that can be written to; `told` says what had to be done for it, in sentences."""

    store: Store
    told: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Saved:
    """How many calls of a damaged record could be read and are in another now, and of how many only the number."""

    calls: int
    lost: int


def open_or_begin(path: Path) -> Opened:
    """The record at a path; a damaged one is set aside under another name, and a fresh one begun.

    Raises:
        StoreError: it cannot be opened, belongs to another program, or comes from a newer version.
    """
    try:
        return Opened(Store(path))
    except DamagedError:
        aside = set_aside(path)
    return Opened(
        Store(path),
        (
            f"The record of calls was damaged. It is kept as {aside.name} beside a fresh one; "
            f"`coilside calls mend --from {aside}` saves what can be read of it.",
        ),
    )


def set_aside(path: Path, word: str = "damaged") -> Path:
    """Give a file another name beside its place, with the time in it; gives the new path.

    Raises:
        StoreError: it cannot be renamed.
    """
    stamp = f"{now():%Y%m%d-%H%M%S}"
    names = (f"{path.stem}-{word}-{stamp}{more}{path.suffix}" for more in ("", *(f"-{n}" for n in range(2, 100))))
    aside = next(new for new in map(path.with_name, names) if not new.exists())
    try:
        # What belongs to the file goes first: beside a fresh file it would be taken for a part of that.
        for part in reversed(_PARTS):
            old = path.with_name(path.name + part)
            if old.exists():
                old.rename(aside.with_name(aside.name + part))
    except OSError as error:
        raise StoreError(
            f"{path} is damaged and cannot be renamed: {error}. Name another folder with --home."
        ) from error
    return aside


def is_sound(path: Path) -> bool:
    """Whether every page of a record holds what it should; reads the whole file.

    Raises:
        StoreError: it cannot be opened for another reason than damage.
    """
    try:
        with Store(path) as store:
            return store.is_sound()
    except DamagedError:
        return False


def save_what_can_be_read(damaged: Path, store: Store) -> Saved:
    """Copy the calls that can still be read out of a damaged file into another record; the file itself stays.

    Raises:
        StoreError: there is no such file, or the other record cannot be written to.
    """
    if not damaged.is_file():
        raise StoreError(f"There is no file {damaged}.")
    saved = lost = 0
    with tempfile.TemporaryDirectory() as folder:
        # Only reading a record already moves pages about in it.
        copy = Path(folder) / damaged.name
        for part in _PARTS:
            old = damaged.with_name(damaged.name + part)
            if old.exists():
                shutil.copyfile(old, copy.with_name(copy.name + part))
        with closing(sqlite3.connect(copy, isolation_level=None)) as db:
            for (number,) in _readable(db, "SELECT id FROM call ORDER BY id"):
                call = _call(db, number)
                if call is None:
                    lost += 1
                    continue
                store.describe(store.add_call(call.lines, call.name, call.notes), *call.listed)
                saved += 1
    return Saved(saved, lost)


def _readable(db: sqlite3.Connection, query: str, *values: object) -> list[tuple[Any, ...]]:
    """The rows of a query up to the first that cannot be read."""
    rows: list[tuple[Any, ...]] = []
    with suppress(sqlite3.Error):
        rows.extend(db.execute(query, values))
    return rows


@dataclass(frozen=True, slots=True)
class _Call:
    lines: list[Line]
    name: str
    notes: list[Note]
    listed: tuple[Any, ...]


def _call(db: sqlite3.Connection, number: int) -> _Call | None:
    """One call of a damaged file; `None` when it cannot be read whole."""
    # Where an index is damaged, the rows themselves may still be whole.
    for index in ("", "NOT INDEXED"):
        try:
            rows = db.execute(
                f"SELECT at, deed, name, nth, text FROM line {index} WHERE call = ? ORDER BY id", (number,)
            ).fetchall()
            lines = [
                Line(datetime.fromisoformat(at), deed, Answer(name, text, nth)) for at, deed, name, nth, text in rows
            ]
            about = db.execute("SELECT title, status, ending FROM call WHERE id = ?", (number,)).fetchone()
        except (sqlite3.Error, TypeError, ValueError):
            continue
        # Files of the first format have neither names nor notes.
        named = _readable(db, "SELECT name, edition FROM call WHERE id = ?", number) or [("", "")]
        notes = _readable(db, "SELECT at, text FROM note WHERE call = ? ORDER BY id", number)
        kept = [Note(datetime.fromisoformat(at), text) for at, text in notes]
        return _Call(lines, named[0][0], kept, (*about, named[0][1])) if about else None
    return None
