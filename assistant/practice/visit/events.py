"""What was done in a visit, as plain values that can be written to a file and read again."""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, Final, Literal

from assistant.errors import FileError

EventKind = Literal["take", "reseat", "look", "act", "wait"]
_KINDS: Final[tuple[EventKind, ...]] = ("take", "reseat", "look", "act", "wait")
_MOST = 1e4


@dataclass(frozen=True, slots=True)
class Event:
    """One thing that was done: taking a reading, reseating its probe, looking, an act, or waiting.

    `name` is the reading, the observation or the act. `amount` goes with it: minutes waited (with a reading, after its
    probe was put on), kg, a share, turns. `acknowledged` are the cautions that were acknowledged before an act.
    """

    kind: EventKind
    name: str = ""
    amount: float | None = None
    acknowledged: tuple[str, ...] = ()


def write_events(events: Iterable[Event]) -> list[dict[str, Any]]:
    """Return events as plain values for a file."""
    found = []
    for event in events:
        line: dict[str, Any] = {event.kind: event.name}
        if event.amount is not None:
            line["amount"] = event.amount
        if event.acknowledged:
            line["acknowledged"] = list(event.acknowledged)
        found.append(line)
    return found


def read_events(lines: Any) -> tuple[Event, ...]:
    """Return events from plain values, as `write_events` gave them.

    Raises:
        FileError: they are something else.
    """
    if not isinstance(lines, list):
        raise FileError("The events of a practice call are a list.")
    return tuple(_read(number, line) for number, line in enumerate(lines, start=1))


def _read(number: int, line: Any) -> Event:
    if not isinstance(line, dict):
        raise FileError(f"Event {number} of the practice call is not a mapping.")
    kinds = [kind for kind in _KINDS if isinstance(line.get(kind), str)]
    if len(kinds) != 1 or set(line) - {kinds[0], "amount", "acknowledged"}:
        raise FileError(f"Event {number} of the practice call needs one of {', '.join(_KINDS)}, and a name with it.")
    amount, known = line.get("amount"), line.get("acknowledged", [])
    if amount is not None and not _is_number(amount):
        raise FileError(f"The amount of event {number} is no number.")
    if not (isinstance(known, list) and all(isinstance(one, str) for one in known)):
        raise FileError(f"What was acknowledged before event {number} is no list of cautions.")
    return Event(kinds[0], line[kinds[0]], None if amount is None else float(amount), tuple(known))


def _is_number(value: Any) -> bool:
    return (
        isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value) and abs(value) < _MOST
    )
