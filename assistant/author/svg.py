"""A picture of a tree as SVG: cards, their rows, and the lines between them. Words carry the state, colour helps."""

from collections.abc import Iterator, Sequence
from html import escape
from urllib.parse import quote

from assistant.author.cards import PAD, WIDTH, Card, TextLine, WayRow, card
from assistant.author.layers import Link, arrange
from assistant.author.picture import Arrow, Box, Picture
from assistant.author.placing import Layout, Point, place

_ROUND = 7.0
_CUT = 14.0


def svg(shown: Picture) -> str:
    """Return the drawing as one `<svg>` element; its classes are those of `page.css`."""
    cards = {name: card(box, is_start=name == shown.start) for name, box in shown.boxes.items()}
    links = {Link(name, row.target, at): row for name, laid in cards.items() for at, row in enumerate(laid.rows)}
    layout = place(arrange(list(cards), list(links)), {name: laid.size for name, laid in cards.items()})
    called = shown.called
    width, height = _number(layout.width), _number(layout.height)
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" id="drawing" width="{width}" height="{height}" '
        f'viewBox="0 0 {width} {height}" role="group" aria-label="{escape(shown.title)}">',
        *_arrow_heads(),
        '<g class="lines">',
        *_lines(links, layout, cards),
        "</g>",
    ]
    for name, laid in cards.items():
        parts.extend(_card(laid, layout.corners[name], called.get(name, ())))
    return "\n".join([*parts, "</svg>"]) + "\n"


def anchor(name: str) -> str:
    """Return the id of a node's card."""
    return "node-" + quote(name, safe="")


def _number(value: float) -> str:
    return f"{value:.1f}".removesuffix(".0")


def _arrow_heads() -> Iterator[str]:
    yield "<defs>"
    for name in ("head-plain", "head-called"):
        yield (
            f'<marker id="{name}" class="{name}" viewBox="0 0 10 10" refX="9" refY="5" markerWidth="9" '
            'markerHeight="9" markerUnits="userSpaceOnUse" orient="auto"><path d="M0 0.8 L9.5 5 L0 9.2 z"/></marker>'
        )
    yield "</defs>"


# ------------------------------------------------------------------ lines


def _lines(links: dict[Link, WayRow], layout: Layout, cards: dict[str, Card]) -> Iterator[str]:
    """Give the lines, those of the marked call last, so that they lie on top."""
    later = []
    for link, row in links.items():
        arrows = [cards[link.source].box.arrows[at] for at in row.places]
        taken = any(arrow.steps for arrow in arrows)
        classes = ["line", *(["called"] if taken else []), *_line_classes(arrows)]
        drawn = (
            f'<path class="{" ".join(classes)}" data-from="{anchor(link.source)}" data-to="{anchor(link.target)}" '
            f'd="{round_corners(layout.lines[link])}" marker-end="url(#head-{"called" if taken else "plain"})"/>'
        )
        if taken:
            later.append(drawn)
        else:
            yield drawn
    yield from later


def _line_classes(arrows: Sequence[Arrow]) -> Iterator[str]:
    if all(arrow.sort == "cannot_tell" for arrow in arrows):
        yield "unknown"
    if all(arrow.calls == 0 for arrow in arrows):
        yield "never"


def round_corners(points: Sequence[Point]) -> str:
    """Return the path through points along the axes, its corners rounded."""
    kept = [points[0]]
    for before, point, after in zip(points, points[1:], points[2:], strict=False):
        if point != before and not (before[0] == point[0] == after[0] or before[1] == point[1] == after[1]):
            kept.append(point)
    kept.append(points[-1])
    path = [f"M{_number(kept[0][0])} {_number(kept[0][1])}"]
    for before, point, after in zip(kept, kept[1:], kept[2:], strict=False):
        radius = min(_ROUND, _far(before, point) / 2, _far(point, after) / 2)
        one, other = _toward(point, before, radius), _toward(point, after, radius)
        path.append(f"L{_pair(one)} Q{_pair(point)} {_pair(other)}")
    path.append(f"L{_pair(kept[-1])}")
    return " ".join(path)


def _far(one: Point, other: Point) -> float:
    return abs(one[0] - other[0]) + abs(one[1] - other[1])


def _toward(point: Point, other: Point, by: float) -> Point:
    far = _far(point, other)
    share = by / far if far else 0.0
    return point[0] + (other[0] - point[0]) * share, point[1] + (other[1] - point[1]) * share


def _pair(point: Point) -> str:
    return f"{_number(point[0])} {_number(point[1])}"


# ------------------------------------------------------------------ cards


def _card(laid: Card, corner: Point, places: tuple[int, ...]) -> Iterator[str]:
    box = laid.box
    classes = f"card {box.sort}{' called' if places else ''}"
    where = f'transform="translate({_pair(corner)})"'
    yield f'<g class="{classes}" id="{anchor(box.name)}" {where} data-words="{escape(_words(box))}">'
    yield f'<a href="#{anchor(box.name)}">'
    if box.why:
        yield f"<title>{escape('why: ' + box.why)}</title>"
    yield f'<path class="shape" d="{_outline(box, laid.height)}"/>'
    if box.sort == "use":
        yield f'<path class="bars" d="M7 0 V{_number(laid.height)} M{_number(WIDTH - 7)} 0 V{_number(laid.height)}"/>'
    if laid.band:
        top, bottom = laid.band
        yield _rect("band", 2, top, bottom)
    yield from (_text(line) for line in laid.lines)
    yield "</a>"
    if box.calls is not None:
        yield _badge(_calls(box.calls), 24, "none" if not box.calls else "count")
    for row in laid.rows:
        yield from _row(box, row)
    if places:
        yield _order(places)
    yield "</g>"


def _rect(name: str, inset: float, top: float, bottom: float) -> str:
    """Return a part of the card from side to side."""
    return (
        f'<rect class="{name}" x="{_number(inset)}" y="{_number(top)}" width="{_number(WIDTH - 2 * inset)}" '
        f'height="{_number(bottom - top)}"/>'
    )


def _words(box: Box) -> str:
    """Return all words of a card, in small letters, for the search."""
    arrows = (part for arrow in box.arrows for part in (arrow.words, *arrow.limits, arrow.say))
    texts = (text for _, text in box.texts)
    return " ".join([box.name, box.title, box.sort.replace("_", " "), *box.cautions, *texts, *arrows]).lower()


def _outline(box: Box, height: float) -> str:
    """Return the outline of a card: steps are rounded, causes have cut corners, other ends are round or slanted."""
    w, h, c = WIDTH, height, _CUT
    match box.sort:
        case "cause":
            return f"M{c} 0 H{w - c} L{w} {c} V{h - c:.1f} L{w - c} {h:.1f} H{c} L0 {h - c:.1f} V{c} z"
        case "no_fault":
            r = 30
            return (
                f"M{r} 0 H{w - r} A{r} {r} 0 0 1 {w} {r} V{h - r:.1f} A{r} {r} 0 0 1 {w - r} {h:.1f} "
                f"H{r} A{r} {r} 0 0 1 0 {h - r:.1f} V{r} A{r} {r} 0 0 1 {r} 0 z"
            )
        case "undecided" | "missing":
            return f"M0 0 H{w - 22} L{w} 22 V{h:.1f} H0 z"
        case "use":
            return f"M0 0 H{w} V{h:.1f} H0 z"
        case _:
            r = 8
            return (
                f"M{r} 0 H{w - r} Q{w} 0 {w} {r} V{h - r:.1f} Q{w} {h:.1f} {w - r} {h:.1f} "
                f"H{r} Q0 {h:.1f} 0 {h - r:.1f} V{r} Q0 0 {r} 0 z"
            )


def _text(line: TextLine) -> str:
    label = (
        f'<text class="label" x="{_number(PAD)}" y="{_number(line.y)}">{escape(line.label)}</text>'
        if line.label
        else ""
    )
    return (
        f'{label}<text class="{line.style.name}" x="{_number(line.x)}" y="{_number(line.y)}">'
        f"{escape(line.text, quote=False)}</text>"
    )


def _row(box: Box, row: WayRow) -> Iterator[str]:
    arrows = [box.arrows[at] for at in row.places]
    taken = any(arrow.steps for arrow in arrows)
    yield f'<a class="row{" called" if taken else ""}" href="#{anchor(row.target)}">'
    yield _rect("hit", 0, row.top, row.bottom)
    yield f'<path class="rule" d="M0 {_number(row.top)} H{_number(WIDTH)}"/>'
    yield from (_text(line) for line in row.lines)
    for arrow, baseline in zip(arrows, row.baselines, strict=True):
        yield from _badges(arrow, baseline)
    yield "</a>"


def _badges(arrow: Arrow, y: float) -> Iterator[str]:
    """Yield what the calls say of a way: how many take it, and where in its order the marked one does."""
    taken = "taken " + ", ".join(map(str, arrow.steps)) if arrow.steps else ""
    if arrow.calls is None:
        if taken:
            yield _badge(taken, y, "taken")
        return
    calls = _calls(arrow.calls)
    yield _badge(f"{taken}, {calls}" if taken else calls, y, "taken" if taken else "count" if arrow.calls else "none")


def _calls(count: int) -> str:
    return "no call" if not count else f"{count} call{'' if count == 1 else 's'}"


def _badge(text: str, y: float, name: str) -> str:
    return (
        f'<text class="badge {name}" x="{_number(WIDTH - PAD)}" y="{_number(y)}" text-anchor="end">'
        f"{escape(text)}</text>"
    )


def _order(places: tuple[int, ...]) -> str:
    """Return the places of a node in the order of the marked call, on the corner of its card."""
    text = ", ".join(map(str, places))
    width = max(24, 9 + 8 * len(text))
    return (
        f'<g class="order"><rect x="-10" y="-12" width="{width}" height="24" rx="12"/>'
        f'<text x="{-10 + width / 2:g}" y="4.5" text-anchor="middle">{text}</text></g>'
    )
