"""The results of practice calls: one line each in a CSV file that any spreadsheet reads.

It lies beside the record of practice calls, which has it all: what is missing in the file, as after a kill or on a full
disk, is worked from there again. A trainer may copy the file, or move it away.
"""

import csv
import io
from collections.abc import Iterable, Iterator, Mapping
from datetime import datetime
from pathlib import Path
from typing import Final

from assistant.errors import FileError
from assistant.files import read_at_once, write_whole
from assistant.practice.training.review import CallReview
from assistant.practice.visit.amounts import minute_words
from assistant.store.aside import set_aside

FILE_NAME: Final = "practice_results.csv"
COLUMNS: Final[Mapping[str, str]] = {
    "finished": "when, in local time",
    "trainee": "who, as --trainee named them",
    "list": "the trainer's list",
    "exercise": "which of it",
    "call": "number of the practice call",
    "seed": "what it was drawn from",
    "difficulty": "1 to 4; 0 where a trainer set the faults",
    "truth": "the hidden causes",
    "named": "the causes that were named",
    "verdict": "right, partly right, a look-alike, wrong or not named",
    "minutes": "minutes of the visit",
    "minutes_allowed": "as the list says",
    "trees_minutes": "what the trees need",
    "trees_end": "where the trees end",
    "steps": "readings, looks and acts",
    "needless": "how many of them were needless",
    "cautions_skipped": "cautions that were passed over",
    "refrigerant_lost_g": "refrigerant that went into the air, in grams",
}
"""The columns of the file, and what each says."""

_MOST_BYTES: Final = 10_000_000


def row_of(found: CallReview, number: int | None, finished: datetime) -> dict[str, str]:
    """The line of a call that is over."""
    call, score = found.call, found.score
    return {
        "finished": finished.astimezone().isoformat(timespec="seconds"),
        "trainee": call.trainee,
        "list": call.listed,
        "exercise": call.title,
        "call": str(number or ""),
        "seed": str(call.scenario.seed),
        "difficulty": str(call.scenario.difficulty),
        "truth": " + ".join(score.truth) or "no_fault",
        "named": " + ".join(score.named),
        "verdict": score.verdict,
        "minutes": minute_words(score.minutes),
        "minutes_allowed": "" if score.allowed is None else f"{score.allowed:.0f}",
        "trees_minutes": minute_words(found.trees_minutes),
        "trees_end": found.trees_end,
        "steps": str(score.steps),
        "needless": str(len(score.needless)),
        "cautions_skipped": str(len(score.skipped)),
        "refrigerant_lost_g": f"{1000.0 * score.lost:.0f}",
    }


def add_results(folder: Path, more: Iterable[Mapping[str, str]]) -> None:
    """Add results to the file in a folder, which is written whole or not at all; another one in its place is set aside.

    Raises:
        FileError: it could not be written.
        StoreError: another file that lies there cannot be renamed.
    """
    path = folder / FILE_NAME
    try:
        there = list(read_results(folder))
    except FileError:
        set_aside(path, word="other")
        there = []
    text = io.StringIO()
    writer = csv.DictWriter(text, list(COLUMNS), lineterminator="\n")
    writer.writeheader()
    writer.writerows({name: _cell(row[name]) for name in COLUMNS} for row in (*there, *more))
    write_whole(path, text.getvalue())


def _cell(value: str) -> str:
    """A spreadsheet takes what begins with one of these for a formula; with a quote in front it is a text.

    A semicolon begins a cell where that is what parts them, and then the same holds behind it.
    """
    plain = value.replace(";", ",")
    return f"'{plain}" if plain[:1] in ("=", "+", "-", "@", "\t", "\r") else plain


def read_results(folder: Path) -> Iterator[dict[str, str]]:
    """The results in a folder, the first one first; none where there is no file. A line cut off or run on is left out.

    Raises:
        FileError: the file cannot be read, or is another one.
    """
    path = folder / FILE_NAME
    if not path.exists():
        return
    try:
        if path.stat().st_size > _MOST_BYTES:
            raise FileError(f"{path} is larger than any file of results.")
        text = read_at_once(path, _MOST_BYTES).decode("utf-8-sig")
        reader = csv.DictReader(io.StringIO(text))
        rows = list(reader)
    except (OSError, UnicodeDecodeError, csv.Error) as error:
        raise FileError(f"{path} cannot be read: {error}") from error
    if text.strip() and not set(COLUMNS) <= set(reader.fieldnames or ()):
        raise FileError(f"{path} is no file of results: its first line names other columns.")
    for row in rows:
        if None not in row and all(isinstance(row[name], str) for name in COLUMNS):
            yield {name: row[name] for name in COLUMNS}
