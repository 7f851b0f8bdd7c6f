"""Everything that can be done at a practice site: its words, how long it takes, its cautions, and what it changes.

Mending acts name the places that they put right; what others do stands in `doing`. Cautions are the catalogue's,
minutes are chosen.
"""

import random
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final

from assistant.errors import InputError, UnknownNameError
from assistant.practice.visit import doing
from assistant.practice.visit.amounts import FORMS, Amount, amount_of
from assistant.practice.visit.doing import Effect, Work
from assistant.practice.visit.settling import Pace
from assistant.practice.visit.site import Site, guises
from assistant.quantity import fahrenheit
from assistant.source.nearest import nearest

HAND: Final = fahrenheit(90.0)
"""Temperature [K] of a bulb in a bare hand; chosen."""
ICE: Final = fahrenheit(32.0)
"""Temperature [K] of a bulb in ice and water."""

_HOSES = ("hoses_and_liquid",)
_PANEL, _OUT = ("live_panels", "moving_parts"), ("hoses_and_liquid", "refrigerant_release")
_OPEN = ("opening_circuit", "refrigerant_release")
_BRAZE = (*_OPEN, "brazing", "pressure_test")


@dataclass(frozen=True, slots=True)
class SiteAct:
    """Something to do: its words as an order, how long it takes [min], and the cautions that come before it.

    `mends` are the places that it puts right; `found` is said where there was something, `fine` where there was not.
    `pauses`: the unit is off meanwhile. `opens`: the circuit is opened. `device` is the one that has what it is for.
    """

    name: str
    title: str
    minutes: float
    cautions: tuple[str, ...] = ()
    mends: tuple[str, ...] = ()
    found: str = ""
    fine: str = ""
    pace: Pace = "start"
    pauses: bool = False
    opens: bool = False
    amount: Amount = ""
    device: str = ""
    work: Work | None = None


def act_named(name: str) -> SiteAct:
    """Return the act of a name.

    Raises:
        UnknownNameError: there is none.
    """
    act = ACTS.get(name)
    if act is None:
        raise UnknownNameError("thing to do", name[:60], nearest(name[:60], list(ACTS)))
    return act


def acts_for(site: Site) -> tuple[SiteAct, ...]:
    """What can be done at such a system: with its metering device, and with a reversing valve only on a heat pump."""
    return tuple(act for act in _LIST if not _missing(act, site))


def _missing(act: SiteAct, site: Site) -> str:
    """Return what an act needs and this system does not have; empty where it has it."""
    if act.device and act.device != site.wish.device:
        return "expansion valve" if act.device == "txv" else "fixed orifice"
    places = {one.place for one in guises(heat_pump=True) if one.heat_pump}
    heat_pump_only = bool(act.mends) and set(act.mends) <= places
    return act.title.rpartition("the ")[2] if heat_pump_only and not site.wish.is_heat_pump else ""


def effect(act: SiteAct, site: Site, amount: float | None, chance: random.Random) -> Effect:
    """Return the site after an act with an amount: kg, a share of 1, or turns. `chance` is for what goes by feel.

    Raises:
        InputError: it cannot be done as things stand, or its amount is missing.
    """
    if missing := _missing(act, site):
        raise InputError(f"This system has no {missing}.")
    if act.amount not in ("", "mass or plate") and amount is None:
        raise InputError(f"To {act.title}, say how much: {FORMS[act.amount]}.")
    if act.work is not None:
        return act.work(site, amount or 0.0, chance)
    opened = doing.open_circuit(site) if act.opens else Effect(site, "")
    there = any(one.place in act.mends for one in site.hidden)
    words = f"{opened.seen} {act.found if there else act.fine}".strip()
    return Effect(opened.site.mended(*act.mends), words)


def read_amount(act: SiteAct, text: str) -> float | None:
    """Return an amount as typed in kg, as a share of 1, or in turns; `None` where nothing is typed.

    Raises:
        InputError: it is none that this act takes.
    """
    return amount_of(act.amount, act.title, text)


def _mend(
    name: str, title: str, minutes: float, cautions: Iterable[str], place: str, said: tuple[str, str], device: str = ""
) -> SiteAct:
    """Something is put right, with the power off where cautions ask for it."""
    off = tuple(cautions)
    return SiteAct(name, title, minutes, off, (place,), *said, pauses=bool(off), device=device)


def _repair(
    name: str,
    title: str,
    minutes: float,
    cautions: Iterable[str],
    places: tuple[str, ...],
    said: tuple[str, str],
    device: str = "",
) -> SiteAct:
    """Something is put right in the open circuit."""
    found, fine = said
    return SiteAct(name, title, minutes, tuple(cautions), places, found, fine, "stop", opens=True, device=device)


_RUNNING: Final = (
    SiteAct("stop", "stop it and lock the disconnect", 2.0, ("live_panels",), pace="stop", work=doing.stop),
    SiteAct("start", "start it", 1.0, ("moving_parts",), work=doing.start),
    SiteAct(
        "thaw",
        "let the ice melt with the blower on",
        90.0,
        pauses=True,
        work=doing.just("All is melted. It runs again."),
    ),
)
_AIR: Final = (
    _mend(
        "change_filter",
        "change the air filter",
        5.0,
        _PANEL,
        "filter",
        ("A new one is in.", "A new one is in; the old one let the air through."),
    ),
    _mend(
        "clean_indoor_coil",
        "clean the indoor coil",
        90.0,
        (*_PANEL, "washing"),
        "indoor_coil",
        ("Lint and dirt came off; it is clear.", "It was clean."),
    ),
    _mend(
        "mend_blower",
        "put the blower right",
        45.0,
        (*_PANEL, "capacitor"),
        "blower",
        ("Clean wheel, right speed, right way round.", "It was right."),
    ),
    _mend(
        "open_ducts",
        "open registers and clear the ducts",
        20.0,
        (),
        "ducts",
        ("Registers are open, the crushed duct is round again.", "They were open."),
    ),
    _mend(
        "clean_outdoor_coil",
        "clean the outdoor coil",
        60.0,
        (*_PANEL, "washing"),
        "outdoor_coil",
        ("Dirt came out, between the rows as well.", "It was clean."),
    ),
    _mend(
        "mend_outdoor_fan",
        "put the outdoor fan right",
        60.0,
        (*_PANEL, "capacitor"),
        "outdoor_fan",
        ("Right blade, right speed.", "It was right."),
    ),
    SiteAct(
        "cover_outdoor_coil",
        "cover part of the outdoor coil",
        3.0,
        ("moving_parts",),
        pace="air",
        amount="share",
        work=doing.cover,
    ),
    SiteAct("uncover_outdoor_coil", "uncover the outdoor coil", 2.0, ("moving_parts",), pace="air", work=doing.uncover),
    SiteAct(
        "insulate_suction_line",
        "insulate the suction line",
        30.0,
        mends=("suction_insulation",),
        found="It is insulated all the way.",
        fine="It was insulated.",
        pace="air",
    ),
)
_VALVE: Final = (
    SiteAct(
        "strap_bulb",
        "clean, strap and insulate the bulb",
        20.0,
        _PANEL,
        pace="bulb",
        device="txv",
        pauses=True,
        work=doing.strap,
    ),
    SiteAct(
        "move_bulb",
        "move the bulb to its right place",
        25.0,
        _PANEL,
        ("bulb_place", "bulb_strap"),
        pace="bulb",
        device="txv",
        pauses=True,
        work=doing.move,
    ),
    SiteAct(
        "warm_bulb",
        "hold the bulb in the hand",
        2.0,
        ("floodback",),
        pace="bulb",
        device="txv",
        work=doing.hold(HAND, "The bulb is off the line and in the hand."),
    ),
    SiteAct(
        "ice_bulb",
        "hold the bulb in ice water",
        4.0,
        ("chilled_bulb",),
        pace="bulb",
        device="txv",
        work=doing.hold(ICE, "The bulb is off the line and in ice water."),
    ),
    SiteAct("put_bulb_back", "put the bulb back", 1.0, pace="bulb", device="txv", work=doing.put_back),
    SiteAct(
        "tap_valve",
        "tap and warm the valve's body",
        3.0,
        ("floodback",),
        pace="bulb",
        device="txv",
        work=doing.just("Nothing lets go."),
    ),
    SiteAct(
        "turn_spring",
        "turn the superheat spring",
        10.0,
        pace="charge",
        amount="turns",
        device="txv",
        work=doing.turn_spring,
    ),
    SiteAct(
        "set_spring",
        "set the spring where the maker set it",
        15.0,
        mends=("spring",),
        found="It was far off; it is back.",
        fine="It was there.",
        pace="charge",
        device="txv",
    ),
)
_CHARGE: Final = (
    SiteAct("set_up_scale", "set up the scale", 3.0, work=doing.tool(doing.SCALE, "The cylinder stands on the scale.")),
    SiteAct(
        "set_up_recovery",
        "set up the recovery machine",
        10.0,
        _OUT,
        work=doing.tool(doing.RECOVERY, "Recovery machine and cylinder are connected."),
    ),
    SiteAct("add_charge", "add refrigerant", 8.0, _HOSES, pace="charge", amount="mass", work=doing.add),
    SiteAct("recover_charge", "recover some refrigerant", 10.0, _OUT, pace="charge", amount="mass", work=doing.recover),
    SiteAct(
        "recover_all",
        "recover the whole charge",
        40.0,
        (*_OUT, "opening_circuit"),
        pace="stop",
        work=doing.recover_all,
    ),
    SiteAct("evacuate", "pull a vacuum", 60.0, ("opening_circuit",), pace="stop", work=doing.evacuate),
    SiteAct(
        "weigh_in",
        "weigh in the charge",
        20.0,
        (*_HOSES, "opening_circuit"),
        amount="mass or plate",
        work=doing.weigh_in,
    ),
)
_REPAIRS: Final = (
    _repair(
        "change_drier",
        "change the filter drier",
        60.0,
        _BRAZE,
        ("drier",),
        ("A new drier is in; the old one was plugged.", "A new drier is in; the old one was free."),
    ),
    _repair(
        "mend_liquid_line",
        "replace a piece of the liquid line",
        60.0,
        _BRAZE,
        ("liquid_line",),
        ("The kink is out.", "The piece that came out was sound."),
    ),
    _repair(
        "clean_strainer",
        "clean the strainer at the valve",
        50.0,
        _OPEN,
        ("strainer",),
        ("It was full of grit.", "It was clean."),
        "txv",
    ),
    _repair(
        "change_valve",
        "change the expansion valve",
        80.0,
        _BRAZE,
        ("valve", "strainer", "spring", "bulb_place", "bulb_strap"),
        ("A new valve of the right kind is in.", "A new valve is in; the old one was sound."),
        "txv",
    ),
    _repair(
        "mend_equalizer",
        "clear or replace the equalizer line",
        45.0,
        _BRAZE,
        ("equalizer",),
        ("It is open now.", "It was open."),
        "txv",
    ),
    _repair(
        "move_equalizer",
        "move the equalizer's joint past the bulb",
        60.0,
        _BRAZE,
        ("equalizer_joint",),
        ("It joins past the bulb now.", "It joined past the bulb."),
        "txv",
    ),
    _repair(
        "change_orifice",
        "put in the right orifice, well seated",
        40.0,
        _OPEN,
        ("orifice",),
        ("The right one is in and seated.", "It was the right one, well seated."),
        "fixed_orifice",
    ),
    _repair(
        "change_compressor",
        "change the compressor",
        180.0,
        (*_BRAZE, "live_panels", "capacitor"),
        ("compressor",),
        ("A new compressor is in.", "A new compressor is in; the old one pumped well."),
    ),
    _repair(
        "change_reversing_valve",
        "change the reversing valve",
        180.0,
        _BRAZE,
        ("reversing_valve",),
        ("A new one is in.", "A new one is in; the old one was tight."),
    ),
    _repair(
        "change_check_valve",
        "change the check valve",
        90.0,
        _BRAZE,
        ("check_valve",),
        ("A new one is in.", "A new one is in; the old one was tight."),
    ),
)
_LIST: Final = (*_RUNNING, *_AIR, *_VALVE, *_CHARGE, *_REPAIRS)

ACTS: Final[Mapping[str, SiteAct]] = {act.name: act for act in _LIST}
"""Everything that can be done, by name."""
