"""The words that concern what is kept of a call: `note` and `sheet`."""

from typing import TYPE_CHECKING

from assistant.errors import FileError
from assistant.session.responses import Information, Rejected, Response

# What makes a sheet, with its pictures, is loaded when one is made: the first question does not wait for it.
if TYPE_CHECKING:
    from assistant.pictures.vapour import Enthalpies
    from assistant.session.session import Session


def note_word(session: "Session", text: str) -> Response:
    """Attach a remark to the call, or show those that are there.

    Raises:
        StoreError: it could not be written.
    """
    if session.store is None or session.number is None:
        return Rejected("A note is kept with a call, and this one is not kept yet.")
    if text:
        session.store.add_note(session.number, text)
        return Information("Noted", (text, "It stands on the call sheet; note alone shows all notes."))
    notes = tuple(note.text for note in session.store.notes(session.number))
    return Information("Notes on this call", notes or ("There are none. Type note and what to remember.",))


def makes_sheet(session: "Session", form: str) -> bool:
    """Whether there is a sheet of the call in this form; where there is none, `sheet_word` says why."""
    from assistant.sheet.handing import FORMS

    return session.number is not None and not session.holds_back and form in ("", *FORMS)


def sheet_word(session: "Session", form: str, enthalpies: "Enthalpies | None" = None) -> Response:
    """Write the call down as a file, and say where; without `enthalpies` it waits for what the pictures need.

    Raises:
        StoreError: the record cannot be read.
    """
    from assistant.sheet.handing import FORMS, sheet_file

    if session.store is None or session.number is None:
        return Rejected("A sheet is made of a call that is kept, and this one is not kept yet.")
    form = form or "html"
    if form not in FORMS:
        return Rejected(f"Type sheet, or sheet and one of: {', '.join(FORMS)}.")
    try:
        path = sheet_file(session.store, session.number, session.conversation, form, enthalpies)
    except FileError as error:
        return Rejected(str(error))
    use = "Open it in a browser, and print it from there. Also: sheet text, sheet md."
    return Information("The call sheet", (f"Written to {path}", *((use,) if form == "html" else ())))
