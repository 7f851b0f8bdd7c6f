"""Sending less over a slow line: of each row of the screen only what has changed since it was last sent.

Textual sends every widget that was refreshed whole, and after an answer several of them twice.
"""

from collections.abc import Iterable, Sequence

from rich.cells import cell_len
from rich.console import Console
from rich.segment import Segment
from rich.style import Style
from textual._compositor import ChopsUpdate, Compositor, CompositorUpdate, LayoutUpdate
from textual.geometry import Size
from textual.strip import Strip

_PLAIN = Style()


class Sent:
    """The rows of the terminal as they were last sent; a row that is not known is sent whole."""

    def __init__(self) -> None:
        self.rows: dict[int, Sequence[Segment]] = {}
        self.size = Size(0, 0)

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


class SparingUpdate(CompositorUpdate):
    """An update that sends what differs from the rows that were sent; the whole screen is sent as it is."""

    def __init__(self, update: CompositorUpdate, compositor: Compositor, sent: Sent) -> None:
        self._update = update
        self._compositor = compositor
        self._sent = sent

    def render_segments(self, console: Console) -> str:
        """The characters for the terminal."""
        size = self._compositor.size
        match self._update:
            case ChopsUpdate() if size == self._sent.size:
                rows = {row for row, _, _ in self._update.spans}
                chops = self._compositor._render_chops(size.region, rows.__contains__)
                strips = [(row, Strip.join(chops[row].values())) for row in sorted(rows) if row < size.height]
                return "".join(self._sent.changes(row, strip, console) for row, strip in strips)
            case LayoutUpdate():
                self._sent.size = size
                self._sent.rows.clear()
                rows_of = enumerate(self._update.strips, self._update.region.y)
                return "".join(self._sent.changes(row, Strip.join(strips), console) for row, strips in rows_of)
            case _:
                self._sent.size = Size(0, 0)
                return self._update.render_segments(console)


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
    system = console._color_system
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
