"""Where two walks of the same answers part, and what each of them saw there."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from assistant.call.keys import PromptKey
from assistant.call.turns import Concluded, Decided, NothingWrong, Undecided, common
from assistant.call.walk import Conversation


@dataclass(frozen=True, slots=True)
class End:
    """Where a walk came to: `kind` is cause, no_fault, undecided, open or stopped.

    `name` is the cause, or what the prompt at which it waits is called; `node` the leaf, or where that prompt is asked;
    `text` what the tech is told there; `asked` what the prompt is about, wherever it is asked.
    """

    kind: str
    name: str
    node: str | None
    text: str = ""
    asked: PromptKey | None = None

    def words(self) -> str:
        """Return the end in a few words, in an author's names."""
        match self.kind:
            case "cause":
                return self.name
            case "open":
                return f"a question: {self.name}"
            case "stopped":
                return f"a stop at {self.name}: {self.text}"
            case _:
                return f"{self.kind} ({self.node})"


@dataclass(frozen=True, slots=True)
class Saw:
    """What a walk did at a node: it went to `go` for these reasons; without `go`, they say how it ended."""

    go: str | None
    reasons: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Parting:
    """The node from which two walks go different ways; `was` is its name in the old tree where that is another."""

    node: str
    old: Saw
    new: Saw
    was: str | None = None


@dataclass(frozen=True, slots=True)
class _Pass:
    node: str
    saw: Saw
    end: End | None = None


def end_of(conversation: Conversation) -> End:
    """Return where a conversation came to."""
    prompt = conversation.prompt
    if prompt is not None:
        asked = replace(prompt.key, place=None, nth=1)
        kind = "stopped" if conversation.unfit else "open"
        return End(kind, prompt.name, prompt.node or None, conversation.unfit or "", asked)
    leaf = next((turn for turn in reversed(conversation.turns) if isinstance(turn, _LEAVES)), None)
    outcome = conversation.outcome
    kind = outcome.kind if outcome else "undecided"
    text = leaf.text if isinstance(leaf, NothingWrong | Undecided) else ""
    return End(kind, (outcome.cause if outcome else None) or kind, leaf.node if leaf else None, text)


_LEAVES = (Concluded, NothingWrong, Undecided)


def same_end(old: End, new: End, names: Mapping[str, str]) -> bool:
    """Tell whether two ends are one for whoever is on the call; `names` leads from old names of nodes to new ones.

    Two ends without a cause are the same in the same node, whatever its words, and in another node with the same words.
    """
    if old.kind != new.kind:
        return False
    same_node = _rename(old.node, names) == new.node
    match old.kind:
        case "cause":
            return old.name == new.name
        case "open" | "stopped":
            return old.asked == new.asked and same_node
        case _:
            return same_node or old.text == new.text


def parting(old: Conversation, new: Conversation, names: Mapping[str, str]) -> Parting | None:
    """Return the first node where two walks differ; `None` when they go the same way to the same end."""
    back = {now: then for then, now in names.items() if now != then}
    before, after = list(_passes(old)), list(_passes(new))
    at = common(before, after, lambda then, now: _goes_alike(then, now, names))
    if at == min(len(before), len(after)):
        return None
    then, now = before[at], after[at]
    if names.get(then.node, then.node) != now.node:
        # The way in front was the same, so it is the start of the tree that differs.
        return Parting("start", Saw(then.node, ()), Saw(now.node, ()))
    return Parting(now.node, then.saw, now.saw, back.get(now.node))


def _goes_alike(then: _Pass, now: _Pass, names: Mapping[str, str]) -> bool:
    same_way = (names.get(then.node, then.node), _rename(then.saw.go, names)) == (now.node, now.saw.go)
    return same_way and _same_or_none(then.end, now.end, names)


def _rename(node: str | None, names: Mapping[str, str]) -> str | None:
    return None if node is None else names.get(node, node)


def _same_or_none(old: End | None, new: End | None, names: Mapping[str, str]) -> bool:
    return old is new or (old is not None and new is not None and same_end(old, new, names))


def _passes(conversation: Conversation) -> Iterator[_Pass]:
    """Yield every node that decided, then where the walk ended or waits."""
    at = conversation.tree.start.text if conversation.tree else ""
    for turn in conversation.turns:
        if isinstance(turn, Decided):
            yield _Pass(turn.node, Saw(turn.go, turn.reasons))
            at = turn.go
        elif isinstance(turn, _LEAVES):
            at = turn.node
    end = end_of(conversation)
    yield _Pass(at, Saw(None, (f"ends in {end.words()}" if conversation.ended else f"comes to {end.words()}",)), end)
