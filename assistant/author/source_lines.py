"""The lines in which an author wrote a node."""

from collections.abc import Mapping
from pathlib import Path

from assistant.source.problem import Place
from assistant.source.text import read_text


class SourceLines:
    """The lines of files: from `texts` by path, else from disk, each file read once."""

    def __init__(self, texts: Mapping[str, str] | None = None) -> None:
        self._files = {path: text.split("\n") for path, text in (texts or {}).items()}

    def of(self, place: Place) -> tuple[str, ...]:
        """The line at a place and all that is indented below it; blank and comment lines at its end are left out."""
        lines = self._lines(place.path)
        if not 0 < place.line <= len(lines):
            return ()
        first = place.line - 1
        depth = _depth(lines[first])
        last = first + 1
        for number in range(first + 1, len(lines)):
            if _says_nothing(lines[number]):
                continue
            if _depth(lines[number]) <= depth:
                break
            last = number + 1
        return tuple(line[depth:].rstrip() for line in lines[first:last])

    def _lines(self, path: str) -> list[str]:
        if path not in self._files:
            text, _ = read_text(Path(path))
            self._files[path] = (text or "").split("\n")
        return self._files[path]


def _depth(line: str) -> int:
    return len(line) - len(line.lstrip(" "))


def _says_nothing(line: str) -> bool:
    return not line.strip() or line.lstrip().startswith("#")
