"""Finding phrases in what an author wrote, such as `cut* ... drier`: whole words, `*` for any ending, `/` for "or".

`...` stands for up to four words of the same sentence, `......` for up to twelve. A phrase that is forbidden is not one
that is asked for: behind `not`, `never`, `no` or `without` it does not count.
"""

import re
from collections.abc import Iterator, Mapping
from functools import lru_cache

from assistant.frozen import dataclass

_NEGATION = re.compile(r"\b(?:no|not|never|nor|without|nothing|cannot|\w+n't)\b[^.;:]*$", re.IGNORECASE)
# So far back a "not" still forbids what follows: "do not open the circuit", "never put a flame to".
_WORDS_BACK = 5
_GAPS = {"...": r"[^\w.;:]+(?:[^\s.;:]+\s+){0,4}?", "......": r"[^\w.;:]+(?:[^\s.;:]+\s+){0,12}?"}


@dataclass(frozen=True, slots=True)
class Found:
    """A phrase in a text: which one, the words as written, and where they stand."""

    phrase: str
    words: str
    start: int
    end: int


@lru_cache(maxsize=20_000)
def find_phrases(text: str, phrases: tuple[str, ...]) -> tuple[Found, ...]:
    """Give every place where a text asks for what one of the phrases names."""
    return tuple(_look(text, phrases))


def _look(text: str, phrases: tuple[str, ...]) -> Iterator[Found]:
    # Most words of a text begin no phrase, and one look at it tells which phrases could be in it.
    anywhere, begun_by = _beginnings(phrases)
    begun = {phrase for match in anywhere.finditer(text) for phrase in begun_by[match.group().lower()]}
    for phrase in phrases:
        for match in _pattern(phrase).finditer(text) if phrase in begun else ():
            if not _forbidden(text[: match.start()]):
                yield Found(phrase, match.group(), *match.span())


def guards(words: Mapping[str, tuple[str, ...]]) -> dict[str, frozenset[str]]:
    """Turn the phrases by guard into the guards by phrase; a phrase that several guards name is kept by any of them."""
    found: dict[str, frozenset[str]] = {}
    for guard, phrases in words.items():
        for phrase in phrases:
            found[phrase] = found.get(phrase, frozenset()) | {guard}
    return found


def find_unguarded(
    text: str, kept_by: Mapping[str, frozenset[str]], have: frozenset[str]
) -> Iterator[tuple[str, frozenset[str]]]:
    """Give the words of a text that need a guard which is not there, each with the guards of which one would do."""
    seen: list[frozenset[str]] = []
    for found in find_phrases(text, tuple(kept_by)):
        wanted = kept_by[found.phrase]
        if not wanted & have and not any(wanted >= other for other in seen):
            seen.append(wanted)
            yield " ".join(found.words.split()), wanted


@lru_cache(maxsize=10)
def _beginnings(phrases: tuple[str, ...]) -> tuple[re.Pattern[str], Mapping[str, frozenset[str]]]:
    """Make the pattern of all beginnings, and tell which phrases may stand where one of them does."""
    words = {p: {one.partition("*")[0].lower() for one in p.split()[0].split("/")} for p in phrases}
    every = sorted(frozenset().union(*words.values()), reverse=True)
    begun_by = {word: frozenset(p for p, own in words.items() if word.startswith(tuple(own))) for word in every}
    # The longest one is found first, and what begins with a shorter one of its letters with it.
    return re.compile(rf"\b(?:{'|'.join(map(re.escape, every))})" if every else "(?!)", re.IGNORECASE), begun_by


@lru_cache(maxsize=1000)
def _pattern(phrase: str) -> re.Pattern[str]:
    pieces: list[str] = []
    glue = ""
    for word in phrase.split():
        if word in _GAPS:
            glue = _GAPS[word]
            continue
        choices = "|".join(re.escape(one).replace(r"\*", r"\w*") for one in word.split("/"))
        pieces.append(f"{glue}(?:{choices})")
        glue = r"\s+"
    return re.compile(rf"\b{''.join(pieces)}(?!\w)", re.IGNORECASE)


def _forbidden(before: str) -> bool:
    words = re.split(r"(\s+)", before)
    return _NEGATION.search("".join(words[-2 * _WORDS_BACK - 1 :])) is not None
