"""A picture of a tree as Mermaid flowchart text, for pages that draw such text themselves."""

from collections.abc import Iterator

from assistant.author.cards import QUIET, break_lines
from assistant.author.picture import Arrow, Box, Picture

_SHAPES = {
    "step": ("[", "]"),
    "cause": ("{{", "}}"),
    "no_fault": ("([", "])"),
    "undecided": (">", "]"),
    "use": ("[[", "]]"),
    "missing": ("[/", "/]"),
}
_TAGS = {"cause": "CAUSE", "no_fault": "NO FAULT", "undecided": "UNDECIDED", "use": "USES", "missing": "MISSING"}
# A label means nothing but itself once these are written as their numbers; & and # come first by being one pass.
_ESCAPED = {ord(char): f"#{ord(char)};" for char in "#&\"'<>|`\\"}
_STYLES = (
    "classDef cause stroke:#b3402a,stroke-width:2px",
    "classDef no_fault stroke:#2f7d45,stroke-width:2px",
    "classDef undecided stroke:#4b5fae,stroke-width:2px,stroke-dasharray:6 4",
    "classDef use stroke:#1a5fa8,stroke-width:2px",
    "classDef missing stroke:#b3261e,stroke-width:2px,stroke-dasharray:2 3",
    "classDef called stroke:#c2410c,stroke-width:5px",
)
_ROOM = 190.0
_LONGEST = 240


def mermaid(shown: Picture) -> str:
    """Return the text of the flowchart, for a Mermaid of version 10 or newer."""
    return "\n".join(_lines(shown)) + "\n"


def _lines(shown: Picture) -> Iterator[str]:
    ids = {name: f"n{number}" for number, name in enumerate(shown.boxes, start=1)}
    called = shown.called
    yield f"%% {shown.title.replace('{', '(').replace('}', ')')} ({shown.name}, version {shown.version})"
    yield "flowchart TD"
    for name, box in shown.boxes.items():
        before, behind = _SHAPES[box.sort]
        yield f'  {ids[name]}{before}"{"<br>".join(_words(box, called.get(name, ())))}"{behind}'
    taken: list[int] = []
    number = 0
    for name, box in shown.boxes.items():
        for arrow in box.arrows:
            line = "-.->" if arrow.sort == "cannot_tell" else "-->"
            yield f'  {ids[name]} {line}|"{"<br>".join(_label(arrow))}"| {ids[arrow.target]}'
            if arrow.steps:
                taken.append(number)
            number += 1
    yield from (f"  {style}" for style in _STYLES)
    for sort in ("cause", "no_fault", "undecided", "use", "missing"):
        of_sort = [ids[name] for name, box in shown.boxes.items() if box.sort == sort]
        if of_sort:
            yield f"  class {','.join(of_sort)} {sort}"
    if called:
        yield f"  class {','.join(ids[name] for name in called)} called"
    if taken:
        yield f"  linkStyle {','.join(map(str, taken))} stroke:#c2410c,stroke-width:4px"


def _words(box: Box, places: tuple[int, ...]) -> Iterator[str]:
    tag = _TAGS.get(box.sort)
    number = f"step {', '.join(map(str, places))} of the call: " if places else ""
    if tag:
        yield _escape(number + tag)
        if box.sort in ("cause", "use"):
            yield from _break_words(box.title)
        yield _escape(f"{box.name}: {box.used}" if box.used else box.name)
    else:
        yield _escape(number + box.name)
    for caution in box.cautions:
        yield from _break_words(f"⚠ {caution}")
    for label, text in box.texts:
        yield from _break_words(f"{label}: {text}")
    if box.calls is not None:
        yield _escape(f"calls that end here: {box.calls}")


def _label(arrow: Arrow) -> Iterator[str]:
    yield from _break_words(arrow.words)
    for limit in arrow.limits:
        yield from _break_words(limit)
    if arrow.calls is not None:
        yield _escape("no call" if not arrow.calls else f"{arrow.calls} call{'' if arrow.calls == 1 else 's'}")
    if arrow.steps:
        yield _escape(f"taken {', '.join(map(str, arrow.steps))}")


def _break_words(text: str) -> Iterator[str]:
    text = text if len(text) <= _LONGEST else text[: _LONGEST - 1] + "…"
    yield from (_escape(line) for line in break_lines(text, QUIET, _ROOM))


def _escape(text: str) -> str:
    return text.translate(_ESCAPED)
