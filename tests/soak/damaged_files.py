"""Damaged records: `python -m tests.soak.damaged_files [FILES] [SEED]`, by default 2,000.

Each is a record of some calls, a part of them not yet moved into the main file, with bytes, pages, or what lies beside
the file damaged or cut off. Whatever SQLite can tell of it: nothing of the damaged file is overwritten, a call can be
begun, no call that could be read is gone, and `mend` saves at least what could be read.
"""

import random
import shutil
import sqlite3
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from typing import Final

from assistant.errors import StoreError
from assistant.store.opening import mend, open_or_begin
from assistant.store.soundness import PARTS, find_damage
from assistant.store.store import Line, Store
from assistant.store.times import now
from tests.answering import written
from tests.soak.counted import memory

CALLS: Final = 24
NAME: Final = "calls.db"
PAGE: Final = 4096
SLOW: Final = 5.0


def template(folder: Path) -> Path:
    """A folder with a record whose last calls lie in the file beside it, as after a kill."""
    home, made = folder / "home", folder / "template"
    with Store(home / NAME) as store:
        for count in range(CALLS // 2):
            _call(store, count)
    with Store(home / NAME) as store:
        for count in range(CALLS // 2, CALLS):
            _call(store, count)
        made.mkdir()
        for part in PARTS[:3]:
            shutil.copyfile(home / (NAME + part), made / (NAME + part))
    return made


def _call(store: Store, count: int) -> None:
    lines = [Line(now(), "set", written(name, f"{count} psig, {name}" * 4)) for name in map(str, range(20))]
    number = store.add_call(lines, f"call {count}")
    store.describe(number, f"complaint {count}", "open" if count % 3 else "ended", "Undercharge", "tree 1")
    store.add_note(number, f"note {count}")


def _bytes(data: bytearray, dice: random.Random) -> None:
    for _ in range(dice.choice((1, 1, 2, 8))):
        data[dice.randrange(len(data))] = dice.randrange(256)


def _bits(data: bytearray, dice: random.Random) -> None:
    data[dice.randrange(len(data))] ^= 1 << dice.randrange(8)


def _head(data: bytearray, dice: random.Random) -> None:
    data[dice.randrange(100)] = dice.randrange(256)


def _schema(data: bytearray, dice: random.Random) -> None:
    data[dice.randrange(100, PAGE)] = dice.randrange(256)


def _page(data: bytearray, dice: random.Random) -> None:
    start = dice.randrange(max(len(data) // PAGE, 1)) * PAGE
    filler = dice.choice((b"\x00", b"\xff", b"\xa5", bytes((dice.randrange(256),))))
    data[start : start + PAGE] = filler * len(data[start : start + PAGE])


def _swapped(data: bytearray, dice: random.Random) -> None:
    one, other = (dice.randrange(max(len(data) // PAGE, 1)) * PAGE for _ in range(2))
    data[one : one + PAGE], data[other : other + PAGE] = data[other : other + PAGE], data[one : one + PAGE]


def _cut(data: bytearray, dice: random.Random) -> None:
    del data[dice.randrange(len(data)) :]


def _noise(data: bytearray, dice: random.Random) -> None:
    start = dice.randrange(len(data))
    length = dice.choice((16, 512, 5000))
    data[start : start + length] = dice.randbytes(len(data[start : start + length]))


KINDS: Final[tuple[Callable[[bytearray, random.Random], None], ...]] = (
    _bytes, _bits, _head, _schema, _page, _swapped, _cut, _noise,
)  # fmt: skip


def damage(folder: Path, dice: random.Random) -> str:
    """Damage one of the files; gives how."""
    part = dice.choice(("", "", "", "-wal", "-wal", "-shm"))
    file = folder / (NAME + part)
    kind = dice.choice(KINDS)
    data = bytearray(file.read_bytes())
    kind(data, dice)
    file.write_bytes(data)
    return f"{kind.__name__[1:]} of {NAME}{part}"


def readable(path: Path) -> dict[int, tuple[Line, ...]]:
    """The calls that can be read of a copy of a record."""
    found: dict[int, tuple[Line, ...]] = {}
    try:
        with Store.to_read(path) as store:
            numbers = [entry.number for entry in store.entries()]
            for number in numbers:
                try:
                    found[number] = store.lines(number)
                    store.notes(number)
                except StoreError:
                    continue
    except StoreError:
        return found
    return found


def wrong_with_round(made: Path, folder: Path, dice: random.Random) -> tuple[str, str]:
    """Damage a copy and go on with it; gives how, and what went wrong, if anything."""
    first, second, third = (folder / name for name in ("first", "second", "third"))
    shutil.copytree(made, first)
    how = damage(first, dice)
    shutil.copytree(first, second)
    shutil.copytree(first, third)
    before = {part: (first / (NAME + part)).read_bytes() for part in PARTS[:2]}
    could = readable(third / NAME)
    begun = time.monotonic()
    wrong = _begin(first, how, before, could) or _mend(second, could)
    took = time.monotonic() - begun
    return how, wrong or (f"took {took:.1f} s" if took > SLOW else "")


def _begin(folder: Path, how: str, before: dict[str, bytes], could: dict[int, tuple[Line, ...]]) -> str:
    opened = open_or_begin(folder / NAME)
    with opened.store as store:
        number = store.new_call()
        store.record(number, "set", written("filter_condition", "clean"))
    asides = [file for file in folder.iterdir() if "-damaged-" in file.name and file.suffix == ".db"]
    if opened.told:
        aside = asides[0] if asides else folder / "none"
        kept = {part: aside.with_name(aside.name + part) for part in PARTS[:2]}
        for part, data in before.items():
            if not kept[part].exists() or kept[part].read_bytes() != data:
                return f"set aside, but {part or 'the file'} is not as it was"
        return ""
    if asides:
        return "set aside without a word"
    now_there = readable(folder / NAME)
    if how.startswith("cut") and how.endswith("-wal"):
        # It ends as one does that was being written when the battery went: what was whole in it counts.
        return "" if set(now_there) == {*range(1, number + 1)} else "not all in front of the cut"
    if set(now_there) != {*range(1, CALLS + 1), number}:
        return f"gone on with calls {sorted(now_there)}"
    if any(len(lines) != 20 for which, lines in now_there.items() if which != number):
        return "gone on with answers missing"
    if any(now_there[which] != lines for which, lines in could.items()):
        return "a call reads otherwise than before"
    with closing(sqlite3.connect(folder / NAME)) as db:
        if db.execute("PRAGMA integrity_check").fetchall() != [("ok",)]:
            return "written into while damaged"
    return ""


def _mend(folder: Path, could: dict[int, tuple[Line, ...]]) -> str:
    was_damaged = bool(find_damage(folder / NAME))
    mended = mend(folder / NAME)
    if (mended is not None) != was_damaged:
        return "mended what is sound"
    if find_damage(folder / NAME):
        return "not sound after it was mended"
    there = readable(folder / NAME)
    missing = [which for which, lines in could.items() if len(there.get(which, ())) < len(lines)]
    if missing and (mended is None or len(missing) > mended.saved.in_part):
        return f"mend lost calls {missing}"
    with Store(folder / NAME) as store:
        store.record(store.new_call(), "set", written("filter_condition", "clean"))
    return ""


def run(files: int, seed: int) -> tuple[Counter[str], list[str]]:
    """Damage so many files; gives how often each way, and what went wrong."""
    dice = random.Random(seed)
    ways: Counter[str] = Counter()
    wrong: list[str] = []
    # In memory, where that can be: the disk is not what is tried.
    memory_disk = "/dev/shm" if Path("/dev/shm").is_dir() else None
    with tempfile.TemporaryDirectory(dir=memory_disk) as name:
        made = template(Path(name))
        for count in range(files):
            folder = Path(name) / str(count)
            folder.mkdir()
            state = dice.getrandbits(64)
            try:
                how, said = wrong_with_round(made, folder, random.Random(state))
            except Exception as error:
                how, said = "trace", f"{type(error).__name__}: {error}"
            ways[how] += 1
            if said:
                wrong.append(f"{state}: {how}: {said}")
            shutil.rmtree(folder)
    return ways, wrong


def main() -> None:
    """Print how it went."""
    files = int(sys.argv[1]) if len(sys.argv) > 1 else 2000
    seed = int(sys.argv[2]) if len(sys.argv) > 2 else 1
    begun = time.monotonic()
    ways, wrong = run(files, seed)
    print(f"{files} damaged files of seed {seed} in {time.monotonic() - begun:.0f} s, {memory()}: {len(wrong)} wrong")
    for way, count in sorted(ways.items()):
        print(f"  {count:5} {way}")
    for said in wrong[:40]:
        print(f"  WRONG {said}")


if __name__ == "__main__":
    main()
