"""The parts of Textual that it does not promise and that are used here, all of them.

Each makes something quicker or smaller. Where one is not there or fails, the ordinary way is taken, which shows the
same. `pyproject.toml` allows the versions of Textual with which the tests have run.
"""

import codecs
from collections.abc import Iterable, Sequence
from functools import partial
from typing import Any, Final

from textual.screen import Screen
from textual.widget import Widget

PARTS: Final = {
    "textual._compositor": "sparing.py: the kinds of update, ChopsUpdate with its spans, LayoutUpdate with its strips",
    "_compositor": "sparing.py: what puts the widgets of a screen together, with its size",
    "_render_chops": "sparing.py: the rows of a screen, drawn",
    "_display": "app.py: where an update is sent; not called: all is sent as Textual sends it",
    "_size_updated": "column.py: the room is known before anything is drawn; not called: a resize comes a frame later",
    "_repaint_required": "unpromised.py: whether a widget waits to be drawn",
    "_layout_required": "unpromised.py: whether a widget waits for its place",
    "_dirty_widgets": "unpromised.py: what the screen draws next",
    "_on_timer_update": "unpromised.py: the screen draws; otherwise it does so a frame or two later",
    "textual._xterm_parser": "unpromised.py: what is typed; otherwise what is no character ends the screen",
    "_scroll_update": "unpromised.py: the scroll bar alone is told; otherwise the whole screen is laid out",
}
"""Where each is used, and what for."""


def show_scroll_bars(widget: Widget) -> None:
    """Tell the scroll bars of a widget how high it all is, without laying out the whole screen."""
    try:
        widget._scroll_update(widget.virtual_size)
    except Exception:  # of whatever kind: what is not promised may fail in any way
        widget.refresh(layout=True)


def draw_now(screen: Screen[None], widgets: Sequence[Widget]) -> None:
    """Draw what has changed at once: each of the widgets would tell the screen by messages, and it draw in parts.

    Where one has another place, all is laid out anew in the frame to come.
    """
    try:
        if any(widget._layout_required for widget in widgets):
            return
        for widget in widgets:
            if widget._repaint_required:
                widget._repaint_required = False
                screen._dirty_widgets.add(widget)
        screen._on_timer_update()
    except Exception:  # of whatever kind: what is not promised may fail in any way
        for widget in widgets:
            widget.refresh()


def take_any_input() -> None:
    """Let nothing that comes from a terminal end the screen.

    Bytes that are not UTF-8 are taken for Latin-1, as in `read_line`; a key that no character has is left out.
    """
    try:
        from textual import events
        from textual._xterm_parser import XTermParser
        from textual.drivers import linux_driver

        class Parser(XTermParser):
            def _sequence_to_key_events(self, sequence: str, alt: bool = False) -> Iterable[events.Key]:
                try:
                    found = list(super()._sequence_to_key_events(sequence, alt))
                except (ValueError, OverflowError):
                    return []
                return [key for key in found if not "\ud800" <= (key.character or "") <= "\udfff"]

        codecs.register_error(_AS_LATIN, _as_latin)
        driver: Any = linux_driver
        driver.getincrementaldecoder = lambda encoding: partial(codecs.getincrementaldecoder(encoding), _AS_LATIN)
        driver.XTermParser = Parser
    except Exception:  # of whatever kind: there is no such driver on every system
        return


_AS_LATIN: Final = "coilside-as-latin"


def _as_latin(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeDecodeError):
        raise error
    return error.object[error.start : error.end].decode("latin-1"), error.end
