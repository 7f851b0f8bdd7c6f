"""Finding phrases in what an author wrote, such as `cut* ... drier`: whole words, `*` for any ending, `...` for a gap.

A phrase that is forbidden is not one that is asked for: behind `not`, `never`, `no` or `without` it does not count.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

_NEGATION = re.compile(r"\b(?:no|not|never|nor|without|nothing|cannot|\w+n't)\b[^.;:]*$", re.IGNORECASE)
# So far back a "not" still forbids what follows: "do not open the circuit", "never put a flame to".
_WORDS_BACK = 5
_GAP = r"\W+(?:[^\s.;:]+\s+){0,4}?"


@dataclass(frozen=True, slots=True)
class Found:
    """A phrase in a text: which one, the words as written, and where they stand."""

    phrase: str
    words: str
    start: int
    end: int


def find(text: str, phrases: tuple[str, ...]) -> Iterator[Found]:
    """Give every place where a text asks for what one of the phrases names."""
    # Most texts hold none, and one look at their beginnings tells.
    if not phrases or _beginnings(phrases).search(text) is None:
        return
    for phrase in phrases:
        for match in _pattern(phrase).finditer(text):
            if not _forbidden(text[: match.start()]):
                yield Found(phrase, match.group(), *match.span())


@lru_cache(maxsize=10)
def _beginnings(phrases: tuple[str, ...]) -> re.Pattern[str]:
    words = {one.partition("*")[0] for phrase in phrases for one in phrase.split()[0].split("/")}
    return re.compile(rf"\b(?:{'|'.join(sorted(map(re.escape, words)))})", re.IGNORECASE)


@lru_cache(maxsize=1000)
def _pattern(phrase: str) -> re.Pattern[str]:
    pieces: list[str] = []
    glue = ""
    for word in phrase.split():
        if word == "...":
            glue = _GAP
            continue
        choices = "|".join(re.escape(one).replace(r"\*", r"\w*") for one in word.split("/"))
        pieces.append(f"{glue}(?:{choices})")
        glue = r"\s+"
    return re.compile(rf"\b{''.join(pieces)}(?!\w)", re.IGNORECASE)


def _forbidden(before: str) -> bool:
    words = re.split(r"(\s+)", before)
    return _NEGATION.search("".join(words[-2 * _WORDS_BACK - 1 :])) is not None
