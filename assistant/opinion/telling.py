"""An opinion in a tech's words, and as plain values for other programs."""

import math
import re
import textwrap
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any, Final

from assistant.catalogue.catalogue import Catalogue
from assistant.doubt import COVERAGE
from assistant.errors import CoilsideError
from assistant.opinion.inputs import Situation, as_read
from assistant.opinion.next_steps import NextStep
from assistant.opinion.opinion import Opinion, Suspected
from assistant.opinion.weighing import Predicted, WeighedReading
from assistant.opinion.work import Shift
from assistant.quantity import in_unit, show, spread_in_unit
from assistant.thermo.curves import Saturation, saturation
from assistant.worksheet.showing import Display

_SURE: Final = (
    (0.93, "almost certain"),
    (0.75, "very likely"),
    (0.5, "likely"),
    (0.25, "possible"),
    (0.08, "less likely"),
    (0.0, "unlikely"),
)
"""How sure, in words, from which share on."""
SOUND_WORDS: Final = "Nothing wrong, or too little to matter"
_BAR: Final = 8
_WIDEST: Final = 38
_MOST_TOLD: Final = 5
_BESIDE: Final = 3
_LEAST: Final = 0.005
_TELLS: Final = 0.03
"""How far a reading must shift a cause to be told of."""
_TITLE, _CELL = 19, 11
_PLACES: Final = re.compile(r" \(.*\)")
_TEST_WORDS: Final[Mapping[str, str]] = {"rises": "suction rises", "stays": "suction stays", "falls": "suction falls"}


def sure_words(probability: float) -> str:
    """Return how sure that is, in words."""
    return next(words for least, words in _SURE if probability >= least)


def title_of_cause(catalogue: Catalogue, cause: str) -> str:
    """Return what a cause is called."""
    found = catalogue.causes.get(cause)
    return found.title if found else cause.replace("_", " ")


def titles(catalogue: Catalogue, one: Suspected) -> str:
    """Return what is suspected, the second of two causes with it."""
    first = title_of_cause(catalogue, one.cause)
    return f"{first}, and: {title_of_cause(catalogue, one.beside)}" if one.beside else first


def opinion_lines(opinion: Opinion, steps: Sequence[NextStep], situation: Situation, display: Display) -> Iterator[str]:
    """Yield an opinion as text: how sure of what, what each would read beside what was measured, what to do next."""
    catalogue, curves = display.catalogue, saturation(situation.facts.refrigerant)
    yield "How well each cause fits everything that was measured and seen:"
    yield from bar_lines(opinion, catalogue)
    fit = tuple(_fit_lines(opinion, curves, display))
    yield from ("", *fit) if fit else ()
    if opinion.taken:
        yield ""
        yield from beside_lines(opinion, curves, display)
    if steps:
        yield ""
        yield "What to do next, the best for its minutes first:"
        for step in steps[:3]:
            yield f"  {step_words(step, curves, display)}"


def bar_lines(opinion: Opinion, catalogue: Catalogue) -> Iterator[str]:
    """Yield a bar for each cause that weighs something, and for a sound unit."""
    told = [
        (titles(catalogue, one), one.probability) for one in opinion.causes[:_MOST_TOLD] if one.probability > _LEAST
    ]
    told.append((SOUND_WORDS, opinion.sound))
    told.sort(key=lambda pair: -pair[1])
    wide = min(max(len(words) for words, _ in told), _WIDEST)
    for words, share in told:
        bar = "#" * round(share * _BAR)
        yield f"  {words[:wide]:<{wide}} {share * 100:3.0f} in 100 {bar:<{_BAR}} {sure_words(share)}"


def _fit_lines(opinion: Opinion, curves: Saturation, display: Display) -> Iterator[str]:
    catalogue = display.catalogue
    if not opinion.fits and opinion.causes and opinion.causes[0].beside:
        yield "No single cause fits these readings; two together would."
    elif not opinion.fits:
        yield (
            "Nothing that is known here fits these readings: a mistake of measurement, two faults at once, or something"
            " that is not known here."
        )
    if opinion.worst is not None:
        name = opinion.worst.name
        taken = next(one for one in opinion.taken if one.name == name)
        way = "above" if opinion.worst.off_by > 0.0 else "below"
        expected = Predicted(taken.value - opinion.worst.off_by, 0.0)
        told = _shown(name, expected, curves, display)
        title = catalogue.title_of(name)
        yield f"{title} disagrees most: it lies {way} the {told} that the rest asks for. Measure it again."


def wrap_lines(lines: Iterable[str], width: int) -> Iterator[str]:
    """Yield lines that fit a width, what runs on indented."""
    for line in lines:
        if len(line) <= width:
            yield line
        else:
            yield from textwrap.wrap(line, width, subsequent_indent=" " * (len(line) - len(line.lstrip()) + 2))


def short_words(opinion: Opinion, catalogue: Catalogue) -> str:
    """Return what leads and how sure that is, in a few words."""
    if not opinion.fits and not (opinion.causes and opinion.causes[0].beside):
        return "nothing fits: measure again"
    first = opinion.causes[0] if opinion.causes else None
    if first is None or opinion.sound >= first.probability:
        return f"nothing wrong: {sure_words(opinion.sound)}"
    return f"{titles(catalogue, first)}: {sure_words(first.probability)}"


def agreement_words(opinion: Opinion, cause: str, situation: Situation, display: Display) -> str:
    """Return whether the opinion agrees with a cause that a tree came to, and where not, which reading speaks against.

    Empty where the cause is none that the simulated unit can have.
    """
    catalogue = display.catalogue
    own = next((one for one in opinion.causes if _is_same(catalogue, one.cause, cause)), None)
    if own is None or not opinion.taken:
        return ""
    share = sum(one.probability for one in opinion.causes if _is_same(catalogue, one.cause, cause))
    told = f"{sure_words(share)}, {share * 100:.0f} in 100"
    first = opinion.causes[0]
    if _is_same(catalogue, first.cause, cause) and share >= opinion.sound:
        return f"The second opinion agrees: {title_of_cause(catalogue, cause)} is {told}."
    other, weight = SOUND_WORDS.lower(), opinion.sound
    if first.probability > opinion.sound:
        other, weight = titles(catalogue, first), first.probability
    words = (
        f"The second opinion differs: {other} is {sure_words(weight)}, {weight * 100:.0f} in 100; this cause is {told}."
    )
    curves = saturation(situation.facts.refrigerant)
    name = most_against(opinion, own.cause)
    against = next((taken for taken in opinion.taken if taken.name == name), None)
    if against is None:
        return words
    shown = _shown(against.name, Predicted(against.value, 0.0), curves, display)
    would = _range(against.name, own.predicted[against.name], curves, display)
    title = catalogue.title_of(against.name)
    return f"{words} Most against it: {title} is {shown}, and with this cause it would be {would}."


def most_against(opinion: Opinion, cause: str) -> str:
    """Return the reading that speaks most against a cause, or against a sound unit; empty where none was taken."""
    predicted = next((one.predicted for one in opinion.causes if one.cause == cause), opinion.healthy)
    told = [taken for taken in opinion.taken if taken.name in predicted]
    if not told:
        return ""

    def off(taken: WeighedReading) -> float:
        would = predicted[taken.name]
        return abs(taken.value - would.value) / math.hypot(would.doubt, taken.doubt)

    return max(told, key=off).name


def _is_same(catalogue: Catalogue, one: str, other: str) -> bool:
    """Tell whether two causes are one to gauges where the opinion names only what several share."""
    signs = catalogue.signs
    shared = signs[other].reads_like if other in signs else other
    return one == other or (one == shared and one not in signs)


def leftover_words(
    opinion: Opinion, steps: Sequence[NextStep], situation: Situation, display: Display
) -> Iterator[str]:
    """Yield what stays open where a tree found nothing wrong."""
    if not opinion.taken:
        return
    first = opinion.causes[0] if opinion.causes else None
    if first is None or opinion.sound >= first.probability:
        yield f"The second opinion agrees: {SOUND_WORDS.lower()} is {sure_words(opinion.sound)}."
        return
    share = first.probability
    title = titles(display.catalogue, first)
    yield f"The second opinion is not so sure: {title} is {sure_words(share)}, {share * 100:.0f} in 100."
    yield from _next_lines(steps[:1], situation, display)


def undecided_lines(
    opinion: Opinion, steps: Sequence[NextStep], situation: Situation, display: Display
) -> Iterator[str]:
    """Yield what fits best and what to do next, where a tree came to no end."""
    yield "The second opinion, from everything that was measured and seen:"
    yield from bar_lines(opinion, display.catalogue)
    yield from _next_lines(steps[:2], situation, display)


def _next_lines(steps: Sequence[NextStep], situation: Situation, display: Display) -> Iterator[str]:
    curves = saturation(situation.facts.refrigerant)
    for place, step in enumerate(steps):
        yield f"{'Next' if place == 0 else 'Or'}: {step_words(step, curves, display)}"


def beside_lines(opinion: Opinion, curves: Saturation, display: Display) -> Iterator[str]:
    """Yield what was measured beside what a sound unit and the leading causes would read there."""
    catalogue = display.catalogue
    first = [one for one in opinion.causes[:_BESIDE] if one.probability > _LEAST]
    for place, one in enumerate(first):
        yield f"  {'ABC'[place]}: {titles(catalogue, one)}"
    heads = ["measured", "sound", *("ABC"[: len(first)])]
    yield "  " + f"{'':<{_TITLE}}" + "".join(f"{head:>{_CELL}}" for head in heads)
    for taken in opinion.taken:
        row = [_shown(taken.name, Predicted(taken.value, 0.0), curves, display)]
        row.append(_range(taken.name, opinion.healthy.get(taken.name), curves, display))
        row.extend(_range(taken.name, one.predicted.get(taken.name), curves, display) for one in first)
        yield "  " + _short_title(catalogue.title_of(taken.name)) + "".join(f"{cell:>{_CELL}}" for cell in row)


def _short_title(title: str) -> str:
    """Return a title without its place, as long as a column is wide."""
    return f"{_PLACES.sub('', title)[: _TITLE - 1]:<{_TITLE}}"


def shift_lines(shifts: Sequence[Shift], display: Display) -> Iterator[str]:
    """Yield what each reading says of the causes; one that says nothing beside the others is left out."""
    told = [one for one in shifts if abs(one.for_with - one.for_without) >= _TELLS]
    if told:
        yield "What each reading says beside all the others, in 100:"
    for one in told:
        words = f"  {display.catalogue.title_of(one.name)}: for {_suspect_words(one.speaks_for, display)}"
        words += f" ({100 * one.for_without:.0f} without it, {100 * one.for_with:.0f} with it)"
        if one.against_without - one.against_with >= _TELLS:
            words += f", against {_suspect_words(one.against, display)}"
            words += f" ({100 * one.against_without:.0f}, {100 * one.against_with:.0f})"
        yield f"{words}."


def _suspect_words(cause: str, display: Display) -> str:
    return SOUND_WORDS.lower() if cause == "sound" else title_of_cause(display.catalogue, cause)


def step_words(step: NextStep, curves: Saturation, display: Display) -> str:
    """Return one thing to do next, its minutes, what the two causes that it parts would show, and what to mind."""
    catalogue = display.catalogue
    one, other = (_would(step, cause, curves, display) for cause in step.parts)
    title = catalogue.acts[step.name].title if step.kind == "test" else catalogue.title_of(step.name)
    mind = ", ".join(catalogue.cautions[name].title.lower() for name in step.cautions)
    return f"{title}, {step.minutes:.0f} minutes: {one}; {other}.{f' Mind: {mind}.' if mind else ''}"


def _would(step: NextStep, cause: str, curves: Saturation, display: Display) -> str:
    catalogue = display.catalogue
    words = "a sound unit" if cause == "sound" else title_of_cause(catalogue, cause)
    would = step.would[cause]
    if isinstance(would, Predicted):
        return f"{words}: {_range(step.name, would, curves, display)}"
    if step.kind == "test":
        return f"{words}: {_TEST_WORDS[would]}"
    return f"{words}: {catalogue.observations[step.name].choices.get(would, would)}"


def _shown(name: str, told: Predicted, curves: Saturation, display: Display) -> str:
    try:
        return show(as_read(name, told, curves)[0], display.unit(name), display.atmosphere)
    except CoilsideError:
        return "-"


def _range(name: str, told: Predicted | None, curves: Saturation, display: Display) -> str:
    """Return the range of two standard doubts about what is predicted, in whole numbers."""
    if told is None:
        return "-"
    try:
        value, spread = as_read(name, told, curves)
    except CoilsideError:
        return "-"
    unit = display.unit(name)
    middle, wide = in_unit(value, unit, display.atmosphere), COVERAGE * spread_in_unit(spread, unit)
    return f"{middle - wide:.0f} to {middle + wide:.0f}"


def opinion_values(
    opinion: Opinion, steps: Sequence[NextStep], situation: Situation, display: Display
) -> dict[str, Any]:
    """Return an opinion as plain values: uncertainties are expanded (k = 2)."""
    curves = saturation(situation.facts.refrigerant)
    worst = None
    if opinion.worst is not None:
        taken = next(one for one in opinion.taken if one.name == opinion.worst.name)
        there = as_read(taken.name, Predicted(taken.value, 0.0), curves)[0]
        rest = as_read(taken.name, Predicted(taken.value - opinion.worst.off_by, 0.0), curves)[0]
        unit = display.unit(taken.name)
        off = in_unit(there, unit, display.atmosphere) - in_unit(rest, unit, display.atmosphere)
        worst = {"name": taken.name, "off_by": round(off, 2), "unit": unit.symbol}
    return {
        "fits": opinion.fits,
        "sound": round(opinion.sound, 6),
        "causes": [_cause_values(one, curves, display) for one in opinion.causes],
        "next": [
            {
                "name": step.name,
                "kind": step.kind,
                "bits": round(step.bits, 3),
                "minutes": step.minutes,
                "parts": list(step.parts),
            }
            for step in steps
        ],
        "worst": worst,
    }


def _cause_values(one: Suspected, curves: Saturation, display: Display) -> dict[str, Any]:
    predicted = {}
    for name, told in one.predicted.items():
        if name not in display.catalogue.readings:
            continue
        try:
            value, spread = as_read(name, told, curves)
        except CoilsideError:
            continue
        unit = display.unit(name)
        predicted[name] = {
            "value": round(in_unit(value, unit, display.atmosphere), 2),
            "unit": unit.symbol,
            "uncertainty": round(COVERAGE * spread_in_unit(spread, unit), 2),
        }
    values: dict[str, Any] = {
        "cause": one.cause,
        "probability": round(one.probability, 6),
        "severity": {"value": round(one.severity, 4), "uncertainty": round(COVERAGE * one.severity_doubt, 4)},
        "predicted": predicted,
    }
    if one.beside:
        values["beside"] = one.beside
    return values
