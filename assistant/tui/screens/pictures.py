"""The pictures of a call, one at a time, drawn for whatever room there is; or said in words."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from textwrap import wrap
from typing import ClassVar, Final

from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.geometry import Size
from textual.widget import Widget
from textual.worker import get_current_worker

from assistant.call.pictured import pictures_of
from assistant.call.walk import Conversation
from assistant.pictures.album import Picture, find_wanted, in_characters, in_words
from assistant.pictures.cells import ASCII, UNICODE, Role, Row, Signs
from assistant.pictures.cells import row as one_row
from assistant.pictures.vapour import Wanted, work_apart
from assistant.tui.messages import KeyWanted
from assistant.tui.passage import plain
from assistant.tui.screens.pages import Heading, Page
from assistant.tui.widgets.edges import KeyBar

_STYLES: Final[Mapping[Role, str]] = {
    Role.PLAIN: "",
    Role.QUIET: "$quiet",
    Role.CURVE: "$accent",
    Role.CYCLE: "bold $primary",
    Role.MARK: "bold",
    Role.LIMIT: "bold $warning",
}
_LOOK: Final = 0.2
# A line that runs over the whole of a wide screen is hard to read.
_WIDEST: Final = 150
_WORDS: Final = 100


@dataclass
class Vapours:
    """The superheated states of a call that were worked, and those that are on their way."""

    known: dict[Wanted, float | str] = field(default_factory=dict)
    asked: set[Wanted] = field(default_factory=set)


class Drawn(Widget):
    """One picture, laid out for the width and height of the page."""

    DEFAULT_CSS = """
    Drawn {
        height: auto;
        width: 1fr;
        padding: 0 1;
    }
    """

    def __init__(self) -> None:
        self.picture: Picture | None = None
        self.signs: Signs = UNICODE
        self.is_said = False
        self._room = Size(0, 0)
        super().__init__()

    def show(self, picture: Picture, signs: Signs, is_said: bool) -> None:
        """Show a picture, drawn or in words."""
        self.picture, self.signs, self.is_said = picture, signs, is_said
        self.refresh(layout=True)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """Rows that the picture takes; where they are more than there is room for, the page scrolls."""
        self._room = Size(width, container.height)
        return len(self._rows())

    def render(self) -> Content:
        """The picture."""
        return Content("\n").join(_styled(row) for row in self._rows())

    def _rows(self) -> tuple[Row, ...]:
        width = min(max(self._room.width, 1), _WIDEST)
        if self.picture is None:
            return ()
        if self.is_said:
            said = in_words(self.picture)
            return tuple(
                one_row(line) for text in said for line in wrap(text, min(width, _WORDS), subsequent_indent="  ")
            )
        return in_characters(self.picture, width, self._room.height, self.signs)


def _styled(row: Row) -> Content:
    return Content("").join(plain(span.text, _STYLES[span.role]) for span in row)


class PicturePage(Page[None]):
    """The pictures of a conversation. What takes seconds to work comes in when it is there; nobody waits for it."""

    BINDINGS: ClassVar[list[BindingType]] = [
        # The page scrolls by itself, so that its keys must not be taken for those of the scrolling.
        Binding("left", "turn(-1)", "Previous", key_display="Left", priority=True),
        Binding("right,space", "turn(1)", "Next picture", key_display="Right", priority=True),
        Binding("w", "words", "In words"),
        Binding("a", "ascii", "ASCII"),
        Binding("escape,f11,ctrl+p", "leave", "Back to the call", key_display="Esc"),
    ]

    help_text = (
        "Pictures (F11) show the cycle on its pressure-enthalpy chart, the force balance of the valve and doubt "
        "against limit, from the readings so far. Left and right turn over, W says the picture in words, A draws it "
        "in plain characters."
    )

    def __init__(self, conversation: Conversation, vapours: Vapours, signs: Signs = UNICODE) -> None:
        self._conversation = conversation
        self._vapours = vapours
        self._signs = signs
        self._place = 0
        self._is_said = False
        self._pictures: tuple[Picture, ...] = ()
        super().__init__()

    def compose(self) -> Iterator[Widget]:
        """Heading, picture, keys."""
        yield Heading("")
        with VerticalScroll():
            yield Drawn()
        yield KeyBar(self.BINDINGS)

    def on_mount(self) -> None:
        """Show the first picture, and have worked what it lacks."""
        self._work_out()
        lacking = find_wanted(self._pictures)
        fresh = tuple(state for state in lacking if state not in self._vapours.asked)
        if fresh:
            self._vapours.asked.update(fresh)
            # The worker belongs to the application: what was begun is of use when the page is opened again.
            self.app.run_worker(lambda: _work(fresh, self._vapours), thread=True, exit_on_error=False)
        if lacking:
            self._timer = self.set_interval(_LOOK, self._look)

    def _look(self) -> None:
        """Show what has come in."""
        if all(state in self._vapours.known for state in find_wanted(self._pictures)):
            self._timer.stop()
            self._work_out()

    def _work_out(self) -> None:
        self._pictures = pictures_of(self._conversation, self._vapours.known)
        self._show()

    def _show(self) -> None:
        self._place %= len(self._pictures)
        picture = self._pictures[self._place]
        self.query_one(Heading).tell(f"{self._place + 1} of {len(self._pictures)}  {picture.title}")
        self.query_one(Drawn).show(picture, self._signs, self._is_said)

    def action_turn(self, by: int) -> None:
        """Show the next picture, or the one before, round and round."""
        self._place += by
        self._show()
        self.query_one(VerticalScroll).scroll_home(animate=False)

    def action_words(self) -> None:
        """Say the picture in words, or draw it again."""
        self._is_said = not self._is_said
        self._show()

    def action_ascii(self) -> None:
        """Draw in plain characters, for a font that lacks the others; and back. What was said in words is drawn."""
        self._is_said = False
        self._signs = UNICODE if self._signs is ASCII else ASCII
        self._show()

    async def on_key_wanted(self, message: KeyWanted) -> None:
        """The key bar was clicked."""
        await self.run_action(message.action)


def _work(states: tuple[Wanted, ...], vapours: Vapours) -> None:
    """Have the states worked in a process of their own; what was cancelled may be asked again."""
    worker = get_current_worker()
    try:
        vapours.known.update(work_apart(states, lambda: worker.is_cancelled))
    except Exception as error:
        vapours.known.update(dict.fromkeys(states, f"The equations of state gave no answer: {error}."))
    vapours.asked.difference_update(states)


def signs_for(terminal: str, encoding: str) -> Signs:
    """The characters that a terminal is likely to have, from its name and encoding."""
    # The console of Linux has 512 glyphs at most, and none for the dots of a curve.
    has_few = terminal in ("linux", "dumb") or terminal.startswith("vt")
    return ASCII if has_few or "utf" not in encoding.casefold() else UNICODE
