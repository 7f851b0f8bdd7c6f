"""Changing the text of a real file as a slip, a bad disk or a foe would: lines, words, marks and bytes."""

import random
import re
from collections.abc import Callable

_WORD = re.compile(r"[A-Za-z_]{3,}")
_MARKS = (
    ":", "[", "]", "{", '"', "'", "- ", "# ", "<", " and ", " or ", " not ", "(", "&a ", "*a", "|", "%", "psi", "=",
    ",", "\x00", "\x1b[2J", "\u202e", "\ud800", "9" * 40, "-1", "1e999", "null", "{}", "[[", "\r", "\t",
)  # fmt: skip

Change = Callable[[list[str], random.Random], None]


def drop(lines: list[str], chance: random.Random) -> None:
    """Take some lines out."""
    start = chance.randrange(len(lines))
    del lines[start : start + chance.choice((1, 1, 2, 5, 40))]


def double(lines: list[str], chance: random.Random) -> None:
    """Put some lines in once more."""
    start = chance.randrange(len(lines))
    part = lines[start : start + chance.choice((1, 3, 12))]
    at = chance.randrange(len(lines))
    lines[at:at] = part


def move(lines: list[str], chance: random.Random) -> None:
    """Put a line in another place."""
    line = lines.pop(chance.randrange(len(lines)))
    lines.insert(chance.randrange(len(lines) + 1), line)


def swap_words(lines: list[str], chance: random.Random) -> None:
    """Put a word of another line in the place of one."""
    at = chance.randrange(len(lines))
    other = _WORD.findall(lines[chance.randrange(len(lines))])
    here = _WORD.findall(lines[at])
    if here and other:
        lines[at] = lines[at].replace(chance.choice(here), chance.choice(other), 1)


def indent(lines: list[str], chance: random.Random) -> None:
    """Move a line in or out."""
    at = chance.randrange(len(lines))
    lines[at] = chance.choice((" ", "    ", "\t")) + lines[at] if chance.random() < 0.5 else lines[at][1:]


def truncate(lines: list[str], chance: random.Random) -> None:
    """Cut all off behind a place."""
    at = chance.randrange(len(lines))
    lines[at] = lines[at][: chance.randrange(len(lines[at]) + 1)]
    del lines[at + 1 :]


def mark(lines: list[str], chance: random.Random) -> None:
    """Put something in that means something to a reader."""
    at = chance.randrange(len(lines))
    column = chance.randrange(len(lines[at]) + 1)
    lines[at] = lines[at][:column] + chance.choice(_MARKS) + lines[at][column:]


CHANGES: tuple[Change, ...] = (drop, double, move, swap_words, swap_words, indent, truncate, mark, mark)


def changed(text: str, chance: random.Random) -> str:
    """Give a text after one to six changes."""
    lines = text.split("\n")
    for _ in range(chance.randint(1, 6)):
        if lines:
            chance.choice(CHANGES)(lines, chance)
    return "\n".join(lines)


def changed_bytes(text: str, chance: random.Random) -> bytes:
    """Give the bytes of a changed text, now and then with some that are of no encoding."""
    data = bytearray(changed(text, chance).encode("utf-8", "surrogatepass"))
    if data and chance.random() < 0.1:
        at = chance.randrange(len(data))
        data[at : at + 1] = chance.randbytes(chance.choice((1, 3, 200)))
    return bytes(data)
