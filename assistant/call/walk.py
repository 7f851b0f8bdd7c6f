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
from assistant.call.gathering import Asking
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
    run: "_Run" = field(repr=False, compare=False)
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


@dataclass
class _Run:
    """A script as far as it was played: where it waits for the answer to `item`, or `None` at its end."""

    script: Script
    told: tuple[Answer, ...]
    play: Asking = field(init=False)
    item: Prompt | Turn | None = field(init=False)
    counts: dict[str, int] = field(default_factory=dict)
    turns: list[Turn] = field(default_factory=list)
    used: list[Answer] = field(default_factory=list)
    is_whole: bool = True

    def __post_init__(self) -> None:
        self.used.extend(self.told)
        self.play = self.script.play()
        self.item = next(self.play, None)

    def send(self, text: str) -> None:
        # A script that fails cannot be gone on with.
        self.is_whole = False
        try:
            self.item = self.play.send(text)
        except StopIteration:
            self.item = None
        self.is_whole = True

    def answered(self, prompt: Prompt, answer: Answer) -> None:
        self.counts[prompt.name] = answer.nth
        self.used.append(answer)
        self.turns.append(Answered(prompt, answer.text, shown_answer(prompt, answer.text), answer.nth))
        self.send(answer.text)

    def goes_on_with(self, book: Mapping[tuple[str, int], Answer], script: Script) -> bool:
        """Whether a new run of a script with some answers would come to where this one waits."""
        told = {answer.key for answer in self.told}
        return (
            self.is_whole
            and self.script.library is script.library
            and (self.script.system, self.script.start) == (script.system, script.start)
            and all(book.get(answer.key) == answer for answer in self.used)
            and all((name, 1) in told or (name, 1) not in book for name in OWN_ACCURACY.values())
        )


def walk(
    library: Library,
    answers: Sequence[Answer],
    system: UnitSystem = "us",
    fill: Fill | None = None,
    start: Start | None = None,
    earlier: Conversation | None = None,
) -> Conversation:
    """The conversation that follows from the answers, up to the first prompt that has none.

    With `fill`, prompts without an answer are answered by it, so the conversation goes on to its end. With `start`,
    it begins there instead of with the complaint. Where the answers only carry an `earlier` conversation on, what it
    has worked is not worked again: the result is the same, and the earlier one's `state` must not be asked any more.

    Raises:
        UnknownNameError: there is no such tree or node to start at.
    """
    book = {answer.key: answer for answer in answers}
    script, told = _script(library, book, system, start)
    before = earlier.run if earlier is not None and fill is None else None
    run = before if before is not None and before.goes_on_with(book, script) else _Run(script, told)
    prompt: Prompt | None = None
    unfit: str | None = None
    nth = 0
    while run.item is not None:
        if isinstance(run.item, Turn):
            run.turns.append(run.item)
            run.send("")
            continue
        nth = run.counts.get(run.item.name, 0) + 1
        answer = book.get((run.item.name, nth))
        if answer is None and fill is not None:
            answer = Answer(run.item.name, fill(run.item), nth)
        if answer is not None:
            unfit = _unfit(run.item, answer, run.script.state)
        if answer is None or unfit is not None:
            prompt = run.item
            break
        run.answered(run.item, answer)
    return _conversation(run, answers, prompt, nth, unfit)


def _script(
    library: Library, book: Mapping[tuple[str, int], Answer], system: UnitSystem, start: Start | None
) -> tuple[Script, tuple[Answer, ...]]:
    """A script with what is known of the instruments before anything is asked."""
    fresh = State(library.catalogue)
    told = (book[name, 1] for name in OWN_ACCURACY.values() if (name, 1) in book)
    fits = tuple(answer for answer in told if is_usable(fresh, answer.name, answer.text) is None)
    return Script(library, system, {answer.name: answer.text for answer in fits}, start=start), fits


def _conversation(
    run: _Run, answers: Sequence[Answer], prompt: Prompt | None, nth: int, unfit: str | None
) -> Conversation:
    script, state = run.script, run.script.state
    keys = {answer.key for answer in run.used}
    return Conversation(
        tree=script.tree,
        turns=tuple(run.turns),
        prompt=prompt,
        nth=nth,
        unfit=unfit,
        outcome=script.outcome if prompt is None else None,
        kept=tuple(script.kept),
        close_calls=tuple(script.close_calls),
        used=tuple(run.used),
        unused=tuple(answer for answer in answers if answer.key not in keys),
        readings=dict(state.quantities),
        display=script.display,
        state=state,
        run=run,
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
