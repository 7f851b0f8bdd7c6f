"""Walking a call: the answers go in, the whole conversation comes out.

The conversation is a pure function of the library and the answers. Everything else follows from that: "back" drops
an answer, a correction replaces one, picking a call up reads them again, and a replay plays them one by one.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import field, replace
from functools import cached_property

from assistant.call.answers import Answer, EntryValue, Value
from assistant.call.asking import shown_answer
from assistant.call.decision import Kept
from assistant.call.gathering import Asking
from assistant.call.keys import NodeAt, PromptKey, Topic, entry_key
from assistant.call.library import Library
from assistant.call.prompts import Acknowledge, DoStep, Prompt
from assistant.call.replies import Given, Reply, Unclear, read_reply, why_unfit
from assistant.call.script import Outcome, Script, Start
from assistant.call.state import OWN_ACCURACY, State, why_not_here
from assistant.call.turns import Answered, Repair, Turn
from assistant.doubt import Uncertain
from assistant.frozen import dataclass
from assistant.quantity import UnitSystem
from assistant.tree.model import Tree
from assistant.uncollected import uncollected
from assistant.worksheet.sheet import Refused, Worked
from assistant.worksheet.showing import Display


@dataclass(frozen=True)
class Conversation:
    """A call as far as its answers go.

    `prompt` is what is asked next, `None` when the call has ended. `unfit` says why a stored answer to that prompt
    could not be used. `unused` are answers that the way taken never asks for. `hidden`
    are worked numbers that are not to be told yet.
    """

    tree: Tree | None
    turns: tuple[Turn, ...]
    prompt: Prompt | None
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
        keys = (turn.prompt.key for turn in self.turns if isinstance(turn, Answered))
        return tuple(key.name for key in keys if key.topic is Topic.ENTRY)

    @property
    def cautions(self) -> tuple[str, ...]:
        """The cautions acknowledged, in order, and those told with the repair of a cause."""
        return tuple(name for turn in self.turns for name in _cautions_of(turn))


def _cautions_of(turn: Turn) -> tuple[str, ...]:
    if isinstance(turn, Repair):
        return tuple(caution.name for caution in turn.plan.cautions)
    return (turn.prompt.caution,) if isinstance(turn, Answered) and isinstance(turn.prompt, Acknowledge) else ()


Fill = Callable[[Prompt], Value]
"""What to answer where no answer was given."""


@dataclass
class _Run:
    """A script as far as it was played: where it waits for the answer to `item`, or `None` at its end."""

    script: Script
    told: tuple[Answer, ...]
    play: Asking = field(init=False)
    item: Prompt | Turn | None = field(init=False)
    counts: dict[PromptKey, int] = field(default_factory=dict)
    turns: list[Turn] = field(default_factory=list)
    used: dict[PromptKey, Answer] = field(default_factory=dict)
    is_whole: bool = True

    def __post_init__(self) -> None:
        self.used.update((answer.key, answer) for answer in self.told)
        self.play = self.script.play()
        self.item = next(self.play, None)

    def go_on(self, value: Value | None = None) -> None:
        """Play on to the next prompt or turn, with the value that answers a prompt."""
        # A script that fails cannot be gone on with.
        self.is_whole = False
        try:
            self.item = next(self.play) if value is None else self.play.send(value)
        except StopIteration:
            self.item = None
        self.is_whole = True

    def numbered(self, prompt: Prompt) -> Prompt:
        """Give a prompt with the number of times that it was asked."""
        nth = self.counts.get(prompt.key, 0) + 1
        return prompt if nth == 1 else replace(prompt, key=prompt.key.numbered(nth))

    def answer_in(self, book: Mapping[PromptKey, Answer], prompt: Prompt) -> Answer | None:
        """Give the answer to a prompt, which may know its node by the name among all that are linked."""
        found = book.get(prompt.key)
        if found is None and prompt.key.place is not None:
            linked = replace(prompt.key, place=NodeAt("", prompt.node), nth=1)
            found = book.get(linked.numbered(self.counts.get(linked, 0) + 1))
        if found is None and isinstance(prompt, DoStep) and prompt.key.name:
            found = self._answer_for_all(book, prompt)
        return found or self._answer_elsewhere(book, prompt)

    def _answer_elsewhere(self, book: Mapping[PromptKey, Answer], prompt: Prompt) -> Answer | None:
        """Give what was told of the same act or caution at a node that since has another name or another tree."""
        if prompt.key.topic not in (Topic.ACT, Topic.CAUTION):
            return None
        wanted = (prompt.key.topic, prompt.key.name)
        found = (answer for key, answer in book.items() if (key.topic, key.name) == wanted and key.name and key.place)
        return next((one for one in found if one.key not in self.used and not self._is_node(one.key.place)), None)

    def _is_node(self, at: NodeAt | None) -> bool:
        if at is None:
            return True
        trees = self.script.library.trees
        tree = trees.get(at.tree) if at.tree else self.script.tree
        return tree is not None and at.node in tree.nodes

    def _answer_for_all(self, book: Mapping[PromptKey, Answer], prompt: DoStep) -> Answer | None:
        """Give what answers all that is done at a node, or an act wherever it is asked.

        Files of answers name it so, and so do records of calls from when a node had one thing to do, without a name.
        """
        for place in (prompt.key.place, NodeAt("", prompt.node)):
            found = book.get(PromptKey(Topic.ACT, "", place, prompt.visit))
            if found is not None:
                return found
        anywhere = PromptKey(Topic.ACT, prompt.key.name)
        return book.get(anywhere.numbered(self.counts.get(anywhere, 0) + 1))

    def take(self, prompt: Prompt, answer: Answer) -> None:
        """Take the answer to a prompt, and play on."""
        for key in {prompt.key, answer.key}:
            self.counts[key.first] = key.nth
        self.used[answer.key] = answer
        self.turns.append(Answered(prompt, answer, shown_answer(prompt, answer.value)))
        self.go_on(answer.value)

    def goes_on_with(self, book: Mapping[PromptKey, Answer], script: Script) -> bool:
        """Whether a new run of a script with some answers would come to where this one waits."""
        told = {answer.key for answer in self.told}
        return (
            self.is_whole
            and self.script.library is script.library
            and (self.script.system, self.script.start) == (script.system, script.start)
            and all(book.get(key) == answer for key, answer in self.used.items())
            and all(key in told or key not in book for key in map(entry_key, OWN_ACCURACY.values()))
        )


@uncollected()
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
    while run.item is not None:
        if isinstance(run.item, Turn):
            run.turns.append(run.item)
            run.go_on()
            continue
        asked = run.numbered(run.item)
        answer = run.answer_in(book, asked)
        if answer is None and fill is not None:
            answer = Answer(asked.key, fill(asked))
        if answer is not None:
            unfit = _unfit(asked, answer.value, run.script.state)
        if answer is None or unfit is not None:
            prompt = asked
            break
        run.take(asked, answer)
    return _conversation(run, answers, prompt, unfit)


def _script(
    library: Library, book: Mapping[PromptKey, Answer], system: UnitSystem, start: Start | None
) -> tuple[Script, tuple[Answer, ...]]:
    """A script with what is known of the instruments before anything is asked."""
    fresh = State(library.catalogue)
    fits: dict[Answer, EntryValue] = {}
    for name in OWN_ACCURACY.values():
        answer = book.get(entry_key(name))
        if answer is not None and isinstance(answer.value, EntryValue) and not why_not_here(fresh, name, answer.value):
            fits[answer] = answer.value
    return Script(library, system, {answer.key.name: value for answer, value in fits.items()}, start=start), tuple(fits)


def _conversation(run: _Run, answers: Sequence[Answer], prompt: Prompt | None, unfit: str | None) -> Conversation:
    script, state = run.script, run.script.state
    return Conversation(
        tree=script.tree,
        turns=tuple(run.turns),
        prompt=prompt,
        unfit=unfit,
        outcome=script.outcome if prompt is None else None,
        kept=tuple(script.kept),
        close_calls=tuple(script.close_calls),
        used=tuple(run.used.values()),
        unused=tuple(answer for answer in answers if answer.key not in run.used),
        readings=dict(state.quantities),
        display=script.display,
        state=state,
        run=run,
    )


def accept(conversation: Conversation, text: str, asked: Prompt | None = None) -> Reply:
    """What a typed reply means, to the conversation's prompt or to another one `asked`, and whether it fits the site.

    Raises:
        ValueError: the conversation has ended, so nothing is asked.
    """
    prompt = asked or conversation.prompt
    if prompt is None:
        raise ValueError("the conversation has ended")
    reply = read_reply(prompt, text)
    if isinstance(reply, Given):
        unfit = _not_here(prompt, reply.value, conversation.state)
        return reply if unfit is None else Unclear(unfit)
    return reply


def _unfit(prompt: Prompt, value: Value, state: State) -> str | None:
    """Tell why an answer cannot be used at this prompt; `None` when it can."""
    return why_unfit(prompt, value) or _not_here(prompt, value, state)


def _not_here(prompt: Prompt, value: Value, state: State) -> str | None:
    if prompt.key.topic is Topic.ENTRY and isinstance(value, EntryValue):
        return why_not_here(state, prompt.key.name, value)
    return None
