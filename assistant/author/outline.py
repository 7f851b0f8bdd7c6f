"""A picture of a tree as text for a terminal: each node once, with its words and ways, in the order of a call."""

import textwrap
from collections.abc import Callable, Iterator

from assistant.author.picture import Arrow, Box, Picture

_NARROWEST = 40
_TAGS = {"cause": "CAUSE", "no_fault": "NO FAULT", "undecided": "UNDECIDED", "use": "USES", "missing": "MISSING"}

Paint = Callable[[str, str], str]
"""Gives a text in the look of its sort: head, caution, called, none, quiet, or the sort of a box."""


def plain(text: str, sort: str) -> str:
    """Return a text in no look at all."""
    return text


def outline(shown: Picture, width: int = 80, paint: Paint = plain) -> str:
    """Return the outline, each line at most `width` columns wide (unless a single word is wider)."""
    width = max(width, _NARROWEST)
    blocks = ["\n".join(_head(shown, width, paint))]
    called = shown.called
    numbers = {name: number for number, name in enumerate(shown.boxes, start=1)}
    blocks.extend(
        "\n".join(_block(box, numbers, called.get(name, ()), width, paint)) for name, box in shown.boxes.items()
    )
    return "\n\n".join(blocks) + "\n"


def _head(shown: Picture, width: int, paint: Paint) -> Iterator[str]:
    yield from _wrap(f"{shown.title} ({shown.name}, version {shown.version})", "", "", width, paint, "head")
    if shown.complaints:
        yield from _wrap("complaints: " + ", ".join(shown.complaints), "  ", "    ", width, paint)
    if shown.facts:
        yield from _wrap("asks first: " + ", ".join(shown.facts), "  ", "    ", width, paint)
    if shown.call is not None:
        text = f"marked >> with its steps: the call {shown.call!r}"
        yield from _wrap(text, "  ", "    ", width, paint, "called")
    if shown.calls is not None:
        text = f"in brackets: how many of {shown.calls} example calls take a way; !! none does"
        yield from _wrap(text, "  ", "    ", width, paint)


def _block(box: Box, numbers: dict[str, int], places: tuple[int, ...], width: int, paint: Paint) -> Iterator[str]:
    tag = f"  {_TAGS[box.sort]}" if box.sort in _TAGS else ""
    tag += f"  {box.title}" if box.sort in ("cause", "use") else ""
    at = ">> " if places else ""
    ends = f"  {_count(box.calls)}" if box.calls is not None else ""
    sort = "called" if places else "head" if box.sort == "step" else box.sort
    yield from _wrap(f"{at}{numbers[box.name]}. {box.name}{tag}{ends}{_step(places)}", "", "    ", width, paint, sort)
    for caution in box.cautions:
        yield from _wrap(f"! caution: {caution}", "   ", "     ", width, paint, "caution")
    for label, text in box.texts:
        yield from _wrap(f"{label}: {text}", "   ", "     ", width, paint)
    for arrow in box.arrows:
        yield from _way(arrow, numbers, width, paint)


def _way(arrow: Arrow, numbers: dict[str, int], width: int, paint: Paint) -> Iterator[str]:
    words = f"{'>>' if arrow.steps else '-'} {arrow.words} -> {arrow.target} ({numbers[arrow.target]})"
    if arrow.calls is not None:
        words += f"  {_count(arrow.calls)}"
    words += _step(arrow.steps)
    sort = "called" if arrow.steps else "none" if arrow.calls == 0 else ""
    yield from _wrap(words, "   ", "       ", width, paint, sort)
    for limit in arrow.limits:
        yield from _wrap(limit, "       ", "         ", width, paint, "quiet")
    if arrow.say:
        yield from _wrap(f"says: {arrow.say}", "       ", "         ", width, paint, "quiet")


def _step(places: tuple[int, ...]) -> str:
    """Return where something comes in the order of the marked call."""
    return f"  step {', '.join(map(str, places))}" if places else ""


def _count(calls: int) -> str:
    return f"[{calls}]" if calls else "[0 !!]"


def _wrap(text: str, indent: str, hanging: str, width: int, paint: Paint, sort: str = "") -> Iterator[str]:
    lines = textwrap.wrap(
        text,
        width,
        initial_indent=indent,
        subsequent_indent=hanging,
        break_on_hyphens=False,
        break_long_words=False,
    )
    yield from (paint(line, sort) for line in lines)
