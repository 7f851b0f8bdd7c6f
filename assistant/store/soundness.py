"""Whether a record is sound: looked at before anything is written into it.

A file that is as it was when it was last seen sound is not looked through again. Any other is: its beginning, what
SQLite keeps beside it, its tables, and all its pages; up to `_THOROUGH` bytes also whether the indexes tell the same
as the rows.
"""

import shutil
import sqlite3
import stat
import struct
import tempfile
from collections.abc import Iterator
from contextlib import closing, suppress
from pathlib import Path
from typing import Final

from assistant.errors import FileError, StoreError
from assistant.files import read_at_once, write_whole
from assistant.store.tables import FORMAT, TABLES, is_newer, schema_of, tables_of_version, version_of

PARTS: Final = ("", "-wal", "-shm", "-journal")
"""What a record is made of: the file, what was not yet moved into it, what SQLite knows of that, and what it would take
back, as after a kill while a new one was begun."""
_SEEN: Final = "-seen"
_LONGEST_SEEN: Final = 1000
_IN_USE: Final = "in use"
_THOROUGH: Final = 8_000_000
_MAGIC: Final = b"SQLite format 3\x00"
_HEADER: Final = 100
_PAGE_SIZES: Final = frozenset({1, *(2**power for power in range(9, 16))})
"""1 stands for 65,536 [bytes]."""
_FIXED: Final = bytes((0, 64, 32, 32))
_LARGEST_NUMBER: Final = 2**53
_WAL_HEADER: Final = 32
_FRAME_HEADER: Final = 24
# What SQLite says of a file whose pages or tables are not what they should be. Our questions are always the same, so
# an answer that a table or column is missing speaks of the file, too.
_DAMAGED: Final = frozenset(
    {sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB, sqlite3.SQLITE_ERROR, sqlite3.SQLITE_MISMATCH}
)
_SHORT_READ: Final = 522
"""SQLITE_IOERR_SHORT_READ: the file ends before it should."""


def is_damage(error: BaseException) -> bool:
    """Return whether what SQLite says speaks of a damaged file."""
    code = getattr(error, "sqlite_errorcode", None)
    if code is None:
        return isinstance(error, sqlite3.DatabaseError | OverflowError) and not isinstance(
            error, sqlite3.ProgrammingError | sqlite3.NotSupportedError
        )
    return code == _SHORT_READ or (code & 0xFF) in _DAMAGED


def check_is_file(path: Path) -> None:
    """Refuse a record of which a part is no ordinary file: a pipe would be waited for.

    Raises:
        StoreError: it is a folder, pipe or device.
        OSError: nothing can be told of it.
    """
    for part in parts_of(path):
        with suppress(FileNotFoundError, NotADirectoryError):
            if not stat.S_ISREG(part.stat().st_mode):
                raise StoreError(f"{part} cannot be opened: it is no ordinary file. Name another folder with --home.")


def find_damage(path: Path) -> str:
    """Return what is wrong with a record, in a few words; nothing for one that is sound, empty or not there.

    It is only read.

    Raises:
        StoreError: it is no record, or comes from a newer version.
        OSError: it cannot be read.
    """
    check_is_file(path)
    if is_seen(path):
        return ""
    # Another program may be writing just now.
    found = _outside(path) and _outside(path)
    if found or not path.exists() or path.stat().st_size == 0:
        return found
    try:
        return _looked_into(path, f"{path.absolute().as_uri()}?mode=ro")
    except sqlite3.Error as error:
        if is_damage(error):
            return str(error)
        if (error.sqlite_errorcode & 0xFF) != sqlite3.SQLITE_READONLY:
            raise StoreError(f"The record of calls at {path} cannot be read: {error}.") from error
    # SQLite would first take back what was half done, and for that write: so it is done to a copy.
    with tempfile.TemporaryDirectory() as folder:
        try:
            return _looked_into(path, copied(path, Path(folder)).absolute().as_uri())
        except sqlite3.Error as error:
            return str(error)


def copied(path: Path, folder: Path) -> Path:
    """Copy a record with all that belongs to it into a folder; give the copy.

    Raises:
        OSError: it cannot be read.
    """
    for part in parts_of(path):
        if part.is_file():
            shutil.copyfile(part, folder / part.name)
    return folder / path.name


def parts_of(path: Path) -> Iterator[Path]:
    """Give the files that a record is made of, whether they are there or not."""
    return (path.with_name(path.name + part) for part in PARTS)


def _looked_into(path: Path, address: str) -> str:
    with closing(sqlite3.connect(address, uri=True, timeout=5.0)) as db:
        db.text_factory = _readable
        return _inside(path, db)


def _readable(data: bytes) -> str:
    return data.decode("utf-8", "replace")


def _outside(path: Path) -> str:
    """What is wrong with the file as bytes, and with what lies beside it."""
    wal = path.with_name(path.name + "-wal")
    has_wal = wal.is_file() and wal.stat().st_size > 0
    if not path.exists():
        return "the file itself is gone, and only what belongs to it is left" if has_wal else ""
    head = begin_of(path)
    if not head:
        return "the file itself is empty, and what belongs to it is not" if has_wal else ""
    return wrong_with(head) or (_of_wal(wal) if has_wal else "")


def begin_of(path: Path) -> bytes:
    """Return the first bytes of a file.

    Raises:
        OSError: it cannot be read.
    """
    with path.open("rb") as file:
        return file.read(_HEADER)


def wrong_with(head: bytes) -> str:
    """Return what is wrong with the beginning of a file, where that is to be a record's; nothing for an empty one.

    Of one that does not begin so, SQLite would throw away what it keeps beside it before it says so.
    Source: SQLite, "Database File Format", 1.3.
    """
    if not head:
        return ""
    if len(head) < _HEADER or not head.startswith(_MAGIC):
        return "it does not begin like one"
    page, encoding = int.from_bytes(head[16:18], "big"), int.from_bytes(head[56:60], "big")
    is_whole = page in _PAGE_SIZES and head[18] in (1, 2) and head[19] in (1, 2) and head[20:24] == _FIXED
    # No encoding is told where all that there is was not yet moved into the file.
    return "" if is_whole and encoding in (0, 1) else "its beginning is not as it was written"


def _of_wal(path: Path) -> str:
    """What is wrong with the file of what was not yet moved: whether something follows that SQLite would not read.

    What was written last may have been cut off, as by the battery: then nothing whole comes behind it.
    Source: SQLite, "Database File Format", 4.1 and 4.2.
    """
    data = path.read_bytes()
    if len(data) < _WAL_HEADER + _FRAME_HEADER:
        return ""
    order, page = _order_and_page(data)
    if not page or checksum(order, data[:24], (0, 0)) != struct.unpack(">II", data[24:32]):
        return "the answers given last are not as they were written"
    frames = list(frames_of(data, page))
    before = struct.unpack(">II", data[24:32])
    for place, (start, head) in enumerate(frames):
        before = checksum(
            order, data[start + _FRAME_HEADER : start + _FRAME_HEADER + page], checksum(order, head[:8], before)
        )
        if head[8:16] != data[16:24] or before != struct.unpack(">II", head[16:24]):
            later = (end[4:8] != bytes(4) and end[8:16] == data[16:24] for _, end in frames[place:])
            return "some of the answers given last are not as they were written" if any(later) else ""
    return ""


def _order_and_page(data: bytes) -> tuple[str, int]:
    """In which order bytes are added up, and the size of a page; 0 where the file does not begin as it should."""
    magic, _, page = struct.unpack(">III", data[:12])
    known = magic in (0x377F0682, 0x377F0683) and 512 <= page <= 65536
    return ("<" if magic == 0x377F0682 else ">"), page if known else 0


def frames_of(data: bytes, page: int) -> Iterator[tuple[int, bytes]]:
    """The frames of a file of what was not yet moved: where each begins, and its head."""
    for start in range(_WAL_HEADER, len(data) - _FRAME_HEADER - page + 1, _FRAME_HEADER + page):
        yield start, data[start : start + _FRAME_HEADER]


def checksum(order: str, data: bytes, before: tuple[int, ...]) -> tuple[int, int]:
    """Return the sums that SQLite keeps of data, going on from those before it."""
    first, second = before
    words = struct.unpack(f"{order}{len(data) // 4}I", data)
    for even, odd in zip(words[::2], words[1::2], strict=True):
        first = (first + even + second) & 0xFFFFFFFF
        second = (second + odd + first) & 0xFFFFFFFF
    return first, second


def with_whole_wal(path: Path) -> None:
    """Let SQLite read all of the file of what was not yet moved, beside a copy of a record that is to be saved from.

    It reads up to the first sum that does not fit. The sums are worked anew, so that it reads what comes behind, too.
    """
    wal = path.with_name(path.name + "-wal")
    path.with_name(path.name + "-shm").unlink(missing_ok=True)
    data = bytearray(wal.read_bytes()) if wal.is_file() else bytearray()
    if len(data) < _WAL_HEADER + _FRAME_HEADER:
        return
    order, page = _order_and_page(bytes(data))
    if not page:
        head = begin_of(path)
        page = {1: 65536}.get(size := int.from_bytes(head[16:18], "big"), size)
        if not 512 <= page <= 65536 or page & (page - 1):
            return
        order = ">"
        data[:12] = struct.pack(">III", 0x377F0683, 3007000, page)
    salts = _salts_of(bytes(data), page)
    data[16:24] = salts
    before = checksum(order, bytes(data[:24]), (0, 0))
    data[24:32] = struct.pack(">II", *before)
    for start, head in list(frames_of(bytes(data), page)):
        if head[8:16] != salts:
            break
        body = bytes(data[start + _FRAME_HEADER : start + _FRAME_HEADER + page])
        before = checksum(order, body, checksum(order, head[:8], before))
        data[start + 16 : start + 24] = struct.pack(">II", *before)
    wal.write_bytes(data)


def _salts_of(data: bytes, page: int) -> bytes:
    """What marks the frames that belong together: as the first of them have it, should the beginning be damaged."""
    marks = [head[8:16] for _, head in frames_of(data, page)][:3]
    return data[16:24] if data[16:24] in marks or not marks else marks[0]


def _inside(path: Path, db: sqlite3.Connection) -> str:
    version = version_of(db)
    schema = schema_of(db)
    tables = {name for kind, name, _ in schema if kind == "table"}
    if not schema and version == 0:
        return ""
    if not tables & TABLES or (tables - TABLES and version == 0):
        raise StoreError(
            f"{path} is no record of calls; another program keeps its data there. It was left as it is; "
            "name another folder with --home."
        )
    if is_newer(db):
        raise StoreError(
            f"The record of calls at {path} was written by a newer version of the program. "
            "It was left as it is; update the program, or name another folder with --home."
        )
    if version > FORMAT or schema != tables_of_version(version):
        return "its tables are not as they were made"
    numbers = db.execute("SELECT seq FROM sqlite_sequence").fetchall()
    if not all(isinstance(last, int) and 0 <= last < _LARGEST_NUMBER for (last,) in numbers):
        return "its numbers are not as they were counted"
    for table, column, words in (("line", "deed", "'set', 'drop'"), ("call", "status", "'open', 'ended'")):
        if db.execute(f"SELECT 1 FROM {table} WHERE {column} NOT IN ({words}) LIMIT 1").fetchall():
            return f"there are other words in {table}.{column} than are ever written"
    how = "integrity_check" if path.stat().st_size <= _THOROUGH else "quick_check"
    said = [str(row[0]) for row in db.execute(f"PRAGMA {how}(1)")]
    return "" if said == ["ok"] else " ".join(said)[:200]


def is_seen(path: Path) -> bool:
    """Return whether a record is as it was when it was seen sound."""
    try:
        seen = read_at_once(path.with_name(path.name + _SEEN), _LONGEST_SEEN).decode("utf-8")
        return seen == _state_of(path) != _IN_USE
    except (OSError, UnicodeDecodeError):
        return False


def remember_as_sound(path: Path) -> None:
    """Remember that a record is sound as it is now; where that cannot be written, it is looked through again."""
    with suppress(OSError, FileError):
        write_whole(path.with_name(path.name + _SEEN), _state_of(path))


def _state_of(path: Path) -> str:
    wal = path.with_name(path.name + "-wal")
    if wal.exists() and wal.stat().st_size:
        return _IN_USE
    status = path.stat()
    return f"{status.st_size} {status.st_mtime_ns} {status.st_ino}"
