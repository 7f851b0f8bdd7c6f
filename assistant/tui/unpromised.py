"""The parts of Textual that it does not promise and that are used here, all of them.

Each makes something quicker or smaller. Where one is not there or fails, the ordinary way is taken, which shows the
same. `pyproject.toml` allows the versions of Textual with which the tests have run.
"""

from typing import Final

from textual.widget import Widget

PARTS: Final = {
    "textual._compositor": "sparing.py: the kinds of update, ChopsUpdate with its spans, LayoutUpdate with its strips",
    "_compositor": "sparing.py: what puts the widgets of a screen together, with its size",
    "_render_chops": "sparing.py: the rows of a screen, drawn",
    "_display": "app.py: where an update is sent; not called: all is sent as Textual sends it",
    "_size_updated": "column.py: the room is known before anything is drawn; not called: a resize comes a frame later",
    "_scroll_update": "unpromised.py: the scroll bar alone is told; otherwise the whole screen is laid out",
}
"""Where each is used, and what for."""


def show_scroll_bars(widget: Widget) -> None:
    """Tell the scroll bars of a widget how high it all is, without laying out the whole screen."""
    try:
        widget._scroll_update(widget.virtual_size)
    except Exception:  # of whatever kind: what is not promised may fail in any way
        widget.refresh(layout=True)
