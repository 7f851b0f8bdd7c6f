"""What changed in a few lines, word by word: `[-gone-]` and `{+new+}` stand where it did."""

import re
from collections.abc import Iterable, Iterator, Sequence
from difflib import SequenceMatcher

# Words kept in front of a change and behind it, where the line says more than that.
_AROUND = 6
_TOKEN = re.compile(r"\s+|[^\s\[\],(){}:]+|[\[\],(){}:]")


def lines_changed(old: Sequence[str], new: Sequence[str]) -> Iterator[str]:
    """Only the lines that differ: `~` marks one with changed words, `-` one that is gone, `+` one that is new."""
    for what, i1, i2, j1, j2 in SequenceMatcher(None, old, new, autojunk=False).get_opcodes():
        if what == "equal":
            continue
        pairs = min(i2 - i1, j2 - j1)
        for before, after in zip(old[i1 : i1 + pairs], new[j1 : j1 + pairs], strict=True):
            yield from _line(before, after)
        yield from (f"- {line}" for line in old[i1 + pairs : i2] if line.strip())
        yield from (f"+ {line}" for line in new[j1 + pairs : j2] if line.strip())


def _line(before: str, after: str) -> Iterator[str]:
    """One line with its changed words; two lines where hardly a word has stayed."""
    old, new = _TOKEN.findall(before), _TOKEN.findall(after)
    matcher = SequenceMatcher(None, old, new, autojunk=False)
    if matcher.ratio() < 0.4:
        yield from (f"{sign} {line}" for sign, line in (("-", before), ("+", after)) if line.strip())
        return
    indent = " " * (len(after) - len(after.lstrip(" ")))
    codes = matcher.get_opcodes()
    pieces: list[str] = []
    for place, (what, i1, i2, j1, j2) in enumerate(codes):
        if what == "equal":
            pieces.extend(_cut(new[j1:j2], first=place == 0, last=place == len(codes) - 1))
            continue
        if i2 > i1:
            pieces.append(f"[-{''.join(old[i1:i2])}-]")
        if j2 > j1:
            pieces.append(f"{{+{''.join(new[j1:j2])}+}}")
    yield f"~ {indent}{''.join(pieces).strip()}"


def _cut(words: Sequence[str], *, first: bool, last: bool) -> Iterable[str]:
    """Unchanged words, the middle left out where there are many."""
    before = 0 if first else 2 * _AROUND
    after = 0 if last else 2 * _AROUND
    if len(words) <= before + after + 4:
        return words
    return (*words[:before], " ... ", *words[len(words) - after :]) if after else (*words[:before], " ...")


def likeness(old: Sequence[str], new: Sequence[str]) -> float:
    """How much of the words of two texts is the same, from 0 to 1."""
    before, after = _TOKEN.findall(" ".join(old)), _TOKEN.findall(" ".join(new))
    matcher = SequenceMatcher(None, before, after, autojunk=False)
    return matcher.ratio() if matcher.quick_ratio() > 0.5 else 0.0
