"""A call as a file that another person, or another machine, takes in."""

from pathlib import Path

from assistant.call.answers import Unreadable, write_answer
from assistant.call.keys import PromptKey, Topic, spell_key
from assistant.call.library import Library
from assistant.call.replies import read_all_written
from assistant.call.walk import walk
from assistant.call.wording import ending_of, title_of
from assistant.errors import FileError
from assistant.store.store import Line, Note, Store, times_of
from assistant.store.times import now
from assistant.store.transcripts import Transcript, in_order, read_transcript, transcript_text


def exported(store: Store, number: int) -> str:
    """The file of a stored call.

    Raises:
        NoCallError: there is no such call.
    """
    entry, lines = store.entry(number), store.lines(number)
    call = Transcript(
        title=entry.shown,
        story="",
        answers=in_order(store.answers(number)),
        begun=entry.started,
        times=times_of(lines),
        notes=store.notes(number),
        trees=entry.edition,
        ending=entry.ending,
    )
    return transcript_text(call)


def imported(store: Store, path: Path, library: Library) -> tuple[int, tuple[str, ...]]:
    """Keep the call of a file as a new one; gives its number, and what is to be known of it in sentences.

    Raises:
        FileError: the file cannot be read, or holds no call; every mistake is in the message.
        StoreError: it could not be written; nothing of it is kept.
    """
    call = read_transcript(path)
    answers = read_all_written(call.answers, library.catalogue, "us")
    unread = [
        f"{spell_key(one.key)}: {one.value.message}"
        for one in answers
        if isinstance(one.value, Unreadable) and _is_known(one.key, library)
    ]
    if unread:
        said = "\n".join(unread)
        raise FileError(f"{path} holds answers that cannot be read, so nothing of it is kept:\n{said}")
    conversation = walk(library, answers)
    title = title_of(conversation)
    begun = call.begun or min(call.times.values(), default=now())
    # As they would have been kept when they were typed: a name or unit of one's own is read, not stored.
    lines = [Line(call.times.get(answer.key, begun), "set", write_answer(answer)) for answer in answers]
    notes = (*((Note(begun, call.story),) if call.story else ()), *call.notes)
    number = store.add_call(lines, "" if call.title == title else call.title, notes, begun)
    edition = call.trees or (conversation.tree.edition if conversation.tree else "")
    ending = call.ending or ending_of(conversation)
    store.describe(number, title, "ended" if conversation.ended else "open", ending, edition)
    told: list[str] = []
    if conversation.unfit is not None:
        told.append(f"An answer does not fit: {conversation.unfit}")
    elif conversation.unused:
        names = dict.fromkeys(conversation.display.catalogue.title_of(answer.name) for answer in conversation.unused)
        told.append(f"Not asked on the way that the trees take now, and kept aside: {', '.join(names)}.")
    return number, tuple(told)


def _is_known(key: PromptKey, library: Library) -> bool:
    """Whether such a prompt can be here; what only another shop asks is kept aside as it is."""
    return key.topic is not Topic.ENTRY or key.name in library.catalogue.taking_order
