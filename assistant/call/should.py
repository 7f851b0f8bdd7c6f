"""What a sound unit would read in this weather, as a tech asks for it at the gauge."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from assistant import doubt
from assistant.call.prompts import AskQuantity
from assistant.call.walk import Conversation
from assistant.expecting import expected_name, read_expected_name
from assistant.quantity import KELVIN_PER_FAHRENHEIT, Kind
from assistant.source.nearest import nearest
from assistant.worksheet.expected_formulas import EXPECTED
from assistant.worksheet.known import Known
from assistant.worksheet.sheet import Refused, Sheet, Worked
from assistant.worksheet.showing import Display, range_of, refusal_reason
from assistant.worksheet.sound import DRY, OUTDOOR, WET

TITLE: Final = "What a sound unit would read"
_WARMER: Final = 10.0 * KELVIN_PER_FAHRENHEIT
_MOISTER: Final = 5.0 * KELVIN_PER_FAHRENHEIT


def should_lines(conversation: Conversation, typed: str) -> tuple[str, ...] | str:
    """Return what a reading or number should be, and how that moves with the weather; a sentence where it is unknown.

    `typed` is its name or its title; without it the reading that is asked now, or everything.
    """
    display, sheet = conversation.display, conversation.state.sheet
    if not typed:
        prompt = conversation.prompt
        if isinstance(prompt, AskQuantity) and expected_name(prompt.name) in EXPECTED:
            return tuple(_lines(prompt.name, sheet, display))
        return tuple(_all_lines(sheet, display))
    name = _meant(typed, display)
    if name is None:
        return f"Nothing is known of what {typed!r} should be. Try: should suction pressure, should superheat."
    return tuple(_lines(name, sheet, display))


def should_be(sheet: Sheet, name: str, display: Display) -> str:
    """Return the range of a reading or number at a sound unit, `118 to 132 psig`; empty where nothing is known."""
    if expected_name(name) not in EXPECTED:
        return ""
    found = sheet.number(expected_name(name))
    return range_of(name, found.value, display) if isinstance(found, Worked) else ""


def _meant(typed: str, display: Display) -> str | None:
    wanted = typed.strip(" ?.").removeprefix("be ").removesuffix(" be").removeprefix("the ")
    names = [of for name in EXPECTED if (of := read_expected_name(name)) is not None]
    if wanted.replace(" ", "_") in names:
        return wanted.replace(" ", "_")
    titles = {display.catalogue.title_of(name).casefold(): name for name in names}
    spoken = {name.replace("_", " "): name for name in names} | titles
    found = spoken.get(wanted)
    if found is None:
        near = nearest(wanted, list(spoken))
        found = spoken[near[0]] if near else None
    return found


def _lines(name: str, sheet: Sheet, display: Display) -> Iterator[str]:
    title = display.catalogue.title_of(name)
    found = sheet.number(expected_name(name))
    if isinstance(found, Refused):
        yield f"{title}: nothing can be expected. {refusal_reason(found.error, display)}"
        return
    if found is None:
        yield f"{title}: {_lacking(name, sheet, display)}"
        return
    yield f"{title}: should be about {range_of(name, found.value, display)} on a sound unit."
    measured = sheet.value(name)
    if measured is not None:
        away = doubt.nominal(measured) - doubt.nominal(found.value)
        inside = abs(away) <= doubt.expanded(found.value)
        side = "within that" if inside else ("above that" if away > 0.0 else "below that")
        yield f"It is {display.with_doubt(name, measured)}: {side}."
    yield from _moves(name, found, sheet.known, display)
    yield "How far sound units differ is in it: coils, compressors, lines, airflow, settings, makes."


def _moves(name: str, found: Worked, known: Known, display: Display) -> Iterator[str]:
    """Tell how what is expected moves with the weather."""
    kind = display.unit(name).kind
    for what, reading, step in (
        ("warmer outdoors", OUTDOOR, _WARMER),
        ("more wet bulb, so more load", WET, _MOISTER),
        ("warmer return air", DRY, _MOISTER),
    ):
        told = known.quantities.get(reading)
        if told is None:
            continue
        moved = replace(known, quantities={**known.quantities, reading: doubt.nominal(told) + step})
        there = Sheet(moved).number(expected_name(name))
        if isinstance(there, Worked):
            by = doubt.nominal(there.value) - doubt.nominal(found.value)
            moves = display.difference(kind, abs(by)).lstrip("-")
            yield f"{display.difference(Kind.TEMPERATURE, step)} {what}: {'+' if by > 0.0 else '-'}{moves}"


def _lacking(name: str, sheet: Sheet, display: Display) -> str:
    missing = [display.catalogue.title_of(one).lower() for one in sheet.not_told(expected_name(name))]
    return f"hangs on what is not told yet: {'; '.join(missing)}."


def _all_lines(sheet: Sheet, display: Display) -> Iterator[str]:
    """Tell everything that is expected, or why nothing is."""
    first = next(iter(EXPECTED))
    found = sheet.number(first)
    if not isinstance(found, Worked):
        yield from _lines(read_expected_name(first) or first, sheet, display)
        return
    for worked in sheet.expected_numbers():
        name = read_expected_name(worked.name)
        if isinstance(worked, Worked) and name is not None:
            yield f"{display.catalogue.title_of(name):<42} {range_of(name, worked.value, display)}"
