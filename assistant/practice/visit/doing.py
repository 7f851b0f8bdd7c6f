"""What single acts do to a practice site: the work behind the table in `acts`.

Each takes the site, an amount (kg, a share of 1, or turns) and a chance for what goes by feel, and gives the site as it
is then and what is seen at once. What cannot be done as things stand is refused with a sentence.
"""

import random
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Final

from assistant.errors import InputError
from assistant.practice.visit.site import Hidden, Site, sound_charge
from assistant.quantity import POUND
from assistant.simulator.faults import FAULTS, PresentFault

SCALE: Final = "scale"
RECOVERY: Final = "recovery machine"
_TURN = 0.25
"""Change of the spring's pressure at the seat by one turn, as a share of what it should be; chosen."""
_AIR_LEFT = 0.15
"""Foreign gas, as a share of head minus suction, where a circuit was filled without a vacuum; chosen."""
_BY_FEEL = (0.6, 1.9)
"""How much really moves, for one that was meant, without a scale; chosen."""
_BY_FEEL_WHOLE = (0.75, 1.35)
"""The same for a whole charge, which the gauges guide a little; chosen."""


@dataclass(frozen=True, slots=True)
class Effect:
    """The site after an act, and what is seen at once."""

    site: Site
    seen: str


Work = Callable[[Site, float, random.Random], Effect]


def pounds(mass: float) -> str:
    """A mass [kg] in words."""
    return f"{mass / POUND:.2f} lb"


# ---------------------------------------------------------------------------- running and bulb


def stop(site: Site, amount: float, chance: random.Random) -> Effect:
    """The compressor stands."""
    return Effect(replace(site, running=False), "It stands, disconnect open and locked.")


def start(site: Site, amount: float, chance: random.Random) -> Effect:
    """The compressor runs.

    Raises:
        InputError: there is no refrigerant in it.
    """
    if site.empty:
        raise InputError("There is no refrigerant in it. A compressor must not run in a vacuum.")
    return Effect(replace(site, running=True), "It runs already." if site.running else "It starts and runs.")


def just(seen: str) -> Work:
    """Something is done that changes nothing."""

    def work(site: Site, amount: float, chance: random.Random) -> Effect:
        return Effect(site, seen)

    return work


def hold(temperature: float, seen: str) -> Work:
    """The bulb is off its line and held at a temperature [K]."""

    def work(site: Site, amount: float, chance: random.Random) -> Effect:
        return Effect(replace(site, bulb_held=temperature), seen)

    return work


def strap(site: Site, amount: float, chance: random.Random) -> Effect:
    """The bulb sits well on the line."""
    seen = "Clean copper, two metal straps, insulated past both ends."
    loose = site.severity("bulb_strap") > 0.0
    return Effect(replace(site.mended("bulb_strap"), bulb_held=None), seen if loose else f"{seen} It sat well before.")


def move(site: Site, amount: float, chance: random.Random) -> Effect:
    """The bulb sits well, and in its right place."""
    right = site.severity("bulb_place") == 0.0
    seen = "Straight run, right o'clock, strapped and insulated."
    mended = replace(site.mended("bulb_place", "bulb_strap"), bulb_held=None)
    return Effect(mended, f"{seen} Its place was right before." if right else seen)


def put_back(site: Site, amount: float, chance: random.Random) -> Effect:
    """The bulb is where and as it was."""
    return Effect(replace(site, bulb_held=None), "The bulb is back on the line as it sat before.")


def turn_spring(site: Site, amount: float, chance: random.Random) -> Effect:
    """The spring presses more by so many turns in."""
    return Effect(replace(site, spring=site.spring + amount * _TURN), "Turned. The valve needs its time to settle.")


def cover(site: Site, amount: float, chance: random.Random) -> Effect:
    """A share of the outdoor coil gets no air.

    Raises:
        InputError: nothing, or nearly all of it.
    """
    if not 0.0 < amount <= 0.7:
        raise InputError("Cover some of the coil, up to 70 %: such as 30 %.")
    return Effect(replace(site, covered=amount), "Cardboard stands before part of the outdoor coil.")


def uncover(site: Site, amount: float, chance: random.Random) -> Effect:
    """The outdoor coil gets its air again."""
    return Effect(replace(site, covered=0.0), "The outdoor coil is free again.")


# ---------------------------------------------------------------------------- refrigerant


def tool(name: str, seen: str) -> Work:
    """A tool is set up."""

    def work(site: Site, amount: float, chance: random.Random) -> Effect:
        return Effect(replace(site, tools=site.tools | {name}), seen)

    return work


def add(site: Site, amount: float, chance: random.Random) -> Effect:
    """So much refrigerant [kg] goes in; without a scale, more or less.

    Raises:
        InputError: the circuit is empty, or nothing goes in.
    """
    if site.empty:
        raise InputError("The circuit is empty. After a vacuum the charge is weighed in.")
    if amount <= 0.0:
        raise InputError("Say how much goes in, such as 0.5 lb.")
    seen = f"{pounds(amount)} went in, by the scale."
    if SCALE not in site.tools:
        amount *= chance.uniform(*_BY_FEEL)
        seen = "Some went in. Without a scale nobody knows how much it was."
    return Effect(replace(site, added=site.added + amount / sound_charge(site)), seen)


def recover(site: Site, amount: float, chance: random.Random) -> Effect:
    """So much refrigerant [kg] comes out: into a cylinder, or without the machine into the air.

    Raises:
        InputError: the circuit is empty, or nothing comes out, or more than there is.
    """
    if site.empty:
        raise InputError("There is nothing left to recover.")
    if amount <= 0.0:
        raise InputError("Say how much comes out, such as 0.5 lb.")
    known = SCALE in site.tools
    really = amount if known else amount * chance.uniform(*_BY_FEEL)
    if really > 0.8 * in_it(site):
        raise InputError("That is nearly all that is in it. Recover the whole charge instead.")
    less = replace(site, added=site.added - really / sound_charge(site))
    if RECOVERY not in site.tools:
        return Effect(replace(less, lost=site.lost + really), "It went into the air. That is against the law.")
    seen = f"{pounds(amount)} in the recovery cylinder, by the scale."
    return Effect(less, seen if known else "Some is in the recovery cylinder. Without a scale nobody knows how much.")


def in_it(site: Site) -> float:
    """Refrigerant in the circuit [kg], whatever is wrong with the charge included."""
    if site.empty:
        return 0.0
    wrong = site.severity(fault="overcharge") - site.severity(fault="undercharge")
    return max(1.0 + site.added + wrong, 0.0) * sound_charge(site)


def recover_all(site: Site, amount: float, chance: random.Random) -> Effect:
    """Nothing is left in the circuit.

    Raises:
        InputError: it is empty.
    """
    if site.empty:
        raise InputError("There is nothing left to recover.")
    held = in_it(site)
    if RECOVERY not in site.tools:
        lost = replace(_without_charge(site), lost=site.lost + held)
        return Effect(lost, "It all went into the air. That is against the law.")
    if SCALE not in site.tools:
        return Effect(_without_charge(site), "It all came out, unweighed.")
    return Effect(replace(_without_charge(site), came_out=held), f"{pounds(held)} came out, by the scale.")


def _without_charge(site: Site) -> Site:
    """Without refrigerant whatever was wrong with its amount is gone; a foreign gas leaves with the vacuum alone."""
    left = tuple(one for one in site.hidden if one.had.fault.name not in ("undercharge", "overcharge"))
    return replace(
        site, hidden=left, added=-1.0, empty=True, evacuated=True, running=False, bulb_held=None, came_out=None
    )


def open_circuit(site: Site) -> Effect:
    """The circuit is opened to air; where it was not emptied before, all that is in it is lost."""
    if site.empty:
        return Effect(replace(site, evacuated=False), "")
    lost = replace(_without_charge(site), lost=site.lost + in_it(site), evacuated=False)
    return Effect(
        lost, "It was opened under pressure: the charge went into the air, and somebody could have been hurt."
    )


def evacuate(site: Site, amount: float, chance: random.Random) -> Effect:
    """A vacuum stands in the circuit, and every foreign gas is gone.

    Raises:
        InputError: there is refrigerant in it.
    """
    if not site.empty:
        raise InputError("There is refrigerant in it. It is recovered before a vacuum pump is connected.")
    left = tuple(one for one in site.hidden if one.had.fault.name != "noncondensables")
    return Effect(replace(site, hidden=left, evacuated=True), "Below 500 micron, and it holds.")


def weigh_in(site: Site, amount: float, chance: random.Random) -> Effect:
    """The plate's charge, or so much [kg], goes into an empty circuit, and it runs.

    Raises:
        InputError: there is refrigerant in it, or the amount makes no sense.
    """
    if not site.empty:
        raise InputError("There is refrigerant in it. Recover it first, or add to it.")
    right = sound_charge(site)
    share = (amount or right) / right
    if not 0.4 <= share <= 1.6:
        raise InputError(f"The plate asks for {pounds(right)}.")
    seen = f"{pounds(share * right)} went in, by the scale. It runs."
    if SCALE not in site.tools:
        share *= chance.uniform(*_BY_FEEL_WHOLE)
        seen = "It is charged by feel; without a scale nobody knows how much it was. It runs."
    filled = replace(site, added=share - 1.0, empty=False, running=True)
    if not site.evacuated:
        seen += " Nobody had pulled a vacuum."
        if not site.severity(fault="noncondensables"):
            air = Hidden("noncondensables", PresentFault(FAULTS["noncondensables"], _AIR_LEFT), "charge")
            filled = replace(filled, hidden=(*filled.hidden, air))
    return Effect(filled, seen)
