"""How the record of calls grows: `python -m tests.bench.bench_store [CALLS ...]`, by default 10, 1,000 and 100,000.

Each call has the answers of a usual one. Times are of the machine at hand; nothing is asserted.
"""

import shutil
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path

from assistant.store.soundness import find_damage
from assistant.store.store import Search, Store
from assistant.store.tables import row_of
from tests.answering import key_of, written

ANSWERS = 30
WORDS = ("library", "bakery", "landing", "ski hut", "dental practice", "reading room", "warm", "ice", "noise", "trips")


def fill(path: Path, calls: int) -> None:
    """Make a record of so many calls; written in one go, which no program of ours does."""
    with Store(path) as store:
        db = store._db
        db.execute("PRAGMA synchronous = OFF")
        db.execute("BEGIN")
        db.executemany(
            "INSERT INTO call (id, started, changed, title, status, ending, edition) VALUES (?, ?, ?, ?, ?, ?, ?)",
            (
                (
                    number,
                    at(number),
                    at(number),
                    title(number),
                    "open" if number % 20 == 0 else "ended",
                    "Undercharge",
                    "x 1",
                )
                for number in range(1, calls + 1)
            ),
        )
        db.executemany(
            "INSERT INTO line (call, at, deed, topic, name, tree, node, nth, text) "
            "VALUES (?, ?, 'set', ?, ?, ?, ?, ?, ?)",
            lines(calls),
        )
        db.execute("COMMIT")


def at(number: int) -> str:
    """A time for a call: one a minute."""
    minutes = number % 1440
    return f"2026-01-{1 + number // 1440 % 28:02}T{minutes // 60:02}:{minutes % 60:02}:00.000+00:00"


def title(number: int) -> str:
    """A complaint of two of the words."""
    return f"{WORDS[number % len(WORDS)]} {WORDS[number // 7 % len(WORDS)]}, call {number}"


def lines(calls: int) -> Iterator[tuple[int | str, ...]]:
    """The answers of all the calls."""
    names = ["complaint", "tree", "refrigerant", *(f"answer_{count}" for count in range(ANSWERS - 3))]
    rows = [[row_of(written(name, f"{number} psig")) for name in names] for number in range(97)]
    for number in range(1, calls + 1):
        for row in rows[number % 97]:
            yield number, at(number), *row


def timed(words: str, deed: Callable[[], object], rounds: int = 5) -> None:
    """Print the middle of some times [ms]."""
    taken = []
    for _ in range(rounds):
        begun = time.perf_counter()
        deed()
        taken.append(time.perf_counter() - begun)
    print(f"  {words:42} {sorted(taken)[rounds // 2] * 1000:9.2f} ms")


def measure(calls: int, folder: Path) -> None:
    """Print what the program does with a record of so many calls."""
    path = folder / str(calls) / "calls.db"
    fill(path, calls)
    print(f"{calls:,} calls, {path.stat().st_size / 1e6:.1f} MB")
    timed("open", lambda: Store(path).close())
    with Store(path) as store:
        timed("list: the last 50", lambda: store.entries(most=50))
        timed("open calls: the last 100, and their number", lambda: (store.entries("open", most=100), opened(store)))
        timed("what was told last of the instruments", lambda: store.latest_line(key_of("pressure_accuracy")))
        timed("find two words, the last 50", lambda: store.entries(search=Search(words=("bakery", "ice")), most=50))
        timed("find what is nowhere", lambda: store.entries(search=Search(words=("zeppelin",)), most=50))
        timed("read one call", lambda: store.answers(calls // 2 or 1))
        timed("begin a call", lambda: store.add_call(()))
        number = store.new_call()
        timed(
            "write one answer, on disk", lambda: store.record(number, "set", written("suction_pressure", "73 psig")), 25
        )
        timed("look through every page", lambda: find_damage(path), 1)


def opened(store: Store) -> int:
    """How many calls are open."""
    return store.count(Search("open"))


if __name__ == "__main__":
    home = Path(tempfile.mkdtemp())
    try:
        for count in [int(word) for word in sys.argv[1:]] or [10, 1_000, 100_000]:
            measure(count, home)
    finally:
        shutil.rmtree(home)
