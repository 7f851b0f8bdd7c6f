"""Files of a person's own: written wholly or not at all, for their eyes only, and read without waiting for anyone."""

import os
import stat
import tempfile
from pathlib import Path
from typing import Final

from assistant.errors import FileError

PRIVATE: Final = 0o600
"""Who may read a file with what a customer's system is like: its owner alone."""
_PRIVATE_FOLDER: Final = 0o700
# Asked for a pipe that nobody reads, or a terminal, the system would wait; not every system has the word.
_AT_ONCE: Final = getattr(os, "O_NONBLOCK", 0)


def make_private_folder(path: Path) -> None:
    """Make a folder that its owner alone can look into; one that is there stays as it is.

    Raises:
        FileError: it cannot be made.
    """
    try:
        if not path.is_dir():
            path.mkdir(mode=_PRIVATE_FOLDER, parents=True)
            path.chmod(_PRIVATE_FOLDER)
    except (OSError, ValueError) as error:
        raise FileError(f"{path} could not be written: {reason_of(error)}.") from error


def make_private_file(path: Path) -> None:
    """Make an empty file that its owner alone can read, whatever the usual rights are.

    A file that is there and that others may read, but not write, has the rights that earlier versions gave it: they
    are taken back. Where others may write, somebody wanted to share it.

    Raises:
        OSError: it cannot be made.
    """
    try:
        handle = os.open(path, os.O_RDWR | os.O_CREAT | os.O_EXCL, PRIVATE)
    except FileExistsError:
        status = path.stat()
        mode = stat.S_IMODE(status.st_mode)
        if mode & 0o044 and not mode & 0o022 and status.st_uid == os.getuid():
            path.chmod(PRIVATE)
        return
    try:
        os.fchmod(handle, PRIVATE)
    finally:
        os.close(handle)


def write_whole(path: Path, text: str, *, private: bool = True, anew: bool = False) -> None:
    """Write a file wholly or not at all: what was there stays until the new one is complete, then its rights hold on.

    A link goes on leading to where it led, and a device or pipe is written into. What was not there is
    `private`, or has the usual rights; with `anew` it must not have been there.

    Raises:
        FileExistsError: it is there, and was to be made anew.
        FileError: it could not be written.
    """
    data = text.encode("utf-8", "replace")
    try:
        status = _status(path)
        if status is not None and not stat.S_ISREG(status.st_mode):
            _write_into(path, data)
            return
        target = path.resolve() if path.is_symlink() else path
        usual = PRIVATE if private else 0o666 & ~_umask()
        _replace(target, data, usual if status is None else stat.S_IMODE(status.st_mode), anew=anew)
    except (OSError, ValueError, RuntimeError) as error:
        if anew and isinstance(error, FileExistsError):
            raise
        raise FileError(f"{path} could not be written: {reason_of(error)}.") from error


def _status(path: Path) -> os.stat_result | None:
    try:
        return path.stat()
    except FileNotFoundError:
        return None


def _write_into(path: Path, data: bytes) -> None:
    handle = os.open(path, os.O_WRONLY | _AT_ONCE)
    os.set_blocking(handle, True)
    with open(handle, "wb") as file:
        file.write(data)


def _replace(path: Path, data: bytes, mode: int, *, anew: bool) -> None:
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name[:100]}.")
    try:
        with open(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fchmod(handle, mode)
            os.fsync(handle)
        if anew:
            os.link(name, path)
        else:
            os.replace(name, path)
    finally:
        Path(name).unlink(missing_ok=True)


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask


def read_at_once(path: Path, most: int) -> bytes:
    """Return what a file holds, no more than so many bytes; nobody is waited for at the other end of a pipe.

    Raises:
        OSError: it cannot be read.
    """
    try:
        handle = os.open(path, os.O_RDONLY | _AT_ONCE)
    except ValueError as error:
        raise FileNotFoundError(reason_of(error)) from error
    with open(handle, "rb") as file:
        return file.read(most) or b""


def reason_of(error: Exception) -> str:
    """Return what the system says of a file that could not be used, without the file's name."""
    if isinstance(error, OSError):
        return error.strerror or str(error)
    return "the name cannot be used"
