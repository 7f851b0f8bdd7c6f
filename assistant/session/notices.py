"""What else changed when an answer was given or changed: the way of the call, and answers that no longer apply."""

from collections.abc import Iterator

from assistant.call.turns import parting
from assistant.call.walk import Conversation
from assistant.call.wording import words_of
from assistant.catalogue.catalogue import Catalogue

_SPOKEN = {"do ": "the step ", "check ": "the proof of "}
_NOT_WORTH_TELLING = ("caution ", "close ", "settle ")


def notices(before: Conversation, after: Conversation) -> tuple[str, ...]:
    """Sentences about what follows from an answer besides what the conversation itself shows."""
    return tuple(_notices(before, after))


def _notices(before: Conversation, after: Conversation) -> Iterator[str]:
    old, new = parting(before.turns, after.turns)
    if old and new:
        yield f"At {words_of(new.node)} the call now goes to {words_of(new.go)}, not to {words_of(old.go)}."
    fresh = [answer.name for answer in after.unused if answer not in before.unused]
    titles = dict.fromkeys(spoken(name, after.display.catalogue) for name in fresh)
    titles.pop("", None)
    if titles:
        yield f"No longer asked on this way, and kept aside: {', '.join(titles)}."
    if after.unfit is not None:
        yield f"An earlier answer does not fit any more: {after.unfit}"


def spoken(name: str, catalogue: Catalogue) -> str:
    """The name of an answer as a person reads it; empty for what is only acknowledged on the way."""
    if name.startswith(_NOT_WORTH_TELLING):
        return ""
    for start, words in _SPOKEN.items():
        if name.startswith(start):
            return words + words_of(name.removeprefix(start))
    return catalogue.title_of(name)
