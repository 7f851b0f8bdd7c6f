"""Waiting for a record that another program holds, while the screen stays alive."""

from collections.abc import Callable
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from assistant.tui.screens.chat import ChatScreen

_UNTIL_NEXT: Final = 0.25
_MOST_TRIES: Final = 40
"""How often a write is tried that another program holds up, and how long it is left alone between two tries [s]."""
_SAID: Final = "Another program is writing to the record of calls. What you told waits for it."


class Locked:
    """What waits to be written by a screen."""

    def __init__(self, screen: "ChatScreen") -> None:
        self._screen = screen
        self._tries = 0
        self.is_waiting = False
        if screen.session.store is not None:
            # A lock is waited for here, not by the record: that would stop the screen.
            screen.session.store.patience = 0.0

    def waits(self, again: Callable[[], None]) -> bool:
        """Say so and try once more in a moment; not where that was done long enough."""
        self._tries += 1
        if self._tries > _MOST_TRIES:
            self._tries = 0
            return False
        self._screen.tell(_SAID, is_problem=True)
        self.is_waiting = True

        def go_on() -> None:
            self.is_waiting = False
            self._screen.reply.clear()
            again()

        self._screen.set_timer(_UNTIL_NEXT, go_on)
        return True

    def ended(self) -> None:
        """What waited is written."""
        self._tries = 0
