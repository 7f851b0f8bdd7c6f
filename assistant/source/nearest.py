"""The known names nearest to one that nothing answers to."""

from collections.abc import Iterable
from functools import lru_cache

# Below this likeness (0 to 100) a suggestion is more often noise than help; chosen by trying misspelt names.
_LIKENESS = 60.0
_LONGEST = 100


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
