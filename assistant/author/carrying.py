"""Carrying the answers of a call over to a tree whose nodes have other names."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from assistant.author.parting import prompt_renamed
from assistant.call.answers import Answer


def carried(answers: Iterable[Answer], names: Mapping[str, str]) -> tuple[Answer, ...]:
    """The answers under the new names of the nodes that were answered."""
    return tuple(replace(answer, name=prompt_renamed(answer.name, names)) for answer in answers)


def carried_texts(given: Mapping[str, Sequence[str]], names: Mapping[str, str]) -> dict[str, Sequence[str]]:
    """Answers by name, as example calls have them: an action is answered by the name of its node."""
    return {names.get(name, name): texts for name, texts in given.items()}
