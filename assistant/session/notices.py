"""What else changed when an answer was given or changed: the way of the call, and answers that no longer apply."""

from collections.abc import Iterator
from typing import assert_never

from assistant.call.asking import linked_name
from assistant.call.keys import PromptKey, Topic
from assistant.call.telling import node_words
from assistant.call.turns import parting
from assistant.call.walk import Conversation
from assistant.catalogue.catalogue import Catalogue
from assistant.tree.model import Tree


def notices(before: Conversation, after: Conversation) -> tuple[str, ...]:
    """Sentences about what follows from an answer besides what the conversation itself shows."""
    return tuple(_notices(before, after))


def _notices(before: Conversation, after: Conversation) -> Iterator[str]:
    old, new = parting(before.turns, after.turns)
    if old and new:
        yield f'At "{new.at}" the call now goes to "{new.way}", not to "{old.way}".'
    fresh = [answer.key for answer in after.unused if answer not in before.unused]
    titles = dict.fromkeys(title_of_answer(key, before.tree, after.display.catalogue) for key in fresh)
    titles.pop("", None)
    if titles:
        yield f"No longer asked on this way, and kept aside: {', '.join(titles)}."
    if after.unfit is not None:
        yield f"An earlier answer does not fit any more: {after.unfit}"


def title_of_answer(key: PromptKey, tree: Tree | None, catalogue: Catalogue) -> str:
    """Give what an answer is called in a sentence; nothing for what is only acknowledged on the way."""
    node = node_words(tree, linked_name(tree, key.place), catalogue) if key.place else ""
    match key.topic:
        case Topic.ACT:
            act = catalogue.acts.get(key.name)
            return f"{act.title.lower()}, at {node}" if act else f"the step: {node}"
        case Topic.CHECK_OUT:
            return f"the proof of {node}"
        case Topic.CAUTION | Topic.CLOSE_CALL | Topic.SETTLE | Topic.GUESS | Topic.PRACTICE:
            return ""
        case Topic.ENTRY:
            return catalogue.title_of(key.name)
        case Topic.COMPLAINT | Topic.TREE:
            return key.topic.value
        case topic:
            assert_never(topic)
