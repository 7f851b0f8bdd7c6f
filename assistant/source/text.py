"""The text of an authored file, read within bounds; whatever cannot be read is a Problem."""

import re
import stat
from pathlib import Path

from assistant.source.problem import Place, Problem

MOST_BYTES = 2_000_000

# YAML's own forbidden characters, those that YAML counts as line ends and editors do not (so that line numbers
# would differ), and those that change the direction of writing, so that a line would not read as it works.
_UNWANTED = re.compile(
    "[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069\ufeff\ufffe\uffff\ud800-\udfff]"
)
_INDENT_TAB = re.compile(r"^ *\t[ \t]*(?=\S)", re.MULTILINE)


def read_text(path: Path, above: str | None = None) -> tuple[str | None, list[Problem]]:
    """Read a file as UTF-8 text with `\\n` line ends; never raises, never reads more than `MOST_BYTES`.

    With `above`, only what stands above the first line that begins so; without such a line there is no text.
    """
    name = str(path)
    try:
        status = path.stat()
        if stat.S_ISDIR(status.st_mode):
            return None, [_whole(name, "file-folder", "this is a folder, not a file", "name a .yaml file in it")]
        # A pipe or device could block or never end.
        if not stat.S_ISREG(status.st_mode):
            return None, [_whole(name, "file-special", "this is not an ordinary file", "name a .yaml file")]
        with path.open("rb") as stream:
            raw = stream.read(MOST_BYTES + 1)
    except FileNotFoundError:
        return None, [_whole(name, "file-missing", "there is no such file", "check the name and the folder")]
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "the name cannot be used"
        return None, [_whole(name, "file-unreadable", f"the file cannot be read: {reason}")]
    if len(raw) > MOST_BYTES:
        return None, [_too_large(name)]
    if above is not None:
        raw, found, _ = raw.partition(f"\n{above}".encode())
        if not found:
            return None, []
    return _decode(raw, name)


def clean_text(text: str, name: str) -> tuple[str | None, list[Problem]]:
    """Check a text as `read_text` does with a file's; `name` stands for the path in the problems."""
    # Some editors put this mark in front without being asked; it says nothing and harms nothing.
    text = text.removeprefix("\ufeff")
    if len(text) > MOST_BYTES:
        return None, [_too_large(name)]
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    problems = [*_find_unwanted(text, name), *_tabs(text, name)]
    return (None if problems else text), problems


def _decode(raw: bytes, name: str) -> tuple[str | None, list[Problem]]:
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        message = "the file is saved as UTF-16"
        return None, [_whole(name, "file-encoding", message, 'save it as UTF-8 ("Encoding" in the save dialogue)')]
    try:
        text = raw.decode("utf-8")
    except UnicodeDecodeError as error:
        good = raw[: error.start].decode("utf-8").removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
        line = good.count("\n") + 1
        column = len(good) - (good.rfind("\n") + 1) + 1
        message = "a character here is not UTF-8 text"
        return None, [
            Problem("file-encoding", Place(name, line, column, column + 1), message, "save the file as UTF-8")
        ]
    return clean_text(text, name)


def _find_unwanted(text: str, name: str) -> list[Problem]:
    found = _UNWANTED.search(text)
    if found is None:
        return []
    place = _at(text, name, found.start(), found.end())
    message = f"an invisible control character (U+{ord(found.group()):04X}) is in the text"
    return [Problem("yaml-control", place, message, "delete it: retype this part of the line")]


def _tabs(text: str, name: str) -> list[Problem]:
    found = _INDENT_TAB.search(text)
    if found is None:
        return []
    tab = text.index("\t", found.start())
    count = sum(1 for _ in _INDENT_TAB.finditer(text))
    more = f" (and {count - 1} more line{'s' if count > 2 else ''})" if count > 1 else ""
    place = _at(text, name, tab, found.end())
    return [Problem("yaml-tab", place, f"a tab indents this line{more}; YAML takes only spaces", "indent with spaces")]


def _at(text: str, name: str, start: int, end: int) -> Place:
    line_start = text.rfind("\n", 0, start) + 1
    return Place(name, text.count("\n", 0, start) + 1, start - line_start + 1, end - line_start + 1)


def _whole(name: str, code: str, message: str, hint: str | None = None) -> Problem:
    return Problem(code, Place(name), message, hint)


def _too_large(name: str) -> Problem:
    message = f"the file is larger than {MOST_BYTES // 1_000_000} MB, more than any tree needs"
    return _whole(name, "file-large", message, "check that it is the right file, or split it")
