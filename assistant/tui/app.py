"""The Textual application: which screen comes first, the look, and what is loaded when nobody waits."""

import asyncio
import gc
import signal
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path
from typing import Any, ClassVar

from textual import events, on
from textual.app import App
from textual.binding import BindingType
from textual.filter import ANSIToTruecolor, LineFilter, Monochrome
from textual.worker import Worker, WorkerState

from assistant.call.library import Library
from assistant.quantity import UnitSystem
from assistant.session.riding import RIDING, Guessing
from assistant.session.session import Session
from assistant.store.store import Store
from assistant.tui.screens.chat import ChatScreen
from assistant.tui.screens.pages import TinyScreen
from assistant.tui.screens.pick_up import MOST_SHOWN, PickUpScreen
from assistant.tui.sparing import Sent
from assistant.tui.themes import DARK, LOOKS, NONE, Colourless
from assistant.tui.unpromised import take_any_input
from assistant.tui.widgets.edges import TINIEST, Notice, fits

# Long enough for the first question to be on screen, short enough to be over before a complaint is typed.
_IDLE = 0.25

# Objects made between two rounds of garbage collection, and rounds between two deeper ones.
_SELDOM = (20_000, 20, 20)


class LookApp(App[int | None]):
    """What every application of ours has: the two looks, and the keys that belong to no screen."""

    TITLE = "Coilside"
    CSS_PATH = Path(__file__).parent / "chat.tcss"
    ENABLE_COMMAND_PALETTE = False
    BINDINGS: ClassVar[list[BindingType]] = []

    def __init__(self, look: str = "dark") -> None:
        super().__init__()
        take_any_input()
        # Animation is traffic over a slow line.
        self.animation_level = "none"
        self._sent = Sent()
        self._colourless = Colourless(enabled=False)
        for theme in LOOKS.values():
            self.register_theme(theme)
        self.set_look(look)

    def get_theme_variable_defaults(self) -> dict[str, str]:
        """The colours of our own that the style sheets name."""
        return dict(DARK.variables)

    def get_line_filters(self) -> Sequence[LineFilter]:
        """The filters of what is drawn.

        Textual itself turns colours into greys where NO_COLOR is set; ours leaves none, and can be switched. No look
        names a colour of the terminal's own, so none is to be translated either.
        """
        others = [each for each in super().get_line_filters() if not isinstance(each, Monochrome | ANSIToTruecolor)]
        return [*others, self._colourless] if self._colourless.enabled else others

    def _display(self, *given: Any, **named: Any) -> None:
        """Part of Textual: send an update, of which ours leaves out what the terminal shows already."""
        if len(given) == 2 and not self.is_inline:
            self._sent.spare(*given)
        super()._display(*given, **named)

    def on_load(self) -> None:
        """Leave as the key does where somebody ends the program from outside: the terminal is as it was then."""
        # Some systems and threads have no such signals.
        with suppress(NotImplementedError, RuntimeError, ValueError):
            asyncio.get_running_loop().add_signal_handler(signal.SIGTERM, self._end)

    def _end(self) -> None:
        screen = self.screen
        number = screen.session.number if isinstance(screen, ChatScreen) else None
        self.exit(number, return_code=128 + signal.SIGTERM)

    @on(Worker.StateChanged)
    def _worker_ended(self, event: Worker.StateChanged) -> None:
        """Say where something that was worked beside the screen could not be done."""
        if event.state is WorkerState.ERROR:
            self.tell_failure(event.worker.error)

    def tell_failure(self, error: BaseException | None) -> None:
        """Say on the screen that has a line for it that something could not be done; the program goes on."""
        for screen in reversed(self.screen_stack):
            for notice in screen.query(Notice):
                notice.tell(f"That could not be done: {error}", is_problem=True)
                return

    def on_resize(self, event: events.Resize) -> None:
        """Say so where nothing fits, and go on where it does again."""
        is_tiny = not fits(event.size, TINIEST)
        if is_tiny and not isinstance(self.screen, TinyScreen):
            self.push_screen(TinyScreen())
        elif not is_tiny and isinstance(self.screen, TinyScreen):
            self.pop_screen()

    @property
    def look(self) -> str:
        """The name of the look."""
        return next(name for name, theme in LOOKS.items() if theme.name == self.theme)

    def set_look(self, look: str) -> None:
        """Take a look by its name: dark, light, sun or none."""
        self._colourless.enabled = LOOKS[look] is NONE
        self.theme = LOOKS[look].name

    def action_look(self) -> None:
        """Go on to the next look, and name it: on some screens two of them are hard to tell apart."""
        looks = list(LOOKS)
        self.set_look(looks[(looks.index(self.look) + 1) % len(looks)])
        for notice in self.screen.query(Notice):
            notice.tell(
                f'Look: {self.look}. To keep it: theme = "{self.look}" in the file that coilside settings names.'
            )

    def action_leave(self) -> None:
        """Stop here; the call is kept."""
        screen = self.screen
        self.exit(screen.session.number if isinstance(screen, ChatScreen) else None)

    def action_help_quit(self) -> None:
        """Say how to quit: ctrl+c is too easily pressed to end a call."""
        if isinstance(self.screen, ChatScreen):
            self.screen.tell(f"F9, or the word quit, stops here. {self.screen.kept_as()}")


class ChatApp(LookApp):
    """The chat over one record of calls. It ends with the number of the call, `None` when none was begun."""

    def __init__(
        self,
        library: Library,
        store: Store,
        system: UnitSystem,
        session: Session | None,
        look: str = "dark",
        notes: Sequence[str] = (),
    ) -> None:
        super().__init__(look)
        self._notes = tuple(notes)
        self._library = library
        self._store = store
        self._system = system
        self._session = session

    def on_mount(self) -> None:
        """Show the first screen."""
        entries = () if self._session else self._store.entries("open", most=MOST_SHOWN)
        if entries:
            self.push_screen(PickUpScreen(self._library, self._store, self._system, entries), self._begin)
        else:
            self._begin(self._session or Session.begin(self._library, self._store, self._system))
        self.set_timer(_IDLE, self._warm_up)

    def _begin(self, session: Session | None) -> None:
        if session is not None:
            self.push_screen(ChatScreen(session, (*self._notes, *session.news)))

    def _warm_up(self) -> None:
        self.run_worker(self._load, thread=True, exit_on_error=False)

    def _load(self) -> None:
        """Load what the first answers need, while the complaint is being typed."""
        self._library.complaints.matches("not cooling")
        # Libraries, trees and the widgets of a call stay to the end. Looking through them for garbage froze the
        # screen for 0.1 to 0.3 s, dozens of times in a long call.
        gc.freeze()
        gc.set_threshold(*_SELDOM)


def chat_app(
    library: Library,
    store: Store,
    system: UnitSystem = "us",
    number: int | None = None,
    look: str = "dark",
    notes: Sequence[str] = (),
    ride: bool = False,
) -> ChatApp:
    """The chat, with call `number` picked up when one is given; `notes` are said at its beginning.

    With `ride`, a trainee rides along, and a new call is begun where none is picked up.

    Raises:
        StoreError: there is no such call, or the record cannot be read.
    """
    between = Guessing() if ride else None
    session = None if number is None else Session.resume(library, store, number, system, between)
    if ride:
        session, notes = session or Session.begin(library, store, system, between), (*notes, RIDING)
    return ChatApp(library, store, system, session, look, notes)
