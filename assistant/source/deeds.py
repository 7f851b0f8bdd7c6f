"""Finding in an author's prose what a tech would do: a verb, what it is done to, and whether a "not" stands before.

Words are given in their plain form; what they look like as "bridging" or "is bridged" follows from that. A text is read
as a tech reads it: "Bridge the switch", "by bridging it" and "it can be bridged" ask for the same, while "somebody has
bridged it" tells what was found, and "never bridge it" forbids it.
"""

import re
from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache

from assistant.frozen import dataclass


def _words(text: str) -> frozenset[str]:
    return frozenset(text.split())


_SENTENCES = re.compile(r"[.;:!?()]\s|\n|\s-\s|$")
_WORDS = re.compile(r"[a-z0-9]+(?:'[a-z]+)?|,", re.IGNORECASE)
_GAP = 8
"""Words between a verb and what it is done to."""
_BACK = 6
"""So far back a "not" still forbids."""
_NO = _words("no not never nor without nothing nobody none cannot don't doesn't won't can't mustn't isn't")
_NO_AFTER = _words("no nothing none neither")
# "Do not forget to", "no caution is needed to": such a "no" asks for what follows.
_NO_BUT = _words("forget hesitate fail afraid worry only caution danger problem harm lockout need needed")
# Behind these a new thought begins, which an earlier "not" does not forbid.
_TURNS = _words("until before but unless instead then so because just simply")
_ARTICLES = _words(
    "the a an its this that these those of each every his your our their whose any some more much for from off"
)
_OTHERS = _words("they we who people installers he she which it")
_BE = _words("is are be being gets get")
_FOUND = _words("whether if when where because which that who was were has had been after once as")
_MODALS = _words("can may must should will could would to")
_SAID_OF = _MODALS - {"to"} | _BE | _words("has have had was were does depends of")
# These are as often no verb: "clean wheel", "the hose touches". They count in front of what they are done to alone.
_AMBIGUOUS = _words(
    "clean open empty warm cool clear hose heat lead fit gauge tape pin screw file block lock flush work clip "
    "hook route hammer strap wind trick cut press link drop bypass spray ice"
)
_IN_FRONT = _words(
    "the a an it its this that these all both any every each some your up down out off in over them two more "
    "half on against"
)
# "Adding gas hides the leak" warns; "Bridge it, it hides nothing" does not.
_WARNS = _words(
    "never not no hides hide dangerous forbidden kills kill burns burn ruins breaks hurts illegal work wrong"
)
_IRREGULAR = {
    "hold": "held",
    "cut": "cut",
    "put": "put",
    "let": "let",
    "take": "taken",
    "blow": "blown",
    "stick": "stuck",
    "draw": "drawn",
    "feel": "felt",
    "read": "read",
    "spin": "spun",
    "weigh": "weighed",
    "wind": "wound",
    "bleed": "bled",
    "see": "seen",
    "swap": "swapped",
    "run": "run",
    "reset": "reset",
    "tie": "tied",
    "shut": "shut",
    "leave": "left",
}
Words = tuple[str, ...]


@dataclass(frozen=True)
class Deed:
    """Something that a text may ask for: any of some verbs with any of some things, each in its plain form.

    Without `things` the verb is enough, and `nouns` tell by themselves. `along`: one of these stands in the same
    sentence as well. `unless`: words which, in the same sentence, make it something else. Any of the `acts` is how it
    is done, any of the `cautions` guards it; `never` tells why it is never done.
    """

    name: str
    verbs: str = ""
    things: str = ""
    along: str = ""
    unless: str = ""
    nouns: str = ""
    acts: Words = ()
    cautions: Words = ()
    never: str = ""


@dataclass(frozen=True, slots=True)
class HiddenDeed:
    """A deed in a text, with the words that ask for it."""

    deed: Deed
    words: str


@dataclass(frozen=True, slots=True)
class _Verb:
    deed: int
    rest: Words
    form: str


class Finder:
    """Finds some deeds in texts; their words are made ready once."""

    def __init__(self, deeds: Iterable[Deed]) -> None:
        self.deeds = tuple(deeds)
        self._verbs: dict[str, list[_Verb]] = {}
        self._things: list[dict[str, list[Words]]] = []
        self._along: list[dict[str, list[Words]]] = []
        self._unless: list[dict[str, list[Words]]] = []
        for index, deed in enumerate(self.deeds):
            for item in _items(deed.verbs):
                for form, word in _forms(item[0]):
                    self._verbs.setdefault(word, []).append(_Verb(index, item[1:], form))
            for item in _items(deed.nouns):
                self._verbs.setdefault(item[0], []).append(_Verb(index, item[1:], "noun"))
            self._things.append(_by_head(deed.things))
            self._along.append(_by_head(deed.along))
            self._unless.append(_by_head(deed.unless))
        self._wanted = [
            [frozenset(heads) for heads in both if heads] for both in zip(self._things, self._along, strict=True)
        ]
        self._heads = frozenset(self._verbs)
        # What an author saves is mostly what was there before, and a shop's folder is looked at with what lies below.
        self._known = lru_cache(maxsize=20_000)(lambda text: tuple(self._look(text)))

    def find(self, text: str) -> tuple[HiddenDeed, ...]:
        """Give the deeds that a text asks for, each once."""
        return self._known(text)

    def _look(self, text: str) -> Iterator[HiddenDeed]:
        seen: set[str] = set()
        for words in _sentences(text):
            there = frozenset(words)
            if there.isdisjoint(self._heads):
                continue
            for at, word in enumerate(words):
                for verb in self._verbs.get(word, ()):
                    deed = self.deeds[verb.deed]
                    # Most verbs are done to something that the sentence does not name, and one look tells.
                    if any(there.isdisjoint(heads) for heads in self._wanted[verb.deed]):
                        continue
                    if deed.name not in seen and (end := self._asked(words, at, verb)):
                        seen.add(deed.name)
                        yield HiddenDeed(
                            deed, " ".join(words[min(at, end[0]) : max(at, end[1]) + 1]).replace(" ,", ",")
                        )

    def _asked(self, words: Words, at: int, verb: _Verb) -> tuple[int, int] | None:
        """Give from where to where a deed is asked for by the verb at a place; `None` where it is not."""
        behind = at + 1
        if words[behind : behind + len(verb.rest)] != verb.rest:
            return None
        behind += len(verb.rest)
        if _has(words, self._unless[verb.deed]) or not (
            self._along[verb.deed] == {} or _has(words, self._along[verb.deed])
        ):
            return None
        things = self._things[verb.deed]
        if verb.form == "done":
            return _passive(words, at, things)
        if (verb.form != "noun" and not _is_order(words, at)) or _forbidden(words, at):
            return None
        following = words[at + 1 : at + 2]
        if (
            verb.form == "do"
            and not verb.rest
            and (_SAID_OF.intersection(following) or not _is_verb(words[at], following))
        ):
            return None
        if verb.form == "doing" and _WARNS.intersection(words[behind : behind + 9]):
            return None
        if not things:
            return at, behind - 1
        found = _first(words, behind, behind + _GAP, things)
        if found is None or _NO_AFTER.intersection(words[at + 1 : found]):
            return None
        return at, found


def _items(text: str) -> Iterator[Words]:
    return (tuple(item.split()) for item in text.split(",") if item.strip())


def _by_head(text: str) -> dict[str, list[Words]]:
    heads: dict[str, list[Words]] = {}
    for item in _items(text):
        for last in dict.fromkeys((item[-1], f"{item[-1]}s", f"{item[-1]}es")):
            whole = (*item[:-1], last)
            heads.setdefault(whole[0], []).append(whole)
    return heads


def _forms(verb: str) -> Iterator[tuple[str, str]]:
    yield "do", verb
    stem = verb[:-1] if verb.endswith("e") and not verb.endswith("ee") else verb
    twice = len(verb) in (3, 4) and verb[-1] in "bdgmnpt" and verb[-2] in "aeiou" and verb[-3] not in "aeiou"
    stem = verb + verb[-1] if twice or verb in ("unsweat", "reset") else stem
    yield "doing", f"{stem}ing"
    yield "done", _IRREGULAR.get(verb) or (f"{stem}d" if stem.endswith("e") else f"{stem}ed")


def _sentences(text: str) -> Iterator[Words]:
    for sentence in _SENTENCES.split(text):
        words = tuple(_WORDS.findall(sentence.casefold().replace("\u2019", "'")))
        if words:
            yield words


def _first(words: Words, start: int, end: int, heads: Mapping[str, list[Words]]) -> int | None:
    """Give the last word of the first of some things that stands between two places."""
    for at in range(start, min(end, len(words))):
        for whole in heads.get(words[at], ()):
            if words[at : at + len(whole)] == whole:
                return at + len(whole) - 1
    return None


def _has(words: Words, heads: Mapping[str, list[Words]]) -> bool:
    return bool(heads) and _first(words, 0, len(words), heads) is not None


def _is_order(words: Words, at: int) -> bool:
    """Tell whether a verb stands where it tells what to do: not behind an article, nor said of others."""
    return at == 0 or words[at - 1] not in _ARTICLES | _OTHERS | _BE


def _is_verb(word: str, following: Words) -> bool:
    return word not in _AMBIGUOUS or bool(_IN_FRONT.intersection(following))


def _forbidden(words: Words, at: int) -> bool:
    for place in range(at - 1, max(-1, at - _BACK - 1), -1):
        if words[place] in _TURNS:
            return False
        if words[place] == "," and place == at - 1 and "or" not in words[at:]:
            return False
        if words[place] in _NO:
            return not _NO_BUT.intersection(words[place + 1 : place + 4])
    return False


def _passive(words: Words, at: int, things: Mapping[str, list[Words]]) -> tuple[int, int] | None:
    """Find "the switch is bridged" and "it can be bridged" as things to do, not what is found."""
    front = words[max(0, at - 3) : at]
    if not _BE.intersection(front) or _FOUND.intersection(words[:at]) or _forbidden(words, at):
        return None
    start = max(0, at - _GAP)
    found = _first(words, start, at, things) if things else start
    return None if found is None or not _MODALS.intersection(front) else (found, at)
