"""Stepping through a known call on the screen, forward and backward, with the reasons. Nothing of it is kept."""

from collections.abc import Iterator
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.containers import Horizontal
from textual.screen import Screen
from textual.widget import Widget

from assistant.call.replay import Replay, why_lines
from assistant.session.session import Information, Session
from assistant.tui.app import LookApp
from assistant.tui.messages import KeyWanted
from assistant.tui.widgets.edges import KeyBar, Notice, TitleBar
from assistant.tui.widgets.panel import Panel
from assistant.tui.widgets.transcript import Transcript

_CLOSING = "The call ends here. Left goes back through it, Home to its beginning."


class ReplayScreen(Screen[None]):
    """A call as it stood at each of its answers; the next question shows why it was asked."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("right,enter,space,n", "step(1)", "On", key_display="Right"),
        Binding("left,backspace,b", "step(-1)", "Back", key_display="Left"),
        Binding("home", "go(0)", "Start", key_display="Home"),
        Binding("end", "go(-1)", "End", key_display="End"),
        Binding("f3,w", "work", "Work", key_display="F3"),
        Binding("f7", "panel", "Panel", key_display="F7"),
        Binding("f8", "app.look", "Look", show=False),
        Binding("f9,q", "app.leave", "Quit", key_display="F9"),
        Binding("pageup,up", "page(-1)", show=False),
        Binding("pagedown,down", "page(1)", show=False),
    ]
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (70, "-middle"), (120, "-broad")]  # noqa: RUF012 - as Textual declares it
    AUTO_FOCUS = ""

    DEFAULT_CSS = """
    ReplayScreen #call {
        height: 1fr;
    }
    ReplayScreen.-narrow Panel, ReplayScreen.-panel-off Panel {
        display: none;
    }
    ReplayScreen.-narrow.-panel-over Panel {
        display: block;
        width: 1fr;
    }
    ReplayScreen.-narrow.-panel-over Transcript {
        display: none;
    }
    ReplayScreen.-broad Panel {
        width: 44;
    }
    """

    def __init__(self, replay: Replay, title: str) -> None:
        self._replay = replay
        self._title = title
        self.step = 0
        super().__init__()

    def compose(self) -> Iterator[Widget]:
        """Title, transcript with panel, news, keys."""
        yield TitleBar()
        with Horizontal(id="call"):
            yield Transcript()
            yield Panel()
        yield Notice()
        yield KeyBar(self.BINDINGS)

    def on_mount(self) -> None:
        """Show the beginning of the call."""
        self._show()

    def _show(self) -> None:
        """Show the call as it stood at the step."""
        now = self._replay.at(self.step)
        transcript = self.query_one(Transcript)
        transcript.follow(now.turns, now.prompt, None, _CLOSING)
        if now.prompt is not None:
            transcript.show_aside("Why this is asked", why_lines(now), "", keeps_prompt=True)
        self.query_one(Panel).tell(now)
        tree = now.tree.title if now.tree else None
        place = f"step {self.step} of {self._replay.last}"
        self.query_one(TitleBar).tell(None, self._title, tree, call=place)

    def action_step(self, by: int) -> None:
        """Go on, or back, by one answer."""
        wanted = min(max(self.step + by, 0), self._replay.last)
        if wanted == self.step:
            self.query_one(Notice).tell("This is the last step." if self.step else "This is the first step.")
            return
        self.step = wanted
        self.query_one(Notice).tell("")
        self._show()

    def action_go(self, step: int) -> None:
        """Go to a step; -1 is the last one."""
        wanted = self._replay.last if step < 0 else step
        self.action_step(wanted - self.step)

    def action_work(self) -> None:
        """Show the work behind the numbers so far."""
        replay = self._replay
        session = Session(replay.library, None, replay.system, answers=replay.answers_at(self.step))
        told = session.command("work")
        if isinstance(told, Information):
            self.query_one(Transcript).show_aside(told.title, told.lines, "")

    def action_panel(self) -> None:
        """Hide or show the panel; on a narrow screen, in front of the transcript."""
        self.toggle_class("-panel-over" if self.has_class("-narrow") else "-panel-off")

    def action_page(self, by: int) -> None:
        """Move through the call by a screen."""
        transcript = self.query_one(Transcript)
        if by < 0:
            transcript.scroll_page_up(animate=False)
        else:
            transcript.scroll_page_down(animate=False)

    async def on_key_wanted(self, message: KeyWanted) -> None:
        """A key of the key bar was clicked."""
        await self.run_action(message.action)


class ReplayApp(LookApp):
    """One call, step by step."""

    def __init__(self, replay: Replay, title: str, look: str = "dark") -> None:
        super().__init__(look)
        self._replay = replay
        self._title = title

    def on_mount(self) -> None:
        """Show the beginning of the call."""
        self.push_screen(ReplayScreen(self._replay, self._title))
