"""The words of a practice call besides those of every call: what a trainee does at the site without being asked."""

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final, Protocol

from assistant.call.asking import acknowledge
from assistant.call.library import Library
from assistant.call.prompts import Acknowledge, AskChoice, AskQuantity, Prompt
from assistant.call.replies import tidy
from assistant.call.turns import Concluded
from assistant.call.walk import Conversation
from assistant.catalogue.catalogue import Catalogue
from assistant.errors import InputError
from assistant.practice.training.history import Moment, done_steps
from assistant.practice.training.kept import SetCall
from assistant.practice.training.review import CallReview, review_lines, way_lines
from assistant.practice.training.scoring import SOUND
from assistant.practice.training.steps import cautions_of
from assistant.practice.visit.acts import ACTS, SiteAct, acts_for, read_amount
from assistant.practice.visit.amounts import minute_words
from assistant.practice.visit.events import Event
from assistant.practice.visit.instruments import instrument_of
from assistant.practice.visit.observing import answerable_observations, see
from assistant.practice.visit.scenario import plate_of
from assistant.practice.visit.site import guises
from assistant.practice.visit.visit import Visit, readings_here
from assistant.quantity import UnitSystem, plain, split
from assistant.session.responses import Information, Rejected, Response
from assistant.source.nearest import nearest

WORDS: Final[Mapping[str, str]] = {
    "take": "take READING: take one, as take suction pressure; take alone takes what is asked, or lists them",
    "reseat": "reseat READING: put its probe on anew, and take it again",
    "look": "look AT: look at something, or at a probe on its pipe; look alone lists what there is",
    "do": "do ACT, do ACT AMOUNT: do something to the system; do alone lists what can be done",
    "wait": "wait MINUTES: let it run on, or stand",
    "tree": "tree NAME: follow another tree, or the same one anew, from its start; what was done stays done",
    "visit": "what was done so far, minute by minute",
    "cause": "cause NAME, or several with commas: name what it is, which ends the call; cause alone lists them",
    "agree": "once the trees have named a cause, or found none: name the same, which ends the call",
    "give up": "end the call without naming a cause",
    "review": "once it is over: what it was, the score, and the trees' way beside yours",
}
"""What can be typed on a practice call besides the words of every call."""

NOT_HERE: Final[Mapping[str, str]] = {
    "sheet": "A practice call has no sheet: it never happened. When it is over, review tells all of it.",
    "opinion": "A second opinion would give it away. Type opinion again when the call is over.",
    "same": "The facts of this system are on its data plate; they are told already.",
    "note": "A practice call takes no notes.",
    "instruments": "The instruments are those of the practice kit, as accurate as the catalogue says.",
    "system": "The facts of this system are on its data plate; type system alone to see them.",
}
"""Words of every call that mean nothing on a practice call, each with the reason."""

_SOUND_WORDS: Final = ("nothing is wrong", "no fault", "no_fault", "sound")
_WIDTH: Final = 78
_MOST_MEANT: Final = 3
_PLATE: Final = "data_plate"
_WORDS: Final = re.compile(r"[^\W_]+")


@dataclass(frozen=True, slots=True)
class CautionsFirst:
    """Something to be done, and the cautions that come before it: those left, acknowledged and skipped."""

    event: Event
    prompts: tuple[Acknowledge, ...]
    met: tuple[str, ...] = ()
    skipped: tuple[str, ...] = ()

    @property
    def left(self) -> tuple[Acknowledge, ...]:
        """The cautions that are still to be read."""
        return self.prompts[len(self.met) + len(self.skipped) :]

    @property
    def prompt(self) -> Acknowledge:
        """The caution that is asked now."""
        return self.left[0]

    def further(self, *, met: bool) -> "CautionsFirst":
        """The same with the caution in front acknowledged or skipped."""
        name = self.prompt.caution
        return replace(self, met=(*self.met, name)) if met else replace(self, skipped=(*self.skipped, name))


class Trainee(Protocol):
    """What these words know of a practice call, and what they can have done on it."""

    library: Library
    system: UnitSystem
    conversation: Conversation
    call: SetCall
    moments: tuple[Moment, ...]
    is_over: bool

    @property
    def prompt(self) -> Prompt | None:
        """What is asked now."""

    @property
    def visit(self) -> Visit:
        """The visit as it is now."""

    @property
    def review(self) -> CallReview:
        """What it was and how it went; only of a call that is over."""

    @property
    def acknowledged(self) -> tuple[str, ...]:
        """The cautions that were acknowledged so far."""

    @property
    def safety_group(self) -> str:
        """The safety group of the refrigerant on the data plate."""

    def is_of_the_site(self, prompt: AskQuantity | AskChoice) -> bool:
        """Whether a question is answered at the site."""

    def take_asked(self, prompt: AskQuantity | AskChoice) -> Response:
        """Take at the site what is asked."""

    def ask_cautions(self, first: CautionsFirst) -> Response:
        """Ask for the cautions of something before it is done."""

    def do_now(self, event: Event, met: Sequence[str] = (), skipped: Sequence[str] = ()) -> Response:
        """Do something unasked, its cautions being through."""

    def end(self, named: Sequence[str] | None) -> Response:
        """End the call with the causes named; `None` gives up."""

    def follow_tree(self, name: str) -> Response:
        """Begin at the start of a tree."""


def own_word(session: Trainee, text: str) -> Response | None:
    """What a typed reply does when it is one of these words; `None` where it is none."""
    typed = tidy(text)
    if typed.casefold() == "give up":
        return _over(session) or session.end(None)
    word, _, argument = typed.partition(" ")
    work = OWN_WORDS.get(word.casefold())
    if work is None:
        return None
    return (
        work(session, argument) if word.casefold() in ("visit", "review") else _over(session) or work(session, argument)
    )


def _over(session: Trainee) -> Rejected | None:
    return Rejected("This practice call is over. Type new for another one.") if session.is_over else None


def _take(session: Trainee, argument: str) -> Response:
    prompt = session.prompt
    if not argument and isinstance(prompt, AskQuantity | AskChoice) and session.is_of_the_site(prompt):
        return session.take_asked(prompt)
    catalogue = session.library.catalogue
    found = _one_of(_readings(catalogue), argument, "Readings that can be taken", _reading_words)
    if isinstance(found, Rejected) and (worked := _worked(session, argument)) is not None:
        return Rejected(worked)
    return found if not isinstance(found, str) else _first(session, Event("take", found))


def _worked(session: Trainee, typed: str) -> str | None:
    """What to say to somebody who wants to take a worked number off the system; `None` where it is none."""
    catalogue, folded = session.library.catalogue, typed.strip().casefold().replace(" ", "_")
    titles = {name: catalogue.title_of(name) for name in catalogue.numbers}
    name = next((one for one, title in titles.items() if folded in (one, title.casefold().replace(" ", "_"))), None)
    if name is None:
        return None
    here = _readings(catalogue)
    wanted = [here[one].lower() for one in session.conversation.state.sheet.needs(name) if one in here]
    of = f" out of {' and '.join(wanted)}" if wanted else ""
    return f"{titles[name]} is no reading; it is worked{of}."


def _reseat(session: Trainee, argument: str) -> Response:
    catalogue = session.library.catalogue
    on = {name: title for name, title in _readings(catalogue).items() if name in session.visit.fitted}
    if not on:
        return Rejected("No probe is on yet.")
    found = _one_of(on, argument, "Probes that are on", _reading_words)
    return found if not isinstance(found, str) else session.do_now(Event("reseat", found))


def _look(session: Trainee, argument: str) -> Response:
    catalogue = session.library.catalogue
    scene = session.visit.scene
    here = (
        name for name in answerable_observations() if name in catalogue.observations and see(name, scene) is not None
    )
    sights = {name: catalogue.title_of(name) for name in here}
    on = {name: title for name, title in _readings(catalogue).items() if session.visit.looks_seated(name) is not None}
    probes = {name: title for name, title in on.items() if instrument_of(name).clamps}
    there = {**sights, _PLATE: "Data plate of the outdoor unit", **probes}
    found = _one_of(there, argument, "What can be looked at", lambda name, title: f"{name}: {title}")
    if not isinstance(found, str):
        return found
    if found == _PLATE:
        return Information(there[_PLATE], plate_of(session.call.scenario))
    if found in probes:
        sits = session.visit.looks_seated(found)
        said = "It sits well on the pipe." if sits else "It hangs askew, partly off the pipe. reseat puts it on anew."
        return Information(f"The clamp: {probes[found]}", (said,))
    return _first(session, Event("look", found))


def _do(session: Trainee, argument: str) -> Response:
    acts = {act.name: act for act in acts_for(session.visit.site)}
    name, amount = _act_and_amount(acts, argument)
    # An act changes the system, so it is taken by its beginning only, never by a word within it.
    found = _one_of({one.name: one.title for one in acts.values()}, name, "What can be done", _act_words, within=False)
    if not isinstance(found, str):
        return found
    try:
        event = Event("act", found, read_amount(acts[found], amount))
    except InputError as error:
        return Rejected(str(error))
    return _first(session, event)


def _act_and_amount(acts: Mapping[str, SiteAct], argument: str) -> tuple[str, str]:
    """The words that name an act, and those behind them; where no act is named whole, those up to the first number."""
    words = argument.split()
    for count in range(len(words), 0, -1):
        begun = " ".join(words[:count]).casefold()
        if begun.replace(" ", "_") in acts or any(begun == act.title.casefold() for act in acts.values()):
            return begun, " ".join(words[count:])
    count = next((place for place, word in enumerate(words) if place and word.lstrip("+-")[:1].isdigit()), len(words))
    return " ".join(words[:count]), " ".join(words[count:])


def _wait(session: Trainee, argument: str) -> Response:
    found = split(argument.removesuffix("utes").removesuffix("min").strip()) if len(argument) < 30 else None
    if found is None or found[1] or not 0.0 < found[0] <= 600.0:
        return Rejected("Type wait and the minutes, such as wait 10.")
    return session.do_now(Event("wait", amount=found[0]))


def _cause(session: Trainee, argument: str) -> Response:
    catalogue = session.library.catalogue
    names = {name: cause.title for name, cause in catalogue.causes.items()}
    if not argument.strip():
        heating = session.call.scenario.site.wish.mode == "heating"
        here = dict.fromkeys(one.cause for one in guises(heat_pump=True, heating=heating))
        lines = (f"{name}: {names[name]}" for name in here if name in names)
        return Information("Causes that a practice call may hide; any other can be named too", (*lines, "no fault"))
    named: list[str] = []
    for part in argument.split(","):
        if part.strip().casefold() in _SOUND_WORDS:
            named.append(SOUND)
            continue
        # It ends the call, so a cause is taken by its beginning only, never by a word within it.
        found = _one_of(names, part.strip(), "Causes", lambda name, title: f"{name}: {title}", within=False)
        if not isinstance(found, str):
            return found
        named.append(found)
    if SOUND in named and len(set(named)) > 1:
        return Rejected("Either nothing is wrong, or something is.")
    return session.end(tuple(dict.fromkeys(named)))


def _agree(session: Trainee, argument: str) -> Response:
    outcome = session.conversation.outcome
    if outcome is not None and outcome.kind == "no_fault" and not argument:
        return session.end((SOUND,))
    named = [turn.cause.name for turn in session.conversation.turns if isinstance(turn, Concluded)]
    is_open = outcome is not None and outcome.kind == "undecided"
    if not named or argument or is_open:
        return Rejected("The trees have named no cause. Type cause and the one that you name.")
    return session.end((named[-1],))


def _tree(session: Trainee, argument: str) -> Response:
    trees = {head.name: head.title for head in session.library.heads}
    found = _one_of(trees, argument, "Trees", lambda name, title: f"{name}: {title}")
    return session.follow_tree(found) if isinstance(found, str) else found


def _visit(session: Trainee, _argument: str) -> Response:
    steps = done_steps(session.moments, session.library.catalogue, session.system)
    return Information(
        f"Minute {minute_words(session.visit.minute)} of the visit",
        tuple(way_lines(steps)) or ("Nothing was done yet.",),
    )


def _review(session: Trainee, _argument: str) -> Response:
    if not session.is_over:
        return Rejected("The review comes when the call is over: name a cause, or give up.")
    return Information("Review", tuple(review_lines(session.review, _WIDTH)))


OWN_WORDS: Final[Mapping[str, Callable[[Trainee, str], Response]]] = {
    "take": _take,
    "reseat": _reseat,
    "look": _look,
    "do": _do,
    "wait": _wait,
    "cause": _cause,
    "agree": _agree,
    "tree": _tree,
    "visit": _visit,
    "review": _review,
}


def _first(session: Trainee, event: Event) -> Response:
    """Do something, behind those of its cautions that were not acknowledged on this call yet."""
    catalogue = session.library.catalogue
    group = session.conversation.state.choice("safety_group") or session.safety_group
    wanted = catalogue.with_joined((one for one in cautions_of(event, catalogue) if one in catalogue.cautions), group)
    met = tuple(name for name in wanted if name in session.acknowledged)
    unread = tuple(name for name in wanted if name not in met)
    event = replace(event, acknowledged=tuple(sorted(met))) if event.kind == "act" else event
    if not unread:
        return session.do_now(event)
    titles = tuple(catalogue.cautions[name].title for name in unread)
    prompts = (
        acknowledge(catalogue.cautions[name], None, event.name, place, titles)
        for place, name in enumerate(unread, start=1)
    )
    return session.ask_cautions(CautionsFirst(event, tuple(prompts)))


def _readings(catalogue: Catalogue) -> dict[str, str]:
    return {name: catalogue.title_of(name) for name in readings_here() if name in catalogue.readings}


def _reading_words(name: str, title: str) -> str:
    one = instrument_of(name)
    return f"{name}: {title} ({one.title}, {plain(one.fitting)} min)"


def _act_words(name: str, title: str) -> str:
    act = ACTS[name]
    amount = f" AMOUNT ({act.amount})" if act.amount else ""
    return f"{name}{amount}: {title}, {plain(act.minutes)} min"


def _one_of(
    names: Mapping[str, str], typed: str, title: str, words: Callable[[str, str], str], *, within: bool = True
) -> str | Information | Rejected:
    """The name that is meant by its own, its title, or the beginning or words of just one; else what there is.

    `within`: words may stand anywhere in the name or title, as current in compressor current; else they are a hint.
    """
    if not typed.strip():
        return Information(title, tuple(words(name, named) for name, named in names.items()))
    folded = typed.strip().casefold()
    for small in ("at ", "the "):
        folded = folded.removeprefix(small).lstrip() or folded
    as_name = folded.replace(" ", "_").replace("-", "_")
    exact = [name for name, named in names.items() if as_name == name or folded == named.casefold()]
    begun = [name for name, named in names.items() if name.startswith(as_name) or named.casefold().startswith(folded)]
    inner = [name for name, named in names.items() if _holds(name, named, folded)]
    found = exact or begun or (inner if within else [])
    if len(found) == 1:
        return found[0]
    if found:
        verb = "begins" if begun else "stands in"
        return Rejected(f"{typed[:40]!r} {verb} several: {', '.join(found)}.")
    near = nearest(folded, {**{named.casefold(): None for named in names.values()}, **dict.fromkeys(names)})
    meant = inner[:_MOST_MEANT] or list(dict.fromkeys(_name_of(names, one) for one in near))
    hint = f" Did you mean {' or '.join(meant)}?" if meant else " The word alone lists what there is."
    return Rejected(f"There is no {typed[:40]!r} here.{hint}")


def _holds(name: str, title: str, typed: str) -> bool:
    """Whether all words that were typed stand, as whole words, in a name or in its title."""
    words = set(_WORDS.findall(typed))
    return bool(words) and any(words <= set(_WORDS.findall(one)) for one in (name.replace("_", " "), title.casefold()))


def _name_of(names: Mapping[str, str], title: str) -> str:
    return next((name for name, named in names.items() if title in (name, named.casefold())), title)
