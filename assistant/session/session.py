"""A call in progress: the conversation, and what a reply does to it and to the record.

Both faces of the chat drive this and only show what comes back.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from functools import cached_property
from typing import TYPE_CHECKING, Literal, assert_never

from assistant.call.answers import Answer, Value, Written, with_answer, without_answer, write_answer
from assistant.call.library import Library
from assistant.call.prompts import Prompt
from assistant.call.replies import COMMANDS, Command, Given, Reply, Unclear, read_all_written, read_command, read_reply
from assistant.call.script import Start
from assistant.call.turns import Answered
from assistant.call.walk import Conversation, accept, walk
from assistant.call.what_if import suppose
from assistant.call.wording import ending_of, title_of
from assistant.errors import (
    ChangedElsewhereError,
    CoilsideError,
    DamagedError,
    GoneError,
    InputError,
    NoCallError,
    StoreError,
)
from assistant.quantity import UnitSystem
from assistant.session.between import Between, Nothing
from assistant.session.instruments import OWN, USUAL, accuracy_lines, carried_over, read_told
from assistant.session.keeping_words import note_word, sheet_word
from assistant.session.notices import notices
from assistant.session.responses import Accepted as Accepted
from assistant.session.responses import Anew as Anew
from assistant.session.responses import Information as Information
from assistant.session.responses import Leave as Leave
from assistant.session.responses import Rejected as Rejected
from assistant.session.responses import Response as Response
from assistant.session.system import (
    at_first_fact,
    fact_lines,
    last_equipment,
    named_equipment,
    offer,
    read_fact,
    still_untold,
)
from assistant.source.nearest import nearest
from assistant.store.changes import changed_since
from assistant.store.store import Line, Store
from assistant.store.times import now
from assistant.worksheet.sheet import Worked
from assistant.worksheet.showing import tell_work, work_lines

if TYPE_CHECKING:
    from assistant.opinion.ahead import Ahead


@dataclass
class Session:
    """One call. `conversation` is always what follows from the answers on disk.

    Without a store nothing is kept, as when an author tries a tree; with a `start` the call begins there. `news` are
    sentences to be shown with the first question; `between` stands between the tech and the conversation.
    """

    library: Library
    store: Store | None
    system: UnitSystem = "us"
    number: int | None = None
    answers: tuple[Answer, ...] = ()
    changing: Answered | None = None
    start: Start | None = None
    news: tuple[str, ...] = ()
    between: Between = field(default_factory=Nothing)
    conversation: Conversation = field(init=False)
    # What the list shows of the call, and its last line, as far as this session knows.
    _listed: tuple[str, str, bool, str] | None = field(init=False, default=None)
    _last_line: int | None = field(init=False, default=None)

    def __post_init__(self) -> None:
        self.conversation = walk(self.library, self.answers, self.system, start=self.start)

    @classmethod
    def begin(
        cls, library: Library, store: Store, system: UnitSystem = "us", between: Between | None = None
    ) -> "Session":
        """A new call, with the accuracies of the tech's own instruments as they were told last.

        Raises:
            StoreError: the record cannot be read.
        """
        answers = carried_over(store, library.catalogue)
        return cls(library, store, system, answers=answers, between=between or Nothing())

    @classmethod
    def resume(
        cls,
        library: Library,
        store: Store,
        number: int,
        system: UnitSystem = "us",
        between: Between | None = None,
    ) -> "Session":
        """Pick a stored call up where it was.

        Raises:
            StoreError: there is no such call.
        """
        # The last line first: what another program writes in between is then seen as such.
        last, entry = store.last_line(number), store.entry(number)
        answers = read_all_written(store.answers(number), library.catalogue, system)
        session = cls(library, store, system, number, answers, between=between or Nothing())
        session._last_line = last
        session._listed = (entry.title, entry.ending, entry.status == "ended", entry.edition)
        session.news = changed_since(entry, session.conversation)
        return session

    @property
    def shown(self) -> Conversation:
        """The conversation as it is to be seen."""
        return self.between.show(self.conversation)

    @property
    def hint(self) -> str:
        """What an empty reply does, where neither question nor screen says it."""
        return ""

    @property
    def closing(self) -> str:
        """What can be typed line by line once the call has ended."""
        if self.store is None:
            return "Nothing is kept: this was only tried. Enter leaves."
        then = "Type new for another call, sheet to write this one down, or Enter to leave."
        outcome = self.conversation.outcome
        if outcome is not None and outcome.kind == "undecided" and self.gives_opinion:
            then = f"Type opinion for what fits best and what to do next. {then}"
        return f"It is kept: coilside calls list. {then}"

    @property
    def kept(self) -> str:
        """What has become of the call when it is left."""
        if self.store is None:
            return "Nothing is kept: this was only tried."
        if self.number is None:
            return "Nothing was answered, so nothing is kept."
        return f"Call {self.number} is kept. Pick it up with: coilside call --plain --resume {self.number}"

    @property
    def holds_back(self) -> bool:
        """Whether something is not to be told yet."""
        return self.between.asks(self.conversation) is not None

    @property
    def prompt(self) -> Prompt | None:
        """What is asked now: an earlier prompt while its answer is being changed, what comes before, the call's own."""
        if self.changing is not None:
            return self.changing.prompt
        return self.between.asks(self.conversation) or self.conversation.prompt

    def say(self, text: str) -> Response:
        """Take a typed reply.

        Raises:
            StoreError: the answer could not be written; it does not count.
        """
        return self._surely(lambda: self._say(text))

    def _say(self, text: str) -> Response:
        before = None if self.changing else self.between.asks(self.conversation)
        if before is not None:
            reply = read_reply(before, text)
            if not isinstance(reply, Given):
                return self._take_reply(reply)
            self.between.take(self.conversation, reply.value)
            return Accepted()
        if self.prompt is None:
            return self._after_the_end(text)
        if self.changing is not None and not text.strip():
            # Nothing typed leaves the answer as it was; the prompt's usual answer would be a surprise here.
            return self._back()
        return self._take_reply(accept(self.conversation, text, self.changing.prompt if self.changing else None))

    def _take_reply(self, reply: Reply) -> Response:
        """Do what a reply to the question means."""
        match reply:
            case Given():
                return self._answer(reply.value)
            case Unclear():
                return Rejected(reply.message)
            case Command():
                return self.command(reply.word, reply.argument)
            case _:
                assert_never(reply)

    def _after_the_end(self, text: str) -> Response:
        command = read_command(text)
        if command is not None:
            return self.command(command.word, command.argument)
        return Rejected(
            "This call has ended. Type new for another call, sheet to write this one down, back or change NAME to "
            "correct an answer, or quit."
        )

    def command(self, word: str, argument: str = "") -> Response:
        """Do what a command word asks.

        Raises:
            StoreError: it could not be written; nothing has changed.
        """
        return self._surely(lambda: self._command(word, argument))

    def _surely(self, deed: Callable[[], Response]) -> Response:
        """Do something; where the record has changed, is damaged or was taken away, go on with what is there."""
        try:
            return deed()
        except ChangedElsewhereError:
            return self._catch_up()
        except (GoneError, DamagedError):
            told = self._keep_anew()
        match done := deed():
            case Accepted():
                return replace(done, notices=(told, *done.notices), is_told=False)
            case Rejected():
                return Rejected(f"{told} {done.message}")
            case Information():
                return replace(done, lines=(told, *done.lines))
            case Leave() | Anew():
                return done
            case _:
                assert_never(done)

    def _keep_anew(self) -> str:
        """Keep the call as far as it is known in another record; give a sentence about it.

        Raises:
            StoreError: there is none that could be written into.
        """
        assert self.store is not None
        told = self.store.begin_anew()
        self.number = self._listed = self._last_line = None
        lines = self._lines_so_far(now())
        if lines:
            self.number = self.store.add_call(lines)
            self._last_line = self.store.last_line(self.number)
            self._describe()
        return told

    def _lines_so_far(self, at: datetime) -> list[Line]:
        return [Line(at, "set", write_answer(answer)) for answer in self.answers]

    def _catch_up(self) -> Accepted:
        """Take the call up as another program left it."""
        assert self.store is not None
        assert self.number is not None
        self._last_line = self.store.last_line(self.number)
        self.changing = None
        self._take(read_all_written(self.store.answers(self.number), self.library.catalogue, self.system))
        return Accepted(("The call was changed in another window. Here it is as it stands; your reply was not taken.",))

    def _command(self, word: str, argument: str) -> Response:
        barred = self.between.bars_word(self.conversation, word)
        if barred:
            return Rejected(barred)
        match word:
            case "back":
                return self._back()
            case "change":
                return self._change(argument)
            case "system":
                return self._system(argument)
            case "same":
                return self._same(argument)
            case "instruments":
                return self._instruments(argument)
            case "note":
                return note_word(self.store, self.number, argument)
            case "sheet":
                return sheet_word(self.store, self.number, self.conversation, argument)
            case "new":
                return self._new()
            case "quit":
                return Leave()
            case _:
                return self._tell(word, argument)

    def _tell(self, word: str, argument: str) -> Response:
        """What the assistant only tells, so that nothing changes."""
        match word:
            case "why":
                return self._why()
            case "work":
                return self._work(argument)
            case "if":
                return self._suppose(argument)
            case "answers":
                return Information("Answers so far", self._answer_lines())
            case "picture":
                # What draws is loaded when a picture is wanted: the first question waits for what it needs itself.
                from assistant.call.pictured import PICTURE_FORMS, picture_lines

                lines = picture_lines(self.conversation, argument)
                return Rejected(PICTURE_FORMS) if lines is None else Information("Pictures", lines)
            case "should":
                from assistant.call.should import TITLE, should_lines

                told = should_lines(self.shown, argument)
                return Rejected(told) if isinstance(told, str) else Information(TITLE, told)
            case "opinion":
                return self._weigh()
            case _:
                return Information("What you can type", tuple(f"{name:12} {text}" for name, text in COMMANDS.items()))

    def _weigh(self) -> Response:
        """Hold everything that was measured and seen against all causes; waits for what is not worked ahead."""
        from assistant.call.second_opinion import TITLE, Weighing

        try:
            return Information(TITLE, tuple(Weighing(self.ahead, self.conversation).lines()))
        except CoilsideError as error:
            return Rejected(str(error))

    @property
    def gives_opinion(self) -> bool:
        """Whether the second opinion may be told now."""
        return not self.between.bars_word(self.conversation, "opinion")

    @cached_property
    def ahead(self) -> "Ahead":
        """What was worked ahead for the second opinion on this call."""
        from assistant.opinion.ahead import Ahead

        return Ahead()

    def _answer(self, value: Value) -> Accepted:
        if self.changing is not None:
            answer = Answer(self.changing.answer.key, value)
        else:
            assert self.conversation.prompt is not None
            answer = Answer(self.conversation.prompt.key, value)
        before = self.conversation
        self._record("set", write_answer(answer))
        self.changing = None
        self._take(with_answer(self.answers, answer))
        # Where the call goes now may be what is not to be told yet.
        return Accepted(() if self.holds_back else notices(before, self.conversation))

    def _back(self) -> Response:
        if self.changing is not None:
            self.changing = None
            return Accepted(("The answer stays as it was.",))
        asked = [answer for answer in self.conversation.used if answer.key.name not in OWN]
        if not asked:
            return Rejected("There is nothing to take back yet.")
        last = asked[-1]
        self._record("drop", write_answer(last))
        self._take(without_answer(self.answers, last.key))
        return Accepted()

    def _change(self, argument: str) -> Response:
        answered = [turn for turn in self.conversation.turns if isinstance(turn, Answered)]
        if not argument:
            return Information("Type change and one of these names", self._answer_lines())
        wanted = argument.strip().replace(" ", "_")
        found = [turn for turn in answered if turn.prompt.name.casefold().replace(" ", "_") == wanted]
        if not found:
            near = nearest(wanted, {turn.prompt.name for turn in answered})
            hint = f" Did you mean {' or '.join(near)}?" if near else " Type answers to see the names."
            return Rejected(f"No answer so far is called {argument!r}.{hint}")
        return self.change_turn(found[-1])

    def change_turn(self, turn: Answered) -> Response:
        """Ask an earlier prompt again; the next reply replaces its answer."""
        barred = self.between.bars_change(turn)
        if barred:
            return Rejected(barred)
        self.changing = turn
        return Information(f"Changing: {turn.prompt.question}", (f"It was: {turn.shown}. Type back to leave it so.",))

    def _why(self) -> Information:
        if self.prompt is None:
            return Information("Why", ("Nothing is asked any more.",))
        lines = [*self.prompt.why, *([f"How: {self.prompt.help}"] if self.prompt.help else [])]
        return Information(self.prompt.question, tuple(lines) or ("The tree gives no reason for this question.",))

    def _work(self, argument: str) -> Response:
        worked = [number for number in self.shown.numbers if isinstance(number, Worked)]
        wanted = argument.strip().replace(" ", "_")
        chosen = [number for number in worked if not wanted or number.name == wanted]
        if not chosen and wanted:
            near = nearest(wanted, [number.name for number in worked])
            hint = f" Did you mean {' or '.join(near)}?" if near else ""
            return Rejected(f"No worked number is called {argument!r} so far.{hint}")
        lines = [line for number in chosen for line in (*self._work_of(number), "")]
        return Information("The work", tuple(lines[:-1]) or ("No number could be worked yet.",))

    def _work_of(self, number: Worked) -> tuple[str, ...]:
        from assistant.call.pictured import scale_lines

        return *work_lines(tell_work(number, self.conversation.display)), *scale_lines(number.name, self.shown)

    def _suppose(self, argument: str) -> Response:
        """Tell what another value would change, and keep nothing of it."""
        found = suppose(self.library, self.conversation, self.answers, argument, self.system, self.start)
        return Rejected(found.message) if isinstance(found, Unclear) else Information(found.title, found.lines)

    def _new(self) -> Response:
        """Leave an ended call for another one."""
        if self.store is None:
            return Rejected("This is only tried, so there is no other call to begin.")
        if self.conversation.prompt is not None:
            return Rejected(
                "This call has not ended. Type quit to leave it; it is kept, and a new one can be begun then."
            )
        return Anew()

    def anew(self) -> "Session":
        """Another call over the same record.

        Raises:
            StoreError: the record cannot be read.
            ValueError: there is no record.
        """
        if self.store is None:
            raise ValueError("nothing is kept here")
        return type(self).begin(self.library, self.store, self.system, self.between.afresh())

    def _instruments(self, argument: str) -> Response:
        """Tell, or show, how accurate the tech's own instruments are."""
        if not argument:
            return Information("Your instruments", accuracy_lines(self.answers, self.library.catalogue))
        try:
            told = read_told(argument, self.conversation.state, self.system)
        except InputError as error:
            return Rejected(str(error))
        before = self.conversation
        if told.accuracy is None:
            self._record("drop", Written(told.key, USUAL))
            self._take(without_answer(self.answers, told.key))
        else:
            answer = Answer(told.key, told.accuracy)
            self._record("set", write_answer(answer))
            self._take(with_answer(self.answers, answer))
        said = "From now on the doubt of each number is worked with that, on this call and the next ones."
        return Accepted((said, *notices(before, self.conversation)))

    def _system(self, argument: str) -> Response:
        """Show all facts of the system, or take one that is told by its name."""
        if not argument:
            return Information("The system", fact_lines(self.conversation, self.system))
        try:
            return self.give((read_fact(argument, self.conversation, self.system),))
        except InputError as error:
            return Rejected(str(error))

    def _same(self, argument: str) -> Response:
        """Take over what an earlier call tells of the system; what was said on this call stays."""
        if self.store is None:
            return Rejected("No calls are kept here, so there is none to take facts from.")
        catalogue = self.library.catalogue
        try:
            equipment = named_equipment(self.store, catalogue, argument, self.number)
        except (InputError, NoCallError) as error:
            return Rejected(str(error))
        fresh = still_untold(equipment.facts, self.answers)
        number = equipment.entry.number
        if not fresh:
            return Rejected(f"All that call {number} tells of its system is told on this call already.")
        words = replace(equipment, facts=fresh).words(catalogue, self.system)
        return Accepted((f"As on call {number}: {words}.", *self.give(fresh).notices))

    def offer_facts(self) -> str:
        """Give the facts of the last call in a sentence, at the first question about the system; else nothing.

        Raises:
            StoreError: the record cannot be read.
        """
        if self.store is None or self.changing is not None or not at_first_fact(self.conversation):
            return ""
        equipment = last_equipment(self.store, self.library.catalogue, self.number)
        return offer(equipment, self.library.catalogue, self.system) if equipment else ""

    def give(self, answers: Sequence[Answer]) -> Accepted:
        """Take facts that fit, asked or not; what is not asked yet waits for its question.

        Raises:
            StoreError: one could not be written; it and those behind it do not count.
        """
        before = self.conversation
        for answer in answers:
            self._record("set", write_answer(answer))
            self.answers = with_answer(self.answers, answer)
        self._take(self.answers)
        waiting = {answer.key for answer in answers}
        dropped = tuple(answer for answer in self.conversation.unused if answer.key not in waiting)
        return Accepted(notices(before, replace(self.conversation, unused=dropped)))

    def _answer_lines(self) -> tuple[str, ...]:
        answered = (turn for turn in self.conversation.turns if isinstance(turn, Answered))
        return tuple(f"{turn.prompt.name}: {turn.shown}" for turn in answered)

    def _record(self, deed: Literal["set", "drop"], answer: Written) -> None:
        if self.store is None:
            return
        try:
            self._write(self.store, deed, answer)
        except NoCallError:
            # Deleted in another window; what was answered here is kept as a call of its own.
            self.number = self._listed = self._last_line = None
            self._write(self.store, deed, answer)

    def _write(self, store: Store, deed: Literal["set", "drop"], answer: Written) -> None:
        if self.number is not None:
            self._last_line = store.record(self.number, deed, answer, after=self._last_line)
            return
        at = now()
        self.number = store.add_call([*self._lines_so_far(at), Line(at, deed, answer)])
        self._last_line = store.last_line(self.number)

    def _take(self, answers: tuple[Answer, ...]) -> None:
        """Work the conversation again, and set what a list shows of the call where that has changed."""
        self.answers = answers
        self.conversation = walk(self.library, answers, self.system, start=self.start, earlier=self.conversation)
        self._describe()

    def _describe(self) -> None:
        call = self.conversation
        listed = (title_of(call), ending_of(call), call.ended, call.tree.edition if call.tree else "")
        if listed == self._listed or self.store is None or self.number is None:
            return
        try:
            self.store.describe(self.number, listed[0], "ended" if listed[2] else "open", listed[1], listed[3])
        except StoreError:
            # The answer itself is on disk; the list is set right with the next one.
            return
        self._listed = listed
