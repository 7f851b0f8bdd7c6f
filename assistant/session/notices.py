"""What else changed when an answer was given or changed: the way of the call, and answers that no longer apply."""

from collections.abc import Iterator

from assistant.call.telling import node_words
from assistant.call.turns import parting
from assistant.call.walk import Conversation
from assistant.catalogue.catalogue import Catalogue
from assistant.tree.model import Tree

_SPOKEN = {"do ": "the step:", "check ": "the proof of"}
_NOT_WORTH_TELLING = ("caution ", "close ", "settle ")


def notices(before: Conversation, after: Conversation) -> tuple[str, ...]:
    """Sentences about what follows from an answer besides what the conversation itself shows."""
    return tuple(_notices(before, after))


def _notices(before: Conversation, after: Conversation) -> Iterator[str]:
    old, new = parting(before.turns, after.turns)
    if old and new:
        yield f'At "{new.at}" the call now goes to "{new.way}", not to "{old.way}".'
    fresh = [answer.name for answer in after.unused if answer not in before.unused]
    titles = dict.fromkeys(_spoken(name, before.tree, after.display.catalogue) for name in fresh)
    titles.pop("", None)
    if titles:
        yield f"No longer asked on this way, and kept aside: {', '.join(titles)}."
    if after.unfit is not None:
        yield f"An earlier answer does not fit any more: {after.unfit}"


def _spoken(name: str, tree: Tree | None, catalogue: Catalogue) -> str:
    """The name of an answer as a person reads it; empty for what is only acknowledged on the way."""
    if name.startswith(_NOT_WORTH_TELLING):
        return ""
    for start, words in _SPOKEN.items():
        if name.startswith(start):
            return f"{words} {node_words(tree, name.removeprefix(start), catalogue)}"
    return catalogue.title_of(name)
