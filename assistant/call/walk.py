"""Walking a call: the answers go in, the whole conversation comes out.

The conversation is a pure function of the library and the answers. Everything else follows from that: "back" drops
an answer, a correction replaces one, picking a call up reads them again, and a replay plays them one by one.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from assistant.call.answers import Answer
from assistant.call.asking import shown_answer
from assistant.call.decision import Kept
from assistant.call.library import Library
from assistant.call.prompts import Acknowledge, Prompt
from assistant.call.replies import Given, Reply, Unclear, read_answer, read_reply
from assistant.call.script import Outcome, Script, Start
from assistant.call.state import OWN_ACCURACY, State, is_usable
from assistant.call.turns import Answered, Turn
from assistant.doubt import Uncertain
from assistant.quantity import UnitSystem
from assistant.tree.model import Tree
from assistant.worksheet.sheet import Refused, Worked
from assistant.worksheet.showing import Display


@dataclass(frozen=True)
class Conversation:
    """A call as far as its answers go.

    `prompt` is what is asked next, `None` when the call has ended; `nth` is which time it is asked. `unfit` says why
    a stored answer to that prompt could not be used. `unused` are answers that the way taken never asks for. `hidden`
    are worked numbers that are not to be told yet.
    """

    tree: Tree | None
    turns: tuple[Turn, ...]
    prompt: Prompt | None
    nth: int
    unfit: str | None
    outcome: Outcome | None
    kept: tuple[Kept, ...]
    close_calls: tuple[Kept, ...]
    used: tuple[Answer, ...]
    unused: tuple[Answer, ...]
    readings: Mapping[str, Uncertain]
    display: Display
    state: State = field(repr=False)
    hidden: frozenset[str] = frozenset()

    @property
    def ended(self) -> bool:
        """Whether nothing is left to ask."""
        return self.prompt is None

    @cached_property
    def numbers(self) -> tuple[Worked | Refused, ...]:
        """Every number that the answers allow or forbid; worked when wanted, as the first question does not wait."""
        return tuple(number for number in self.state.sheet.all_numbers() if number.name not in self.hidden)

    @property
    def asked(self) -> tuple[str, ...]:
        """The facts, observations and readings asked, in order, each time."""
        known = self.display.catalogue.taking_order
        return tuple(
            turn.prompt.name for turn in self.turns if isinstance(turn, Answered) and turn.prompt.name in known
        )

    @property
    def cautions(self) -> tuple[str, ...]:
        """The cautions acknowledged, in order."""
        answered = (turn.prompt for turn in self.turns if isinstance(turn, Answered))
        return tuple(prompt.caution for prompt in answered if isinstance(prompt, Acknowledge))


Fill = Callable[[Prompt], str]
"""What to answer where no answer was given."""


def walk(
    library: Library,
    answers: Sequence[Answer],
    system: UnitSystem = "us",
    fill: Fill | None = None,
    start: Start | None = None,
) -> Conversation:
    """The conversation that follows from the answers, up to the first prompt that has none.

    With `fill`, prompts without an answer are answered by it, so the conversation goes on to its end. With `start`,
    it begins there instead of with the complaint.

    Raises:
        UnknownNameError: there is no such tree or node to start at.
    """
    book = {answer.key: answer for answer in answers}
    fresh = State(library.catalogue)
    told = [book[name, 1] for name in OWN_ACCURACY.values() if (name, 1) in book]
    told = [answer for answer in told if is_usable(fresh, answer.name, answer.text) is None]
    script = Script(library, system, {answer.name: answer.text for answer in told}, start=start)
    play = script.play()
    counts: dict[str, int] = {}
    turns: list[Turn] = []
    used: list[Answer] = [*told]
    prompt: Prompt | None = None
    unfit: str | None = None
    nth = 0
    try:
        item = next(play)
        while True:
            if isinstance(item, Turn):
                turns.append(item)
                item = play.send("")
                continue
            nth = counts.get(item.name, 0) + 1
            answer = book.get((item.name, nth))
            if answer is None and fill is not None:
                answer = Answer(item.name, fill(item), nth)
            if answer is not None:
                unfit = _unfit(item, answer, script.state)
            if answer is None or unfit is not None:
                prompt = item
                break
            counts[item.name] = nth
            used.append(answer)
            turns.append(Answered(item, answer.text, shown_answer(item, answer.text), nth))
            item = play.send(answer.text)
    except StopIteration:
        pass
    keys = {answer.key for answer in used}
    state = script.state
    return Conversation(
        tree=script.tree,
        turns=tuple(turns),
        prompt=prompt,
        nth=nth,
        unfit=unfit,
        outcome=script.outcome if prompt is None else None,
        kept=tuple(script.kept),
        close_calls=tuple(script.close_calls),
        used=tuple(used),
        unused=tuple(answer for answer in answers if answer.key not in keys),
        readings=dict(state.quantities),
        display=script.display,
        state=state,
    )


def accept(conversation: Conversation, text: str, earlier: Answered | None = None) -> Reply:
    """What a typed reply means, to the conversation's prompt or to an `earlier` one, and whether it fits the site.

    Raises:
        ValueError: the conversation has ended, so nothing is asked.
    """
    prompt = earlier.prompt if earlier else conversation.prompt
    if prompt is None:
        raise ValueError("the conversation has ended")
    reply = read_reply(prompt, text)
    if isinstance(reply, Given):
        unfit = _unfit(prompt, Answer(prompt.name, reply.text), conversation.state)
        return reply if unfit is None else Unclear(unfit)
    return reply


def _unfit(prompt: Prompt, answer: Answer, state: State) -> str | None:
    """Why a stored answer cannot be used at this prompt; `None` when it can."""
    read = read_answer(prompt, answer.text)
    if isinstance(read, Unclear):
        return read.message
    if prompt.name in state.catalogue.taking_order:
        return is_usable(state, prompt.name, answer.text)
    return None
