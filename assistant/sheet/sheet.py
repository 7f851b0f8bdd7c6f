"""The call sheet: what a call leaves in the hand of the customer and the office, as one value without any form.

`sheet_text`, `sheet_markdown` and `sheet_html` make the three forms of it.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Final

from assistant.call.answers import CANNOT_TELL, EntryValue
from assistant.call.keys import PromptKey, Topic
from assistant.call.prompts import Acknowledge, AskChoice, AskQuantity, AskRefrigerant, CheckOut
from assistant.call.should import should_be
from assistant.call.state import OWN_ACCURACY, State
from assistant.call.turns import Answered, Concluded, NothingWrong, NumberShown, Repair, Turn, Undecided, Verified
from assistant.call.walk import Conversation
from assistant.call.wording import (
    DISCLAIMER,
    ending_of,
    number_steps,
    prompt_lines,
    tell_effort,
    tell_step,
    title_of,
)
from assistant.catalogue.repairs import RepairStep
from assistant.sheet.sheet_path import path_rows
from assistant.store.store import CallEntry, Note
from assistant.store.times import time_words
from assistant.tree.model import MODE, CauseLeaf
from assistant.worksheet.sheet import Worked
from assistant.worksheet.showing import Work, tell_work

SAFETY: Final = (
    f"{DISCLAIMER} Numbers carry the doubt of the instruments (± for about 95 % of cases). This sheet records what was "
    "told and worked on this call; it is no certificate."
)

_PROOF: Final = "Proof of the repair"
_NOTES: Final = "Notes and photos"
_ABOUT: Final = "About this record"

REPAIR: Final = "Repair: "
"""How the title of the part with the repair begins."""
PROOF_AND_BEHIND: Final = frozenset({_PROOF, _NOTES, _ABOUT})
"""The titles of the sections behind all that tells of the cause and its repair."""


@dataclass(frozen=True, slots=True)
class Table:
    """Rows below a head, each with as many cells as the head.

    A `wide` one needs the whole width of a page, where the rows of one that `flows` stand in two columns; `fine` print
    is for what is looked up rather than read.
    """

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    wide: bool = False
    flows: bool = False
    fine: bool = False


@dataclass(frozen=True, slots=True)
class Words:
    """A paragraph; with a `lead`, that word stands out in front."""

    text: str
    lead: str = ""


@dataclass(frozen=True, slots=True)
class Points:
    """A list, numbered where the order counts."""

    items: tuple[str, ...]
    numbered: bool = False


Block = Table | Words | Points


@dataclass(frozen=True, slots=True)
class Section:
    """One part of a sheet."""

    title: str
    blocks: tuple[Block, ...]


@dataclass(frozen=True, slots=True)
class Drawing:
    """A picture of the numbers, made by ourselves, with what it shows in words."""

    title: str
    svg: str
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CallSheet:
    """A call as it is handed on: its head in pairs of word and value, its sections in order, what holds for all."""

    title: str
    head: tuple[tuple[str, str], ...]
    sections: tuple[Section, ...]
    drawings: tuple[Drawing, ...] = ()
    disclaimer: str = SAFETY


@dataclass(frozen=True, slots=True)
class Kept:
    """What the record knows of a call besides its conversation: its entry, when each answer was given, its notes.

    `told` are sentences about the record itself, such as that the trees have changed since.
    """

    entry: CallEntry
    times: Mapping[PromptKey, datetime]
    notes: tuple[Note, ...] = ()
    told: tuple[str, ...] = ()


def call_sheet(conversation: Conversation, kept: Kept) -> CallSheet:
    """The sheet of a call."""
    entry = kept.entry
    name = f": {entry.name}" if entry.name else ""
    head = [
        ("Complaint", title_of(conversation)),
        ("Result", ending_of(conversation) or "not ended"),
        ("Begun", _day(entry.started)),
        ("Last answer", _day(entry.changed)),
    ]
    if conversation.tree is not None:
        head.append(("Worked with", conversation.tree.title))
    sections = (
        Section("System", tuple(_system(conversation))),
        Section("Readings", tuple(_readings(conversation, kept))),
        Section("Seen, heard, felt", tuple(_seen(conversation, kept))),
        Section("Worked numbers", tuple(_numbers(conversation))),
        Section("Path, with the reasons", tuple(_path(conversation))),
        *_end(conversation),
        Section("Cautions acknowledged", tuple(_cautions(conversation, kept))),
        *_repair(conversation),
        Section(_PROOF, tuple(_proof(conversation, kept))),
        Section(_NOTES, tuple(_notes(kept))),
        Section(_ABOUT, tuple(_about(conversation, kept))),
    )
    return CallSheet(
        f"Call sheet {entry.number}{name}", tuple(head), tuple(section for section in sections if section.blocks)
    )


def _day(moment: datetime) -> str:
    return time_words(moment)


def _time(kept: Kept, key: PromptKey) -> str:
    """The hour of an answer; with its day where that is not the day on which the call began."""
    at = kept.times.get(key)
    if at is None:
        return ""
    same_day = at.astimezone().date() == kept.entry.started.astimezone().date()
    return time_words(at, "%H:%M") if same_day else _day(at)


def _answered(conversation: Conversation) -> Iterator[Answered]:
    return (turn for turn in conversation.turns if isinstance(turn, Answered))


def _system(conversation: Conversation) -> Iterator[Block]:
    facts = conversation.display.catalogue.facts
    rows = {
        turn.prompt.name: (turn.prompt.title, turn.shown)
        for turn in _answered(conversation)
        if isinstance(turn.prompt, AskQuantity | AskChoice | AskRefrigerant) and turn.prompt.name in facts
    }
    mode = conversation.state.choice(MODE)
    if mode is not None and MODE not in rows:
        # A tree that is for one mode alone does not ask for it.
        rows[MODE] = (facts[MODE].title, facts[MODE].choices.get(mode, mode))
    for answer in conversation.used:
        name = answer.key.name
        if name in OWN_ACCURACY.values():
            rows[name] = (facts[name].title, f"± {answer.text}")
    if rows:
        yield Table(("Fact", "Value"), tuple(rows.values()))


def _readings(conversation: Conversation, kept: Kept) -> Iterator[Block]:
    """Each reading as often as it was taken, with its doubt and time."""
    doubts, sheet, display = _doubts(conversation), conversation.state.sheet, conversation.display
    rows = [
        (
            _titled(turn),
            doubts[turn.answer.key],
            should_be(sheet, turn.prompt.name, display),
            _time(kept, turn.answer.key),
        )
        for turn in _answered(conversation)
        if turn.prompt.name in display.catalogue.readings
    ]
    if any(sound for _, _, sound, _ in rows):
        yield Table(("Reading", "Value and doubt", "A sound unit", "Taken"), tuple(rows))
    elif rows:
        yield Table(("Reading", "Value and doubt", "Taken"), tuple((one, value, time) for one, value, _, time in rows))


def _seen(conversation: Conversation, kept: Kept) -> Iterator[Block]:
    rows = [
        (_titled(turn), turn.shown, _time(kept, turn.answer.key))
        for turn in _answered(conversation)
        if turn.prompt.name in conversation.display.catalogue.observations
    ]
    if rows:
        yield Table(("Seen, heard, felt", "Answer", "Told"), tuple(rows), wide=True, flows=True)


def _titled(turn: Answered) -> str:
    assert isinstance(turn.prompt, AskQuantity | AskChoice | AskRefrigerant)
    return turn.prompt.title if turn.prompt.key.nth == 1 else f"{turn.prompt.title} (no. {turn.prompt.key.nth})"


def _doubts(conversation: Conversation) -> dict[PromptKey, str]:
    """Each reading with the doubt that it was taken with, also where it was taken again later."""
    display = conversation.display
    state = State(display.catalogue)
    shown: dict[PromptKey, str] = {}
    for answer in sorted(conversation.used, key=lambda answer: answer.key.name not in OWN_ACCURACY.values()):
        name = answer.key.name
        if answer.key.topic is not Topic.ENTRY or not isinstance(answer.value, EntryValue):
            continue
        state.take(name, answer.value)
        if name in display.catalogue.readings:
            value = state.quantities.get(name)
            shown[answer.key] = CANNOT_TELL if value is None else display.with_doubt(name, value)
    return shown


def _numbers(conversation: Conversation) -> Iterator[Block]:
    """The numbers as they were when the decisions used them, then those that they or the evidence rest on."""
    display = conversation.display
    found: dict[str, tuple[Worked, Work]] = {}
    for turn in _until_repair(conversation.turns):
        if isinstance(turn, NumberShown):
            found[turn.worked.name] = (turn.worked, turn.work)
    wanted = [*found, *_evidence(conversation)]
    others = {number.name: number for number in conversation.numbers if isinstance(number, Worked)}
    for name in wanted:
        number = found[name][0] if name in found else others.get(name)
        if number is None:
            continue
        if name not in found:
            found[name] = (number, tell_work(number, display))
        wanted += [inner for inner, _ in number.inputs if inner != name and inner not in wanted]
    rows = ((work.title, work.result, work.values or work.formula, work.source) for _, work in found.values())
    if found:
        yield Table(("Number", "Value and doubt", "Worked from", "Source"), tuple(rows), wide=True)


def _evidence(conversation: Conversation) -> Iterator[str]:
    """The names that the causes reached on this call rest on."""
    nodes = conversation.tree.nodes if conversation.tree else {}
    for turn in conversation.turns:
        leaf = nodes.get(turn.node) if isinstance(turn, Concluded) else None
        if isinstance(leaf, CauseLeaf):
            yield from (item.name for item in leaf.because)


def _until_repair(turns: Sequence[Turn]) -> Iterator[Turn]:
    for turn in turns:
        if isinstance(turn, Repair):
            return
        yield turn


def _path(conversation: Conversation) -> Iterator[Block]:
    rows = tuple(path_rows(conversation.turns))
    if rows:
        yield Table(("Step", "Reasons"), rows, wide=True, flows=True)
    if conversation.state.untold:
        yield Words(f"{', '.join(conversation.state.untold)}.", "Could not be told:")
    if conversation.prompt is not None:
        yield Words(" ".join(line.strip() for line in prompt_lines(conversation.prompt)[:1]), "Asked next:")


def _end(conversation: Conversation) -> Iterator[Section]:
    """The last end that was reached, with what speaks for and against it."""
    ends = [turn for turn in conversation.turns if isinstance(turn, Concluded | NothingWrong | Undecided)]
    for turn in ends[-1:]:
        match turn:
            case Concluded():
                yield Section(f"Likely cause: {turn.cause.title}", tuple(_concluded(turn)))
            case NothingWrong():
                yield Section("No fault found", (Words(turn.text),))
            case Undecided():
                yield Section("Undecided", (Words(turn.text),))


def _concluded(turn: Concluded) -> Iterator[Block]:
    yield Words(turn.cause.what)
    yield Words(turn.cause.why, "Why it reads so:")
    if turn.evidence:
        yield Words("", "Evidence for it:")
        yield Points(turn.evidence)
    if turn.against:
        yield Words("", "Not decided beyond doubt on the way here:")
        yield Points(turn.against)
    if turn.look_alikes:
        yield Words("", "What looks alike:")
        yield Points(tuple(f"{title}: {tell}" for title, tell in turn.look_alikes))


def _cautions(conversation: Conversation, kept: Kept) -> Iterator[Block]:
    """Each caution once, with the time when it was first acknowledged."""
    rows: dict[str, tuple[str, str, str]] = {}
    for turn in _answered(conversation):
        if isinstance(turn.prompt, Acknowledge):
            when = _time(kept, turn.answer.key)
            rows.setdefault(turn.prompt.caution, (turn.prompt.title, turn.prompt.rule, when))
    if rows:
        yield Table(("Caution", "Rule", "Acknowledged"), tuple(rows.values()), fine=True)


def _repair(conversation: Conversation) -> Iterator[Section]:
    repairs = [turn for turn in conversation.turns if isinstance(turn, Repair)]
    for turn in repairs[-1:]:
        cause, plan = turn.cause, turn.plan
        guards = tuple((one.title, one.text, one.rule) for one in plan.cautions)
        yield Section(
            f"{REPAIR}{cause.title}",
            (
                Words(f"{tell_effort(plan)}.".capitalize()),
                Table(("Step", "What to do", "Mind"), tuple(_repair_rows(plan.repair)), wide=True),
                Words("", "Prove it:"),
                Table(("Step", "What to do", "Mind"), tuple(_repair_rows(plan.proof)), wide=True),
                Words(cause.licence, "Who may do it:"),
                Words(cause.source, "Source:"),
            ),
        )
        if guards:
            yield Section("What to mind", (Table(("Caution", "What to mind", "Rule"), guards, wide=True, fine=True),))


def _repair_rows(steps: Sequence[RepairStep]) -> Iterator[tuple[str, str, str]]:
    """Rows of a repair's steps, the cautions of each act beside it."""
    for number, step in number_steps(steps):
        lead = f"{number}." if number else "+"
        if len(step.acts) > 1:
            yield lead, tell_step(step), ""
            lead = "-"
        for one in step.acts:
            minded = "; ".join(caution.title for caution in one.cautions)
            yield lead, (one.act.title if len(step.acts) > 1 else tell_step(step)), minded


def _proof(conversation: Conversation, kept: Kept) -> Iterator[Block]:
    """Before and after side by side as often as it was measured again, and what the tech said of the repair."""
    for turn in conversation.turns:
        if isinstance(turn, Verified):
            rows = tuple((row.title, row.before, row.after) for row in turn.readings)
            yield Table(("Reading or number", "Before", "After"), rows)
            if turn.telling:
                checks = tuple((item.condition, item.before, item.after) for item in turn.telling)
                yield Table(("Condition that decided", "Before", "After"), checks, wide=True, fine=True)
            yield Words(f"{turn.verdict} {turn.beyond}".strip(), "What the readings say:")
        if isinstance(turn, Answered) and isinstance(turn.prompt, CheckOut):
            when = _time(kept, turn.answer.key)
            yield Words(f"{turn.shown}{f' ({when})' if when else ''}", turn.prompt.question)


def _about(conversation: Conversation, kept: Kept) -> Iterator[Block]:
    """With which versions of the trees this was worked, and what has become of them since."""
    for text in kept.told:
        yield Words(text)
    if conversation.tree is not None:
        yield Words(f"{conversation.tree.edition}.", "Trees and their versions:")


def _notes(kept: Kept) -> Iterator[Block]:
    if kept.notes:
        yield Table(("Written", "Note"), tuple((_day(note.at), note.text) for note in kept.notes))
