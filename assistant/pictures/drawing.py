"""What the SVG drawings share: plain presentation attributes, so that a page needs no style for them, and safe text."""

from collections.abc import Iterable, Sequence
from html import escape
from typing import Final

from assistant.source.problem import without_controls

INK: Final = "#1b1b18"
QUIET: Final = "#5f625c"
FAINT: Final = "#d5cfc2"
CURVE: Final = "#1f5f5b"
CYCLE: Final = "#8a4a16"
LIMIT: Final = "#a3261b"
"""Dark enough on paper to be read; each is told apart by its form or words as well."""

FONT: Final = 13


def number(value: float) -> str:
    """Return a coordinate, short."""
    return f"{value:.1f}".removesuffix(".0")


def safe(text: str) -> str:
    """Return a text inside an element or attribute: no markup, no control characters."""
    return escape(without_controls(text))


def text(x: float, y: float, words: str, *, anchor: str = "start", fill: str = INK, bold: bool = False) -> str:
    """Words at a place."""
    weight = ' font-weight="bold"' if bold else ""
    return f'<text x="{number(x)}" y="{number(y)}" text-anchor="{anchor}" fill="{fill}"{weight}>{safe(words)}</text>'


def line(x0: float, y0: float, x1: float, y1: float, *, stroke: str = INK, width: float = 1, dash: str = "") -> str:
    """Return a straight line."""
    dashed = f' stroke-dasharray="{dash}"' if dash else ""
    return (
        f'<line x1="{number(x0)}" y1="{number(y0)}" x2="{number(x1)}" y2="{number(y1)}" '
        f'stroke="{stroke}" stroke-width="{number(width)}"{dashed}/>'
    )


def path(points: Sequence[tuple[float, float]], *, stroke: str = INK, width: float = 1.5) -> str:
    """Return points joined by straight lines."""
    joined = " ".join(f"{number(x)},{number(y)}" for x, y in points)
    return f'<polyline points="{joined}" fill="none" stroke="{stroke}" stroke-width="{number(width)}"/>'


def box(x: float, y: float, width: float, height: float, *, fill: str, stroke: str = "none") -> str:
    """Return a rectangle."""
    return (
        f'<rect x="{number(x)}" y="{number(y)}" width="{number(max(width, 0.0))}" height="{number(height)}" '
        f'fill="{fill}" stroke="{stroke}"/>'
    )


def arrow(x: float, y0: float, y1: float, *, stroke: str = CYCLE) -> str:
    """Return an upright arrow from `y0` to its tip at `y1`."""
    back = y1 - 6 if y1 > y0 else y1 + 6
    tip = f"{number(x - 4)},{number(back)} {number(x)},{number(y1)} {number(x + 4)},{number(back)}"
    return line(x, y0, x, y1, stroke=stroke, width=1.5) + f'<polygon points="{tip}" fill="{stroke}"/>'


def svg(title: str, words: Iterable[str], width: float, height: float, parts: Iterable[str]) -> str:
    """Return the drawing as one `<svg>` element; `words` say the same to who cannot see it."""
    size = f"{number(width)} {number(height)}"
    return "\n".join(
        (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {size}" width="{number(width)}" role="img" '
            f'height="{number(height)}" aria-label="{safe(title)}" font-family="sans-serif" font-size="{FONT}">',
            f"<title>{safe(title)}</title>",
            f"<desc>{safe(' '.join(words))}</desc>",
            *parts,
            "</svg>\n",
        )
    )
