"""Times as they are kept, and as they are shown; those on disk may be damaged."""

from datetime import UTC, datetime
from typing import Final

UNKNOWN: Final = datetime(1970, 1, 1, tzinfo=UTC)
"""Stands for a time that cannot be read; older than any call, so that it comes last in lists."""
LATEST: Final = datetime(2200, 1, 1, tzinfo=UTC)
"""Between these lie all times of calls. Beyond them clocks and calendars cannot be worked with everywhere."""


def now() -> datetime:
    """Return the time as it is kept: to the millisecond, in the zone of the whole world."""
    time = datetime.now(UTC)
    return time.replace(microsecond=time.microsecond // 1000 * 1000)


def stamp_of(time: datetime) -> str:
    """Return a time as it is written into the record."""
    return time.astimezone(UTC).isoformat(timespec="milliseconds")


def time_of(text: object) -> datetime:
    """Return the time that stands in the record; `UNKNOWN` where it is none."""
    try:
        time = datetime.fromisoformat(str(text))
        return time if UNKNOWN <= time <= LATEST else UNKNOWN
    except (ValueError, TypeError, OverflowError):
        return UNKNOWN


def time_in_file(text: str) -> datetime | None:
    """Return the time that a person's file tells; `None` where it has no zone, or none of ours could be then."""
    try:
        time = datetime.fromisoformat(text)
        return time if time.tzinfo is not None and UNKNOWN <= time <= LATEST else None
    except (ValueError, OverflowError):
        return None


def time_words(time: datetime, form: str = "%Y-%m-%d %H:%M") -> str:
    """Return a time as it is shown, in the zone of this machine."""
    return "time unknown" if time == UNKNOWN else time.astimezone().strftime(form)
