"""What has become of a stored call where the trees have changed since its last answer."""

from assistant.call.walk import Conversation
from assistant.call.wording import ending_of
from assistant.store.store import CallEntry


def changed_since(entry: CallEntry, conversation: Conversation) -> tuple[str, ...]:
    """Sentences about a stored call whose trees have changed, walked by them as they are now; else nothing."""
    edition = conversation.tree.edition if conversation.tree else ""
    if not entry.edition or edition == entry.edition:
        return ()
    was, is_now = entry.ending, ending_of(conversation)
    moved = f" It ended with: {was}. Now it {f'ends with: {is_now}' if is_now else 'goes on'}." if was != is_now else ""
    changes = ", ".join(sorted(set(entry.edition.split(", ")) ^ set(edition.split(", "))))
    return (f"The trees have changed since this call was worked ({changes}). Its answers are all kept.{moved}",)
