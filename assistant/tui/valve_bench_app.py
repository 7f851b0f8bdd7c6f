"""The application of the valve bench. Nothing of it is kept."""

from assistant.pictures.cells import UNICODE, Signs
from assistant.practice.valve_bench.talk import Bench
from assistant.quantity import UnitSystem
from assistant.tui.app import LookApp
from assistant.tui.screens.valve_bench import ValveBenchScreen


class ValveBenchApp(LookApp):
    """One bench, turned by hand."""

    def __init__(self, bench: Bench, system: UnitSystem = "us", look: str = "dark", signs: Signs = UNICODE) -> None:
        super().__init__(look)
        self._bench = bench
        self._system: UnitSystem = system
        self._signs = signs

    def action_help_quit(self) -> None:
        """Say how to quit: ctrl+c is too easily pressed to end it."""
        if isinstance(self.screen, ValveBenchScreen):
            self.screen.tell("F9, or the word quit, leaves. Nothing is kept.")

    def on_mount(self) -> None:
        """Show the bench."""
        self.push_screen(ValveBenchScreen(self._bench, self._system, self._signs))
