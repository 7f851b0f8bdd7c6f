"""Where transcript and panel stand side by side."""

from textual.containers import Horizontal


class CallArea(Horizontal):
    """A row of which nothing shows between what stands in it, so that drawing it takes no time."""

    BLANK = True
