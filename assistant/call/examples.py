"""Running an example call of a tree: where it ends, what it never uses, and which ways it takes."""

from dataclasses import dataclass

from assistant.call.headless import walk_by_name
from assistant.call.library import Library
from assistant.call.turns import Decided
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
    faults: list[str] = []
    if conversation.prompt is not None:
        faults.append(f"stops at {conversation.prompt.name}: {conversation.unfit}")
    elif reached != call.reaches.text:
        faults.append(f"reaches {reached} instead of {call.reaches.text}")
    faults.extend(f"never uses the answer to {answer.name}" for answer in conversation.unused)
    return ExampleResult(call, conversation, reached, tuple(faults))
