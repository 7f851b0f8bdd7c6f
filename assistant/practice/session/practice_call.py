"""A practice call in progress: the conversation over a visit to a simulated system, and what a reply does to it."""

import json
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Final, Self

from assistant.call.answers import UNTOLD, Acted, Answer, Chosen, Value, Written, without_answer, write_answer
from assistant.call.keys import TREE, PromptKey
from assistant.call.library import Library
from assistant.call.prompts import AskChoice, AskQuantity, AskText, DoStep, Prompt
from assistant.call.replies import Command, Given, Unclear, read_command, read_reply, tidy
from assistant.call.turns import Answered, Concluded
from assistant.call.walk import Conversation, accept
from assistant.errors import FileError, InputError, StoreError
from assistant.practice.session.practice_keeping import END, SiteSession, payload
from assistant.practice.session.practice_prompts import ALONE, VERDICT, by_oneself, door, verdict
from assistant.practice.session.practice_results import add_results, row_of
from assistant.practice.session.practice_turns import EVENT, alone, beginning, ending, interleaved
from assistant.practice.session.practice_words import NOT_HERE, OWN_WORDS, WORDS, CautionsFirst, own_word
from assistant.practice.training.history import result_words, words_of
from assistant.practice.training.kept import SetCall
from assistant.practice.training.steps import (
    HOLDS,
    PUT_BACK,
    UNKNOWN_MINUTES,
    answer_of,
    asked_event,
    cautions_of,
    known_at_the_door,
    step_events,
    waited_before,
)
from assistant.practice.visit.events import Event
from assistant.quantity import UnitSystem
from assistant.session.responses import Accepted, Anew, Information, Rejected, Response
from assistant.store.store import Store
from assistant.store.times import now
from assistant.thermo.refrigerants import find_refrigerant

_NOT_ALONE: Final = frozenset({"why", "work", "back", "change", "if", "picture", "answers", "agree", "tree"})

_ALONE: Final = "You go this one alone. Type take, look, do or wait and what; visit shows all so far; cause ends it."
_STANDS: Final = frozenset({"back", "change", "if"})
"""Words that change nothing any more once a call is over."""
_BY_ITSELF: Final = "The circuit gives the answer: Enter takes it, cannot tell leaves it out."


@dataclass
class PracticeCall(SiteSession):
    """A practice call. `first` is something to be done whose cautions are being read."""

    first: CautionsFirst | None = None
    is_inside: bool = True

    @classmethod
    def start_of(
        cls,
        library: Library,
        store: Store,
        call: SetCall,
        system: UnitSystem = "us",
        draw: Callable[[], SetCall] | None = None,
        following: Sequence[SetCall] = (),
    ) -> Self:
        """A practice call from its beginning: at the door, with what the customer says."""
        session = super().start_of(library, store, call, system, draw, following)
        session.is_inside = False
        return session

    # ------------------------------------------------------------------ how it stands

    @property
    def acknowledged(self) -> tuple[str, ...]:
        """The cautions that were acknowledged so far, by whatever asked for them."""
        own = (name for one in self.moments for name in one.event.acknowledged)
        met = (name for _, one in self.lines if one.key.first == EVENT for name in payload(one.text).get("met", ()))
        return tuple(dict.fromkeys((*self.conversation.cautions, *own, *met)))

    @property
    def prompt(self) -> Prompt | None:
        """What is asked now: a caution before what is to be done, the call's question, or the verdict at its end."""
        if self.is_over:
            return None
        if not self.is_inside:
            return door(self.call)
        if self.first is not None:
            return self.first.prompt
        if self.call.alone:
            return by_oneself(self.visit.minute)
        return super().prompt or verdict(self.conversation.outcome, self.library.catalogue)

    @property
    def safety_group(self) -> str:
        """The safety group of the refrigerant on the data plate."""
        return find_refrigerant(self.call.scenario.site.wish.refrigerant).safety_group

    @property
    def hint(self) -> str:
        """What Enter does at this point; empty where the prompt itself says it."""
        prompt = self.prompt
        if not self.is_inside:
            return "Enter begins the visit"
        if prompt is not None and prompt.key == VERDICT:
            named = self.conversation.outcome is not None and self.conversation.outcome.kind != "undecided"
            return f"{'agree; or the' if named else 'The'} name of a cause; cause lists them; or give up"
        if prompt is not None and prompt.key == ALONE:
            return "take, look, do, wait and what; cause NAME; help lists all words"
        if self.first is not None:
            return "Acknowledge it; skip goes on without, and is scored; back leaves it"
        if isinstance(prompt, AskQuantity | AskChoice) and self.is_of_the_site(prompt):
            if self.changing is not None:
                return "take takes it anew; Enter leaves it as it was"
            verb = "looks" if isinstance(prompt, AskChoice) else "takes it"
            return f"Enter {verb}; or cannot tell, or help"
        if prompt is not None and prompt.key.name in self.library.catalogue.facts and not _has_usual(prompt):
            return "Enter: the data plate does not tell it"
        if isinstance(prompt, DoStep):
            return "Enter does it, at the practice system; or 2: cannot do"
        return ""

    @property
    def closing(self) -> str:
        """What can be typed line by line once the call is over."""
        more = " new begins another;" if self.following or self.draw else ""
        return f"coilside practice show {self.number} shows it again.{more} Enter leaves."

    @property
    def kept(self) -> str:
        """What has become of the call when it is left."""
        if self.number is None:
            return "Nothing was done, so nothing is kept."
        if self.is_over:
            return f"Practice call {self.number} is over: coilside practice show {self.number}"
        resume = f"coilside practice call --plain --resume {self.number}"
        return f"Practice call {self.number} is kept. Pick it up with: {resume}"

    @property
    def shown(self) -> Conversation:
        """The conversation with what was done besides, and the review where it is over."""
        if not self.is_inside:
            return replace(self.conversation, turns=(beginning(self.call),), prompt=self.prompt)
        if self.call.alone:
            turns = alone(self.call, self.moments, self.library.catalogue, self.system)
        else:
            turns = interleaved(self.conversation, self.lines, self.moments, self.library.catalogue, self.system)
        last = ending(self.review) if self.is_over else ()
        return replace(self.conversation, turns=(beginning(self.call), *turns, *last), prompt=self.prompt)

    @property
    def _told_at_the_door(self) -> frozenset[PromptKey]:
        """What the customer said and what the data plate says; another tree can be followed."""
        told = known_at_the_door(self.library.catalogue, self.call.scenario)
        return frozenset(one.key for one in told if one.key != TREE)

    # ------------------------------------------------------------------ replies

    def _say(self, text: str) -> Response:
        if not self.is_inside:
            return self._enter(text)
        if self.first is not None:
            return self._before_it(text)
        if self.call.alone and tidy(text).casefold().partition(" ")[0] in _NOT_ALONE:
            return Rejected(_ALONE)
        own = own_word(self, text)
        if own is not None:
            return own
        prompt = self.prompt
        if prompt is None or (self.changing is not None and not text.strip()):
            return super()._say(text)
        if prompt.key == ALONE:
            command = read_command(text)
            return self.command(command.word, command.argument) if command else Rejected(_ALONE)
        if prompt.key == VERDICT:
            return self._verdict(text)
        reply = accept(self.conversation, text, prompt)
        if isinstance(reply, Command):
            return self.command(reply.word, reply.argument)
        if isinstance(prompt, AskQuantity | AskChoice) and self.is_of_the_site(prompt):
            return self._site_answer(prompt, text, reply)
        if prompt.key.name in self.library.catalogue.facts and not text.strip() and not _has_usual(prompt):
            told = self._answer(UNTOLD)
            return replace(told, notices=("The data plate does not tell that.", *told.notices))
        if isinstance(prompt, DoStep) and (not text.strip() or reply == Given(Acted(is_done=True))):
            return self._do_step(prompt)
        return self._take_reply(reply)

    def _enter(self, text: str) -> Response:
        command = read_command(text)
        if command is not None and command.word in ("help", "quit"):
            return self.command(command.word)
        self.is_inside = True
        return Accepted() if not text.strip() else self._say(text)

    def is_of_the_site(self, prompt: AskQuantity | AskChoice) -> bool:
        """Whether a question is answered at the site: a reading or an observation, no fact."""
        catalogue, name = self.library.catalogue, prompt.key.name
        return name in catalogue.readings or name in catalogue.observations

    def _site_answer(self, prompt: AskQuantity | AskChoice, text: str, reply: Given | Unclear) -> Response:
        if not text.strip():
            return self.take_asked(prompt)
        return self._answer(UNTOLD) if reply == Given(UNTOLD) else Rejected(_BY_ITSELF)

    def take_asked(self, prompt: AskQuantity | AskChoice) -> Response:
        """Take at the site what is asked.

        Raises:
            StoreError: it could not be written; nothing has happened.
        """
        title = self.library.catalogue.title_of(prompt.key.name)
        event = asked_event(prompt, self.visit)
        if event is None:
            told = self._answer(UNTOLD)
            return replace(told, notices=(f"{title}: that cannot be told at a practice system.", *told.notices))
        try:
            if (wait := waited_before(prompt, self.visit)) is not None:
                self.happen(wait, asked=True)
            moment = self.happen(event, asked=True)
            said = [f"{title}: {result_words(moment, self.library.catalogue, self.system).rstrip('.')}."]
            if event.name == "suction_pressure" and self._holds_for_a_step:
                said.append(result_words(self.happen(PUT_BACK, asked=True), self.library.catalogue, self.system))
        except InputError as error:
            told = self._answer(UNTOLD)
            return replace(told, notices=(f"{title}: {error}", *told.notices))
        read = accept(self.conversation, answer_of(moment, self.system), prompt)
        told = self._answer(read.value if isinstance(read, Given) else UNTOLD)
        return replace(told, notices=(*said, self.clock, *told.notices))

    @property
    def _holds_for_a_step(self) -> bool:
        """Whether the bulb is held for a step of the trees; then it goes back once the gauge is read."""
        held = next((one for one in reversed(self.moments) if one.event.name in HOLDS), None)
        return self.visit.site.bulb_held is not None and held is not None and held.asked

    def _do_step(self, prompt: DoStep) -> Response:
        events = step_events(prompt, self.visit.site, self.acknowledged)
        said: list[str] = []
        try:
            for event in events or (Event("wait", amount=UNKNOWN_MINUTES),):
                said.append(result_words(self.happen(event, asked=True), self.library.catalogue, self.system))
        except InputError as error:
            return Rejected(f"{error} Do it another way (do), or answer 2: cannot do.")
        if not events:
            said = ["That changes nothing at a practice system. What it stands for can be done with the word do."]
        told = self._answer(Acted(is_done=True))
        seen = tuple(one for one in said if one)
        return replace(told, notices=(*seen, self.clock, *told.notices))

    def _answer(self, value: Value) -> Accepted:
        before = sum(isinstance(turn, Concluded) for turn in self.conversation.turns)
        found = super()._answer(value)
        named = [turn.cause.title for turn in self.conversation.turns if isinstance(turn, Concluded)]
        if len(named) <= before:
            return found
        said = "The trees name a cause. agree names the same and ends the call; or go on, repair it and prove it."
        return replace(found, notices=(*found.notices, said))

    def _before_it(self, text: str) -> Response:
        """A reply to a caution before something that the trainee does unasked."""
        assert self.first is not None
        typed = tidy(text).casefold()
        if typed in ("back", "no"):
            self.first = None
            return Accepted(("It was not done.",))
        if typed.partition(" ")[0] in OWN_WORDS or typed == "give up":
            # Something else is wanted instead; a slip of the keyboard is not.
            first, self.first = self.first, None
            found = self._say(text)
            if not isinstance(found, Accepted):
                self.first = first
            return found
        reply = read_reply(self.first.prompt, text)
        if isinstance(reply, Command):
            return self.command(reply.word, reply.argument)
        if typed != "skip" and not isinstance(reply, Given):
            assert isinstance(reply, Unclear)
            return Rejected(f"{reply.message} skip goes on without it, back leaves it undone.")
        self.first = self.first.further(met=typed != "skip")
        if self.first.left:
            return Accepted()
        first, self.first = self.first, None
        return self.do_now(first.event, met=first.met, skipped=first.skipped)

    def ask_cautions(self, first: CautionsFirst) -> Accepted:
        """Ask for the cautions of something before it is done."""
        self.first = first
        return Accepted(("Cautions first. Type skip to go on without one; that is scored.",))

    def do_now(self, event: Event, met: Sequence[str] = (), skipped: Sequence[str] = ()) -> Response:
        """Do something unasked, its cautions being through: those acknowledged for it, and those skipped.

        Raises:
            StoreError: it could not be written; it has not happened.
        """
        if event.kind == "act":
            # What the act itself wants acknowledged is part of its event; only what a refrigerant adds is told beside.
            event = replace(event, acknowledged=tuple(sorted({*event.acknowledged, *met})))
            skipped = tuple(name for name in skipped if name not in cautions_of(event, self.library.catalogue))
        try:
            moment = self.happen(event, asked=False, met=met, skipped=skipped)
        except InputError as error:
            return Rejected(str(error))
        shown = result_words(moment, self.library.catalogue, self.system)
        words = words_of(moment, self.library.catalogue)
        said = f"{words}: {shown}" if shown else words
        return Accepted((f"{said.rstrip('.')}.", self.clock), is_told=True)

    # ------------------------------------------------------------------ the end

    def _verdict(self, text: str) -> Response:
        reply = read_reply(AskText(key=VERDICT, question=""), text)
        if isinstance(reply, Command):
            return self.command(reply.word, reply.argument)
        if text.strip():
            return OWN_WORDS["cause"](self, tidy(text))
        return Rejected("Nothing is named by Enter alone. Type agree, the name of a cause, or give up.")

    def end(self, named: Sequence[str] | None) -> Accepted:
        """End the call with the causes named; `None` gives up.

        Raises:
            StoreError: it could not be written; the call goes on.
        """
        self._record("set", Written(END, json.dumps({"named": None if named is None else list(named)})))
        self.named = None if named is None else tuple(named)
        self.is_over, self.changing, self.first = True, None, None
        self._describe()
        said = "The practice call is over. review tells it on one page, new begins another."
        if self.store is None:
            return Accepted((said,))
        try:
            add_results(self.store.path.parent, [row_of(self.review, self.number, now())])
        except (FileError, StoreError) as error:
            return Accepted((said, f"Its result could not be written: {error}"))
        return Accepted((said,))

    def _after_the_end(self, text: str) -> Response:
        command = read_command(text)
        if command is not None and command.word not in _STANDS:
            return self.command(command.word, command.argument)
        return Rejected("This practice call is over. Type review for all of it, new for another one, or quit.")

    # ------------------------------------------------------------------ words and the record

    def command(self, word: str, argument: str = "") -> Response:
        """Do what a command word asks; the help tells of the words of a practice call too."""
        if self.call.alone and word in _NOT_ALONE:
            return Rejected(_ALONE)
        if word in NOT_HERE and (word != "system" or argument) and not (word == "opinion" and self.is_over):
            return Rejected(NOT_HERE[word])
        if self.is_over and word in _STANDS:
            return self._after_the_end("")
        if word == "back" and self.first is not None:
            self.first = None
            return Accepted(("It was not done.",))
        response = super().command(word, argument)
        if word == "help" and isinstance(response, Information):
            left = tuple(line for line in response.lines if line.split()[0] not in NOT_HERE)
            return replace(response, lines=(*(f"{name:12} {text}" for name, text in WORDS.items()), *left))
        return response

    def _back(self) -> Response:
        if self.changing is not None:
            return super()._back()
        told = self._told_at_the_door
        own = [one for one in self.conversation.used if one.key not in told]
        if not own:
            return Rejected("There is nothing to take back yet.")
        self._record("drop", write_answer(own[-1]))
        self._take(without_answer(self.answers, own[-1].key))
        return Accepted(("The answer is taken back; what was done at the site, and its time, are not.",))

    def follow_tree(self, name: str) -> Accepted:
        """Begin at the start of a tree; all that was answered on the way so far is asked again, when it is wanted.

        Raises:
            StoreError: it could not be written; what was dropped so far is dropped.
        """
        told = self._told_at_the_door
        for one in reversed([one for one in self.answers if one.key not in told]):
            self._record("drop", write_answer(one))
            self.answers = without_answer(self.answers, one.key)
        tree = Answer(TREE, Chosen(name))
        self._record("set", write_answer(tree))
        self.changing = None
        self._take((*self.answers, tree))
        return Accepted(("From its start. What was done at the site stays done; readings are taken anew.",))

    def change_turn(self, turn: Answered) -> Response:
        """Ask an earlier prompt again; what the data plate says stays."""
        if turn.answer.key in self._told_at_the_door:
            return Rejected("That is what the customer said, or what the data plate says.")
        return super().change_turn(turn)

    def _new(self) -> Response:
        if not self.is_over:
            return Rejected("This practice call is not over. Name a cause, or give up; quit leaves it, and it is kept.")
        return Anew() if self.following or self.draw else Rejected("There is no other practice call to begin here.")

    def _catch_up(self) -> Accepted:
        self.first = None
        return super()._catch_up()


def _has_usual(prompt: Prompt) -> bool:
    """Whether a question has a usual answer of its own, which an empty reply gives."""
    return isinstance(prompt, AskQuantity | AskChoice) and prompt.default is not None
