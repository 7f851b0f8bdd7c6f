"""Cards of a drawing: the words of a box broken into lines of known size, each at its place on the card.

The reader's fonts are not known here, so widths are those of a common sans serif face with a tenth to spare.
"""

import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass

from assistant.author.channels import Size
from assistant.author.picture import Arrow, Box, arrows_in_rows

WIDTH = 292.0
PAD = 14.0
_TEXT_WIDTH = WIDTH - 2 * PAD
_LONGEST = 900
_BADGE = 70.0

_NARROW = {**dict.fromkeys("iljI.,:;'|! ", 0.31), **dict.fromkeys('ftr()[]/-"', 0.38)}
_WIDE = {**dict.fromkeys("mMW@%", 0.98), **dict.fromkeys("wGOQCDHNU", 0.8), **dict.fromkeys("ABEKPRSTVXYZ&→", 0.74)}
_MONO = 0.615


@dataclass(frozen=True, slots=True)
class Style:
    """How a line of text looks: its class, the height of its letters, the height of the line, and its face."""

    name: str
    size: float
    leading: float
    mono: bool = False
    bold: bool = False


HEAD = Style("head", 13.5, 19, mono=True)
TITLE = Style("title", 16, 21, bold=True)
TAG = Style("tag", 10.5, 17)
CAUTION = Style("caution", 12, 17, bold=True)
TEXT = Style("text", 12.5, 17)
ASK = Style("ask", 12.5, 17)
QUIET = Style("quiet", 11.5, 15.5)
GO = Style("go", 11.5, 15.5)
CONDITION = Style("condition", 12, 16.5, mono=True)


@dataclass(frozen=True, slots=True)
class TextLine:
    """A line of text: its baseline below the card's top, its indent, and a short label in front of it, if any."""

    text: str
    style: Style
    y: float
    x: float = PAD
    label: str = ""


@dataclass(frozen=True, slots=True)
class WayRow:
    """Ways to one node, as a part of the card: its top and bottom, its lines, and the baseline for each way's badge."""

    places: tuple[int, ...]
    baselines: tuple[float, ...]
    target: str
    top: float
    bottom: float
    lines: tuple[TextLine, ...]


@dataclass(frozen=True, slots=True)
class Card:
    """A box with its lines. `band` is the stretch of the card behind its cautions, if it has any."""

    box: Box
    height: float
    lines: tuple[TextLine, ...]
    band: tuple[float, float] | None
    rows: tuple[WayRow, ...]

    @property
    def size(self) -> Size:
        """What the layout has to know."""
        return Size(WIDTH, self.height, tuple((row.top + row.bottom) / 2 for row in self.rows))


def width_of(text: str, style: Style) -> float:
    """About how wide a text is [px]."""
    return sum(_char(char, style) for char in text) * style.size


def _char(char: str, style: Style) -> float:
    if unicodedata.east_asian_width(char) in "WF":
        return 1.1
    if unicodedata.combining(char):
        return 0.0
    if style.mono:
        return _MONO
    return (1.2 if style.bold else 1.08) * (_NARROW.get(char) or _WIDE.get(char) or 0.57)


def break_lines(text: str, style: Style, room: float) -> list[str]:
    """Break a text into lines that fit into `room` [px]; a word that is too long is broken anywhere."""
    lines: list[str] = []
    line = ""
    for word in text.split(" "):
        longer = f"{line} {word}" if line else word
        if width_of(longer, style) <= room:
            line = longer
            continue
        if line:
            lines.append(line)
        line = word
        while width_of(line, style) > room:
            fits = _fitting(line, style, room)
            lines.append(line[:fits])
            line = line[fits:]
    return [*lines, line] if line else lines


def _fitting(word: str, style: Style, room: float) -> int:
    """Return how many characters of a long word fit, up to a joint of a name if there is one in reach."""
    total = 0.0
    for at, char in enumerate(word):
        total += _char(char, style) * style.size
        if total > room:
            joint = max(word.rfind(sign, 0, at) for sign in "_./") + 1
            return joint if joint > at / 2 else max(at, 1)
    return len(word)


class _Column:
    """Lines one below the other."""

    def __init__(self, y: float) -> None:
        self.y = y
        self.lines: list[TextLine] = []

    def add(self, text: str, style: Style, x: float = PAD, label: str = "", room: float | None = None) -> None:
        text = text if len(text) <= _LONGEST else text[: _LONGEST - 1] + "…"
        room = WIDTH - PAD - x if room is None else room
        for part in break_lines(text, style, room):
            self.lines.append(TextLine(part, style, round(self.y + style.leading * 0.76, 1), x, label))
            self.y += style.leading
            label = ""


def card(box: Box, *, is_start: bool = False) -> Card:
    """Lay out the words of one box."""
    column = _Column(9)
    tag = {"cause": "CAUSE", "no_fault": "NO FAULT", "undecided": "UNDECIDED", "use": "USES THE TREE"}.get(box.sort)
    tag = "MISSING" if box.sort == "missing" else "START" if is_start else tag
    if tag:
        column.add(tag, TAG)
    if box.sort in ("cause", "use"):
        column.add(box.title, TITLE)
        column.add(f"{box.name}: {box.used}" if box.used else box.name, QUIET)
    else:
        column.add(box.name, HEAD)
    if box.sort == "missing":
        column.add("No node has this name.", TEXT)
    column.y += 3
    band = None
    if box.cautions:
        top = column.y
        column.y += 4
        for caution in box.cautions:
            column.add(caution, CAUTION, x=PAD + 20, label="⚠")
        column.y += 4
        band = (top, column.y)
        column.y += 4
    for label, text in box.texts:
        _text(column, label, text)
    column.y += 5
    rows = tuple(_rows(box, column))
    return Card(box, round(column.y + (0 if rows else 5), 1), tuple(column.lines), band, rows)


def _text(column: _Column, label: str, text: str) -> None:
    match label:
        case "say":
            column.add(text, TEXT)
        case "do":
            column.add(text, TEXT, x=PAD + 26, label="Do")
        case "ask":
            column.add(text, ASK, x=PAD + 16, label="?")
        case "measure again":
            column.add(f"again: {text}", ASK, x=PAD + 16, label="?")
        case "work out":
            column.add(text, ASK, x=PAD + 16, label="=")
        case _:
            column.add(f"{label}: {text}", QUIET)
    column.y += 2


def _rows(box: Box, column: _Column) -> Iterator[WayRow]:
    for places in arrows_in_rows(box.arrows):
        inner = _Column(column.y + 6)
        alone = len(places) == 1
        baselines = [_way(inner, box.arrows[at], _TEXT_WIDTH if alone else _TEXT_WIDTH - _BADGE) for at in places]
        # The lines of a single way leave no room for its badge; the line that names its target does.
        baselines = [round(inner.y + GO.leading * 0.76, 1)] if alone else baselines
        inner.add(f"→ {box.arrows[places[0]].target}", GO, room=_TEXT_WIDTH)
        bottom = inner.y + 6
        yield WayRow(places, tuple(baselines), box.arrows[places[0]].target, column.y, bottom, tuple(inner.lines))
        column.y = bottom


def _way(column: _Column, arrow: Arrow, room: float) -> float:
    """Add the words of one way; gives the baseline of their first line."""
    baseline = round(column.y + TEXT.leading * 0.76, 1)
    column.add(arrow.words, CONDITION if arrow.sort == "when" else TEXT, room=room)
    for limit in arrow.limits:
        column.add(limit, QUIET, x=PAD + 10)
    if arrow.say:
        column.add(f"“{arrow.say}”", QUIET, x=PAD + 10)
    return baseline
