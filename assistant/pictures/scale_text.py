"""Scales of doubt in characters: one row for the measured side, one for the limit, on the same scale."""

from collections.abc import Callable, Iterator
from textwrap import wrap
from typing import Final

from assistant.pictures.cells import UNICODE, Canvas, CellSpan, Role, Row, Signs, row, text_of
from assistant.pictures.scale import Scale, Scales, Side, scales_words

_SMALL: Final = 40
"""Cells that the small scale takes: it fits the transcript beside the panel at 80 columns."""
_MOST: Final = 100
_NUMBERS: Final = 24
"""Cells for the values at the right."""


def scales_rows(shown: Scales, width: int, height: int, signs: Signs) -> tuple[Row, ...]:
    """Return all scales below one another for a width [cells]; it takes the rows that it needs, whatever the height."""
    if not shown.scales:
        return tuple(row(line) for text in scales_words(shown) for line in wrap(text, width))
    return tuple(line for scale in shown.scales for line in (*_scale_rows(scale, min(width, _MOST), signs), row("")))[
        :-1
    ]


def _scale_rows(scale: Scale, width: int, signs: Signs) -> Iterator[Row]:
    yield from (row(line) for line in wrap(f"{scale.text}?", width))
    beside = max(_NUMBERS, *(len(side.shown) + 9 for side in (scale.measured, scale.limit)))
    track = max(width - beside, 16)
    measured, limit = _tracks(scale, track, signs)
    yield (*measured, CellSpan(f" {scale.measured.shown}"))
    yield (*limit, CellSpan(f" {scale.limit.shown}", Role.LIMIT), CellSpan("  limit"))
    yield row(f"  {scale.verdict}", Role.MARK)


def small_scale(scale: Scale, signs: Signs = UNICODE) -> tuple[str, ...]:
    """Return a scale as lines of plain text, narrow enough to stand under the work of a number."""
    return (
        f"{scale.text}?",
        *small_tracks(scale, signs),
        f"  {scale.measured.shown} against {scale.limit.shown}: {scale.verdict}.",
    )


def small_tracks(scale: Scale, signs: Signs = UNICODE) -> tuple[str, str]:
    """Return the two rows of a small scale: what was measured, and the limit below it."""
    measured, limit = _tracks(scale, _SMALL - 2, signs)
    return f"  {text_of(measured)}", f"  {text_of(limit)}"


def _tracks(scale: Scale, width: int, signs: Signs) -> tuple[Row, Row]:
    canvas = Canvas(width, 2, signs)
    low, high = scale.span

    def cell(value: float) -> int:
        return round((value - low) / (high - low) * (width - 1))

    for y in range(2):
        canvas.put(0, y, signs.track * width, Role.QUIET)
    edge = cell(scale.limit.value)
    canvas.put(edge, 0, signs.limit, Role.LIMIT)
    _interval(canvas, 0, scale.measured, cell, signs.value, Role.CYCLE)
    _interval(canvas, 1, scale.limit, cell, signs.limit, Role.LIMIT)
    rows = canvas.rows()
    return rows[0], rows[1]


def _interval(canvas: Canvas, y: int, side: Side, cell: Callable[[float], int], sign: str, role: Role) -> None:
    """A side on its row: the interval of its doubt, and the value in it."""
    start, stop = (cell(end) for end in side.ends)
    if side.spread:
        canvas.put(start, y, canvas.signs.interval * (stop - start + 1), role)
        canvas.put(start, y, canvas.signs.low_end, role)
        canvas.put(stop, y, canvas.signs.high_end, role)
    canvas.put(cell(side.value), y, sign, role)
