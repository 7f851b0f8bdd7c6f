"""Waiting for a record that another program holds, while the screen stays alive."""

from collections.abc import Callable
from typing import Final

from assistant.store.store import Store

_UNTIL_NEXT: Final = 0.25
_MOST_TRIES: Final = 40
"""How often a write is tried that another program holds up, and how long it is left alone between two tries [s]."""
_SAID: Final = "Another program is writing to the record of calls. What you told waits for it."


class Locked:
    """What waits to be written by a screen: it can `tell` a sentence, and do something `later` [s]."""

    def __init__(
        self,
        store: Store | None,
        tell: Callable[[str], None],
        later: Callable[[float, Callable[[], None]], object],
    ) -> None:
        self._tell = tell
        self._later = later
        self._tries = 0
        self.is_waiting = False
        if store is not None:
            # A lock is waited for here, not by the record: that would stop the screen.
            store.patience = 0.0

    def waits(self, again: Callable[[], None]) -> bool:
        """Say so and try once more in a moment; not where that was done long enough."""
        self._tries += 1
        if self._tries > _MOST_TRIES:
            self._tries = 0
            return False
        self._tell(_SAID)
        self.is_waiting = True

        def go_on() -> None:
            self.is_waiting = False
            again()

        self._later(_UNTIL_NEXT, go_on)
        return True

    def ended(self) -> None:
        """What waited is written."""
        self._tries = 0
