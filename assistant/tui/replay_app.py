"""The application in which a known call is stepped through. Nothing of it is kept."""

from assistant.call.replay import Replay
from assistant.tui.app import LookApp
from assistant.tui.screens.replay import ReplayScreen


class ReplayApp(LookApp):
    """One call, step by step."""

    def __init__(self, replay: Replay, title: str, look: str = "dark") -> None:
        super().__init__(look)
        self._replay = replay
        self._title = title

    def on_mount(self) -> None:
        """Show the beginning of the call."""
        self.push_screen(ReplayScreen(self._replay, self._title))
