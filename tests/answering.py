"""Answers for tests, under the names by which people call them: `suction_pressure`, `do first`, `check leak`."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from functools import cache

from assistant.call.answers import Answer, Written, write_answer
from assistant.call.keys import NodeAt, PromptKey, Topic
from assistant.call.library import Library
from assistant.call.loading import load_library
from assistant.call.replies import read_written
from assistant.catalogue.catalogue import Catalogue
from assistant.quantity import UnitSystem
from assistant.source.shipped import shipped_folder
from assistant.store.earlier import written_earlier


@cache
def shipped_catalogue() -> Catalogue:
    return load_library(shipped_folder("trees"), only="poor_cooling")[0].catalogue


def key_of(name: str, nth: int = 1, tree: str = "small") -> PromptKey:
    """The key of what is called so; a node is one of `tree`."""
    verb, _, rest = name.partition(" ")
    if verb == "do" and " @ " in rest:
        act, _, node = rest.partition(" @ ")
        return PromptKey(Topic.ACT, act, NodeAt(tree, node), nth)
    key = written_earlier(name, nth, "").key
    return replace(key, place=NodeAt(tree, key.place.node)) if key.place else key


def written(name: str, text: str, nth: int = 1) -> Written:
    """An answer as it is kept."""
    return Written(key_of(name, nth), text)


def answer(name: str, text: str, nth: int = 1, catalogue: Catalogue | None = None, system: UnitSystem = "us") -> Answer:
    """An answer by the shipped catalogue, or another one."""
    return read_written(written(name, text, nth), catalogue or shipped_catalogue(), system)


def by_name(texts: Mapping[str, str | Sequence[str]]) -> tuple[Answer, ...]:
    """Answers from texts by name; a list holds successive answers."""
    several = {name: [found] if isinstance(found, str) else found for name, found in texts.items()}
    return tuple(answer(name, text, nth) for name, found in several.items() for nth, text in enumerate(found, start=1))


def kept(answers: Iterable[Answer]) -> tuple[Written, ...]:
    """Answers as a record holds them."""
    return tuple(map(write_answer, answers))


def read_by(library: Library, answers: Iterable[Written]) -> tuple[Answer, ...]:
    """Kept answers as a library reads them."""
    return tuple(read_written(one, library.catalogue, "us") for one in answers)
