"""Opening the record of calls where it may be damaged: nothing is overwritten, and a call can be begun all the same."""

import sqlite3
import tempfile
from pathlib import Path

from assistant.errors import DamagedError, StoreError
from assistant.frozen import dataclass
from assistant.store.aside import aside_words, finish_moving, set_aside
from assistant.store.salvage import Saved, salvage
from assistant.store.soundness import PARTS, find_damage
from assistant.store.store import Store


@dataclass(frozen=True, slots=True)
class Opened:
    """A record that can be written to; `told` says what had to be done for it, in sentences."""

    store: Store
    told: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Mended:
    """A damaged record that was set aside, and what of it is in the new one."""

    aside: Path
    saved: Saved


def open_or_begin(path: Path) -> Opened:
    """The record at a path; a damaged one is set aside under another name, and a fresh one begun.

    Raises:
        StoreError: it cannot be opened, belongs to another program, or comes from a newer version.
    """
    try:
        return Opened(Store(path))
    except DamagedError:
        aside = set_aside(path)
    return Opened(Store(path), (aside_words(path, aside),))


def mend(path: Path) -> Mended | None:
    """Put a new record with all that can be read in the place of a damaged one; `None` where it is sound.

    Until the new one is whole, nothing is changed; from then on, whoever opens the record does the rest of it.

    Raises:
        StoreError: it belongs to another program, comes from a newer version, or a file cannot be written.
    """
    new = path.with_name(f".{path.stem}-mended{path.suffix}")
    try:
        finish_moving(path)
        if not find_damage(path):
            return None
        # What one that was killed has left.
        for part in PARTS:
            new.with_name(new.name + part).unlink(missing_ok=True)
        saved = salvage(path, new)
    except (sqlite3.Error, OSError) as error:
        raise StoreError(f"What can be read of {path} cannot be saved: {error}.") from error
    return Mended(set_aside(path, new), saved)


def save_into(store: Store, damaged: Path) -> Saved:
    """Take into a record the calls that can be read of a damaged one, which stays; none that it has already.

    They keep their numbers where these are free. All are taken, or none.

    Raises:
        StoreError: there is no such file, or the record cannot be written to.
    """
    try:
        if not damaged.is_file():
            raise StoreError(f"There is no file {damaged}.")
        with tempfile.TemporaryDirectory() as folder:
            new = Path(folder) / "saved.db"
            saved = salvage(damaged, new)
            store.take_in(new)
    except (sqlite3.Error, OSError, ValueError) as error:
        raise StoreError(f"What can be read of {damaged} cannot be saved: {error}.") from error
    return saved
