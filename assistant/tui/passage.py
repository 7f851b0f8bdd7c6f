"""Text as the chat shows it: plain, never markup, wrapped with what runs on indented under its own beginning."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

from textual.content import Content
from textual.css.styles import RulesMap
from textual.strip import Strip
from textual.style import Style
from textual.visual import RenderOptions, Visual

from assistant.source.problem import Problem, render, without_controls

# A column narrower than this is worse to read than a line that runs on without its indent.
_NARROWEST = 12

# A line number, a bar, and the dots on both sides of a line that is cut.
_GUTTER = 14

MUTED = "$quiet"
STRONG = "bold"
MARKED = "bold $foreground"
NOTHING = Content("")


def plain(text: str, style: str = "") -> Content:
    """Text from anywhere as content: no markup is interpreted, control characters are gone."""
    shown = without_controls(text)
    return Content.styled(shown, style) if style else Content(shown)


@lru_cache(maxsize=4096)
def _breaks(text: str, width: int) -> tuple[tuple[int, int], ...] | None:
    """Where the lines of a text begin and end; `None` where wrapping changes more than where it breaks."""
    found, at = [], 0
    for wrapped in Content(text).wrap(width):
        at = text.find(wrapped.plain, at)
        if at < 0:
            return None
        found.append((at, at + len(wrapped.plain)))
        at += len(wrapped.plain)
    return tuple(found)


def _wrapped(content: Content, width: int) -> list[Content]:
    """Text in lines; an answered question has the same words in another look, so breaks are kept."""
    breaks = _breaks(content.plain, width)
    if breaks is None:
        return content.wrap(width)
    return [content[begin:end] for begin, end in breaks] or [NOTHING]


@dataclass(frozen=True, slots=True)
class Paragraph:
    """One paragraph; lines after the first are indented by the width of `lead`."""

    body: Content
    lead: Content = NOTHING

    def lines(self, width: int) -> list[Content]:
        """The paragraph wrapped to a width [cells]."""
        hang = self.lead.cell_length
        if width - hang < _NARROWEST:
            return (self.lead + self.body).wrap(width) or [NOTHING]
        wrapped = _wrapped(self.body, width - hang)
        indent = Content(" " * hang)
        return [(indent if number else self.lead) + line for number, line in enumerate(wrapped)]


@dataclass(frozen=True, slots=True)
class Pair:
    """A title with its value: on one line, the value at the right edge, or on two when they do not fit."""

    title: Content
    value: Content

    def lines(self, width: int) -> list[Content]:
        """The pair laid out for a width [cells]."""
        gap = width - self.title.cell_length - self.value.cell_length
        if gap >= 2:
            return [self.title + Content(" " * gap) + self.value]
        wrapped = Paragraph(self.value, Content("  ")).lines(width)
        if len(wrapped) == 1:
            wrapped = [Content(" " * (width - self.value.cell_length)) + self.value]
        return [*Paragraph(self.title).lines(width), *wrapped]


@dataclass(frozen=True, slots=True)
class Run:
    """Items one behind the other, never broken inside."""

    items: tuple[Content, ...]

    def lines(self, width: int) -> list[Content]:
        """As many items to a line as fit a width [cells]."""
        lines = [self.items[0]]
        for following in self.items[1:]:
            if lines[-1].cell_length + 2 + following.cell_length <= width:
                lines[-1] = lines[-1] + Content("  ") + following
            else:
                lines.append(following)
        return lines


@dataclass(frozen=True, slots=True)
class Excerpt:
    """A mistake with its source line and a caret below, which no wrapping may part."""

    problem: Problem
    source: str | None

    def lines(self, width: int) -> list[Content]:
        """The mistake laid out for a width [cells]; of a long source line only what is around it."""
        shown = render(self.problem, self.source, max(width - _GUTTER, _NARROWEST)).split("\n")
        lines: list[Content] = []
        for text in shown:
            in_source = "|" in text[:_GUTTER] and text is not shown[0]
            lines.extend([plain(text)] if in_source else Paragraph(plain(text)).lines(width))
        return lines


Block = Paragraph | Pair | Run | Excerpt


def line(text: str, style: str = "") -> Paragraph:
    """A paragraph of plain text; spaces in front of it indent the whole of it."""
    body = text.lstrip(" ")
    indent = len(text) - len(body)
    hang = indent + 2 if indent else 0
    return Paragraph(plain(body, style), Content(" " * indent)) if not hang else _hanging(body, indent, style)


def _hanging(body: str, indent: int, style: str) -> Paragraph:
    """What starts with a sign such as `= ` runs on behind the sign."""
    sign = body[:2] if body[:2] in ("= ", "- ") else ""
    return Paragraph(plain(body[len(sign) :], style), plain(" " * indent + sign, style))


def item(lead: str, text: str, style: str = "", lead_style: str | None = None) -> Paragraph:
    """A paragraph behind a number or sign."""
    return Paragraph(plain(text, style), plain(lead, style if lead_style is None else lead_style))


def headed(head: str, text: str, style: str = STRONG) -> Paragraph:
    """A paragraph that begins with a word set off from the rest."""
    return Paragraph(plain(head, style) + Content(" ") + plain(text))


class Passage(Visual):
    """Blocks below one another, laid out for whatever width there is."""

    def __init__(self, blocks: Iterable[Block]) -> None:
        self.blocks: Sequence[Block] = tuple(blocks)
        self._width = -1
        self._laid_out = Content("")
        self._height = 0

    def at(self, width: int) -> Content:
        """The whole passage as lines of at most `width` cells."""
        if width != self._width:
            lines = [line for block in self.blocks for line in block.lines(max(width, 1))]
            self._laid_out = Content("\n").join(lines)
            self._height = len(lines)
            self._width = width
        return self._laid_out

    def render_strips(self, width: int, height: int | None, style: Style, options: RenderOptions) -> list[Strip]:
        """Draw it; part of the protocol of visuals."""
        return self.at(width).render_strips(width, height, style, options)

    def get_optimal_width(self, rules: RulesMap, container_width: int) -> int:
        """All the width there is; part of the protocol of visuals."""
        return container_width

    def get_height(self, rules: RulesMap, width: int) -> int:
        """Lines at a width; part of the protocol of visuals."""
        self.at(width)
        return self._height
