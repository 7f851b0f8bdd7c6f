"""The valve bench on the screen: knobs turned by hand, and at once what they do. Nothing of it is kept."""

import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import ClassVar, Final

from rich.segment import Segment
from textual import events, on
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.geometry import Size
from textual.message import Message
from textual.screen import Screen
from textual.strip import Strip
from textual.timer import Timer
from textual.widget import Widget
from textual.widgets import Input, Static

from assistant.errors import CoilsideError
from assistant.pictures.cells import UNICODE, Role, Row, Signs, row
from assistant.practice.valve_bench.bench import balance_by_hand, orifice_flows
from assistant.practice.valve_bench.coil import Found, settle_all
from assistant.practice.valve_bench.knobs import COARSE, Knob, knob_leading, show_setting, turn_by_steps
from assistant.practice.valve_bench.page import hand_rows, on_coil_rows
from assistant.practice.valve_bench.sweep import SWEPT, SweepPlace, places, sweep, swept_knob
from assistant.practice.valve_bench.talk import HELP, Bench, Said, heading, understand
from assistant.practice.valve_bench.words import chosen_lines
from assistant.quantity import UnitSystem
from assistant.tui.app import LookApp
from assistant.tui.messages import KeyWanted, Stepped
from assistant.tui.screens.pages import Heading, HelpPage
from assistant.tui.widgets.edges import KeyBar, Notice
from assistant.tui.widgets.knobs import Knobs, Wheeled
from assistant.tui.widgets.reply import ReplyLine

# Between two places of a sweep keys are heard and the screen is drawn; while a key is held down, none is worked.
_PAUSE: Final = 0.005
_QUIET: Final = 0.12
_NARROWEST: Final = 30
_NO_BREAK: Final = "\N{NO-BREAK SPACE}"


class Turn(Message):
    """A key turns the marked knob by steps."""

    def __init__(self, steps: int) -> None:
        self.steps = steps
        super().__init__()


class BenchLine(ReplyLine):
    """The reply line; while nothing is typed, left and right, plus and minus turn the marked knob."""

    help_text = (
        "Type a value with any unit for the marked knob, or words; Enter takes it. Clicks and the wheel turn too."
    )

    def action_cursor_left(self, select: bool = False) -> None:
        """Turn down, or move in what is typed."""
        if self.value:
            super().action_cursor_left(select)
        else:
            self.post_message(Turn(-COARSE if select else -1))

    def action_cursor_right(self, select: bool = False) -> None:
        """Turn up, or move in what is typed."""
        if self.value:
            super().action_cursor_right(select)
        else:
            self.post_message(Turn(COARSE if select else 1))

    def on_key(self, event: events.Key) -> None:
        """Turn with a sign; any other key is typed."""
        turns = {"-": -1, "+": 1, "[": -COARSE, "]": COARSE}
        if not self.value and event.character in turns:
            event.stop()
            event.prevent_default()
            self.post_message(Turn(turns[event.character]))


class BenchHelp(HelpPage):
    """The help of the bench."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,f1,enter", "leave", "Back to the bench", key_display="Esc"),
    ]


class Drawn(Widget):
    """Rows laid out for the room there is."""

    DEFAULT_CSS = """
    Drawn {
        height: auto;
        width: 1fr;
        padding: 0 1;
    }
    Drawn > .drawn--quiet { color: $quiet; }
    Drawn > .drawn--curve { color: $accent; }
    Drawn > .drawn--cycle { color: $primary; text-style: bold; }
    Drawn > .drawn--mark { text-style: bold; }
    Drawn > .drawn--limit { color: $warning; text-style: bold; }
    """
    COMPONENT_CLASSES: ClassVar[set[str]] = {f"drawn--{role}" for role in Role}

    def __init__(self, rows: Callable[[int, int], tuple[Row, ...]]) -> None:
        self._rows_for = rows
        self._room = Size(0, 0)
        self._rows: tuple[Row, ...] = ()
        super().__init__()

    def work_out(self) -> None:
        """Lay the rows out anew; the screen is only when their number changes."""
        before = len(self._rows)
        self._rows = self._rows_for(max(self._room.width, _NARROWEST), self._room.height)
        self.refresh(layout=len(self._rows) != before)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """Rows that it takes; where they are more than there is room for, it scrolls."""
        room = Size(width, container.height)
        if room != self._room or not self._rows:
            self._room = room
            self._rows = self._rows_for(max(width, _NARROWEST), room.height)
        return len(self._rows)

    def render_line(self, y: int) -> Strip:
        """One row; drawn as strips, since styled text would take a frame for the whole of them."""
        if y >= len(self._rows):
            return Strip.blank(self.size.width, self.rich_style)
        styles = {role: self.get_component_rich_style(f"drawn--{role}") for role in {one.role for one in self._rows[y]}}
        strip = Strip([Segment(one.text, styles[one.role]) for one in self._rows[y]])
        return strip.adjust_cell_length(self.size.width, self.rich_style)


class ValveBenchScreen(Screen[None]):
    """The bench: what is turned above, what follows from it below."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f1", "help", "Help", key_display="F1", tooltip="This page"),
        Binding("f2", "view", "Hand/Coil", key_display="F2", tooltip="Held by hand, or running on one coil"),
        Binding("f3", "over", "Sweep", key_display="F3", tooltip="On the coil: the chart over the next knob"),
        Binding("f4", "take", "Take", key_display="F4", tooltip="By hand, as the valve on the coil has found it"),
        Binding("f5", "rated", "Rated", key_display="F5", tooltip="Everything back to the rating point"),
        Binding("f8", "app.look", "Look", key_display="F8", tooltip="The next look"),
        Binding("f9,escape", "app.leave", "Quit", key_display="F9", tooltip="Leave; nothing is kept"),
        Binding("up", "step(-1)", "", show=False, key_display="Up, Down", tooltip="The knob above, or below"),
        Binding("left", "turn(-1)", "", show=False, key_display="Left, Right", tooltip="Turn the knob; so do - and +"),
        Binding("shift+left", "turn(-10)", "", show=False, key_display="[ and ]", tooltip="Turn it by ten steps"),
        Binding("down", "step(1)", show=False),
        Binding("right", "turn(1)", show=False),
        Binding("shift+right", "turn(10)", show=False),
        Binding("pageup", "page(-1)", "", show=False, key_display="PgUp, PgDn", tooltip="Read on, where there is more"),
        Binding("pagedown", "page(1)", show=False),
    ]
    AUTO_FOCUS = "BenchLine"

    DEFAULT_CSS = """
    ValveBenchScreen #turn {
        height: 1;
        padding: 0 1;
    }
    ValveBenchScreen VerticalScroll {
        height: 1fr;
        scrollbar-size-vertical: 1;
    }
    """

    def __init__(self, bench: Bench, system: UnitSystem, signs: Signs) -> None:
        self.bench = bench
        self._system: UnitSystem = system
        self._signs = signs
        self._marked = {False: 0, True: 0}
        self._found: tuple[Found, ...] = ()
        self._swept: tuple[SweepPlace, ...] = ()
        self._swept_for: Bench | None = None
        self._sweeping: Iterator[SweepPlace] = iter(())
        self._fresh: list[SweepPlace] = []
        self._sweep_from = 0.0
        self._timer: Timer | None = None
        self._title = ""
        super().__init__()

    def compose(self) -> Iterator[Widget]:
        """Heading, knobs, what follows, news, the line to type in, keys."""
        yield Heading("")
        yield Knobs()
        with VerticalScroll(can_focus=False):
            yield Drawn(self.rows)
        yield Notice()
        with Horizontal(id="turn"):
            yield Static(Content("> "), id="sign")
            yield BenchLine()
        yield KeyBar(self.BINDINGS)

    def on_mount(self) -> None:
        """Show the bench."""
        self._work_out(self.bench)

    @property
    def marked(self) -> Knob:
        """The knob that keys turn."""
        return self.bench.knobs[self._marked[self.bench.on_coil]]

    @property
    def is_sweeping(self) -> bool:
        """Whether the chart is still being worked."""
        return self._timer is not None

    def _work_out(self, bench: Bench) -> None:
        """Take the bench as it now is, and work what follows."""
        self.bench = bench
        if bench.on_coil:
            self._found = settle_all(bench.turned, self._found)
            self._begin_sweep()
        self._show()

    def _show(self) -> None:
        bench = self.bench
        title = heading(bench)
        if title != self._title:
            self._title = title
            self.query_one(Heading).tell(title)
        rows = [(knob.title, show_setting(bench.turned, knob, self._system)) for knob in bench.knobs]
        self.query_one(Knobs).tell(rows, self._marked[bench.on_coil])
        self.query_one(BenchLine).placeholder = f"Left/Right turn it, or type a value: {self.marked.help}"
        self.query_one(Drawn).work_out()

    def rows(self, width: int, height: int) -> tuple[Row, ...]:
        """What follows from the knobs, for a room in cells."""
        turned = self.bench.turned
        try:
            if not self.bench.on_coil:
                return hand_rows(
                    turned, balance_by_hand(turned), orifice_flows(turned), self._system, width, self._signs
                )
            knob = swept_knob(self.bench.over)
            values = places(turned, knob, self._system)
            ends = values[0], values[-1]
            size = (width, height)
            return on_coil_rows(turned, self._found, self._swept, ends, knob, self._system, size, self._signs)
        except CoilsideError as error:
            return (row(str(error), Role.LIMIT),)

    def _begin_sweep(self) -> None:
        """Sweep anew, unless only the swept knob itself was turned; earlier places stay until new ones are there."""
        knob = swept_knob(self.bench.over)
        values = places(self.bench.turned, knob, self._system)
        wanted = replace(self.bench, turned=self.bench.turned.at(knob.turns, values[0]))
        if wanted == self._swept_for:
            return
        self._swept_for, self._fresh, self._sweep_from = wanted, [], time.monotonic() + _QUIET
        if [place.value for place in self._swept] != list(values):
            self._swept = ()
        self._sweeping = sweep(self.bench.turned, knob, self._system)
        if self._timer is None:
            self._timer = self.set_interval(_PAUSE, self._sweep_on)

    def _sweep_on(self) -> None:
        """Work one more place of the sweep, once no key has been pressed for a while."""
        if time.monotonic() < self._sweep_from:
            return
        place = next(self._sweeping, None)
        if place is None:
            if self._timer is not None:
                self._timer.stop()
                self._timer = None
            self._swept = tuple(self._fresh)
            self.query_one(Drawn).work_out()
            return
        self._fresh.append(place)

    @on(Turn)
    def _key_turned(self, message: Turn) -> None:
        self.action_turn(message.steps)

    @on(Stepped)
    def _stepped(self, message: Stepped) -> None:
        self.action_step(message.by)

    @on(Wheeled)
    def _wheeled(self, message: Wheeled) -> None:
        self.action_turn_one(message.place, message.steps)

    @on(Input.Submitted)
    def _submitted(self, event: Input.Submitted) -> None:
        said = understand(self.bench, event.value, self._system, self.marked)
        named = knob_leading(event.value)
        if named is not None and named[0] in said.bench.knobs:
            self._marked[said.bench.on_coil] = said.bench.knobs.index(named[0])
        self._tell(said)
        if said.is_problem:
            self.query_one(BenchLine).offer_again(event.value)

    def tell(self, text: str) -> None:
        """Say something above the line to type in."""
        self.query_one(Notice).tell(text)

    def _tell(self, said: Said) -> None:
        notice = self.query_one(Notice)
        match said.wants:
            case "leave":
                self.app.exit()
            case "help":
                self.action_help()
            case "chosen":
                notice.tell(" ".join(chosen_lines(self._system)))
            case _:
                notice.tell(said.news, said.is_problem)
        if said.bench != self.bench:
            self._work_out(said.bench)
        else:
            self._show()

    def action_turn(self, steps: int) -> None:
        """Turn the marked knob."""
        turned, said = turn_by_steps(self.bench.turned, self.marked, steps, self._system)
        self._tell(Said(replace(self.bench, turned=turned), said))

    def action_turn_one(self, place: int, steps: int) -> None:
        """Mark a knob and turn it."""
        self.action_mark(place)
        self.action_turn(steps)

    def action_mark(self, place: int) -> None:
        """Mark a knob, and say what it does."""
        self._marked[self.bench.on_coil] = place % len(self.bench.knobs)
        self.query_one(Notice).tell("")
        self._show()

    def action_step(self, by: int) -> None:
        """Mark the next knob, or the one before."""
        self.action_mark(self._marked[self.bench.on_coil] + by)

    def action_view(self) -> None:
        """By hand, or on the coil."""
        self.query_one(VerticalScroll).scroll_home(animate=False)
        self._tell(Said(replace(self.bench, on_coil=not self.bench.on_coil)))

    def action_over(self) -> None:
        """Sweep the next knob, on the coil."""
        if not self.bench.on_coil:
            self.action_view()
            return
        place = (SWEPT.index(swept_knob(self.bench.over)) + 1) % len(SWEPT)
        self._tell(Said(replace(self.bench, over=SWEPT[place].name)))

    def action_take(self) -> None:
        """By hand, as the valve on the coil has found it."""
        self._tell(understand(self.bench, "take", self._system))

    def action_rated(self) -> None:
        """Everything back to the rating point."""
        self._tell(understand(self.bench, "rated", self._system))

    def action_page(self, by: int) -> None:
        """Read on, or back."""
        body = self.query_one(VerticalScroll)
        if by < 0:
            body.scroll_page_up(animate=False)
        else:
            body.scroll_page_down(animate=False)

    def action_help(self) -> None:
        """The keys and the words."""
        # The page takes what stands before the first space for the word.
        parts = (text.partition("|") for text in HELP)
        words = (f"{word.replace(' ', _NO_BREAK)} {does}" for word, _, does in parts)
        self.app.push_screen(BenchHelp(self.BINDINGS, words, (BenchLine.help_text, *chosen_lines(self._system))))

    async def on_key_wanted(self, message: KeyWanted) -> None:
        """A key of the key bar, or a part of a knob, was clicked."""
        await self.run_action(message.action)


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
