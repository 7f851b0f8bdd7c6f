"""Running an example call of a tree: where it ends, what it never uses, and which ways it takes."""

from dataclasses import dataclass

from assistant.call.headless import walk_by_name
from assistant.call.library import Library
from assistant.call.turns import Concluded, Decided, NothingWrong, Undecided
from assistant.call.walk import Conversation
from assistant.tree.examples import ExampleCall

Way = tuple[str, str]
"""One way on: from a step to another node."""


@dataclass(frozen=True)
class ExampleResult:
    """One example call walked: the end it reached, and what is wrong with it in words."""

    call: ExampleCall
    conversation: Conversation
    reached: str
    faults: tuple[str, ...]

    @property
    def ways(self) -> frozenset[Way]:
        """The ways that the call took."""
        decided = (turn for turn in self.conversation.turns if isinstance(turn, Decided))
        return frozenset((turn.node, turn.go) for turn in decided)


def run_example(library: Library, tree: str, call: ExampleCall) -> ExampleResult:
    """Walk one example call."""
    conversation = walk_by_name(library, tree, call.given.texts())
    outcome = conversation.outcome
    reached = "nowhere" if outcome is None else outcome.cause or outcome.kind
    ends = [turn.node for turn in conversation.turns if isinstance(turn, Concluded | NothingWrong | Undecided)]
    node = ends[-1] if ends else None
    faults: list[str] = []
    if conversation.prompt is not None:
        faults.append(f"stops at {conversation.prompt.name}: {conversation.unfit}")
    elif reached != call.reaches.text:
        faults.append(f"reaches {reached} instead of {call.reaches.text}")
    elif call.at is not None and node != call.at.text:
        faults.append(f"reaches {reached} at {node} instead of {call.at.text}")
    # What is taken over from another call may well lie on a way that this one does not take.
    own = {*call.own.facts, *call.own.answers}
    unused = [answer.name for answer in conversation.unused if answer.name.removeprefix("do ") in own]
    faults.extend(f"never uses the answer to {name}" for name in unused)
    return ExampleResult(call, conversation, reached, tuple(faults))
