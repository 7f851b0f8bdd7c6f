"""The chat on a tree that is being written: it watches the files, and the screen goes on with what was saved."""

import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import ClassVar, Final

from textual import on
from textual.binding import Binding, BindingType
from textual.message import Message
from textual.screen import Screen
from textual.suggester import SuggestFromList
from textual.widget import Widget
from textual.worker import get_current_worker

from assistant.author.attempt import Attempt, attempt
from assistant.author.examined import Examined, examine
from assistant.author.trial import WORDS, Trial
from assistant.author.watching import Watch
from assistant.call.replies import COMMANDS, tidy
from assistant.errors import UnknownNameError
from assistant.quantity import UnitSystem
from assistant.tui.app import LookApp
from assistant.tui.messages import KeyWanted
from assistant.tui.screens.chat import ChatScreen
from assistant.tui.screens.jump import JumpPage
from assistant.tui.screens.pages import Heading
from assistant.tui.widgets.edges import KeyBar, TitleBar
from assistant.tui.widgets.mistakes import Mistakes

_BEHIND = "You walk the tree as it was before."
_HARMLESS = "The tree can be walked all the same."


class TrialScreen(ChatScreen):
    """A call on the last state of the tree that could be walked."""

    BINDINGS: ClassVar[list[BindingType]] = [
        *(key for key in ChatScreen.BINDINGS if isinstance(key, Binding) and key.key not in ("f9", "f10")),
        *(
            replace(binding, tooltip="stop here; nothing is kept")
            for binding in ChatScreen.BINDINGS
            if isinstance(binding, Binding) and binding.key == "f9"
        ),
        Binding("f10,ctrl+g", "jump", "Jump", key_display="F10", tooltip="begin at another node; also Ctrl+G"),
    ]
    words: ClassVar[Mapping[str, str]] = {**COMMANDS, **WORDS}

    session: Trial

    def __init__(self, trial: Trial, notes: Sequence[str] = ()) -> None:
        self._notes = tuple(notes)
        super().__init__(trial)

    def compose_more(self) -> Iterator[Widget]:
        """What is wrong with the file."""
        yield Mistakes()

    def on_mount(self) -> None:
        """Say where the call begins."""
        self.show_saved((*self._notes, self.session.begun))

    def show_saved(self, notes: Sequence[str]) -> None:
        """Show the call as the saved file has it; what is being typed stays."""
        trial = self.session
        self.reply.suggester = SuggestFromList([f"jump {name}" for name in trial.tree.nodes], case_sensitive=False)
        # What takes room comes first, so that the end of the call is kept in view.
        self.tell(" ".join(note for note in notes if note))
        if trial.latest is not None:
            self.query_one(Mistakes).tell(trial.latest, _BEHIND if trial.is_behind else _HARMLESS)
        self._follow()

    def show_examined(self, result: Examined) -> None:
        """Show in the title how the example calls of the saved file end."""
        self.session.examined = result
        if self.query(TitleBar):
            self.tell_title()

    def kept_as(self) -> str:
        """What becomes of the call, in a sentence."""
        return "Nothing is kept: this was only tried."

    def tell_title(self) -> None:
        """Show which tree is tried, and the node to which the call has come."""
        trial = self.session
        ends = f" - {trial.examined.summary}" if trial.examined else ""
        self.query_one(TitleBar).tell(None, f"at {trial.at}", trial.tree.title, call=f"trying {trial.tree.name}{ends}")

    def _page_for(self, text: str) -> Callable[[], None] | None:
        return self.action_jump if tidy(text).casefold() == "jump" else super()._page_for(text)

    def action_jump(self) -> None:
        """Pick a node to begin at."""
        self.app.push_screen(JumpPage(self.session.tree, self.session.at), self._jump)

    def _jump(self, node: str | None) -> None:
        if node is not None:
            self.reply.clear()
            self._show(self.session.jump(node), None)


class WaitScreen(Screen[None]):
    """What is wrong with a tree that cannot be walked yet."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("f9,q", "app.leave", "Quit", key_display="F9")]

    def __init__(self, found: Attempt) -> None:
        self._found = found
        super().__init__()

    def compose(self) -> Iterator[Widget]:
        """Heading, mistakes, keys."""
        yield Heading(f"Coilside  trying {self._found.file.name}")
        yield Mistakes()
        yield KeyBar(self.BINDINGS)

    def on_mount(self) -> None:
        """Show the mistakes."""
        self.show_found(self._found)

    def show_found(self, found: Attempt) -> None:
        """Show what is wrong now."""
        self.query_one(Mistakes).tell(
            found, "The tree cannot be walked yet; mend it and save, this screen goes on then."
        )

    async def on_key_wanted(self, message: KeyWanted) -> None:
        """The key bar was clicked."""
        await self.run_action(message.action)


# Half a second after a save, at the latest two looks of this length, the screen has it.
_EVERY: Final = 0.25
# Between two example calls keys are heard and the screen is drawn.
_BREATH: Final = 0.01


class Saved(Message):
    """The files have changed; `found` is what they hold now."""

    def __init__(self, found: Attempt) -> None:
        self.found = found
        super().__init__()


class Walked(Message):
    """The example calls of what was `found` have been walked."""

    def __init__(self, found: Attempt, result: Examined) -> None:
        self.found = found
        self.result = result
        super().__init__()


class TrialApp(LookApp):
    """A trial of one tree, from a node on where one is given, with answers by name.

    `watch` was set up before the tree was `found`, so that nothing saved in between is missed.
    """

    def __init__(
        self,
        found: Attempt,
        watch: Watch,
        node: str | None = None,
        given: Mapping[str, Sequence[str]] | None = None,
        system: UnitSystem = "us",
        look: str = "dark",
    ) -> None:
        super().__init__(look)
        self._found = found
        self._node = node
        self._given = given or {}
        self._system = system
        self._watch = watch
        self._chat: TrialScreen | None = None
        self._waiting: WaitScreen | None = None

    def on_mount(self) -> None:
        """Show the call, or what stands in its way."""
        if self._found.library is None:
            self._waiting = WaitScreen(self._found)
            self.push_screen(self._waiting)
        else:
            self._begin(self._found)
        self.run_worker(self._look, thread=True, exit_on_error=False, group="watch")

    def _begin(self, found: Attempt) -> None:
        notes: tuple[str, ...] = ()
        try:
            trial = Trial.of(found, self._node, self._given, self._system)
        except UnknownNameError as error:
            trial, notes = Trial.of(found, None, self._given, self._system), (str(error),)
        self._chat = TrialScreen(trial, notes)
        if self._waiting is None:
            self.push_screen(self._chat)
        else:
            self._waiting = None
            self.switch_screen(self._chat)

    def _look(self) -> None:
        """Look at the files until the end; what was saved is read here, so that the screen never waits for it."""
        worker = get_current_worker()
        is_saved = False

        def pause() -> bool:
            nonlocal is_saved
            time.sleep(_BREATH)
            is_saved = self._watch.changed()
            return is_saved or worker.is_cancelled

        while not worker.is_cancelled:
            try:
                if is_saved or self._watch.changed():
                    is_saved = False
                    found = attempt(self._found.file, self._found.layers)
                    self.post_message(Saved(found))
                    result = examine(found, pause)
                    if result is not None:
                        self.post_message(Walked(found, result))
            except Exception as error:
                # What is saved next is looked at all the same.
                self.call_from_thread(self.tell_failure, error)
            time.sleep(_EVERY)

    @on(Walked)
    def _walked(self, message: Walked) -> None:
        if self._chat is not None and self._chat.session.good is message.found:
            self._chat.show_examined(message.result)

    @on(Saved)
    def _saved(self, message: Saved) -> None:
        if self._chat is not None:
            self._chat.show_saved(self._chat.session.take_up(message.found))
        elif message.found.library is not None:
            self._begin(message.found)
        elif self._waiting is not None:
            self._waiting.show_found(message.found)
