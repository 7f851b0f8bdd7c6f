"""The words by which the facts of a system are told at one place, or taken over from an earlier call."""

from dataclasses import replace
from typing import TYPE_CHECKING

from assistant.errors import InputError, NoCallError
from assistant.session.responses import Accepted, Information, Rejected, Response
from assistant.session.system import (
    at_first_fact,
    fact_lines,
    last_equipment,
    named_equipment,
    offer,
    read_fact,
    still_untold,
)

if TYPE_CHECKING:
    from assistant.session.session import Session


def system_word(session: "Session", argument: str) -> Response:
    """Show all facts of the system, or take one that is told by its name.

    Raises:
        StoreError: it could not be written; nothing has changed.
    """
    if not argument:
        return Information("The system", fact_lines(session.conversation, session.system))
    try:
        return session.give((read_fact(argument, session.conversation, session.system),))
    except InputError as error:
        return Rejected(str(error))


def same_word(session: "Session", argument: str) -> Response:
    """Take over what an earlier call tells of the system; what was said on this call stays.

    Raises:
        StoreError: it could not be written.
    """
    if session.store is None:
        return Rejected("No calls are kept here, so there is none to take facts from.")
    catalogue = session.library.catalogue
    try:
        equipment = named_equipment(session.store, catalogue, argument, session.number)
    except (InputError, NoCallError) as error:
        return Rejected(str(error))
    fresh = still_untold(equipment.facts, session.answers)
    number = equipment.entry.number
    if not fresh:
        return Rejected(f"All that call {number} tells of its system is told on this call already.")
    words = replace(equipment, facts=fresh).words(catalogue, session.system)
    return Accepted((f"As on call {number}: {words}.", *session.give(fresh).notices))


def offered(session: "Session") -> str:
    """At the first question about the system, the facts of the last call in a sentence; else nothing.

    Raises:
        StoreError: the record cannot be read.
    """
    if session.store is None or session.changing is not None or not at_first_fact(session.conversation):
        return ""
    equipment = last_equipment(session.store, session.library.catalogue, session.number)
    return offer(equipment, session.library.catalogue, session.system) if equipment else ""
