"""What changed in a few lines, word by word: `[-gone-]` and `{+new+}` stand where it did."""

import re
from collections.abc import Iterable, Iterator, Sequence
from difflib import SequenceMatcher

# Words kept in front of a change and behind it, where the line says more than that.
_AROUND = 6
_Code = tuple[str, int, int, int, int]
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
    codes = list(_join_changes(matcher.get_opcodes(), old))
    pieces: list[str] = []
    for place, (what, i1, i2, j1, j2) in enumerate(codes):
        if what == "equal":
            pieces.extend(_cut_middle(new[j1:j2], first=place == 0, last=place == len(codes) - 1))
            continue
        if i2 > i1:
            pieces.append(f"[-{_space_signs(''.join(old[i1:i2]))}-]")
        if j2 > j1:
            pieces.append(f"{{+{_space_signs(''.join(new[j1:j2]))}+}}")
    yield f"~ {''.join(pieces).strip()}"


def _join_changes(codes: Iterable[_Code], old: Sequence[str]) -> Iterator[_Code]:
    """Yield the same changes, those with only a space between them as one."""
    held: _Code | None = None
    space: _Code | None = None
    for code in codes:
        what, i1, i2, _, _ = code
        if what == "equal":
            if held is not None and not "".join(old[i1:i2]).strip():
                space = code
                continue
            yield from (part for part in (held, space) if part is not None)
            held = space = None
            yield code
        elif held is not None:
            held, space = ("replace", held[1], code[2], held[3], code[4]), None
        else:
            held = code
    yield from (part for part in (held, space) if part is not None)


def _space_signs(words: str) -> str:
    """Words that may stand between the signs: a sign among them must not run into these."""
    return f" {words} " if words[:1] in "+-" or words[-1:] in "+-" else words


def _cut_middle(words: Sequence[str], *, first: bool, last: bool) -> Iterable[str]:
    """Unchanged words, the middle left out where there are many."""
    before = 0 if first else 2 * _AROUND
    after = 0 if last else 2 * _AROUND
    if len(words) <= before + after + 4:
        return words
    return (*words[:before], " ... ", *words[len(words) - after :]) if after else (*words[:before], " ...")


def likeness(old: Sequence[str], new: Sequence[str]) -> float:
    """Return how much of the words of two texts is the same, from 0 to 1."""
    before, after = _TOKEN.findall(" ".join(old)), _TOKEN.findall(" ".join(new))
    matcher = SequenceMatcher(None, before, after, autojunk=False)
    return matcher.ratio() if matcher.quick_ratio() > 0.5 else 0.0
