"""The chat: transcript, panel, reply line; what is typed goes to the session, what comes back is shown."""

import os
from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import cached_property, partial
from typing import TYPE_CHECKING, ClassVar, assert_never

from textual import events, on
from textual.binding import Binding, BindingType
from textual.screen import Screen
from textual.widget import Widget
from textual.widgets import Input
from textual.worker import get_current_worker

from assistant.call.answers import CANNOT_TELL, Answer
from assistant.call.prompts import Acknowledge, AskText
from assistant.call.replies import COMMANDS, Command, Given, command_at, read_command, read_reply
from assistant.call.turns import Answered
from assistant.call.walk import Conversation
from assistant.call.wording import title_of
from assistant.catalogue.layers import tell_replaced
from assistant.errors import CoilsideError, LockedError, StoreError
from assistant.session.keeping_words import is_sheet_form, sheet_word
from assistant.session.riding import RIDING
from assistant.session.session import Accepted, Anew, Information, Leave, Rejected, Response, Session
from assistant.tui.messages import ChangeWanted, KeyWanted, OptionPicked, RoomChanged, Stepped
from assistant.tui.options import stepped
from assistant.tui.screens.change import ChangePage, changeable
from assistant.tui.screens.locked import Locked
from assistant.tui.screens.pages import HelpPage
from assistant.tui.unpromised import draw_now
from assistant.tui.widgets.edges import KeyBar, Notice, TitleBar
from assistant.tui.widgets.panel import CallArea, Panel
from assistant.tui.widgets.reply import ReplyLine, ReplyRow
from assistant.tui.widgets.transcript import Transcript
from assistant.tui.widgets.turns import HELP_OF_TURNS, Aside

# Pages and what draws pictures are loaded when they are wanted: the first question does not wait for them.
if TYPE_CHECKING:
    from assistant.opinion.fits import Prepared
    from assistant.opinion.inputs import Situation
    from assistant.pictures.vapour import Enthalpies
    from assistant.tui.screens.pictures import Vapours

NARROW = 70
"""Below this many columns the panel hides by itself."""


_OPINION = "how well each cause fits everything so far, and what to do next; also Ctrl+O"
_PICTURE = "the cycle on its chart, the valve, doubt against limit; also Ctrl+P"


class ChatScreen(Screen[None]):
    """One call."""

    # Nothing of it shows between its widgets, so drawing it need not take time.
    BLANK = True

    # Function keys and page keys come through SSH and do not mean anything to the reply line.
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f1", "help", "Help", tooltip="this page"),
        Binding("f2", "why", "Why", tooltip="why this is asked, and how to find the answer"),
        Binding("f3", "work", "Work", tooltip="the work behind the numbers so far"),
        Binding("f4", "cannot_tell", "Can't tell", tooltip="answer: cannot tell, or cannot get at it"),
        Binding("f5", "back", "Back", tooltip="take the last answer back"),
        Binding("f6", "change", "Change", tooltip="pick an earlier answer and change it"),
        Binding("f7", "panel", "Panel", tooltip="hide or show the numbers and answers so far"),
        Binding("f8", "app.look", "Look", show=False, tooltip="dark, light, for the sun, or no colour"),
        Binding("f10", "system", "System", tooltip="all facts of the system on one screen"),
        Binding("f11,ctrl+p", "picture", "Picture", key_display="F11", tooltip=_PICTURE),
        Binding("f12,ctrl+o", "opinion", "Opinion", show=False, key_display="F12", tooltip=_OPINION),
        Binding("f9", "app.leave", "Quit", tooltip="stop here; the call is kept and can be picked up"),
        Binding("escape", "escape", show=False, key_display="Esc", tooltip="leave a change, an aside or a typed reply"),
        Binding("pageup", "page(-1)", show=False, key_display="PageUp", tooltip="back through the call"),
        Binding("pagedown", "page(1)", show=False, key_display="PageDown", tooltip="on to the end of the call"),
    ]
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (NARROW, "-middle"), (120, "-broad")]  # noqa: RUF012 - as Textual declares it
    AUTO_FOCUS = "ReplyLine"

    weighs: ClassVar[bool] = True
    """Whether the second opinion is worked beside the chat."""

    words: ClassVar[Mapping[str, str]] = COMMANDS
    """What can be typed besides answers."""

    def __init__(self, session: Session, notes: Sequence[str] = ()) -> None:
        self.session = session
        self.notes = tuple(notes)
        super().__init__()
        self._prepared_for: Situation | None = None
        self._opinion_told: Conversation | None = None
        self.locked = Locked(session.store, partial(self.tell, is_problem=True), self.set_timer)

    def compose(self) -> Iterator[Widget]:
        """Title, transcript with panel, news, reply line, keys."""
        yield TitleBar()
        yield CallArea()
        yield from self.compose_more()
        yield Notice()
        yield ReplyRow()
        yield KeyBar(self.BINDINGS)

    def compose_more(self) -> Iterator[Widget]:
        """What stands between the call and the reply."""
        yield from ()

    def on_mount(self) -> None:
        """Show the call as far as it goes."""
        self.watch(self.transcript, "scroll_y", self._tell_more, init=False)
        self._follow()
        unfit = self.session.conversation.unfit
        if unfit:
            self.tell(f"An earlier answer does not fit any more: {unfit}", is_problem=True)
        elif self.notes:
            self.tell(" ".join(self.notes), is_problem=self.notes != (RIDING,))
        elif self.session.library.replaced:
            self.tell(tell_replaced(self.session.library.replaced, most=2))

    def on_resize(self) -> None:
        """The title says where the screen is too small."""
        self.query_one(TitleBar).refresh()

    @property
    def transcript(self) -> Transcript:
        """The record of the call."""
        return self.query_one(Transcript)

    @cached_property
    def _vapours(self) -> "Vapours":
        """The superheated states of the call, as far as pictures asked for them."""
        from assistant.tui.screens.pictures import Vapours

        return Vapours()

    @property
    def _parts(self) -> tuple[Widget, ...]:
        """What an answer changes, but for the numbers beside it."""
        row = self.query_one(ReplyRow)
        bar = self.transcript.vertical_scrollbar
        return (self.query_one(TitleBar), self.transcript, bar, self.query_one(Notice), row, self.reply)

    @property
    def reply(self) -> ReplyLine:
        """The line in which replies are typed."""
        return self.query_one(ReplyLine)

    # ------------------------------------------------------------------ showing

    def _follow(self) -> None:
        """Show the conversation as it is now."""
        session, conversation = self.session, self.session.shown
        self.transcript.follow(conversation.turns, session.prompt, session.changing, self.closing())
        # The next question does not wait for the numbers beside it.
        self.call_after_refresh(self._tell_panel, conversation)
        self.tell_title()
        self._tell_more()

    def _tell_panel(self, conversation: Conversation) -> None:
        self.query_one(Panel).tell(conversation)
        if self.weighs and self.session.gives_opinion:
            self.call_after_refresh(self._weigh)

    def _weigh(self, *, is_page_wanted: bool = False) -> None:
        """Show the second opinion beside the call; what takes seconds is worked by a process of its own first."""
        from assistant.call.second_opinion import Weighing, ends_undecided, situation_in

        conversation, ahead = self.session.conversation, self.session.ahead
        try:
            situation = situation_in(conversation)
            if not (is_page_wanted or situation.is_due):
                return
            if not ahead.is_ready(situation):
                self._prepare(situation, is_page_wanted=is_page_wanted)
                return
            weighing = Weighing(ahead, conversation)
        except CoilsideError as error:
            if is_page_wanted:
                self.tell(str(error), is_problem=True)
            elif ends_undecided(conversation):
                self._tell_at_end(conversation, (str(error),))
            return
        if is_page_wanted:
            self._open_opinion(tuple(weighing.lines()))
            return
        self.query_one(Panel).tell(conversation, weighing.short() if weighing.is_measured else "")
        self._tell_at_end(conversation, weighing.end_lines())

    def _tell_at_end(self, conversation: Conversation, said: tuple[str, ...]) -> None:
        """Say once under the end of a call what the second opinion has to it."""
        if said and conversation is not self._opinion_told:
            self._opinion_told = conversation
            self.transcript.show_aside("Second opinion", said, keeps_prompt=True)
            self._tell_more()

    def _prepare(self, situation: "Situation", *, is_page_wanted: bool) -> None:
        """Have the simulated unit worked with every fault in this weather; what was begun for another is dropped."""
        from assistant.opinion.ahead import prepare_apart

        if is_page_wanted:
            self.tell("The second opinion is being worked.")
        elif self._prepared_for == situation.ground:
            return
        self._prepared_for, session = situation.ground, self.session

        def work() -> None:
            worker = get_current_worker()
            found = prepare_apart(situation, lambda: worker.is_cancelled)
            if found is not None and not worker.is_cancelled and self.is_attached:
                self.app.call_from_thread(come_in, found)

        def come_in(found: "Prepared | str") -> None:
            session.ahead.keep(situation, found)
            self._prepared_for = None
            if session is self.session:
                if is_page_wanted:
                    self.tell("")
                self._weigh(is_page_wanted=is_page_wanted)

        self.app.run_worker(work, thread=True, exit_on_error=False, exclusive=True, group="opinion")

    def _open_opinion(self, lines: tuple[str, ...]) -> None:
        from assistant.tui.screens.opinion import OpinionPage

        self.app.push_screen(OpinionPage(lines))

    def closing(self) -> str:
        """What is said where nothing is asked any more."""
        then = "Type new for another call, sheet for a page to print or send. " if self.session.store else ""
        return f"{self.kept_as()} {then}F5 takes the last answer back, F6 changes an earlier one, F9 quits."

    def kept_as(self) -> str:
        """What becomes of the call, in a sentence."""
        number = self.session.number
        return "The call is kept." if number is None else f"It is kept as call {number}."

    def tell_title(self) -> None:
        """Show which call this is."""
        conversation = self.session.conversation
        tree = conversation.tree.title if conversation.tree else None
        self.query_one(TitleBar).tell(self.session.number, title_of(conversation), tree)

    def tell(self, text: str, is_problem: bool = False) -> None:
        """Show one line of news above the reply line."""
        self.query_one(Notice).tell(text, is_problem)

    @on(RoomChanged)
    def _room_changed(self) -> None:
        # The call moves to its end in the refresh that follows.
        self.call_after_refresh(self._tell_more)

    def _tell_more(self) -> None:
        """Say what can be answered, and whether the call goes on below."""
        live = self.transcript.live
        hint = live.hint() if live else "new, sheet, back, change NAME or quit"
        self.query_one(ReplyRow).tell(hint, self.transcript.at_end)

    # ------------------------------------------------------------------ replies

    @on(Input.Changed)
    def _typing(self, event: Input.Changed) -> None:
        self.transcript.point(event.value)

    @on(Input.Submitted)
    def _submitted(self, event: Input.Submitted) -> None:
        self.send(event.value)

    def send(self, text: str) -> None:
        """Take a typed reply; what lies below the screen is read first."""
        if self.locked.is_waiting:
            self.reply.offer_again(text)
            return
        if not self.transcript.at_end and self._waits_for_reading(text):
            self.query_one(ReplyRow).hold_back(text)
            self.action_page(1)
            return
        page = self._page_for(text)
        if page is not None:
            page()
            return
        try:
            response = self.session.say(text)
        except StoreError as error:
            self._not_written(error, partial(self.send, text))
            self.reply.offer_again(text)
            return
        self.locked.ended()
        self._show(response, text)

    def _waits_for_reading(self, text: str) -> bool:
        """Whether a reply counts only when all is read: an empty one, and one that acknowledges a caution."""
        prompt = self.session.prompt
        return not text or (isinstance(prompt, Acknowledge) and isinstance(read_reply(prompt, text), Given))

    def _page_for(self, text: str) -> Callable[[], None] | None:
        """The page that a typed word opens; every other word is the session's."""
        prompt = self.session.prompt
        match command_at(prompt, text) if prompt else read_command(text):
            case Command("help"):
                return self.action_help
            case Command("change", ""):
                return self.action_change
            case Command("picture"):
                return self.action_picture
            case Command("opinion"):
                return self.action_opinion
            case Command("system", ""):
                return self.action_system
            case Command("sheet", form) if self._makes_sheet(form):
                return partial(self._write_sheet, form)
            case _:
                return None

    def _makes_sheet(self, form: str) -> bool:
        """Whether there is a sheet of the call in this form; where there is none, the session says why."""
        return self.session.number is not None and not self.session.holds_back and is_sheet_form(form)

    def _write_sheet(self, form: str) -> None:
        """Write the call sheet; its pictures take seconds, during which the call goes on."""
        from assistant.sheet.handing import superheated_states

        self.tell("The call sheet is being written.")
        session, conversation = self.session, self.session.conversation

        def work() -> None:
            found = superheated_states(conversation)
            if self.is_attached:
                self.app.call_from_thread(self._sheet_drawn, session, form, found)

        self.app.run_worker(work, thread=True, exit_on_error=False)

    def _sheet_drawn(self, session: Session, form: str, enthalpies: "Enthalpies") -> None:
        try:
            response = sheet_word(session.store, session.number, session.conversation, form, enthalpies)
        except StoreError as error:
            self._not_written(error)
            return
        self.tell("")
        self._show(response, None)

    def _command(self, word: str) -> None:
        try:
            response = self.session.command(word)
        except StoreError as error:
            self._not_written(error, partial(self._command, word))
            return
        self._show(response, None)

    def _not_written(self, error: StoreError, again: Callable[[], None] | None = None) -> None:
        if again is not None and isinstance(error, LockedError) and self.locked.waits(partial(self._once_more, again)):
            return
        self.tell(f"{error} What is on the screen stays; try again.", is_problem=True)

    def _once_more(self, again: Callable[[], None]) -> None:
        self.reply.clear()
        again()

    def _show(self, response: Response, typed: str | None) -> None:
        """Show what came of a reply or a key; what was typed and not taken is given back."""
        match response:
            case Accepted():
                if typed is None:
                    self.reply.clear()
                self.tell(" ".join(response.notices) or self.session.offer_facts())
                self._follow()
                draw_now(self, self._parts)
            case Rejected():
                self.tell(response.message, is_problem=True)
                if typed:
                    self.reply.offer_again(typed)
            case Information():
                if typed is not None:
                    self.tell("")
                self._inform(response)
            case Anew():
                self.app.switch_screen(type(self)(self.session.anew()))
            case Leave():
                self.app.exit(self.session.number)
            case _:
                assert_never(response)

    def _inform(self, information: Information) -> None:
        if self.session.changing is not None and self._is_new_change():
            self._follow()
        else:
            # Under the question itself, its words need not stand again.
            asked = self.session.prompt.question if self.session.prompt else ""
            title = "Why this is asked" if information.title == asked else information.title
            self.transcript.show_aside(title, information.lines)
            self._tell_more()

    def _is_new_change(self) -> bool:
        """Whether a change has begun that the transcript does not show yet."""
        live, changing = self.transcript.live, self.session.changing
        return changing is not None and (live is None or live.was is None or live.prompt != changing.prompt)

    @on(Stepped)
    def _step(self, message: Stepped) -> None:
        live = self.transcript.live
        if live is not None and live.options:
            self.reply.write(stepped(live.options, live.pointed, message.by).say)
        else:
            self.transcript.scroll_relative(y=message.by, animate=False)

    @on(OptionPicked)
    def _pick(self, message: OptionPicked) -> None:
        self.reply.focus()
        if message.again:
            self.reply.clear()
            self.send(message.say)
        else:
            self.reply.write(message.say)

    @on(ChangeWanted)
    def _change_clicked(self, message: ChangeWanted) -> None:
        self._change(message.turn)

    # ------------------------------------------------------------------ keys

    def on_key(self, event: events.Key) -> None:
        """Typing goes to the reply line wherever the focus is."""
        if event.is_printable and event.character and not self.reply.has_focus:
            event.stop()
            self.reply.focus()
            self.reply.insert_text_at_cursor(event.character)

    async def on_key_wanted(self, message: KeyWanted) -> None:
        """A key of the key bar was clicked."""
        await self.run_action(message.action)

    def action_help(self) -> None:
        """Open the help page, made of what each part of the screen says of itself."""
        words = (f"{word} {meaning}" for word, meaning in self.words.items())
        parts = (ReplyLine.help_text, *HELP_OF_TURNS, Aside.help_text, Notice.help_text)
        self.app.push_screen(HelpPage(self.BINDINGS, words, (*parts, Transcript.help_text, Panel.help_text)))

    def action_why(self) -> None:
        """Say why this is asked."""
        self._command("why")

    def action_work(self) -> None:
        """Show the work behind the numbers."""
        self._command("work")

    def action_back(self) -> None:
        """Take the last answer back, or leave a change."""
        self._command("back")

    def action_cannot_tell(self) -> None:
        """Answer that it cannot be told; the complaint is the one thing that must be said in words."""
        self.send("" if isinstance(self.session.prompt, AskText) else CANNOT_TELL)

    def action_change(self) -> None:
        """Pick an earlier answer to change."""
        answered = changeable(self.session.conversation.turns)
        if not answered:
            self.tell("There is nothing to change yet.", is_problem=True)
            return
        self.app.push_screen(ChangePage(answered), self._change)

    def _change(self, turn: Answered | None) -> None:
        if turn is not None:
            self.reply.clear()
            self._show(self.session.change_turn(turn), None)

    def action_system(self) -> None:
        """Tell all facts of the system on one screen."""
        from assistant.tui.screens.system import SystemPage

        self.app.push_screen(SystemPage(self.session), self._take_facts)

    def _take_facts(self, facts: tuple[Answer, ...] | None) -> None:
        if not facts:
            return
        try:
            self._show(self.session.give(facts), None)
        except StoreError as error:
            self._not_written(error, partial(self._take_facts, facts))

    def action_picture(self) -> None:
        """Open the page of pictures."""
        from assistant.tui.screens.pictures import PicturePage, signs_for

        if self.session.holds_back:
            self._command("picture")
            return
        signs = signs_for(os.environ.get("TERM", ""), self.app.console.encoding)
        self.app.push_screen(PicturePage(self.session.conversation, self._vapours, signs))

    def action_opinion(self) -> None:
        """Open the page of the second opinion."""
        if self.session.gives_opinion:
            self._weigh(is_page_wanted=True)
        else:
            self._command("opinion")

    def action_panel(self) -> None:
        """Hide or show the panel; on a narrow screen, in front of the transcript."""
        self.toggle_class("-panel-over" if self.has_class("-narrow") else "-panel-off")

    def action_escape(self) -> None:
        """Leave the innermost of: the panel in front, a change, an aside, a typed reply, a place further up."""
        if self.has_class("-narrow") and self.has_class("-panel-over"):
            self.remove_class("-panel-over")
        elif self.reply.value:
            self.reply.clear()
        elif self.transcript.has_aside:
            self.transcript.drop_aside()
            self._tell_more()
        elif self.session.changing is not None:
            self._command("back")
            return
        else:
            self.transcript.to_end()
        self.tell("")

    def action_page(self, by: int) -> None:
        """Move through the call by a screen."""
        self.transcript.page(by)
