"""A conversation as plain text: what the line mode prints, what a stored call shows, what a replay is compared by."""

from collections.abc import Iterator, Mapping, Sequence
from textwrap import wrap
from typing import Final, assert_never

from assistant.call.prompts import (
    Acknowledge,
    AskChoice,
    AskQuantity,
    AskRefrigerant,
    AskText,
    CheckOut,
    CloseCall,
    DoStep,
    Prompt,
)
from assistant.call.turns import (
    Answered,
    CameBack,
    Coached,
    Concluded,
    Contradicted,
    Decided,
    NothingWrong,
    NumberMissing,
    NumberShown,
    Rechecked,
    Repair,
    Told,
    Turn,
    Undecided,
    Verified,
)
from assistant.call.walk import Conversation
from assistant.catalogue.repairs import GuardedAct, RepairPlan, RepairStep
from assistant.source.problem import without_controls

DISCLAIMER = (
    "A likely cause is no verdict: the manufacturer's instructions, local codes and licensed practice come first."
)


def prompt_lines(prompt: Prompt) -> tuple[str, ...]:
    """A prompt with its choices, without wrapping."""
    match prompt:
        case AskText() | AskRefrigerant():
            return (prompt.question,)
        case AskQuantity():
            unit = f" [{prompt.unit.label}]" if prompt.unit.label else ""
            default = f" (Enter: {prompt.default})" if prompt.default else ""
            return (f"{prompt.question}{unit}{default}",)
        case AskChoice():
            return (prompt.question, *_numbered(prompt))
        case Acknowledge():
            return (*_list_of_cautions(prompt), prompt.text, f"Rule: {prompt.rule}.", prompt.question)
        case DoStep():
            about = (f"  ({prompt.about})",) if prompt.about else ()
            return (f"DO: {prompt.question}", *about, "  1  done", "  2  cannot do")
        case CloseCall():
            return tuple(_close_call(prompt))
        case CheckOut():
            return tuple(_check_out(prompt))
        case _:
            assert_never(prompt)


def _list_of_cautions(prompt: Acknowledge) -> Iterator[str]:
    if prompt.is_listed and prompt.place == 1:
        yield f"{len(prompt.together)} CAUTIONS before this step, each acknowledged by its own number:"
        yield from (f"  {place}  {title}" for place, title in enumerate(prompt.together, start=1))
    place = f" {prompt.place} of {len(prompt.together)}" if prompt.is_listed else ""
    yield f"CAUTION{place} - {prompt.title}"


def _numbered(prompt: AskChoice) -> Iterator[str]:
    for number, choice in enumerate(prompt.choices, start=1):
        usual = "  (Enter)" if choice.name == prompt.default else ""
        yield f"  {number}  {choice.words}{usual}"
    if prompt.can_be_unknown:
        yield "  0  cannot tell"


def _close_call(prompt: CloseCall) -> Iterator[str]:
    yield "CLOSE CALL - the measurement cannot really decide this:"
    for leaning in prompt.leanings:
        yield f"  {leaning.text}: {leaning.measured} against {leaning.limit}, {leaning.likelihood:.0%} likely as read"
    yield f"It leans to: {prompt.leans_to}. The other way is kept."
    yield "  1  go on  (Enter)"
    for number, reading in enumerate(prompt.readings, start=2):
        yield f"  {number}  {reading.words}"


def _check_out(prompt: CheckOut) -> Iterator[str]:
    yield prompt.question
    yield "  1  yes"
    yield "  2  no"
    if prompt.measurable:
        yield f"  3  measure again now: {listed(prompt.measurable)}"
    yield "  0  cannot tell yet"


def listed(titles: tuple[str, ...]) -> str:
    """Titles as one list in small letters."""
    return ", ".join(title.lower() for title in titles)


def turn_lines(turn: Turn) -> tuple[str, ...]:
    """A turn as text, without wrapping."""
    match turn:
        case Told():
            return (turn.text,)
        case Answered():
            return (*prompt_lines(turn.prompt), f"> {turn.shown}")
        case NumberShown() | NumberMissing():
            return (f"= {turn.line}",)
        case Contradicted():
            return (f"THESE READINGS DISAGREE - {turn.law}", *(f"  {line}" for line in turn.readings), *turn.advice)
        case Decided():
            return tuple(f"- {reason}" for reason in turn.reasons)
        case CameBack():
            return ("COMING BACK to the way that was kept:", f"  {turn.text}")
        case Coached():
            return (f"* {turn.title}", *(f"  {line}" for line in turn.lines))
        case Concluded() | Repair() | Verified() | NothingWrong() | Undecided():
            return tuple(_of_end(turn))
        case _:
            assert_never(turn)


def _of_end(turn: Concluded | Repair | Verified | NothingWrong | Undecided) -> Iterator[str]:
    match turn:
        case Concluded():
            yield from _concluded(turn)
        case Repair():
            yield from _repair(turn)
        case Verified():
            yield from _verified(turn)
        case NothingWrong():
            yield from ("NO FAULT FOUND", turn.text)
        case Undecided():
            yield from ("UNDECIDED", turn.text)
            if turn.untold:
                yield f"Could not be told: {', '.join(turn.untold)}."
        case _:
            assert_never(turn)


def _concluded(turn: Concluded) -> Iterator[str]:
    cause = turn.cause
    yield f"LIKELY CAUSE - {cause.title}"
    yield cause.what
    yield f"Why it reads so: {cause.why}"
    if turn.evidence:
        yield "Evidence for it:"
        yield from (f"  {line}" for line in turn.evidence)
    if turn.against:
        yield "Not decided beyond doubt on the way here:"
        yield from (f"  {line}" for line in turn.against)
    if turn.look_alikes:
        yield "What looks alike:"
        yield from (f"  {title}: {tell}" for title, tell in turn.look_alikes)


def _repair(turn: Repair) -> Iterator[str]:
    yield f"REPAIR - {tell_effort(turn.plan)}"
    yield from _steps(turn.plan.repair)
    yield "Prove it:"
    yield from _steps(turn.plan.proof)
    yield f"Who may do it: {turn.cause.licence}"
    yield HOW_TO_DO_IT
    yield f"Source: {turn.cause.source}"
    yield DISCLAIMER


def _steps(steps: Sequence[RepairStep]) -> Iterator[str]:
    for number, step in number_steps(steps):
        is_one = len(step.acts) == 1
        lead = f"{number}. " if number else "+ "
        if not is_one:
            yield f"  {lead}{tell_step(step)}"
        for one in step.acts:
            yield from (f"  ! {caution.title}: {caution.text}" for caution in one.first)
            if one.again:
                yield f"  ! {tell_again(one)}"
            yield f"  {lead}{tell_step(step)}" if is_one else f"  - {one.act.title}"


HOW_TO_DO_IT: Final = "How each is done well: type why. Lines with + come between by themselves."
"""What stands behind the steps of a repair."""


def tell_effort(plan: RepairPlan) -> str:
    """Return how long a repair and its proof take in all, and what those who do it must be allowed to."""
    minutes = sum(act.minutes for act in plan.acts)
    asked = dict.fromkeys(who for act in plan.acts for who in act.who if who in _ALLOWED)
    allowed = " and ".join(_ALLOWED[who] for who in asked)
    return f"up to {tell_minutes(minutes)} in all{f', by somebody {allowed}' if allowed else ''}"


_ALLOWED: Final[Mapping[str, str]] = {
    "refrigerant": "certified for refrigerant",
    "live_work": "qualified for live work",
    "licence": "licensed where the law asks for it",
}


def tell_minutes(minutes: float) -> str:
    """Return a duration [min] in words: 45 min, 2 h, 2 h 10 min."""
    hours, rest = divmod(round(minutes), 60)
    return " ".join([*([f"{hours} h"] if hours else []), *([f"{rest} min"] if rest or not hours else [])])


def number_steps(steps: Sequence[RepairStep]) -> Iterator[tuple[int | None, RepairStep]]:
    """Yield steps with their numbers; what is put in between has none."""
    number = 0
    for step in steps:
        number += not step.is_put_in
        yield (None if step.is_put_in else number), step


def tell_step(step: RepairStep) -> str:
    """Return what is to be done, how long it takes, and what is particular at this place."""
    say = f" {step.say}" if step.say else ""
    return f"{step.title} ({tell_minutes(step.minutes)}).{say}"


def tell_again(one: GuardedAct) -> str:
    """Return the titles of cautions that were told whole before."""
    return f"{'; '.join(caution.title for caution in one.again)} (as before)"


def _verified(turn: Verified) -> Iterator[str]:
    yield "MEASURED AGAIN"
    yield from (f"  {row.title}: {row.before} before, {row.after} after" for row in turn.readings)
    for check in turn.telling:
        yield f"- {check.condition}? before: {check.before}; after: {check.after}{way_now(check)}"
    yield from filter(None, (turn.as_before, f"{turn.word}. {turn.verdict}", turn.beyond))


def way_now(check: Rechecked) -> str:
    """Where a decision that was looked at again leads, in words."""
    if check.now is None:
        return ""
    close = ", a close call" if check.is_close else ""
    way = f"still {check.now}" if check.is_same else f"{check.now}, not {check.was}"
    return f" -> {way}{close}"


def wrapped(lines: tuple[str, ...], width: int) -> Iterator[str]:
    """Lines cut to a width, what runs on indented under its own beginning; control characters are gone."""
    for line in lines:
        clean = without_controls(line)
        indent = len(clean) - len(clean.lstrip())
        hang = " " * (indent + (2 if clean.lstrip()[:1] in ("-", "=", ">") or indent else 0))
        yield from wrap(clean, width, subsequent_indent=hang, drop_whitespace=True) or [""]


def conversation_lines(conversation: Conversation) -> tuple[str, ...]:
    """The whole conversation, a blank line between turns."""
    lines: list[str] = []
    for turn in conversation.turns:
        lines.extend((*turn_lines(turn), ""))
    return tuple(lines[:-1])


def title_of(conversation: Conversation) -> str:
    """What a list of calls shows of a call: the complaint, in the words of the tech."""
    first = next((turn for turn in conversation.turns if isinstance(turn, Answered)), None)
    return first.answer.text if first is not None else ""


def ending_of(conversation: Conversation) -> str:
    """How a call ended, in words; empty while it goes on."""
    outcome = conversation.outcome
    if outcome is None:
        return ""
    if outcome.cause is None:
        return "no fault found" if outcome.kind == "no_fault" else "undecided"
    title = conversation.display.catalogue.causes[outcome.cause].title
    return f"{title}{', proven' if outcome.proven else ''}"
