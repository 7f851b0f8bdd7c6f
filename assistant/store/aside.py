"""Giving a record another name with all that belongs to it, so that one killed half-way is gone on with."""

from contextlib import suppress
from pathlib import Path
from typing import Final

from assistant.errors import FileError, StoreError
from assistant.files import read_at_once, write_whole
from assistant.store.soundness import parts_of
from assistant.store.times import now

_NOTE: Final = "-moving"
_LONGEST: Final = 10_000


def set_aside(path: Path, new: Path | None = None, word: str = "damaged") -> Path:
    """Give a record another name beside its place, with the time in it, and put a new one there; give the new name.

    What is to be done is written down first. Whoever opens the record after a kill does the rest.

    Raises:
        StoreError: it cannot be renamed.
    """
    stamp = f"{now():%Y%m%d-%H%M%S}"
    names = (f"{path.stem}-{word}-{stamp}{more}{path.suffix}" for more in ("", *(f"-{n}" for n in range(2, 1000))))
    aside = next(free for free in map(path.with_name, names) if not any(part.exists() for part in parts_of(free)))
    try:
        write_whole(_note_of(path), "\n".join((aside.name, new.name if new else "")))
        finish_moving(path)
    except (OSError, FileError) as error:
        raise StoreError(
            f"{path} is damaged and cannot be renamed: {error}. Name another folder with --home."
        ) from error
    return aside


def finish_moving(path: Path) -> None:
    """Do the rest of what a program that was ended half-way has left; usually nothing.

    Raises:
        OSError: it cannot be done.
    """
    note = _note_of(path)
    try:
        names = read_at_once(note, _LONGEST).decode("utf-8").split("\n")
    except FileNotFoundError:
        return
    except UnicodeDecodeError:
        names = []
    aside, new = (path.with_name(Path(name).name or path.name) for name in (*names, "", "")[:2])
    if aside.name.startswith(f"{path.stem}-"):
        # The file itself goes last: where it has gone, all that belongs to it has.
        for old, other in reversed(list(zip(parts_of(path), parts_of(aside), strict=True))):
            if not other.exists() and not aside.exists():
                with suppress(FileNotFoundError):
                    old.rename(other)
        if new != path and new.name.startswith("."):
            with suppress(FileNotFoundError):
                new.replace(path)
    note.unlink(missing_ok=True)


def aside_words(path: Path, aside: Path) -> str:
    """Return what is told of a record that was set aside."""
    return (
        f"The record of calls was damaged. It is kept as {aside.name} beside a fresh one; "
        f"`coilside calls mend --from {aside}` saves what can be read of it."
    )


def _note_of(path: Path) -> Path:
    return path.with_name(path.name + _NOTE)
