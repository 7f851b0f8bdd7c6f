"""The words that concern what is kept of a call: `note` and `sheet`."""

from typing import TYPE_CHECKING

from assistant.call.walk import Conversation
from assistant.errors import FileError
from assistant.session.responses import Information, Rejected, Response
from assistant.store.store import Store

# What makes a sheet, with its pictures, is loaded when one is made: the first question does not wait for it.
if TYPE_CHECKING:
    from assistant.pictures.vapour import Enthalpies


def note_word(store: Store | None, number: int | None, text: str) -> Response:
    """Attach a remark to a call of a record, or show those that are there.

    Raises:
        StoreError: it could not be written.
    """
    if store is None or number is None:
        return Rejected("A note is kept with a call, and this one is not kept yet.")
    if text:
        store.add_note(number, text)
        return Information("Noted", (text, "It stands on the call sheet; note alone shows all notes."))
    notes = tuple(note.text for note in store.notes(number))
    return Information("Notes on this call", notes or ("There are none. Type note and what to remember.",))


def is_sheet_form(form: str) -> bool:
    """Whether a call sheet has this form; the empty one is the usual one."""
    from assistant.sheet.handing import FORMS

    return form in ("", *FORMS)


def sheet_word(
    store: Store | None,
    number: int | None,
    conversation: Conversation,
    form: str,
    enthalpies: "Enthalpies | None" = None,
) -> Response:
    """Write a call down as a file, and say where; without `enthalpies` it waits for what the pictures need.

    Raises:
        StoreError: the record cannot be read.
    """
    from assistant.sheet.handing import FORMS, sheet_file

    if store is None or number is None:
        return Rejected("A sheet is made of a call that is kept, and this one is not kept yet.")
    form = form or "html"
    if form not in FORMS:
        return Rejected(f"Type sheet, or sheet and one of: {', '.join(FORMS)}.")
    try:
        path = sheet_file(store, number, conversation, form, enthalpies)
    except FileError as error:
        return Rejected(str(error))
    use = "Open it in a browser, and print it from there. Also: sheet text, sheet md."
    return Information("The call sheet", (f"Written to {path}", *((use,) if form == "html" else ())))
