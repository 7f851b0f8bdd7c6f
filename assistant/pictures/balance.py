"""The force balance of a thermostatic expansion valve: what opens it, what closes it, and which way it is pushed.

The opening itself is not measured. What readings tell is whether bulb and equalizer leave more, less or just as much
for the spring as a spring would take that holds the target superheat.
"""

from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from assistant import doubt
from assistant.doubt import Uncertain
from assistant.errors import CoilsideError
from assistant.quantity import Kind
from assistant.thermo.curves import saturation
from assistant.worksheet.sheet import Refused, Sheet
from assistant.worksheet.showing import Display, refusal, refusal_reason

TITLE: Final = "The force balance of the expansion valve"


class Push(StrEnum):
    """Which way the forces push the pin of a sound valve."""

    OPEN = "open"
    BALANCED = "balanced"
    SHUT = "shut"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class Force:
    """One force on the diaphragm, as a pressure [Pa]; `shown` is its value in words, or what is lacking."""

    title: str
    opens: bool
    pressure: float | None
    shown: str


@dataclass(frozen=True, slots=True)
class ValveBalance:
    """Bulb against equalizer and spring.

    `spring` is what is left for the spring to balance [Pa], `target_spring` what a spring takes that holds the target
    superheat [Pa]; both as far as they are known. `verdict` says in words which way the pin is pushed.
    """

    title: str
    bulb: Force
    equalizer: Force
    spring: Force
    target_spring: Force
    push: Push
    verdict: str
    notes: tuple[str, ...]

    @property
    def forces(self) -> tuple[Force, ...]:
        """The forces on the diaphragm, the one that opens first."""
        return self.bulb, self.equalizer, self.spring


def valve_balance(sheet: Sheet, display: Display) -> ValveBalance:
    """Return the balance of the valve of a call, as far as its readings go."""
    suction = sheet.known.quantities.get("suction_pressure")
    spring = sheet.value("spring_pressure")
    target = _target_spring(sheet)
    push, verdict = _push(spring, target, display)
    return ValveBalance(
        title=TITLE,
        bulb=Force("bulb", True, *_worked_force("bulb_pressure", sheet, display)),
        equalizer=Force("equalizer", False, *_known_force(suction, "suction_pressure", display)),
        spring=Force("left for the spring", False, *_worked_force("spring_pressure", sheet, display)),
        target_spring=_target_force(target, display),
        push=push,
        verdict=verdict,
        notes=tuple(_notes(sheet, spring is not None)),
    )


def _known_force(value: Uncertain | None, name: str, display: Display) -> tuple[float | None, str]:
    if value is None:
        return None, f"not known: {display.catalogue.title_of(name).lower()} not read"
    return doubt.nominal(value), display.with_doubt(name, value)


def _worked_force(name: str, sheet: Sheet, display: Display) -> tuple[float | None, str]:
    number = sheet.number(name)
    if isinstance(number, Refused):
        return None, refusal(number, display)
    if number is None:
        known = sheet.known.quantities.keys() | sheet.known.choices.keys()
        lacking = [display.catalogue.title_of(need).lower() for need in sheet.needs(name) if need not in known]
        return None, f"not known: {' and '.join(lacking)} not read"
    return doubt.nominal(number.value), display.with_doubt(name, number.value)


def _target_spring(sheet: Sheet) -> Uncertain | CoilsideError | None:
    """Return what a spring takes that holds the target superheat at this suction pressure [Pa]."""
    suction, target = sheet.value("suction_pressure"), sheet.value("superheat_target")
    refrigerant = sheet.known.refrigerant
    if suction is None or target is None or refrigerant is None:
        return None
    curves = saturation(refrigerant)

    def spring(equalizer: float, superheat: float) -> float:
        return curves.dew_pressure(curves.dew_temperature(equalizer) + superheat) - equalizer

    try:
        return doubt.lift_many(spring)(suction, target)
    except CoilsideError as error:
        return error


def _target_force(target: Uncertain | CoilsideError | None, display: Display) -> Force:
    title = "spring that holds the target superheat"
    if isinstance(target, CoilsideError):
        return Force(title, False, None, f"not known: {refusal_reason(target, display)}")
    if target is None:
        return Force(title, False, None, "not known: refrigerant or suction pressure not told")
    return Force(title, False, doubt.nominal(target), display.difference(Kind.PRESSURE, target))


def _push(spring: Uncertain | None, target: Uncertain | CoilsideError | None, display: Display) -> tuple[Push, str]:
    if spring is None:
        return Push.UNKNOWN, "Which way the pin is pushed is not known yet."
    left = doubt.nominal(spring)
    if left < -doubt.expanded(spring):
        return Push.SHUT, "The equalizer alone pushes harder than the bulb: a sound valve is shut."
    if target is None or isinstance(target, CoilsideError):
        return Push.UNKNOWN, "Which way the pin is pushed is not known: the spring of the target superheat is not."
    margin = spring - target
    if abs(doubt.nominal(margin)) <= doubt.expanded(margin):
        return (
            Push.BALANCED,
            "Within their doubt the forces balance at the target superheat: a sound valve stays where it is.",
        )
    by = display.difference(Kind.PRESSURE, margin if doubt.nominal(margin) > 0 else -margin)
    if doubt.nominal(margin) > 0:
        return Push.OPEN, f"The bulb pushes {by} harder than the target asks for: a sound valve opens further."
    return Push.SHUT, f"The bulb pushes {by} less than the target asks for: a sound valve closes further."


def _notes(sheet: Sheet, is_worked: bool) -> list[str]:
    notes = []
    if sheet.known.choices.get("equalizer") == "internal":
        notes.append(
            "The equalizer is internal: under the diaphragm stands the pressure at the coil's inlet, which lies above "
            "the suction pressure by what the coil takes. The spring is weaker than it seems by as much."
        )
    else:
        notes.append("The suction pressure stands in for the pressure at the equalizer.")
    if is_worked:
        notes.append(
            "The bulb is taken to be as warm as the line, its charge whole and of the system's own refrigerant. If the "
            "superheat does not follow the push, look for what breaks that: a loose bulb, a lost charge, a stuck pin."
        )
    notes.append("How far the pin stands open is not measured, so only the push on it is drawn.")
    return notes


def balance_words(balance: ValveBalance) -> tuple[str, ...]:
    """Return the balance in words."""
    lines = [
        f"{force.title.capitalize()}, {'opens' if force.opens else 'closes'}: {force.shown}."
        for force in balance.forces
    ]
    lines.append(f"A {balance.target_spring.title}: {balance.target_spring.shown}.")
    return (*lines, balance.verdict, *balance.notes)
