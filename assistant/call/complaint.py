"""Matching a complaint in the tech's own words with the trees.

A word counts the more the fewer trees know it; words of the trade that mean the same are one word; a word that is in
no tree is taken for the nearest one that is. A tree is as good a match as the best of its complaints.
"""

import math
import re
from collections.abc import Mapping
from functools import cached_property, lru_cache
from typing import Final

from assistant.frozen import dataclass
from assistant.tree.model import Head

_WORD: Final = re.compile(r"[a-z0-9]+(?:'[a-z]+)?")
_IDLE: Final = frozenset(
    {
        "a", "an", "and", "are", "as", "at", "be", "been", "but", "by", "do", "does", "for", "from", "get",
        "gets", "getting", "had", "has", "have", "i", "in", "is", "it", "its", "just", "keep", "keeps",
        "me", "my", "of", "on", "or", "our", "seems", "so", "that", "the", "their", "there", "they", "this",
        "to", "too", "up", "very", "was", "we", "were", "what", "when", "where", "which", "while", "with",
        "you", "your",
    }
)  # fmt: skip
# How much it counts that the typed words are in the complaint, that the complaint is in the typed words, and that the
# typed words are anywhere in the tree; chosen by trying complaints.
_TYPED, _PHRASE, _ANYWHERE = 0.6, 0.2, 0.2
_LEAST = 0.3
_OF_THE_BEST = 0.5
_MOST = 6
_LIKENESS = 80.0
_MISSPELT = 0.8
_UNKNOWN = 0.5
_REMEMBERED = 64


@dataclass(frozen=True, slots=True)
class Match:
    """A tree that fits: its complaint that fits best, the typed words found in the tree, and if all are in that one."""

    tree: str
    phrase: str
    words: tuple[str, ...]

    whole: bool

    @property
    def text(self) -> str:
        """What was matched, for a person: the complaint that holds all of it, or the words where none does."""
        return f'matches "{self.phrase}"' if self.whole else f"matches {', '.join(self.words)}"


@dataclass(frozen=True)
class ComplaintIndex:
    """The complaints of some trees, ready to be searched; `synonyms` are words by the one that stands for them."""

    trees: tuple[Head, ...]
    synonyms: Mapping[str, tuple[str, ...]]

    def matches(self, complaint: str) -> tuple[Match, ...]:
        """Return the trees that fit a complaint, best first, six at most; a call asks at each of its answers anew."""
        if complaint not in self._matched:
            if len(self._matched) >= _REMEMBERED:
                self._matched.clear()
            self._matched[complaint] = self._match(complaint)
        return self._matched[complaint]

    @cached_property
    def _matched(self) -> dict[str, tuple[Match, ...]]:
        return {}

    def _match(self, complaint: str) -> tuple[Match, ...]:
        from rapidfuzz import fuzz

        said = complaint.casefold()
        typed = self._known(self._terms(said))
        whole = sum(self._weight(term) * share for term, (_, share) in typed.items()) or 1.0
        scored = []
        for tree in self.trees:
            phrases = self._phrases[tree.name]
            best = max(
                phrases,
                key=lambda phrase: (self._score(phrases[phrase], typed, whole), fuzz.ratio(phrase.casefold(), said)),
            )
            anywhere = frozenset[str]().union(*phrases.values())
            found = self._sum(anywhere, typed) / whole
            score = self._score(phrases[best], typed, whole) + _ANYWHERE * found
            words = {term: word for term, (word, _) in typed.items() if term in anywhere}
            match = Match(tree.name, best, tuple(words.values()), words.keys() <= phrases[best])
            scored.append((score, match))
        top = max((score for score, _ in scored), default=0.0)
        good = [item for item in scored if item[0] >= max(_LEAST, _OF_THE_BEST * top) and item[1].words]
        return tuple(match for _, match in sorted(good, key=lambda item: -item[0])[:_MOST])

    def _score(self, phrase: frozenset[str], typed: Mapping[str, tuple[str, float]], whole: float) -> float:
        found = self._sum(phrase, typed)
        of_phrase = sum(map(self._weight, phrase)) or 1.0
        return _TYPED * found / whole + _PHRASE * min(1.0, found / of_phrase)

    def _sum(self, among: frozenset[str], typed: Mapping[str, tuple[str, float]]) -> float:
        return sum(self._weight(term) * share for term, (_, share) in typed.items() if term in among)

    def _known(self, typed: Mapping[str, str]) -> dict[str, tuple[str, float]]:
        """Each typed term as the trees know it, with the word it was typed as and how much of it counts."""
        from rapidfuzz import fuzz, process

        spellings = dict.fromkeys(self._spread) | {run[0]: term for run, term in self._same.items() if len(run) == 1}
        known: dict[str, tuple[str, float]] = {}
        for term, word in typed.items():
            if term in self._spread:
                known[term] = (word, 1.0)
                continue
            near = process.extractOne(term, spellings.keys(), scorer=fuzz.ratio, score_cutoff=_LIKENESS)
            if near is None:
                known.setdefault(term, (word, _UNKNOWN))
            else:
                known.setdefault(spellings[near[0]] or near[0], (word, _MISSPELT))
        return known

    @cached_property
    def _phrases(self) -> dict[str, dict[str, frozenset[str]]]:
        """The terms of each complaint and title, by tree and phrase."""
        return {
            tree.name: {phrase: frozenset(self._terms(phrase)) for phrase in (*tree.complaints, tree.title)}
            for tree in self.trees
        }

    @cached_property
    def _spread(self) -> dict[str, int]:
        """In how many trees each term stands."""
        spread: dict[str, int] = {}
        for phrases in self._phrases.values():
            for term in frozenset[str]().union(*phrases.values()):
                spread[term] = spread.get(term, 0) + 1
        return spread

    def _weight(self, term: str) -> float:
        return self._weights.get(term, self._weight_of_one)

    @cached_property
    def _weights(self) -> dict[str, float]:
        return {term: math.log(1.0 + len(self.trees) / trees) for term, trees in self._spread.items()}

    @cached_property
    def _weight_of_one(self) -> float:
        """The weight of a term that no tree has, as if one had it."""
        return math.log(1.0 + len(self.trees))

    @cached_property
    def _same(self) -> dict[tuple[str, ...], str]:
        """Runs of stems that one term stands for."""
        return {
            tuple(stem for stem, _ in _stems(words)): term
            for term, several in self.synonyms.items()
            for words in several
        }

    @cached_property
    def _longest(self) -> int:
        return max((len(run) for run in self._same), default=1)

    def _terms(self, text: str) -> dict[str, str]:
        """The terms of a text, each with the words that it was typed as; the longest run of words counts first."""
        stems = _stems(text)
        terms: dict[str, str] = {}
        at = 0
        while at < len(stems):
            runs = (stems[at : at + length] for length in range(self._longest, 0, -1))
            run = next((run for run in runs if tuple(stem for stem, _ in run) in self._same), stems[at : at + 1])
            term = self._same.get(tuple(stem for stem, _ in run), run[0][0])
            terms.setdefault(term, " ".join(word for _, word in run))
            at += len(run)
        return terms


def _stems(text: str) -> list[tuple[str, str]]:
    """The words of a text that say something, in order, each as its stem and as typed."""
    return [(_stem(word), word) for word in _WORD.findall(text.casefold()) if word not in _IDLE]


@lru_cache(maxsize=5000)
def _stem(word: str) -> str:
    # Loaded at the first complaint: the first question does not wait for it.
    import snowballstemmer

    stem: str = snowballstemmer.stemmer("english").stemWord(word)
    return stem
