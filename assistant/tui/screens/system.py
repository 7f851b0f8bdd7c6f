"""All facts of the system on one screen."""

from collections.abc import Iterator, Mapping
from typing import ClassVar

from textual import events, on
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Input, OptionList

from assistant.call.answers import CANNOT_TELL, Answer
from assistant.call.asking import shown_answer
from assistant.call.prompts import AskChoice, AskQuantity, Prompt
from assistant.errors import CoilsideError, InputError
from assistant.session.session import Session
from assistant.session.system import (
    Equipment,
    fact_answer,
    fact_prompt,
    last_equipment,
    still_untold,
    tellable,
    told_facts,
)
from assistant.source.problem import shorten
from assistant.store.times import time_words
from assistant.tui.messages import KeyWanted, Stepped
from assistant.tui.passage import MUTED, STRONG, Block, Passage, item, line, plain
from assistant.tui.screens.pages import Heading, Page
from assistant.tui.widgets.chooser import Chooser
from assistant.tui.widgets.edges import KeyBar, Notice
from assistant.tui.widgets.reply import ReplyLine, ReplyRow

GO_ON = "Take these and go on"


class Detail(Widget):
    """What the marked fact is, how to find it, and its choices."""

    DEFAULT_CSS = """
    Detail {
        height: auto;
        padding: 0 1;
        max-width: 100;
    }
    """

    def __init__(self) -> None:
        self.passage = Passage(())
        super().__init__()

    def render(self) -> Passage:
        """The text."""
        return self.passage

    def tell(self, blocks: Iterator[Block]) -> None:
        """Show some lines."""
        self.passage = Passage(blocks)
        self.refresh(layout=True)


class SystemPage(Page[tuple[Answer, ...]]):
    """A row for each fact; ends with those that were told here, or with nothing."""

    DEFAULT_CSS = """
    SystemPage #reply {
        height: 2;
    }
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "set", "Set, or next", key_display="Enter"),
        Binding("f10", "done", "Take these and go on", key_display="F10"),
        Binding("f4", "same", "As on the last call", key_display="F4"),
        Binding("escape", "leave", "Back, nothing taken", key_display="Esc"),
    ]
    AUTO_FOCUS = "ReplyLine"

    def __init__(self, session: Session) -> None:
        self._session = session
        catalogue = session.library.catalogue
        self._names = tellable(session.conversation)
        self._prompts: Mapping[str, Prompt] = {
            name: fact_prompt(name, catalogue, session.system) for name in self._names
        }
        self._told = dict(told_facts(session.conversation))
        self._fresh: dict[str, Answer] = {}
        self._last = self._equipment()
        super().__init__()

    def _equipment(self) -> Equipment | None:
        session = self._session
        if session.store is None:
            return None
        try:
            return last_equipment(session.store, session.library.catalogue, session.number)
        except CoilsideError:
            return None

    def compose(self) -> Iterator[Widget]:
        """Heading, rows, what the marked one is, news, reply line, keys."""
        yield Heading("The system: what stays the same for the whole call")
        yield Chooser([*(self._words(name) for name in self._names), plain(GO_ON, STRONG)])
        with VerticalScroll():
            yield Detail()
        yield Notice()
        yield ReplyRow()
        keys = [key for key in self.BINDINGS if isinstance(key, Binding) and (self._last or key.action != "same")]
        yield KeyBar(keys)

    def on_mount(self) -> None:
        """Mark the first fact that is not told."""
        first = next((place for place, name in enumerate(self._names) if name not in self._told), len(self._names))
        self.chooser.highlighted = first
        # Tab would take the keys away from the reply line; arrow keys move through the rows from there.
        self.chooser.can_focus = False
        if self._last is not None:
            entry = self._last.entry
            named = f"call {entry.number} ({shorten(entry.shown, 40)}, {time_words(entry.changed, '%d %b %Y')})"
            self.query_one(Notice).tell(f"On the same system as {named}? F4 fills in what it tells.")

    @property
    def chooser(self) -> Chooser:
        """The rows."""
        return self.query_one(Chooser)

    @property
    def _marked(self) -> str | None:
        """The fact of the marked row; `None` at the last row, which goes on."""
        at = self.chooser.highlighted
        return self._names[at] if at is not None and at < len(self._names) else None

    def _words(self, name: str) -> Content:
        prompt, answer = self._prompts[name], self._fresh.get(name) or self._told.get(name)
        title = plain(f"{_title(prompt)}: ", MUTED)
        if answer is None:
            return title + plain("not told", MUTED)
        return title + plain(shown_answer(prompt, answer.value), STRONG)

    @on(OptionList.OptionHighlighted)
    def _highlighted(self) -> None:
        name = self._marked
        self.query_one(Detail).tell(_detail(self._prompts[name]) if name else iter(()))
        prompt = self._prompts[name] if name else None
        self.query_one(ReplyLine).placeholder = _hint(prompt)

    @on(OptionList.OptionSelected)
    def _clicked(self) -> None:
        if self._marked is None:
            self.action_done()

    @on(Stepped)
    def _stepped(self, message: Stepped) -> None:
        at = self.chooser.highlighted or 0
        self.chooser.highlighted = (at + message.by) % (len(self._names) + 1)

    @on(Input.Submitted)
    def _submitted(self, event: Input.Submitted) -> None:
        name, reply = self._marked, self.query_one(ReplyLine)
        if name is None:
            self.action_done()
            return
        if event.value.strip():
            try:
                answer = fact_answer(name, event.value, self._session.conversation, self._session.system)
            except InputError as error:
                self.query_one(Notice).tell(str(error), is_problem=True)
                reply.offer_again(event.value)
                return
            self._set(answer)
        self.query_one(Notice).tell("")
        self._stepped(Stepped(1))

    def _set(self, answer: Answer) -> None:
        told = self._told.get(answer.name)
        if told is not None and told.value == answer.value:
            self._fresh.pop(answer.name, None)
        else:
            self._fresh[answer.name] = answer
        self.chooser.reword(self._names.index(answer.name), self._words(answer.name))

    def on_key(self, event: events.Key) -> None:
        """Typing goes to the reply line wherever the focus is."""
        reply = self.query_one(ReplyLine)
        if event.is_printable and event.character and not reply.has_focus:
            event.stop()
            reply.focus()
            reply.insert_text_at_cursor(event.character)

    async def action_set(self) -> None:
        """Set what is typed, or go to the next row."""
        await self.query_one(ReplyLine).action_submit()

    def action_done(self) -> None:
        """Take what was told here; a value that is still being typed is not passed over."""
        if self.query_one(ReplyLine).value.strip() and self._marked is not None:
            self.query_one(Notice).tell("Enter sets what is typed, Esc leaves everything.", is_problem=True)
            return
        self.dismiss(tuple(self._fresh.values()))

    def action_same(self) -> None:
        """Fill the rows that are not told with what the last call tells."""
        if self._last is None:
            self.query_one(Notice).tell("No earlier call tells anything of a system.", is_problem=True)
            return
        for answer in still_untold(self._last.facts, (*self._told.values(), *self._fresh.values())):
            if answer.name in self._names:
                self._set(answer)
        self.chooser.highlighted = len(self._names)
        self.query_one(Notice).tell(f"As on call {self._last.entry.number}. Check it against the data plate.")

    async def on_key_wanted(self, message: KeyWanted) -> None:
        """The key bar was clicked."""
        await self.run_action(message.action)


def _title(prompt: Prompt) -> str:
    return str(getattr(prompt, "title", prompt.name))


def _detail(prompt: Prompt) -> Iterator[Block]:
    yield line(prompt.question, STRONG)
    if isinstance(prompt, AskChoice):
        for number, choice in enumerate(prompt.choices, start=1):
            yield item(f"  {number}  ", choice.words)
    yield line(prompt.help, MUTED)


def _hint(prompt: Prompt | None) -> str:
    match prompt:
        case None:
            return "Enter goes on"
        case AskChoice():
            return f"Number or words of a choice, or {CANNOT_TELL}"
        case AskQuantity():
            return f"A value in {prompt.unit.label}, or with any unit" if prompt.unit.label else "A value"
        case _:
            return "Such as R-410A"
