"""The start, when calls are open: pick one up, or begin a new one."""

from collections.abc import Iterator, Sequence
from datetime import datetime
from typing import ClassVar, Final

from textual import on
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.screen import Screen
from textual.widget import Widget
from textual.widgets import OptionList

from assistant.call.library import Library
from assistant.errors import CoilsideError
from assistant.quantity import UnitSystem
from assistant.session.session import Session
from assistant.store.store import CallEntry, Search, Store
from assistant.store.times import time_words
from assistant.tui.messages import KeyWanted
from assistant.tui.options import brief
from assistant.tui.passage import MUTED, STRONG, plain
from assistant.tui.screens.pages import Heading
from assistant.tui.widgets.chooser import Chooser
from assistant.tui.widgets.edges import KeyBar, Notice

MOST_SHOWN: Final = 100
"""Of more open calls, the last changed are shown; `coilside calls list` finds the others."""


class PickUpScreen(Screen[Session]):
    """The open calls, the last changed first; ends with the session of the one that was picked."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "pick", "Take the marked one", key_display="Enter"),
        Binding("n", "new", "New call", key_display="N"),
        Binding("f9,q", "app.leave", "Quit", key_display="F9"),
    ]

    def __init__(self, library: Library, store: Store, system: UnitSystem, entries: Sequence[CallEntry]) -> None:
        self._library = library
        self._store = store
        self._system = system
        self._entries = tuple(entries)
        self._waiting = list(enumerate(entries, start=1))
        super().__init__()

    def compose(self) -> Iterator[Widget]:
        """Heading, list, news, keys."""
        count = self._store.count(Search("open"))
        shown = f", the last {len(self._entries)} shown" if count > len(self._entries) else ""
        yield Heading(f"Coilside  {count} open call{'s' if count != 1 else ''}{shown}")
        yield Chooser([plain("Begin a new call", STRONG), *(_entry_words(entry) for entry in self._entries)])
        yield Notice()
        yield KeyBar(self.BINDINGS)

    def on_mount(self) -> None:
        """The list is there at once; what each call waits for is worked out after it is on screen."""
        chooser = self.query_one(Chooser)
        chooser.highlighted = 0
        chooser.focus()
        self.call_after_refresh(self._tell_next)

    def _tell_next(self) -> None:
        """Work out the open question of one call, then let keys through before the next."""
        if not self._waiting or not self.is_attached:
            return
        place, entry = self._waiting.pop(0)
        try:
            prompt = Session.resume(self._library, self._store, entry.number, self._system).prompt
            question = brief(prompt) if prompt else "nothing is open"
        except CoilsideError as error:
            question = str(error)
        self.query_one(Chooser).reword(place, _entry_words(entry, question))
        self.set_timer(0.01, self._tell_next)

    @on(OptionList.OptionSelected)
    def _selected(self, event: OptionList.OptionSelected) -> None:
        if event.option_index == 0:
            self.action_new()
            return
        number = self._entries[event.option_index - 1].number
        try:
            self.dismiss(Session.resume(self._library, self._store, number, self._system))
        except CoilsideError as error:
            self.query_one(Notice).tell(str(error), is_problem=True)

    def action_pick(self) -> None:
        """Take what is marked."""
        self.query_one(Chooser).action_select()

    def action_new(self) -> None:
        """Begin a new call."""
        self.dismiss(Session.begin(self._library, self._store, self._system))

    async def on_key_wanted(self, message: KeyWanted) -> None:
        """The key bar was clicked."""
        await self.run_action(message.action)


def _entry_words(entry: CallEntry, question: str = "...") -> Content:
    """Number, complaint and time on one line, the open question below."""
    title = plain(f"{entry.number:>3}  ", "bold $primary") + plain(entry.shown or "(no complaint yet)", STRONG)
    return title + plain(f"  {when(entry.changed)}", MUTED) + Content("\n     ") + plain(f"Next: {question}", MUTED)


def when(moment: datetime) -> str:
    """A time as a list shows it, in the local zone."""
    return time_words(moment, "%a %d %b %Y, %H:%M")
