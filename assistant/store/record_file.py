"""The file in which a record lies: opened only when it is sound, written into whole, waited for where it is locked."""

import sqlite3
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path
from types import TracebackType
from typing import Any, Final, Self, TypeVar

from assistant.errors import DamagedError, FileError, GoneError, LockedError, StoreError
from assistant.files import make_private_file, make_private_folder
from assistant.store.aside import aside_words, finish_moving, set_aside
from assistant.store.soundness import (
    begin_of,
    check_is_file,
    copied,
    find_damage,
    is_damage,
    remember_as_sound,
    wrong_with,
)
from assistant.store.tables import FORMAT, bring_up, is_newer, schema_of, version_of

# A lock that goes again sooner is not worth a word [s].
_A_MOMENT: Final = 0.3
_A_TRY: Final = 0.02
"""How long SQLite itself waits for a lock, and is left alone between two tries [s]."""
_NO_RECORD: Final = (
    "{} is no record of calls; another program keeps its data there. It was left as it is; "
    "name another folder with --home."
)
_NEWER: Final = (
    "The record of calls at {} was written by a newer version of the program. "
    "It was left as it is; update the program, or name another folder with --home."
)
_R = TypeVar("_R")


class RecordFile:
    """The file of a record, open. Use it as a context manager, or `close` it."""

    patience: float = 5.0
    """How long a lock of another program's is waited for [s]."""
    tell: Callable[[str], None] | None = None
    """Is told that it is being waited."""

    def __init__(self, path: Path) -> None:
        """Open the file to write into, or make a new one; whether it is sound is looked at first.

        Raises:
            DamagedError: the file is damaged, or no database at all.
            StoreError: it cannot be opened, is no record of calls, or comes from a newer version.
        """
        self.path = path
        self._copy: tempfile.TemporaryDirectory[str] | None = None
        self._open()

    @classmethod
    def to_read(cls, path: Path) -> Self:
        """Open a record only to read it, as far as that can be done; where there is none, it has no calls.

        Nothing is written: not into a damaged file, nor into a folder that may only be read.

        Raises:
            DamagedError: it cannot be read at all.
            StoreError: it is no record of calls, or comes from a newer version.
        """
        store = cls.__new__(cls)
        store.path, store._copy, store._file = path, None, None
        store._open_to_read()
        return store

    def _open(self) -> None:
        try:
            finish_moving(self.path)
            make_private_folder(self.path.parent)
            damage = find_damage(self.path)
            if damage:
                raise self._damaged(damage)
            self._was_sound = True
            make_private_file(self.path)
            self._db = sqlite3.connect(self.path, timeout=_A_TRY, isolation_level=None)
        except (sqlite3.Error, OSError, ValueError, FileError) as error:
            raise self._cannot_open(error) from error
        try:
            self._waiting(self._prepare)
        except StoreError:
            self._db.close()
            raise
        except sqlite3.Error as error:
            self._db.close()
            raise self._cannot_open(error) from error
        self._file = self._file_now()

    def _prepare(self) -> None:
        db = self._db
        db.text_factory = _readable
        if str(db.execute("PRAGMA journal_mode").fetchone()[0]) != "wal":
            db.execute("PRAGMA journal_mode = WAL")
        # FULL: an answer that was acknowledged survives the battery, not just the program.
        db.execute("PRAGMA synchronous = FULL")
        db.execute("PRAGMA foreign_keys = ON")
        bring_up(db)
        # SQL's own comparison of letters knows only the plain ones.
        db.create_function("folded", 1, str.casefold, deterministic=True)

    def _open_to_read(self) -> None:
        path = self.path
        self._was_sound = False
        try:
            with suppress(OSError):
                finish_moving(path)
            check_is_file(path)
            head = begin_of(path) if path.exists() else b""
            if head and wrong_with(head):
                raise self._damaged(wrong_with(head))
            self._db = self._reading(path) if head else sqlite3.connect(":memory:", isolation_level=None)
            self._db.text_factory = _readable
            version = version_of(self._db)
            if version == 0 and schema_of(self._db):
                raise StoreError(_NO_RECORD.format(path))
            if is_newer(self._db):
                raise StoreError(_NEWER.format(path))
            if version > FORMAT:
                raise self._damaged("its version is not as it was written")
            if version < FORMAT:
                # The file is as it was: only what is read of it has the form of today.
                old, self._db = self._db, sqlite3.connect(":memory:", isolation_level=None)
                with closing(old):
                    old.backup(self._db)
                self._db.text_factory = _readable
                bring_up(self._db)
            self._db.create_function("folded", 1, str.casefold, deterministic=True)
        except (sqlite3.Error, OSError, ValueError) as error:
            raise self._cannot_open(error) from error

    def _reading(self, path: Path) -> sqlite3.Connection:
        """The file itself; where SQLite could not keep beside it what it needs for reading, a copy."""
        db = sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True, timeout=5.0, isolation_level=None)
        try:
            db.execute("SELECT count(*) FROM sqlite_schema").fetchall()
        except sqlite3.OperationalError as error:
            db.close()
            if is_damage(error):
                raise
            self._copy = tempfile.TemporaryDirectory()
            return sqlite3.connect(copied(path, Path(self._copy.name)), isolation_level=None)
        return db

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        """Close the file; everything recorded is already in it."""
        with suppress(sqlite3.Error):
            self._db.close()
        if self._was_sound and self._is_there():
            remember_as_sound(self.path)
        if self._copy is not None:
            self._copy.cleanup()

    def begin_anew(self) -> str:
        """Go on in a fresh record where this one is damaged or was taken away; give a sentence about it.

        Raises:
            StoreError: none can be begun.
        """
        is_gone = not self._is_there()
        # Before it is closed: SQLite moves pages into a file that it closes, but not into one that was renamed.
        aside = set_aside(self.path) if self._is_damaged() else None
        with suppress(sqlite3.Error):
            self._db.close()
        self._open()
        if aside is not None:
            return aside_words(self.path, aside)
        if is_gone:
            return f"The record at {self.path} was taken away while this call ran. This call is kept anew."
        return "The record could not be written to for a moment. This call is kept anew."

    def _is_damaged(self) -> bool:
        try:
            return bool(find_damage(self.path))
        except (OSError, StoreError):
            return False

    def _file_now(self) -> tuple[int, int] | None:
        try:
            status = self.path.stat()
        except OSError:
            return None
        return status.st_dev, status.st_ino

    def _is_there(self) -> bool:
        """Whether the file that is open is still the one at its path."""
        return self._file is not None and self._file_now() == self._file

    def _cannot_open(self, error: Exception) -> StoreError:
        if isinstance(error, sqlite3.Error) and is_damage(error):
            return self._damaged(error)
        return StoreError(
            f"The record of calls at {self.path} cannot be opened: {_plainly(error)}. "
            "Make that folder one that you can write to, or name another with --home."
        )

    def _damaged(self, error: Exception | str) -> DamagedError:
        self._was_sound = False
        return DamagedError(
            f"The record of calls at {self.path} is damaged ({error}). It was left as it is. Beginning a call sets it "
            "aside under another name and starts a fresh record; `coilside calls mend` also saves what can be read."
        )

    def _waiting(self, deed: Callable[[], _R]) -> _R:
        """Do something, and wait while another program holds the file."""
        end, told = time.monotonic() + self.patience, False
        while True:
            try:
                return deed()
            except sqlite3.OperationalError as error:
                if not _is_locked(error) or time.monotonic() > end:
                    raise
            if self.tell is not None and not told and time.monotonic() > end - self.patience + _A_MOMENT:
                self.tell("Another program is writing to the record of calls; waiting for it ...")
                told = True
            time.sleep(_A_TRY)

    @contextmanager
    def _writing(self) -> Iterator[sqlite3.Connection]:
        try:
            if not self._is_there():
                raise self._gone()
            self._waiting(lambda: self._db.execute("BEGIN IMMEDIATE"))
            try:
                yield self._db
                self._db.execute("COMMIT")
            except BaseException:
                # A full disk ends the transaction by itself.
                if self._db.in_transaction:
                    self._db.execute("ROLLBACK")
                raise
            if not self._is_there():
                raise self._gone()
        except sqlite3.Error as error:
            if is_damage(error):
                raise self._damaged(error) from error
            kind = LockedError if _is_locked(error) else StoreError
            raise kind(f"It could not be written to {self.path}: {_plainly(error)}.") from error

    def _gone(self) -> GoneError:
        return GoneError(f"The record of calls at {self.path} was taken away.")

    def _read(self, query: str, values: tuple[object, ...]) -> list[tuple[Any, ...]]:
        try:
            return self._waiting(lambda: self._db.execute(query, values).fetchall())
        except (OverflowError, UnicodeEncodeError):
            # A number of more digits, or a word of other signs, than any that was ever kept.
            return []
        except sqlite3.Error as error:
            if is_damage(error):
                raise self._damaged(error) from error
            raise StoreError(f"The record of calls at {self.path} cannot be read: {_plainly(error)}.") from error


def _is_locked(error: Exception) -> bool:
    return (getattr(error, "sqlite_errorcode", 0) & 0xFF) in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED)


def _readable(data: bytes) -> str:
    """A text of the file, of which some bytes may be damaged."""
    return data.decode("utf-8", "replace")


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
