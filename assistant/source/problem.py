"""A mistake in an authored file, as a value: where it is, what is wrong, what to write instead.

All mistakes of a file are wanted at once, so they are collected and never raised.

Codes are plain words joined by hyphens, the first one naming the matter: `file-` (cannot be read), `yaml-` (is not
YAML as we take it), `shape-` (wrong or missing key), `name-` (nothing answers to it), `condition-`, `kind-`,
`unit-`, `tree-` (the way through the nodes), `call-` (example calls), `catalogue-`. What is only noted begins with
`note-`. `assistant.tree.codes` explains each.
"""

import unicodedata
from collections.abc import Iterable, Mapping

from assistant.frozen import dataclass

# A longer line is shown only around the mistake, so that it fits beside its line number in 100 columns.
_SHOWN_WIDTH = 90
_LEAD = 30


@dataclass(frozen=True, slots=True)
class Place:
    """A stretch of one line of a file; lines and columns count characters from 1, `end_column` is past the last.

    Line 0 stands for the file as a whole.
    """

    path: str
    line: int = 0
    column: int = 0
    end_column: int = 0

    def __str__(self) -> str:
        return f"{self.path}:{self.line}:{self.column}" if self.line else self.path


@dataclass(frozen=True, slots=True)
class Problem:
    """One mistake: `code` for looking it up, `message` for reading, `hint` for what to write or do."""

    code: str
    place: Place
    message: str
    hint: str | None = None

    def _order(self) -> tuple[str, int, int, str, str, str]:
        place = self.place
        return (place.path, place.line, place.column, self.code, self.message, self.hint or "")

    def __lt__(self, other: "Problem") -> bool:
        return self._order() < other._order()


def without_controls(text: str) -> str:
    """Give `text` as it may be shown: tabs and line ends become spaces, other unprintable characters go."""
    if text.isprintable():
        return text
    spaced = ("  " if char == "\u3000" else " " if char.isspace() else char for char in text)
    return "".join(char for char in spaced if char.isprintable())


def shorten(text: str, width: int = 60) -> str:
    """Give `text` for use inside a sentence: without controls, and cut where it is too long to read."""
    plain = without_controls(text[: width * 4])
    return plain if len(plain) <= width and len(text) <= width * 4 else plain[: width - 3] + "..."


def render(problem: Problem, source_text: str | None = None, width: int = _SHOWN_WIDTH) -> str:
    """Show a problem as `file:line:col: message [code]`, with the source line, a caret and the hint below.

    A source line of more than `width` characters is shown around the mistake only.
    """
    place = problem.place
    head = without_controls(f"{place}: {problem.message} [{problem.code}]")
    lines = [head]
    gutter = " " * 6
    if source_text is not None and place.line:
        source_lines = source_text.split("\n", place.line)
        if place.line <= len(source_lines):
            number = f"{place.line:>5} "
            gutter = " " * len(number)
            shown, caret = _with_caret(source_lines[place.line - 1], place, width)
            lines.append(f"{number}| {shown}".rstrip())
            lines.append(f"{gutter}| {caret}")
    if problem.hint is not None:
        lines.append(f"{gutter}= {without_controls(problem.hint)}")
    return "\n".join(lines)


def render_all(problems: Iterable[Problem], source_texts: Mapping[str, str], width: int = _SHOWN_WIDTH) -> str:
    """Show several problems, one blank line between them; `source_texts` holds the files' texts by path."""
    return "\n\n".join(render(problem, source_texts.get(problem.place.path), width) for problem in problems)


def as_json(problem: Problem) -> dict[str, str | int | None]:
    """Give a problem as plain values for a JSON document; line and columns are 0 for a whole file."""
    place = problem.place
    return {
        "code": problem.code,
        "path": place.path,
        "line": place.line,
        "column": place.column,
        "end_column": place.end_column,
        "message": problem.message,
        "hint": problem.hint,
    }


def as_github(problem: Problem, level: str = "error") -> str:
    """Give a problem as the command by which a GitHub workflow marks the line; `level` is error, warning or notice.

    Source: the workflow commands that GitHub documents for its Actions; from memory.
    """
    place = problem.place
    where = {"file": place.path}
    if place.line:
        where |= {"line": str(place.line), "col": str(place.column), "endColumn": str(place.end_column)}
    properties = ",".join(f"{key}={_escape(value, ':,')}" for key, value in where.items())
    hint = f" ({problem.hint})" if problem.hint else ""
    text = without_controls(f"{problem.message}{hint} [{problem.code}]")
    return f"::{level} {properties}::{_escape(text)}"


def _escape(text: str, also: str = "") -> str:
    for char in "%\r\n" + also:
        text = text.replace(char, f"%{ord(char):02X}")
    return text


def _width(text: str) -> int:
    """Count the terminal columns of `text`."""
    if text.isascii():
        return len(text)
    return sum(
        0 if unicodedata.combining(char) else 2 if unicodedata.east_asian_width(char) in "WF" else 1 for char in text
    )


def _with_caret(line: str, place: Place, width: int) -> tuple[str, str]:
    """Give a source line fit to be shown, and the carets that go under the mistake."""
    start = min(max(place.column - 1, 0), len(line))
    end = max(min(place.end_column - 1, len(line)), start)
    first = 0 if len(line) <= width else max(0, start - min(_LEAD, width // 3))
    last = min(len(line), first + width)
    before = ("..." if first else "") + without_controls(line[first:start])
    marked = without_controls(line[start : min(end, last)])
    after = without_controls(line[min(end, last) : last]) + ("..." if last < len(line) else "")
    return before + marked + after, " " * _width(before) + "^" * max(_width(marked), 1)
