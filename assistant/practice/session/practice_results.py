"""The results of practice calls: one line each in a CSV file that any spreadsheet reads.

It lies beside the record of practice calls and is only ever added to. A trainer may copy it, or move it away; the next
result begins it anew.
"""

import csv
import io
import os
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Final

from assistant.errors import FileError
from assistant.practice.training.review import Review
from assistant.practice.visit.amounts import minute_words
from assistant.store.times import now

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


def row_of(found: Review, number: int | None) -> dict[str, str]:
    """The line of a call that is over."""
    call, score = found.call, found.score
    return {
        "finished": now().astimezone().isoformat(timespec="seconds"),
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


def append_result(folder: Path, found: Review, number: int | None) -> None:
    """Add a result to the file in a folder; it is on disk when this returns.

    Raises:
        OSError: it could not be written.
    """
    path = folder / FILE_NAME
    text = io.StringIO()
    writer = csv.DictWriter(text, list(COLUMNS), lineterminator="\n")
    if not path.exists() or path.stat().st_size == 0:
        writer.writeheader()
    writer.writerow({name: _cell(value) for name, value in row_of(found, number).items()})
    with path.open("a", encoding="utf-8", newline="") as file:
        file.write(text.getvalue())
        file.flush()
        os.fsync(file.fileno())


def _cell(value: str) -> str:
    """A spreadsheet takes what begins with one of these for a formula; with a quote in front it is a text."""
    return f"'{value}" if value[:1] in ("=", "+", "-", "@", "\t", "\r") else value


def read_results(folder: Path) -> Iterator[dict[str, str]]:
    """The results in a folder, the first one first; none where there is no file.

    Raises:
        FileError: the file cannot be read, or is another one.
    """
    path = folder / FILE_NAME
    if not path.exists():
        return
    try:
        if path.stat().st_size > _MOST_BYTES:
            raise FileError(f"{path} is larger than any file of results.")
        text = path.read_text(encoding="utf-8-sig")
        rows = list(csv.DictReader(io.StringIO(text), strict=True))
    except (OSError, UnicodeDecodeError, csv.Error) as error:
        raise FileError(f"{path} cannot be read: {error}") from error
    if rows and not set(COLUMNS) <= set(rows[0]):
        raise FileError(f"{path} is no file of results: its first line names other columns.")
    for row in rows:
        yield {name: row.get(name) or "" for name in COLUMNS}
