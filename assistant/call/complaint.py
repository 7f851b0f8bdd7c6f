"""Matching a complaint in the tech's own words with the trees."""

from collections.abc import Iterable

from assistant.tree.model import Tree

# Below this likeness (0 to 100) a match misleads more often than it helps; chosen by trying complaints.
_LIKENESS = 60.0


def match_complaint(complaint: str, trees: Iterable[Tree]) -> tuple[tuple[str, str], ...]:
    """The trees that fit a complaint, best first: the tree's name, and which of its complaints matched."""
    # Loaded at the first complaint: the first question does not wait for it.
    from rapidfuzz import fuzz

    scored = []
    for tree in trees:
        phrases = (*tree.complaints, tree.title)
        best = max(phrases, key=lambda phrase: fuzz.token_set_ratio(complaint.casefold(), phrase.casefold()))
        score = fuzz.token_set_ratio(complaint.casefold(), best.casefold())
        if score >= _LIKENESS:
            scored.append((score, tree.name, best))
    return tuple((name, best) for _, name, best in sorted(scored, key=lambda item: -item[0]))
