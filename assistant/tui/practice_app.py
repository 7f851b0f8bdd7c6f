"""The application in which a practice call is worked; it ends with the number of the call, if one was begun."""

from assistant.practice.session.practice_call import PracticeCall
from assistant.tui.app import LookApp
from assistant.tui.screens.practice import PracticeScreen


class PracticeApp(LookApp):
    """The chat over a practice call."""

    def __init__(self, session: PracticeCall, look: str = "dark") -> None:
        super().__init__(look)
        self._session = session

    def on_mount(self) -> None:
        """Show the call as far as it goes."""
        self.push_screen(PracticeScreen(self._session))
