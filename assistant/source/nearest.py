"""The known names nearest to one that nothing answers to."""

import re
from collections.abc import Iterable, Mapping
from functools import lru_cache

# Below this likeness (0 to 100) a suggestion is more often noise than help; chosen by trying misspelt names.
_LIKENESS = 60.0
_LONGEST = 100
_WORDS = re.compile(r"[a-z]+")


def nearest(name: str, known: Iterable[str], limit: int = 2) -> tuple[str, ...]:
    """Give up to `limit` of the `known` names that look like `name`, best first; none if nothing comes near."""
    # A tree without mistakes needs no suggestions, and should not wait for the library.
    from rapidfuzz import fuzz, process

    choices = {candidate: _fold(candidate) for candidate in known}
    folded = _fold(name[:_LONGEST])
    found = process.extract(folded, choices, scorer=fuzz.ratio, score_cutoff=_LIKENESS, limit=limit)
    best = found[0][1] if found else 0.0
    # Next to a near-certain match, the runner-up only confuses.
    return tuple(candidate for _, score, candidate in found if score >= best - 12.0)


# In a file with many slips, every known name is compared with every one of them.
@lru_cache(maxsize=20_000)
def _fold(name: str) -> str:
    return name.strip().casefold().replace(" ", "_").replace("-", "_")


def most_alike(text: str, known: Mapping[str, str], limit: int = 2) -> tuple[str, ...]:
    """Give up to `limit` of the `known` names whose words say most of what `text` says; none where none shares any.

    A word that few of them have counts for more.
    """
    stems = {name: _stems(words) for name, words in known.items()}
    wanted = _stems(text)
    shares = {stem: sum(stem in some for some in stems.values()) for stem in wanted}
    scores = {
        name: sum(1.0 / shares[stem] for stem in wanted & some) + sum(0.5 for stem in wanted & _stems(name))
        for name, some in stems.items()
    }
    best = sorted((name for name in scores if scores[name] > 0.0), key=lambda name: -scores[name])
    return tuple(name for name in best[:limit] if scores[name] >= 0.6 * scores[best[0]])


def _stems(text: str) -> frozenset[str]:
    return frozenset(word[:5] for word in _WORDS.findall(text.casefold()) if len(word) > 3)
