"""Handing a call on: its sheet in one of three forms, as text or as a file."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Final

from assistant.call.library import Library
from assistant.call.pictured import pictures_of
from assistant.call.replies import read_all_written
from assistant.call.walk import Conversation, walk
from assistant.files import make_private_folder, write_whole
from assistant.pictures.album import NotDrawn, Picture, as_svg, find_wanted, in_words
from assistant.pictures.scale import Scales
from assistant.pictures.vapour import Enthalpies, work_apart
from assistant.quantity import UnitSystem
from assistant.sheet.sheet import CallSheet, Drawing, Kept, call_sheet
from assistant.sheet.sheet_html import sheet_html
from assistant.sheet.sheet_text import sheet_markdown, sheet_text
from assistant.store.changes import changed_since
from assistant.store.store import Store, times_of

FORMS: Final[Mapping[str, Callable[[CallSheet], str]]] = {
    "text": sheet_text,
    "md": sheet_markdown,
    "html": sheet_html,
}
"""The forms of a call sheet, and what makes them."""

_MOST_SCALES: Final = 4

_ENDINGS: Final = {"text": "txt", "md": "md", "html": "html"}


def stored_call(store: Store, number: int, library: Library, system: UnitSystem) -> tuple[Conversation, Kept]:
    """A stored call: its conversation by the trees as they are now, and what the record knows besides.

    Raises:
        StoreError: there is no such call.
    """
    conversation = walk(library, read_all_written(store.answers(number), library.catalogue, system), system)
    return conversation, kept_with(store, number, conversation)


def kept_with(store: Store, number: int, conversation: Conversation) -> Kept:
    """What the record knows of a call besides its conversation.

    Raises:
        StoreError: there is no such call.
    """
    entry = store.entry(number)
    told = changed_since(entry, conversation)
    return Kept(entry, times_of(store.lines(number)), store.notes(number), told)


def superheated_states(conversation: Conversation, is_cancelled: Callable[[], bool] = lambda: False) -> Enthalpies:
    """What the pictures need of the equations of state: worked in a process of its own, a matter of seconds.

    It touches no record, so a thread can do it.
    """
    return work_apart(find_wanted(pictures_of(conversation, {})), is_cancelled)


def sheet_of(conversation: Conversation, kept: Kept, enthalpies: Enthalpies) -> CallSheet:
    """The sheet of a call, with the pictures that its numbers allow."""
    drawn = (_shortened(shown) for shown in pictures_of(conversation, enthalpies) if not _is_empty(shown))
    drawings = tuple(Drawing(shown.title, as_svg(shown), in_words(shown)) for shown in drawn)
    return replace(call_sheet(conversation, kept), drawings=drawings)


def _is_empty(picture: Picture) -> bool:
    return isinstance(picture, NotDrawn) or (isinstance(picture, Scales) and not picture.scales)


def _shortened(picture: Picture) -> Picture:
    """A picture that fits the sheet: of the comparisons, those that were decided by the least."""
    return replace(picture, scales=picture.scales[:_MOST_SCALES]) if isinstance(picture, Scales) else picture


def sheet_file(
    store: Store, number: int, conversation: Conversation, form: str, enthalpies: Enthalpies | None = None
) -> Path:
    """Write the sheet of a call into the folder of sheets beside the record; gives the file.

    Without `enthalpies` it waits for what the pictures need.

    Raises:
        KeyError: there is no such form.
        StoreError: there is no such call.
        FileError: it could not be written.
    """
    found = superheated_states(conversation) if enthalpies is None else enthalpies
    sheet = sheet_of(conversation, kept_with(store, number, conversation), found)
    path = store.path.parent / "sheets" / f"call-{number}.{_ENDINGS[form]}"
    make_private_folder(path.parent)
    write_whole(path, FORMS[form](sheet))
    return path
