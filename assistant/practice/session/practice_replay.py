"""Stepping through a practice call: the steps of any call, with what was done at the site where it was done."""

from dataclasses import dataclass, field, replace
from itertools import takewhile

from assistant.call.answers import Answer, Written
from assistant.call.prompts import Prompt
from assistant.call.replay import Replay
from assistant.call.walk import Conversation
from assistant.practice.session.practice_call import PracticeCall
from assistant.practice.session.practice_keeping import payload
from assistant.practice.session.practice_prompts import by_oneself
from assistant.practice.session.practice_turns import EVENT, Deed, alone, beginning, ending, interleaved


@dataclass(frozen=True)
class PracticeReplay(Replay):
    """A practice call to be stepped through; at the last step the review stands behind it.

    Where the trees were silent, each thing that was done is a step.
    """

    session: PracticeCall = field(kw_only=True)

    @property
    def last(self) -> int:
        """The last step."""
        return len(self.session.moments) if self.session.call.alone else super().last

    def answers_at(self, step: int) -> tuple[Answer, ...]:
        """The answers given up to a step."""
        return self.answers if self.session.call.alone else super().answers_at(step)

    def at(self, step: int) -> Conversation:
        """The call as it stood at a step."""
        session, found = self.session, super().at(step)
        is_end = step == self.last and session.is_over
        catalogue, units = session.library.catalogue, session.system
        if session.call.alone:
            moments = session.moments[:step]
            turns = alone(session.call, moments, catalogue, units)
            asked: Prompt | None = by_oneself(moments[-1].minute if moments else 0.0)
        else:
            lines = session.lines if is_end else self._lines_behind(found)
            done = sum(one.key.first == EVENT for _, one in lines)
            turns = interleaved(found, lines, session.moments[:done], catalogue, units)
            asked = found.prompt
        last = tuple(ending(session.review)) if is_end else ()
        return replace(found, turns=(beginning(session.call), *turns, *last), prompt=None if is_end else asked)

    def _lines_behind(self, found: Conversation) -> list[tuple[Deed, Written]]:
        """The lines up to the last answer that stands, with what was done unasked right behind it."""
        lines = self.session.lines
        used = {answer.key for answer in found.used}
        place = max((n for n, (deed, one) in enumerate(lines, 1) if deed == "set" and one.key in used), default=0)
        behind = takewhile(_is_unasked, lines[place:])
        return [*lines[:place], *behind]


def _is_unasked(line: tuple[Deed, Written]) -> bool:
    return line[1].key.first == EVENT and not payload(line[1].text).get("asked")
