"""What a prompt is known by: what it is about, at which node where that matters, and which time it is asked.

An entry of the catalogue is known by its name alone, wherever it is asked. What belongs to a node names the tree and
the node as their author wrote them, so that an answer stays where it is when another tree begins to use that one.
"""

from enum import StrEnum

from assistant.frozen import dataclass


class Topic(StrEnum):
    """What a prompt is about. An `ENTRY` is a fact, reading or observation of the catalogue."""

    COMPLAINT = "complaint"
    TREE = "tree"
    ENTRY = "entry"
    ACT = "act"
    CAUTION = "caution"
    CLOSE_CALL = "close_call"
    CHECK_OUT = "check_out"
    SETTLE = "settle"
    GUESS = "guess"
    PRACTICE = "practice"


@dataclass(frozen=True, slots=True, order=True)
class NodeAt:
    """A node as it was written: the tree, and its name there.

    Without a `tree`, it is the name of a node among all that are linked, such as `starved/valve/mend`: so files of
    answers name it, and records of earlier formats.
    """

    tree: str
    node: str


@dataclass(frozen=True, slots=True, order=True)
class PromptKey:
    """What a prompt and its answer are found by; `nth` counts from 1 how often the same is asked on one call."""

    topic: Topic
    name: str = ""
    place: NodeAt | None = None
    nth: int = 1

    def numbered(self, nth: int) -> "PromptKey":
        """Give the key of the same prompt, asked for the `nth` time."""
        return self if nth == self.nth else PromptKey(self.topic, self.name, self.place, nth)

    @property
    def first(self) -> "PromptKey":
        """The key of the same prompt, asked for the first time."""
        return self.numbered(1)


COMPLAINT = PromptKey(Topic.COMPLAINT)
TREE = PromptKey(Topic.TREE)

_VERBS = {Topic.ACT: "do", Topic.CLOSE_CALL: "close", Topic.CHECK_OUT: "check", Topic.SETTLE: "settle"}


def entry_key(name: str, nth: int = 1) -> PromptKey:
    """Give the key of a fact, reading or observation."""
    return PromptKey(Topic.ENTRY, name, None, nth)


def spell_key(key: PromptKey, node: str | None = None) -> str:
    """Give what a person calls a prompt, such as `do warm_bulb`; `node` is its name among all that are linked."""
    at = node or (key.place.node if key.place else "")
    match key.topic:
        case Topic.ENTRY:
            return key.name
        case Topic.COMPLAINT | Topic.TREE:
            return key.topic.value
        case Topic.CAUTION:
            return f"caution {key.name} @ {at}"
        case Topic.GUESS | Topic.PRACTICE:
            return f"{key.topic.value} {key.name}"
        case Topic.ACT if key.name:
            return f"do {key.name} @ {at}"
        case Topic.ACT | Topic.CLOSE_CALL | Topic.CHECK_OUT | Topic.SETTLE:
            return f"{_VERBS[key.topic]} {at}"
