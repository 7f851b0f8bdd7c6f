"""Stepping through a call that is known: the same walk, with one answer more or less at each step."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from assistant.call.answers import Answer
from assistant.call.library import Library
from assistant.call.state import OWN_ACCURACY
from assistant.call.turns import Turn, common
from assistant.call.walk import Conversation, walk
from assistant.quantity import UnitSystem


@dataclass(frozen=True)
class Replay:
    """A call to be stepped through. At step 0 nothing is answered yet; at `last` all is."""

    library: Library
    answers: tuple[Answer, ...]
    system: UnitSystem = "us"

    @cached_property
    def whole(self) -> Conversation:
        """The whole call."""
        return walk(self.library, self.answers, self.system)

    @cached_property
    def _given(self) -> tuple[tuple[Answer, ...], tuple[Answer, ...]]:
        """What is known from the beginning, and the answers in the order in which they are asked."""
        told = tuple(answer for answer in self.whole.used if answer.key.name in OWN_ACCURACY.values())
        return told, tuple(answer for answer in self.whole.used if answer not in told)

    @property
    def last(self) -> int:
        """The last step."""
        return len(self._given[1])

    def answers_at(self, step: int) -> tuple[Answer, ...]:
        """The answers given up to a step."""
        told, given = self._given
        return (*told, *given[:step])

    def at(self, step: int) -> Conversation:
        """The call as it stood at a step."""
        return walk(self.library, self.answers_at(step), self.system)

    def news(self, step: int) -> tuple[Turn, ...]:
        """What a step adds: the answer, and all that follows from it."""
        after = self.at(step).turns
        return after[common(self.at(step - 1).turns, after) :] if step else after


def why_lines(conversation: Conversation) -> Sequence[str]:
    """Why the open question is asked, and how its answer is found."""
    return tuple(_why(conversation))


def _why(conversation: Conversation) -> Iterator[str]:
    prompt = conversation.prompt
    if prompt is not None:
        yield from prompt.why
        if prompt.help:
            yield f"How: {prompt.help}"
