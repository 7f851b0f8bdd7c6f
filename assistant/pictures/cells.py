"""Drawing in character cells: a grid whose cells know what they show, so that a screen may colour them.

Curves are set in dots, eight to a cell; where a terminal has only ASCII, a cell shows how high its dots lie.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from enum import StrEnum
from itertools import pairwise
from typing import Final


class Role(StrEnum):
    """What a character of a drawing belongs to. Nothing is told by the role alone."""

    PLAIN = "plain"
    QUIET = "quiet"
    CURVE = "curve"
    CYCLE = "cycle"
    MARK = "mark"
    LIMIT = "limit"


@dataclass(frozen=True, slots=True)
class CellSpan:
    """Characters of one role."""

    text: str
    role: Role = Role.PLAIN


Row = tuple[CellSpan, ...]


def row(text: str, role: Role = Role.PLAIN) -> Row:
    """Return a row of one role."""
    return (CellSpan(text, role),)


def text_of(shown: Row) -> str:
    """Return a row as plain text, without spaces at its end."""
    return "".join(span.text for span in shown).rstrip()


@dataclass(frozen=True, slots=True)
class Signs:
    """The characters that a drawing is made of."""

    level: str
    upright: str
    rising: str
    falling: str
    faint: str
    track: str
    interval: str
    low_end: str
    high_end: str
    value: str
    limit: str
    down: str
    up: str
    bar: str
    edge: str
    floor: str
    side: str
    dots: bool


UNICODE: Final = Signs(
    level="━", upright="┃", rising="╱", falling="╲", faint="┈", track="─", interval="━", low_end="┣", high_end="┫",
    value="●", limit="│", down="▼", up="▲", bar="█", edge="┤", floor="┴", side="│", dots=True,
)  # fmt: skip
ASCII: Final = Signs(
    level="=", upright="|", rising="/", falling="\\", faint="-", track="-", interval="=", low_end="[", high_end="]",
    value="O", limit="|", down="v", up="^", bar="#", edge="+", floor="+", side="|", dots=False,
)  # fmt: skip

_BRAILLE: Final = 0x2800
# Bits of the Braille cell by column and row, as Unicode numbers its dots.
_BITS: Final = ((0x01, 0x02, 0x04, 0x40), (0x08, 0x10, 0x20, 0x80))


@dataclass
class Canvas:
    """A grid of `width` x `height` cells, row 0 on top."""

    width: int
    height: int
    signs: Signs
    _cells: dict[tuple[int, int], CellSpan] = field(default_factory=dict)
    _dots: dict[tuple[int, int], int] = field(default_factory=dict)

    def put(self, x: int, y: int, text: str, role: Role = Role.PLAIN) -> None:
        """Write a text from a cell on; what would lie outside is left out."""
        for place, sign in enumerate(text):
            if 0 <= x + place < self.width and 0 <= y < self.height:
                self._cells[x + place, y] = CellSpan(sign, role)

    def curve(self, points: list[tuple[float, float]]) -> None:
        """Join points by dots; a point is in cells, (0, 0) the upper left corner of the grid."""
        for (x0, y0), (x1, y1) in pairwise(points):
            steps = max(1, round(max(abs(x1 - x0) * 4, abs(y1 - y0) * 8)))
            for step in range(steps + 1):
                share = step / steps
                self._dot(x0 + (x1 - x0) * share, y0 + (y1 - y0) * share)

    def _dot(self, x: float, y: float) -> None:
        column, line = int(x * 2 // 1), int(y * 4 // 1)
        cell = (column // 2, line // 4)
        if 0 <= cell[0] < self.width and 0 <= cell[1] < self.height:
            self._dots[cell] = self._dots.get(cell, 0) | _BITS[column % 2][line % 4]

    def leg(self, start: tuple[int, int], end: tuple[int, int], role: Role = Role.CYCLE) -> None:
        """Join two cells by a drawn line."""
        (x0, y0), (x1, y1) = start, end
        steps = max(abs(x1 - x0), abs(y1 - y0))
        path = [
            (round(x0 + (x1 - x0) * step / steps), round(y0 + (y1 - y0) * step / steps)) for step in range(steps + 1)
        ] if steps else [start]  # fmt: skip
        for (x, y), (next_x, next_y) in pairwise([*path, path[-1]]):
            self.put(x, y, self._sign(next_x - x, next_y - y), role)

    def _sign(self, across: int, down: int) -> str:
        if across == 0:
            return self.signs.upright if down else self.signs.level
        if down == 0:
            return self.signs.level
        return self.signs.rising if (across > 0) == (down < 0) else self.signs.falling

    def rows(self) -> tuple[Row, ...]:
        """Return what was drawn, row by row."""
        return tuple(tuple(self._spans(y)) for y in range(self.height))

    def _spans(self, y: int) -> Iterator[CellSpan]:
        text, role = "", Role.PLAIN
        for x in range(self.width):
            cell = self._cells.get((x, y)) or self._dot_row(x, y)
            if cell.role is not role and text:
                yield CellSpan(text, role)
                text = ""
            text, role = text + cell.text, cell.role
        yield CellSpan(text, role)

    def _dot_row(self, x: int, y: int) -> CellSpan:
        bits = self._dots.get((x, y), 0)
        if not bits:
            return CellSpan(" ")
        if self.signs.dots:
            return CellSpan(chr(_BRAILLE + bits), Role.CURVE)
        upper, lower = bits & 0x1B, bits & ~0x1B
        return CellSpan(":" if upper and lower else "'" if upper else ".", Role.CURVE)
