"""The last line of the screen: the keys."""

from collections.abc import Iterable

from textual import events
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.style import Style
from textual.widget import Widget

from assistant.tui.messages import KeyWanted
from assistant.tui.passage import STRONG, Passage, Run, plain


class KeyBar(Widget):
    """The keys of a screen, made from its bindings; each can be clicked. Where the line is short, there are two."""

    DEFAULT_CSS = """
    KeyBar {
        height: auto;
        max-height: 3;
        padding: 0 1;
    }
    """

    def __init__(self, bindings: Iterable[BindingType]) -> None:
        self.keys = [binding for binding in bindings if isinstance(binding, Binding) and binding.show]
        super().__init__()

    auto_links = False

    def render(self) -> Passage:
        """The keys with their words."""
        return Passage((Run(tuple(self._key(binding) for binding in self.keys)),))

    def _key(self, binding: Binding) -> Content:
        name = binding.key_display or binding.key.upper()
        key = plain(name, f"{STRONG} $primary") + plain(f" {binding.description}")
        return key.stylize(Style.from_meta({"action": binding.action}))

    def on_click(self, event: events.Click) -> None:
        """A click on a key does what the key does."""
        event.stop()
        action = event.style.meta.get("action")
        if isinstance(action, str):
            self.post_message(KeyWanted(action))
