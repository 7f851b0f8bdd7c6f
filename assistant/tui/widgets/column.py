"""Views of text, one below the other, in one widget that scrolls and draws only the lines in sight.

A widget of its own for each view is laid out and styled anew at every answer, which takes longer the longer a call is.
Here a view is wrapped and drawn once for a width and a look, and scrolling only picks lines.
"""

from abc import abstractmethod
from bisect import bisect_right
from collections.abc import Container, Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any, ClassVar, Literal, Self

from rich.color import Color
from rich.segment import Segment
from rich.style import Style as RichStyle
from textual.content import Content
from textual.geometry import Region, Size
from textual.reactive import Reactive
from textual.scroll_view import ScrollView
from textual.scrollbar import ScrollBar, ScrollBarRender
from textual.selection import Selection
from textual.strip import Strip
from textual.style import Style

from assistant.tui.passage import Block
from assistant.tui.unpromised import show_scroll_bars

Look = Literal["plain", "live", "answered", "warning", "finding", "aside", "ended"]

_BARS: dict[Look, str] = {
    "plain": " ",
    "live": "█",
    "answered": "▏",
    "warning": "█",
    "finding": "█",
    "aside": "█",
    "ended": "█",
}


class View:
    """Something that a column shows: blocks of plain text behind a bar."""

    look: Look = "plain"
    """Its colours, and the bar at its left. Words say what it is; the bar only helps to find it again."""

    gap: int = 1
    """Empty lines below it."""

    is_finding: ClassVar[bool] = False
    """Whether it is read from its first line on, before what stands behind it."""

    help_text: ClassVar[str] = ""
    """What the help page says of this kind of view."""

    @abstractmethod
    def blocks(self) -> Iterable[Block]:
        """What it says."""


@dataclass(frozen=True, slots=True)
class _Frame:
    """The style of a look, and what stands before and behind its text."""

    style: Style
    before: tuple[Segment, ...]
    behind: tuple[Segment, ...]


@dataclass(slots=True)
class _Placed:
    """A view, where it begins [lines from the top of the column], and its lines for the width there is.

    `rows` are those of its lines that were in sight, drawn, for as long as they stay where they are.
    """

    view: View
    frame: _Frame
    lines: Sequence[Content]
    top: int = 0
    rows: dict[int, Strip] = field(default_factory=dict)

    @property
    def height(self) -> int:
        """Lines, with the gap below."""
        return len(self.lines) + self.view.gap if self.lines else 0


class Bar:
    """The rows of a scroll bar. Textual draws them through rich and its cache of lines, which takes far longer."""

    def __init__(self, bar: ScrollBar) -> None:
        self._bar = bar
        self._usual = bar.render_lines
        self._drawn: tuple[object, list[Strip]] | None = None

    def render_lines(self, crop: Region) -> list[Strip]:
        """Draw rows, as a widget does."""
        bar = self._bar
        render = bar.render()
        if not isinstance(render, ScrollBarRender):
            return self._usual(crop)
        filters = bar.get_line_filters()
        size = bar.size
        known = (size, render.virtual_size, render.window_size, render.position, render.style, *map(id, filters))
        if self._drawn is None or self._drawn[0] != known:
            look = render.style if isinstance(render.style, RichStyle) else RichStyle.parse(render.style)
            drawn = render.render_bar(
                size=size.height,
                virtual_size=render.virtual_size,
                window_size=render.window_size,
                position=render.position,
                thickness=size.width,
                back_color=look.bgcolor or Color.default(),
                bar_color=look.color or Color.default(),
            )
            strips = [Strip([segment], size.width) for segment in drawn.segments]
            for each in filters:
                strips = [strip.apply_filter(each, bar.background_colors[1]) for strip in strips]
            self._drawn = known, strips
        return self._drawn[1][crop.y : crop.bottom]


class Column(ScrollView, can_focus=False):
    """Views below one another, as wide as can still be read."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {
        "column--edge",
        *(f"{part}--{look}" for look in _BARS for part in ("view", "bar")),
    }

    DEFAULT_CSS = """
    Column {
        width: 1fr;
        height: 1fr;
        overflow-x: hidden;
        overflow-y: auto;
        scrollbar-gutter: stable;
        scrollbar-size-vertical: 1;
    }
    """

    widest: ClassVar[int] = 100
    """Columns beyond which text is hard to read."""

    has_bars: ClassVar[bool] = True
    """Whether a bar stands at the left of each view."""

    edge: str = ""
    """What sets all of it off at its left; a border of Textual's would cost more than all the rest."""

    at_bottom: ClassVar[bool] = True
    """Whether a few views stand at the bottom."""

    # Textual would lay out the whole screen anew where such a size changes; nothing else moves when a column grows.
    virtual_size = Reactive(Size(0, 0), repaint=False)

    def __init__(self) -> None:
        self._placed: list[_Placed] = []
        self._tops: list[int] = []
        self.room = Size(0, 0)
        self._blank, self._blank_style = Strip([]), RichStyle()
        self._frames: dict[Look, _Frame] = {}
        self._strips: tuple[Region, list[Strip]] | None = None
        super().__init__()

    def on_mount(self) -> None:
        """Draw the bar the short way."""
        bar = self.vertical_scrollbar
        setattr(bar, "render_lines", Bar(bar).render_lines)  # noqa: B010 - a method of this one bar

    @property
    def views(self) -> tuple[View, ...]:
        """What stands in the column, from its top."""
        return tuple(placed.view for placed in self._placed)

    @property
    def lines(self) -> int:
        """How high all of it is."""
        last = self._placed[-1] if self._placed else None
        return 0 if last is None else last.top + last.height

    @property
    def at_end(self) -> bool:
        """Whether the end is in view; the empty lines below the last view need not be."""
        last = self._placed[-1].view.gap if self._placed else 0
        return self.lines - last - self.scroll_offset.y <= self.room.height

    @property
    def fits(self) -> bool:
        """Whether all of it is in view."""
        return self.lines <= self.room.height

    def put(self, views: Iterable[View], kept: int = 0, changed: Container[View] = ()) -> None:
        """Show these views below the first `kept` of those that stand there; `changed` ones are drawn anew."""
        drawn = {id(placed.view): placed for placed in self._placed[kept:]}
        del self._placed[kept:]
        for view in views:
            self._place(view, None if view in changed else drawn.get(id(view)))
        self._measured()

    def redraw(self, view: View) -> None:
        """Draw a view anew that has changed."""
        place = next(place for place, placed in enumerate(self._placed) if placed.view is view)
        self.put([placed.view for placed in self._placed[place:]], place, [view])

    def top_of(self, view: View) -> int:
        """Where a view begins [lines from the top]."""
        return next(placed.top for placed in self._placed if placed.view is view)

    def view_at(self, y: int) -> View | None:
        """The view that is shown in a row of the widget."""
        line = self._line_at(y)
        return self._placed[bisect_right(self._tops, line) - 1].view if 0 <= line < self.lines else None

    def _place(self, view: View, drawn: _Placed | None) -> None:
        top = self.lines
        if drawn is None:
            drawn = self._draw(view)
        if drawn.top != top:
            drawn.top, drawn.rows = top, {}
        self._placed.append(drawn)

    def _draw(self, view: View) -> _Placed:
        frame = self._frames.get(view.look) or self._frame(view.look)
        width = self._inside if self.room.width else 0
        lines = [line for block in view.blocks() for line in block.lines(width)] if width else ()
        return _Placed(view, frame, lines)

    def _frame(self, look: Look) -> _Frame:
        style = self.get_visual_style(f"view--{look}")
        side = Segment(" ", style.rich_style)
        bar = Segment(_BARS[look], self.get_component_rich_style(f"bar--{look}"))
        before = (*self._edge(), *((bar,) if self.has_bars else ()), side)
        rest = self.room.width - len(before) - self._inside - 1
        frame = self._frames[look] = _Frame(style, before, (side, Segment(" " * rest, self._blank_style)))
        return frame

    def _row(self, frame: _Frame, content: Content, line: int) -> Strip:
        """One line of text drawn, with its place for the mouse to select by; bars and blanks are no text."""
        segments, at = list(frame.before), 0
        for text, own in content.render(frame.style, end="", parse_style=_style):
            segments.append(Segment(text, (frame.style + own).rich_style_with_offset(at, line)))
            at += len(text)
        blank = self._inside - content.cell_length
        segments += (Segment(" " * blank, frame.style.rich_style), *frame.behind)
        return Strip(segments, self.room.width)

    @property
    def _inside(self) -> int:
        """Columns for text."""
        return max(min(self.room.width, self.widest) - len(self.edge) - (3 if self.has_bars else 2), 1)

    def _edge(self) -> tuple[Segment, ...]:
        return (Segment(self.edge, self.get_component_rich_style("column--edge")),) if self.edge else ()

    def _measured(self) -> None:
        """Tell the scroll bar how high it all is, and draw."""
        self._tops = [placed.top for placed in self._placed]
        self.virtual_size = Size(self.room.width, self.lines)
        show_scroll_bars(self)
        self.refresh()

    def _size_updated(self, *given: Any, **named: Any) -> bool:
        """Part of Textual: the place on the screen is known or has changed, and nothing is drawn yet."""
        changed = super()._size_updated(*given, **named)
        self.on_resize()
        return changed

    def on_resize(self) -> None:
        """Lay it out for the room there is; by then it is mostly done."""
        room = self.scrollable_content_region.size
        if room != self.room:
            self.resized(room)

    def resized(self, room: Size) -> None:
        """There is this much room for lines now."""
        wider, self.room = room.width != self.room.width, room
        if wider:
            self.redraw_all()

    def redraw_all(self) -> None:
        """Draw all anew: the width, the look or the edge is another."""
        if not self.room.width:
            return
        self._frames.clear()
        self._blank_style = self.rich_style
        self._blank = Strip([*self._edge(), Segment(" " * (self.room.width - len(self.edge)), self._blank_style)])
        self.put(self.views, changed=self.views)

    def notify_style_update(self) -> None:
        """Part of Textual: another look."""
        super().notify_style_update()
        self.redraw_all()

    def _line_at(self, y: int) -> int:
        """The line of the column in a row of the widget; negative above its first."""
        return y + self.scroll_offset.y - (max(self.room.height - self.lines, 0) if self.at_bottom else 0)

    def refresh(self, *regions: Region, repaint: bool = True, layout: bool = False, recompose: bool = False) -> Self:
        """Draw it anew; until then what was drawn stands for it."""
        self._strips = None
        return super().refresh(*regions, repaint=repaint, layout=layout, recompose=recompose)

    def render_lines(self, crop: Region) -> list[Strip]:
        """Draw rows; a column has no border or padding, so they need nothing of what Textual puts around a line."""
        if self._strips is None or self._strips[0] != crop:
            self._strips = crop, self._strips_of(crop)
        return self._strips[1]

    def _strips_of(self, crop: Region) -> list[Strip]:
        filters, background = self.get_line_filters(), self.background_colors[1]
        left, right = crop.column_span
        # Where no scroll bar stands, its column is part of the row.
        strips = [self.render_line(y).crop_extend(left, right, self._blank_style) for y in crop.line_range]
        for each in filters:
            strips = [strip.apply_filter(each, background) for strip in strips]
        return strips

    def render_line(self, y: int) -> Strip:
        """Draw a row; part of Textual's line interface."""
        line = self._line_at(y)
        if not 0 <= line < self.lines:
            return self._blank
        placed = self._placed[bisect_right(self._tops, line) - 1]
        place = line - placed.top
        if place >= len(placed.lines):
            return self._blank
        if place not in placed.rows:
            placed.rows[place] = self._row(placed.frame, self._marked(placed.lines[place], line), line)
        return placed.rows[place]

    def _marked(self, content: Content, line: int) -> Content:
        """A line with what is selected in it marked."""
        span = self.text_selection.get_span(line) if self.text_selection else None
        if span is None:
            return content
        begin, end = span
        mark = Style.from_styles(self.screen.get_component_styles("screen--selection"))
        return content.stylize(mark, begin, len(content.plain) if end == -1 else end)

    def selection_updated(self, selection: Selection | None) -> None:
        """Part of Textual: what is selected is drawn marked."""
        for placed in self._placed:
            placed.rows = {}
        self.refresh()

    def get_selection(self, selection: Selection) -> tuple[str, str] | None:
        """The text that was selected with the mouse."""
        placed = ((placed, [line.plain for line in placed.lines]) for placed in self._placed)
        lines = [line for each, text in placed for line in (*text, *[""] * each.view.gap)]
        return selection.extract("\n".join(lines)), "\n"


def _style(style: str | Style) -> Style:
    return style if isinstance(style, Style) else Style.parse(style)
