"""What a call knows, weighed against all causes: which of its readings count, and what the opinion says of its end."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

from assistant.call.answers import Acted, Charged, Chosen, Measured, Untold, Value
from assistant.call.keys import Topic
from assistant.call.state import State
from assistant.call.turns import Answered, Concluded, NothingWrong, Undecided
from assistant.call.walk import Conversation
from assistant.doubt import nominal
from assistant.errors import CoilsideError

if TYPE_CHECKING:
    from assistant.opinion.ahead import Ahead
    from assistant.opinion.inputs import Situation
    from assistant.opinion.next_steps import NextStep
    from assistant.opinion.opinion import Opinion

TITLE: Final = "Second opinion"
_SUCTION: Final = "suction_pressure"
_TESTS: Final = frozenset({"warm_bulb", "chill_bulb"})
"""Acts that test the valve by its bulb."""
_PASSING: Final = frozenset({*_TESTS, "warm_valve_body", "drive_valve_open", "drive_valve_shut"})
"""Acts after which readings tell of the act, up to the next one, and not of the unit as it runs."""


def situation_in(conversation: Conversation) -> "Situation":
    """Return what a call knows so far, as the opinion takes it.

    What was read while the bulb was off its line is a test of the valve, and no reading of the unit as it runs.

    Raises:
        InputError: something is missing or outside what is modelled; the sentence says what.
    """
    from assistant.opinion.inputs import situation_of

    state, tests = _steady_state(conversation)
    return situation_of(state.sheet.known, conversation.display.catalogue, tests)


def _steady_state(conversation: Conversation) -> tuple[State, dict[str, int]]:
    """Return facts, observations and readings that still count, and what the tests of the bulb showed."""
    from assistant.opinion.next_steps import outcome_of

    catalogue, now = conversation.display.catalogue, conversation.state
    state, act, tests = State(catalogue), "", dict[str, int]()
    answered = [turn for turn in conversation.turns if isinstance(turn, Answered)]
    # Facts first: gauge pressures need the altitude.
    for turn in answered:
        if turn.prompt.key.topic is Topic.ENTRY and turn.prompt.key.name in catalogue.facts:
            _take(state, turn.prompt.key.name, turn.answer.value)
    for turn in answered:
        key, value = turn.prompt.key, turn.answer.value
        if key.topic is Topic.ACT and key.name in catalogue.acts and value == Acted(is_done=True):
            act = key.name
        elif key.topic is Topic.ENTRY and key.name not in catalogue.facts:
            if act not in _PASSING or key.name in catalogue.observations:
                _take(state, key.name, value)
            elif (
                act in _TESTS and key.name == _SUCTION and _SUCTION in state.quantities and isinstance(value, Measured)
            ):
                before = nominal(state.quantities[_SUCTION])
                repeats = now.latest[_SUCTION].repeatability if _SUCTION in now.latest else None
                tests[act] = outcome_of(now.absolute(_SUCTION, value.quantity) - before, repeats or 0.0)
    # What has changed since counts no more, in the call and here.
    for name in {*state.quantities, *state.choices} - {*now.quantities, *now.choices}:
        _take(state, name, Untold())
    return state, tests


def _take(state: State, name: str, value: Value) -> None:
    """Take an answer; what cannot be at this site is left out."""
    if isinstance(value, Measured | Chosen | Charged | Untold):
        try:
            state.take(name, value)
        except CoilsideError:
            return


def ends_undecided(conversation: Conversation) -> bool:
    """Tell whether a call has come to no end."""
    return conversation.outcome is not None and conversation.outcome.kind == "undecided"


class Weighing:
    """The second opinion of one call: formed on what is worked ahead, and kept until something is answered."""

    def __init__(self, ahead: "Ahead", conversation: Conversation) -> None:
        """Form it.

        Raises:
            CoilsideError: there is none; the sentence says why.
        """
        from assistant.opinion.work import work_opinion

        self.conversation = conversation
        self.situation = situation_in(conversation)
        self.prepared = ahead.prepared_for(self.situation)
        found = work_opinion(conversation.display.catalogue, self.situation, self.prepared)
        self.opinion: Opinion = found[0]
        self.steps: tuple[NextStep, ...] = found[1]

    def lines(self) -> Iterator[str]:
        """Yield all of it: how sure of what, predicted beside measured, what to do next, what each reading says."""
        from assistant.opinion.telling import opinion_lines, shift_lines
        from assistant.opinion.work import find_shifts

        for line in self.end_lines():
            yield line
            yield ""
        display = self.conversation.display
        yield from opinion_lines(self.opinion, self.steps, self.situation, display)
        shifts = tuple(shift_lines(find_shifts(display.catalogue, self.situation, self.prepared), display))
        yield from ("", *shifts) if shifts else ()

    def short(self) -> str:
        """Return it in a few words, for a line beside the call."""
        from assistant.opinion.telling import short_words

        return short_words(self.opinion, self.conversation.display.catalogue)

    @property
    def is_measured(self) -> bool:
        """Whether enough was measured for a line of it: a pressure and a temperature of the circuit."""
        names = {one.name for one in self.situation.taken}
        return len(names) >= 2 and bool(names & {_SUCTION, "liquid_pressure"})

    def end_lines(self) -> tuple[str, ...]:
        """Return what it says of the end that the call has come to; nothing while the call goes on."""
        from assistant.opinion.telling import agreement_words, leftover_words, undecided_lines

        display = self.conversation.display
        for turn in reversed(self.conversation.turns):
            match turn:
                case Concluded():
                    words = agreement_words(self.opinion, turn.cause.name, self.situation, display)
                    return (words,) if words else ()
                case NothingWrong():
                    return tuple(leftover_words(self.opinion, self.steps, self.situation, display))
                case Undecided():
                    return tuple(undecided_lines(self.opinion, self.steps, self.situation, display))
        return ()
