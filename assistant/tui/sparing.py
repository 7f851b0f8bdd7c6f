"""Sending less over a slow line: of each row of the screen only what has changed since it was last sent.

Textual sends every widget that was refreshed whole, and after an answer several of them twice. What is read here of
its inside is not promised (`unpromised.py`): where it is not there or fails, all is sent as Textual sends it.
"""

from collections.abc import Iterable, Sequence
from typing import Any

from rich.cells import cell_len
from rich.console import COLOR_SYSTEMS, Console
from rich.segment import Segment
from rich.style import Style
from textual.geometry import Region, Size
from textual.strip import Strip

_PLAIN = Style()


class Sent:
    """The rows of the terminal as they were last sent; a row that is not known is sent whole."""

    def __init__(self) -> None:
        self.rows: dict[int, Sequence[Segment]] = {}
        self.size = Size(0, 0)
        self.is_off = False
        """Whether a part of Textual was not as it was, so that all is sent the ordinary way."""

    def spare(self, screen: Any, update: Any) -> None:
        """Make an update of the screen send what differs from the rows that were sent, when its turn comes."""
        send = getattr(update, "render_segments", None)
        if self.is_off or send is None:
            return

        def send_less(console: Console) -> str:
            try:
                text = self._less(screen._compositor, update, console)
            except Exception:  # of whatever kind: what is not promised may fail in any way
                self.is_off = True
                text = None
            return str(send(console)) if text is None else text

        update.render_segments = send_less

    def _less(self, compositor: Any, update: Any, console: Console) -> str | None:
        """Return what to send for an update; `None` where it is to be sent as it is."""
        from textual._compositor import ChopsUpdate, LayoutUpdate

        size: Size = compositor.size
        match update:
            case ChopsUpdate() if size == self.size:
                rows = sorted({row for row, _, _ in update.spans if row < size.height})
                # Widgets draw no more than the rows from the first to the last of them.
                crop = Region(0, rows[0], size.width, rows[-1] - rows[0] + 1) if rows else Region()
                chops = compositor._render_chops(crop, set(rows).__contains__)
                strips = ((row, Strip.join(chops[row].values())) for row in rows)
                return "".join(self.changes(row, strip, console) for row, strip in strips)
            case LayoutUpdate():
                self.size = size
                self.rows.clear()
                rows_of = enumerate(update.strips, update.region.y)
                return "".join(self.changes(row, Strip.join(strips), console) for row, strips in rows_of)
            case _:
                self.size = Size(0, 0)
                return None

    def changes(self, row: int, strip: Strip, console: Console) -> str:
        """What to send so that a row shows a strip."""
        after = Segment.simplify(segment for segment in strip if segment.text)
        new = tuple(Segment(text, style or _PLAIN) for text, style, _ in after)
        old = self.rows.get(row)
        self.rows[row] = new
        if old == new:
            return ""
        start, segments = (0, new) if old is None else changed(old, new)
        return _written(row, start, segments, console)


def changed(old: Sequence[Segment], new: Sequence[Segment]) -> tuple[int, Sequence[Segment]]:
    """Where a row begins to differ [cells from its left], and the segments from there to where it ends to differ.

    Characters that take more or less than one cell, or that join with others, are never parted.
    """
    if sum(segment.cell_length for segment in old) != sum(segment.cell_length for segment in new):
        return 0, new
    if any(_joins(segment.text) for segment in (*old, *new)):
        return 0, new
    start = 0
    behind = list(new)
    before = list(old)
    while before and behind and before[0] == behind[0]:
        start += behind.pop(0).cell_length
        before.pop(0)
    while before and behind and before[-1] == behind[-1]:
        before.pop()
        behind.pop()
    if before and behind and before[0].style == behind[0].style:
        same = _common(before[0].text, behind[0].text)
        start += same
        before[0], behind[0] = _without(before[0], same, 0), _without(behind[0], same, 0)
    if before and behind and before[-1].style == behind[-1].style:
        same = _common(before[-1].text[::-1], behind[-1].text[::-1])
        behind[-1] = _without(behind[-1], 0, same)
    return start, [segment for segment in behind if segment.text]


def _joins(text: str) -> bool:
    """Whether a text holds a sign without a cell of its own, which changes the cell before it."""
    return not text.isascii() and any(cell_len(sign) == 0 for sign in text)


def _common(one: str, other: str) -> int:
    """How many plain characters two texts begin with in common; a text with other characters is left whole."""
    if not (one.isascii() and other.isascii()):
        return 0
    pairs = zip(one, other, strict=False)
    return next((place for place, (left, right) in enumerate(pairs) if left != right), min(len(one), len(other)))


def _without(segment: Segment, head: int, tail: int) -> Segment:
    return Segment(segment.text[head : len(segment.text) - tail], segment.style)


def _written(row: int, start: int, segments: Iterable[Segment], console: Console) -> str:
    """Move there and write; the look is told where it changes, and is the usual one at the end."""
    system = COLOR_SYSTEMS[console.color_system] if console.color_system else None
    parts = [f"\x1b[{row + 1};{start + 1}H"]
    look = ""
    for text, style, _ in segments:
        wanted = Strip.render_ansi(style or _PLAIN, system) if system is not None else ""
        if wanted != look:
            parts.append(f"\x1b[0;{wanted}m" if wanted and look else f"\x1b[{wanted or 0}m")
            look = wanted
        parts.append(text)
    if look:
        parts.append("\x1b[0m")
    return "".join(parts)
