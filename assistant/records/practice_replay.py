"""Stepping through a practice call: the steps of any call, with what was done at the site where it was done."""

from dataclasses import dataclass, field, replace

from assistant.call.replay import Replay
from assistant.call.walk import Conversation
from assistant.records.practice_call import PracticeCall
from assistant.records.practice_turns import beginning, ending, interleaved


@dataclass(frozen=True)
class PracticeReplay(Replay):
    """A practice call to be stepped through; at the last step the review stands behind it."""

    session: PracticeCall = field(kw_only=True)

    def at(self, step: int) -> Conversation:
        """The call as it stood at a step."""
        found = super().at(step)
        session, is_last = self.session, step == self.last
        asked = found.prompt.name if found.prompt else ""
        lines, moments = session.lines, session.moments
        if not is_last:
            # What was done behind the answers so far, up to the next one that still stands.
            place = next((n for n, (_, one) in enumerate(lines) if one.key == (asked, found.nth)), len(lines))
            lines = lines[:place]
            moments = moments[: sum(one.name == "practice event" for _, one in lines)]
        turns = interleaved(found, lines, moments, session.library.catalogue, session.system)
        last = tuple(ending(session.review)) if is_last and session.is_over else ()
        prompt = None if is_last and session.is_over else found.prompt
        return replace(found, turns=(beginning(session.call), *turns, *last), prompt=prompt)
