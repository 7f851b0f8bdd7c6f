"""Scales of doubt as SVG."""

from collections.abc import Iterator
from textwrap import wrap
from typing import Final

from assistant.pictures.drawing import CYCLE, FAINT, LIMIT, line, svg, text
from assistant.pictures.scale import Scale, Scales, Side, scales_words

_WIDTH: Final = 680.0
_STEP: Final = 84.0
_LEFT: Final = 8.0
_LONGEST: Final = 430.0
_LETTERS: Final = 92


def scales_svg(shown: Scales) -> str:
    """Return the scales below one another as one `<svg>` element."""
    height = max(_STEP * len(shown.scales), 30.0)
    parts = [part for place, scale in enumerate(shown.scales) for part in _scale(scale, _STEP * place)]
    return svg(shown.title, scales_words(shown), _WIDTH, height, parts or [text(_LEFT, 20, scales_words(shown)[0])])


def _scale(scale: Scale, top: float) -> Iterator[str]:
    low, high = scale.span

    def x(value: float) -> float:
        return _LEFT + (value - low) / (high - low) * _LONGEST

    question = wrap(f"{scale.text}?", _LETTERS)
    yield text(_LEFT, top + 16, question[0] if len(question) == 1 else f"{question[0]} ...")
    yield line(x(scale.limit.value), top + 24, x(scale.limit.value), top + 58, stroke=LIMIT, dash="3 3")
    for side, y, stroke, word in ((scale.measured, top + 32, CYCLE, ""), (scale.limit, top + 50, LIMIT, ", limit")):
        yield line(_LEFT, y, _LEFT + _LONGEST, y, stroke=FAINT)
        yield from _interval(side, y, stroke, x(side.ends[0]), x(side.value), x(side.ends[1]))
        yield text(_LEFT + _LONGEST + 14, y + 4, side.shown + word)
    yield text(_LEFT, top + 72, scale.verdict, bold=True)


def _interval(side: Side, y: float, stroke: str, start: float, middle: float, stop: float) -> Iterator[str]:
    if side.spread:
        yield line(start, y, stop, y, stroke=stroke, width=3)
        yield line(start, y - 5, start, y + 5, stroke=stroke, width=2)
        yield line(stop, y - 5, stop, y + 5, stroke=stroke, width=2)
    yield line(middle, y - 7, middle, y + 7, stroke=stroke, width=3)
