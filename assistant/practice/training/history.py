"""What was done on a visit, event by event, with what came of each: for the record, the score and the review."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

from assistant.catalogue.catalogue import Catalogue
from assistant.practice.training.scoring import Done, Sort
from assistant.practice.visit.acts import SiteAct, act_named
from assistant.practice.visit.doing import pounds
from assistant.practice.visit.events import Event, EventKind
from assistant.practice.visit.site import Site
from assistant.practice.visit.visit import Did, TakenReading, Visit
from assistant.quantity import UnitSystem, plain

SETTLED_AFTER = 15.0
"""Minutes after a change from which on readings count as settled; common practice."""
_CHARGING = frozenset({"add_charge", "recover_charge"})
_RIGHT_CHARGE = 0.03
_REPAIRS = frozenset({"strap_bulb", "weigh_in", "recover_all"}) | _CHARGING
"""Acts that repair without putting right one place alone."""


@dataclass(frozen=True, slots=True)
class Moment:
    """One event with the visit before and after it, and what came of it.

    `asked` says that a tree asked for it; `skipped` are cautions that belonged before it and were not acknowledged.
    """

    event: Event
    before: Visit
    after: Visit
    taken: TakenReading | None = None
    choice: str | None = None
    did: Did | None = None
    asked: bool = False
    skipped: tuple[str, ...] = ()

    @property
    def minute(self) -> float:
        """The minute at which it was over."""
        return self.after.minute


def apply_event(visit: Visit, event: Event, *, asked: bool = False, skipped: tuple[str, ...] = ()) -> Moment:
    """Let an event happen.

    Raises:
        CoilsideError: it cannot be at its place.
    """
    match event.kind:
        case "take":
            after, taken = visit.take(event.name, event.amount)
            return Moment(event, visit, after, taken=taken, asked=asked, skipped=skipped)
        case "reseat":
            after, taken = visit.reseat(event.name)
            return Moment(event, visit, after, taken=taken, asked=asked, skipped=skipped)
        case "look":
            after, choice = visit.look(event.name)
            return Moment(event, visit, after, choice=choice, asked=asked, skipped=skipped)
        case "act":
            after, did = visit.act(event.name, event.amount, event.acknowledged)
            return Moment(event, visit, after, did=did, asked=asked, skipped=(*skipped, *did.skipped))
        case "wait":
            return Moment(event, visit, visit.wait(event.amount or 0.0), asked=asked, skipped=skipped)


def circuit_of(site: Site) -> Site:
    """Return the site without what no reading feels: tools, what was lost, and what the scale showed."""
    return replace(site, tools=frozenset(), lost=0.0, came_out=None)


def first_repair(moments: Sequence[Moment]) -> float | None:
    """Return the minute at which the first repair, or work at the charge, began; `None` where there was none."""
    repairs = (one for one in moments if one.did and (one.did.act.mends or one.event.name in _REPAIRS))
    return next((one.before.minute for one in repairs), None)


def done_steps(moments: Sequence[Moment], catalogue: Catalogue, units: UnitSystem = "us") -> tuple[Done, ...]:
    """Return what was done, in words and ready to be scored."""
    state, changed, found = 0, -SETTLED_AFTER, []
    for one in moments:
        settles = one.minute - changed < SETTLED_AFTER
        found.append(
            Done(
                minute=one.minute,
                sort=_SORTS[one.event.kind],
                name=one.event.name,
                words=words_of(one, catalogue),
                shown=result_words(one, catalogue, units),
                state=state,
                settles=settles,
                idle=not one.asked and _is_idle(one),
                skipped=one.skipped,
            )
        )
        if circuit_of(one.before.site) != circuit_of(one.after.site):
            state, changed = state + 1, one.minute
    return tuple(found)


_SORTS: Final[Mapping[EventKind, Sort]] = {
    "take": "reading",
    "reseat": "reading",
    "look": "observation",
    "act": "act",
    "wait": "wait",
}


def words_of(one: Moment, catalogue: Catalogue) -> str:
    """Return what was done, in words."""
    event = one.event
    match event.kind:
        case "take" | "look":
            return catalogue.title_of(event.name)
        case "reseat":
            return f"{catalogue.title_of(event.name)}, its probe put on anew"
        case "act":
            amount = amount_words(act_named(event.name), event.amount)
            return f"{act_named(event.name).title.capitalize()}{f': {amount}' if amount else ''}"
        case "wait":
            minutes = plain(event.amount or 0.0)
            return f"Wait {minutes} minute{'' if minutes == '1' else 's'}"


def result_words(one: Moment, catalogue: Catalogue, units: UnitSystem) -> str:
    """Return what came of it, in words; empty where nothing did."""
    if one.taken is not None:
        return one.taken.text(units)
    if one.did is not None:
        return one.did.seen
    if one.event.kind == "look":
        entry = catalogue.observations.get(one.event.name)
        return (
            "cannot be told here"
            if one.choice is None
            else entry.choices.get(one.choice, one.choice)
            if entry
            else one.choice
        )
    return one.after.tripped if one.after.tripped != one.before.tripped else ""


def amount_words(act: SiteAct, amount: float | None) -> str:
    """Return an amount as a person reads it."""
    if amount is None:
        return ""
    if act.amount.startswith("mass"):
        return pounds(amount)
    return f"{100.0 * amount:.0f} %" if act.amount == "share" else f"{plain(amount)} turns"


def _is_idle(one: Moment) -> bool:
    """Tell whether an act put right what was right already."""
    if one.did is None:
        return False
    site = one.before.site
    if one.event.name in _CHARGING:
        return not any(hidden.place == "charge" for hidden in site.hidden) and abs(site.added) < _RIGHT_CHARGE
    mends = one.did.act.mends
    return bool(mends) and not any(hidden.place in mends for hidden in site.hidden)
