"""The application in which an author tries a tree: it watches the files, and the screen goes on with what was saved."""

import time
from collections.abc import Mapping, Sequence
from typing import Final

from textual import on
from textual.message import Message
from textual.worker import get_current_worker

from assistant import doubt
from assistant.author.attempt import Attempt, attempt
from assistant.author.examined import Examined, examined
from assistant.author.trial import Trial
from assistant.author.watching import Watch
from assistant.errors import UnknownNameError
from assistant.quantity import UnitSystem
from assistant.tui.app import LookApp
from assistant.tui.screens.trial import TrialScreen, WaitScreen

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
        self.run_worker(self._look, thread=True)

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
        doubt.warm_up()
        worker = get_current_worker()
        is_saved = False

        def pause() -> bool:
            nonlocal is_saved
            time.sleep(_BREATH)
            is_saved = self._watch.changed()
            return is_saved or worker.is_cancelled

        while not worker.is_cancelled:
            if is_saved or self._watch.changed():
                is_saved = False
                found = attempt(self._found.file, self._found.layers)
                self.post_message(Saved(found))
                result = examined(found, pause)
                if result is not None:
                    self.post_message(Walked(found, result))
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
