"""The end of a practice call: what it was, what each reading was saying, the score, and the trees' way beside one's.

All of it follows from the call, what was done, and the trees.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import zip_longest
from textwrap import wrap
from typing import Any, Final, Literal

from assistant import doubt
from assistant.call.headless import state_by_name
from assistant.call.library import Library
from assistant.call.state import State
from assistant.call.walk import Conversation
from assistant.call.wording import ending_of
from assistant.catalogue.catalogue import Catalogue
from assistant.errors import CoilsideError
from assistant.practice.outcomes.outcomes import families
from assistant.practice.training.exercises import severity_words
from assistant.practice.training.history import Moment, circuit_of, done_steps, first_repair
from assistant.practice.training.kept import SetCall
from assistant.practice.training.meanings import WEATHER, meaning
from assistant.practice.training.scoring import SOUND, Done, Score, Verdict, score, verdict
from assistant.practice.training.steps import trees_way
from assistant.practice.visit.amounts import minute_words
from assistant.practice.visit.instruments import instrument_of
from assistant.practice.visit.scenario import Scenario
from assistant.practice.visit.site import Site, steady
from assistant.quantity import UnitSystem, show
from assistant.worksheet.showing import display_for

Standing = Literal["low", "in range", "high"]

WIDE: Final = 100
"""Columns from which on both ways stand side by side."""
_GAP = 3


@dataclass(frozen=True, slots=True)
class Saying:
    """What one reading or worked number was saying: as it was, and as it would be on a sound system."""

    name: str
    title: str
    shown: str
    sound: str
    standing: Standing
    means: str


@dataclass(frozen=True)
class CallReview:
    """A practice call that is over: `own` and `trees` are both ways, `trees_end` is where the trees ended.

    `trees_verdict` says whether that is right. `mended` is what the trainee put right, `before_repair` the minutes
    until the first repair began, `None` where there was none.
    """

    call: SetCall
    score: Score
    hidden: tuple[tuple[str, str, str], ...]
    sayings: tuple[Saying, ...]
    own: tuple[Done, ...]
    trees: tuple[Done, ...]
    trees_end: str
    trees_minutes: float
    named: tuple[str, ...]
    mended: tuple[str, ...] = ()
    trees_verdict: Verdict = "right"
    before_repair: float | None = None


def review(
    library: Library,
    call: SetCall,
    moments: Sequence[Moment],
    named: Sequence[str] | None,
    units: UnitSystem = "us",
    skipped: Sequence[str] = (),
) -> CallReview:
    """The review of a call after what was done; `named` are the causes, `None` where the trainee gave up.

    `skipped` are further cautions that were passed over.

    Raises:
        UnknownNameError: the tree of the call is not there any more.
    """
    catalogue, scenario = library.catalogue, call.scenario
    own = done_steps(moments, catalogue, units)
    way = trees_way(library, scenario)
    last = moments[-1].after if moments else None
    found = score(
        scenario.causes,
        named,
        own,
        last.minute if last else 0.0,
        last.site.lost if last else 0.0,
        call.minutes,
        families(catalogue.causes),
    )
    return CallReview(
        call=call,
        score=replace(found, skipped=(*found.skipped, *skipped)),
        hidden=tuple(_hidden(scenario, catalogue)),
        sayings=tuple(sayings(catalogue, scenario, moments, units)),
        own=own,
        trees=done_steps(way.moments, catalogue, units),
        trees_end=ending_of(way.conversation),
        trees_minutes=way.minutes,
        named=tuple(cause_words(name, catalogue) for name in found.named),
        mended=tuple(
            cause_words(one.cause, catalogue)
            for one in scenario.site.hidden
            if last is not None and one not in last.site.hidden
        ),
        trees_verdict=verdict(scenario.causes, _causes_named(way.conversation), families(catalogue.causes)),
        before_repair=first_repair(moments),
    )


def _causes_named(conversation: Conversation) -> tuple[str, ...] | None:
    """Return what the trees named; `None` where they end undecided."""
    outcome = conversation.outcome
    if outcome is None or outcome.kind == "undecided":
        return None
    return (outcome.cause or SOUND,)


def cause_words(name: str, catalogue: Catalogue) -> str:
    """Return a cause in words."""
    if name == SOUND:
        return "nothing is wrong"
    cause = catalogue.causes.get(name)
    return cause.title if cause else name


def _hidden(scenario: Scenario, catalogue: Catalogue) -> Iterator[tuple[str, str, str]]:
    """Each hidden cause: its title, how much of it, and why the readings look so."""
    for one in scenario.site.hidden:
        cause = catalogue.causes.get(one.cause)
        yield cause_words(one.cause, catalogue), severity_words(one.had), cause.why if cause else ""


# ---------------------------------------------------------------------------- what the readings were saying


def sayings(catalogue: Catalogue, scenario: Scenario, moments: Sequence[Moment], units: UnitSystem) -> Iterator[Saying]:
    """Yield what was read of the system as it was found, and what follows from it, against a sound one."""
    read = readings_as_found(scenario, moments)
    sound = steady(replace(scenario.site, hidden=())).readings
    atmosphere = scenario.system.conditions.atmosphere
    usual = {name: show(value, instrument_of(name).unit(), atmosphere) for name, value in sound.items()}
    try:
        own = state_by_name(catalogue, {**scenario.facts, **read})
        other = state_by_name(catalogue, {**scenario.facts, **{name: usual[name] for name in read if name in usual}})
    except CoilsideError:
        return
    display = display_for(catalogue, units, own.sheet.known)
    names = [*(name for name in read if name not in WEATHER), *(one.name for one in own.sheet.all_numbers())]
    for name in names:
        said = meaning(name, heating=scenario.site.wish.mode == "heating")
        if said is not None and (pair := _pair(name, own, other)) is not None:
            value, wanted = pair
            standing = _standing(value, wanted)
            low, high = said
            means = {"low": low, "in range": "", "high": high}[standing]
            title = catalogue.title_of(name)
            yield Saying(name, title, display.with_doubt(name, value), display.value(name, wanted), standing, means)


def readings_as_found(scenario: Scenario, moments: Sequence[Moment]) -> dict[str, str]:
    """The last reading of each name while the system ran as it was found, as typed; at rest, the standing pressure.

    Where none was taken then, those of the state in which it was left.
    """
    left = moments[-1].after.site if moments else scenario.site
    found = _read_in(scenario.site, moments)
    return found if found.keys() - WEATHER else _read_in(circuit_of(replace(left, running=True)), moments)


def _read_in(wanted: Site, moments: Sequence[Moment]) -> dict[str, str]:
    found: dict[str, str] = {}
    for one in moments:
        site, taken = one.before.site, one.taken
        as_it_was = circuit_of(replace(site, running=True)) == wanted
        is_right = site.running or one.event.name == "standing_pressure"
        if taken is not None and taken.value is not None and as_it_was and is_right and not taken.off_pipe:
            found[one.event.name] = taken.text("us")
    return found


def _pair(name: str, own: State, other: State) -> tuple[doubt.Uncertain, doubt.Uncertain] | None:
    value, wanted = own.quantity(name), other.quantity(name)
    return None if value is None or wanted is None else (value, wanted)


def _standing(value: doubt.Uncertain, wanted: doubt.Uncertain) -> Standing:
    moved, within = doubt.nominal(value) - doubt.nominal(wanted), doubt.expanded(value)
    return "low" if moved < -within else "high" if moved > within else "in range"


# ---------------------------------------------------------------------------- in words


def what_it_was(found: CallReview) -> Iterator[str]:
    """Yield the hidden causes, what was named, and whether that was right."""
    if not found.hidden:
        yield "Nothing was wrong with this system."
    for title, how_much, why in found.hidden:
        yield f"{title}: {how_much}."
        if why:
            yield f"  {why}"
    named = ", ".join(found.named) or "nothing"
    yield f"You named: {named} - {found.score.verdict}."
    if found.mended:
        yield f"You put right: {', '.join(found.mended)}."


def score_lines(found: CallReview) -> Iterator[str]:
    """Yield the five parts of the score, one below the other."""
    one = found.score
    allowed = "" if one.allowed is None else f", {one.allowed:.0f} allowed{'' if one.in_time else ': too long'}"
    yield f"Cause: {one.verdict}"
    repair, only = "", ""
    if found.before_repair is not None:
        repair, only = f", {minute_words(found.before_repair)} before the first repair", ", which repair nothing"
    trees = f"the trees: {minute_words(found.trees_minutes)}{only}"
    yield f"Time: {minute_words(one.minutes)} minutes{repair}{allowed} ({trees})"
    yield f"Steps: {one.steps} (the trees: {sum(step.sort != 'wait' for step in found.trees)})"
    if found.trees_verdict == "partly right":
        yield "  The trees' way finds only part of it; its minutes and steps are for that part."
    elif found.trees_verdict != "right":
        yield f"  The trees' way does not find it ({found.trees_end or 'open'}): its minutes and steps are no measure."
    yield f"Needless steps: {len(one.needless)}"
    # Of the same taken again and again, the last line says it all.
    yield from (f"  {line}" for line in {line.partition(": taken")[0]: line for line in one.needless}.values())
    yield f"Cautions skipped: {len(one.skipped)}"
    if one.skipped:
        yield f"  {_names(one.skipped)}"
    lost = f"{1000.0 * one.lost:.0f} g" if one.lost else "none"
    yield f"Refrigerant lost to the air: {lost}"


def _names(cautions: Sequence[str]) -> str:
    return ", ".join(name.replace("_", " ") for name in dict.fromkeys(cautions))


def saying_lines(found: CallReview) -> Iterator[str]:
    """Yield what each reading was saying."""
    for one in found.sayings:
        means = f": {one.means}" if one.means else ""
        yield f"{one.title} {one.shown}, {one.standing} (sound here: {one.sound}){means}."
    if not found.sayings:
        yield "No reading was taken that tells anything of the circuit."


def way_lines(steps: Sequence[Done]) -> Iterator[str]:
    """Yield a way step by step, each with its minute."""
    for one in steps:
        shown = f": {one.shown}" if one.shown else ""
        skipped = f" [cautions skipped: {_names(one.skipped)}]" if one.skipped else ""
        yield f"{minute_words(one.minute):>4}  {one.words}{shown}{skipped}"


def ways_lines(found: CallReview, width: int) -> Iterator[str]:
    """Yield both ways: side by side where there is room, else one below the other; the number is the minute."""
    ends = (
        f"      named: {', '.join(found.named) or 'nothing'}",
        f"      end: {found.trees_end or 'open'}",
    )
    own, trees = (*way_lines(found.own), ends[0]), (*way_lines(found.trees), ends[1])
    heads = (
        f"Your way, {minute_words(found.score.minutes)} minutes",
        f"The trees' way, {minute_words(found.trees_minutes)} minutes",
    )
    if width < WIDE:
        yield from (heads[0], *own, "", heads[1], *trees)
        return
    column = (width - _GAP) // 2
    yield f"{heads[0]:<{column}}{' ' * _GAP}{heads[1]}"
    for left, right in zip_longest(_cut_line(own, column), _cut_line(trees, column), fillvalue=""):
        yield f"{left:<{column}}{' ' * _GAP}{right}".rstrip()


def _cut_line(lines: Sequence[str], width: int) -> list[str]:
    return [part for line in lines for part in wrap(line, width, subsequent_indent="      ", drop_whitespace=False)]


def review_lines(found: CallReview, width: int = 80) -> Iterator[str]:
    """Yield the whole review as text."""
    yield "WHAT IT WAS"
    yield from (f"  {line}" for line in what_it_was(found))
    yield from ("", "THE SCORE")
    yield from (f"  {line}" for line in score_lines(found))
    yield from ("", "WHAT THE READINGS WERE SAYING")
    yield from (f"  {line}" for line in saying_lines(found))
    yield from ("", "BOTH WAYS (the number is the minute of the visit)")
    yield from ways_lines(found, width)


# ---------------------------------------------------------------------------- for other programs


def review_values(found: CallReview) -> dict[str, Any]:
    """Return the review as plain values; minutes, and refrigerant in kg."""
    worth, call = found.score, found.call
    return {
        "seed": call.scenario.seed,
        "difficulty": call.scenario.difficulty,
        "list": call.listed or None,
        "exercise": call.title or None,
        "trainee": call.trainee or None,
        "truth": [{"cause": hidden.cause, "severity": hidden.had.severity} for hidden in call.scenario.site.hidden],
        "named": list(worth.named),
        "verdict": worth.verdict,
        "put_right": list(found.mended),
        "minutes": round(worth.minutes, 1),
        "minutes_before_repair": None if found.before_repair is None else round(found.before_repair, 1),
        "minutes_allowed": worth.allowed,
        "steps": worth.steps,
        "needless": list(worth.needless),
        "cautions_skipped": list(worth.skipped),
        "refrigerant_lost_kg": round(worth.lost, 4),
        "readings": [
            {
                "name": said.name,
                "shown": said.shown,
                "sound": said.sound,
                "standing": said.standing,
                "means": said.means,
            }
            for said in found.sayings
        ],
        "own_way": [_step_values(step) for step in found.own],
        "trees_way": [_step_values(step) for step in found.trees],
        "trees_end": found.trees_end,
        "trees_verdict": found.trees_verdict,
        "trees_minutes": round(found.trees_minutes, 1),
    }


def _step_values(step: Done) -> dict[str, Any]:
    said = {"sort": step.sort, "name": step.name, "words": step.words, "shown": step.shown}
    return {"minute": round(step.minute, 1), **said}
