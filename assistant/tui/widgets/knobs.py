"""The knobs of a bench: each with its value, turned by clicks and the wheel where there is a mouse."""

from collections.abc import Sequence

from textual import events
from textual.content import Content
from textual.geometry import Size
from textual.message import Message
from textual.style import Style
from textual.widget import Widget

from assistant.tui.messages import KeyWanted
from assistant.tui.passage import MUTED, STRONG, plain

_TITLE = 18
_VALUE = 12
_COLUMN = _TITLE + _VALUE + 7


class Wheeled(Message):
    """The wheel was turned over a knob: its place, and steps up or down."""

    def __init__(self, place: int, steps: int) -> None:
        self.place = place
        self.steps = steps
        super().__init__()


class Knobs(Widget):
    """Titles and values, in one column or, where there is room, in two; the marked one has a sign."""

    DEFAULT_CSS = """
    Knobs {
        height: auto;
        padding: 0 1;
    }
    """

    auto_links = False

    def __init__(self) -> None:
        self.rows: tuple[tuple[str, str], ...] = ()
        self.marked = 0
        self._width = 0
        super().__init__()

    def tell(self, rows: Sequence[tuple[str, str]], marked: int) -> None:
        """Show titles with values, one of them marked."""
        is_same_height = len(rows) == len(self.rows)
        self.rows, self.marked = tuple(rows), marked
        self.refresh(layout=not is_same_height)

    @property
    def _deep(self) -> int:
        """Rows of the screen."""
        columns = 2 if self._width >= 2 * _COLUMN else 1
        return -(-len(self.rows) // columns)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """Rows that the knobs take at a width."""
        self._width = width
        return self._deep

    def render(self) -> Content:
        """The knobs, down the first column and on in the second."""
        self._width = self.content_size.width or self._width
        deep = self._deep
        lines = []
        for y in range(deep):
            parts = [self._knob(place) for place in range(y, len(self.rows), deep)] if deep else []
            lines.append(Content("  ").join(parts))
        return Content("\n").join(lines)

    def _knob(self, place: int) -> Content:
        title, value = self.rows[place]
        is_marked = place == self.marked
        name = plain(f"{'> ' if is_marked else '  '}{title:<{_TITLE}} ", STRONG if is_marked else MUTED)
        less, more = (
            plain(text, f"{STRONG} $primary").stylize(Style.from_meta({"action": f"turn_one({place}, {steps})"}))
            for text, steps in (("<", -1), (">", 1))
        )
        shown = plain(f"{value:>{_VALUE}} ", STRONG if is_marked else "")
        mark = Style.from_meta({"action": f"mark({place})"})
        return name.stylize(mark) + less + shown.stylize(mark) + more

    def on_click(self, event: events.Click) -> None:
        """A click marks a knob, or turns it by a step."""
        event.stop()
        action = event.style.meta.get("action")
        if isinstance(action, str):
            self.post_message(KeyWanted(action))

    def _wheeled(self, event: events.MouseEvent, steps: int) -> None:
        event.stop()
        column = min(max(event.x - 1, 0) // _COLUMN, 1) if self._deep < len(self.rows) else 0
        place = column * self._deep + event.y
        if 0 <= place < len(self.rows):
            self.post_message(Wheeled(place, steps))

    def on_mouse_scroll_up(self, event: events.MouseScrollUp) -> None:
        """The wheel turns the knob under the mouse up."""
        self._wheeled(event, 1)

    def on_mouse_scroll_down(self, event: events.MouseScrollDown) -> None:
        """The wheel turns the knob under the mouse down."""
        self._wheeled(event, -1)
