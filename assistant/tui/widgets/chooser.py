"""A list to pick from."""

from collections.abc import Sequence

from textual.content import Content
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from assistant.tui.passage import Paragraph, Passage


class Chooser(OptionList):
    """A list whose marked entry shows a sign besides its colour."""

    def __init__(self, entries: Sequence[Content]) -> None:
        self._entries = list(entries)
        self._signed: int | None = None
        super().__init__(*(Option(_unsigned(entry)) for entry in entries), markup=False)

    def reword(self, index: int, entry: Content) -> None:
        """Give an entry other words."""
        self._entries[index] = entry
        self.replace_option_prompt_at_index(index, _signed(entry) if index == self._signed else _unsigned(entry))

    def refill(self, entries: Sequence[Content]) -> None:
        """Offer other entries, the first one marked."""
        self._signed = None
        self._entries = list(entries)
        self.clear_options()
        self.add_options([Option(_unsigned(entry)) for entry in entries])
        self.highlighted = 0 if entries else None

    def watch_highlighted(self, highlighted: int | None) -> None:
        """Move the sign along with the mark."""
        super().watch_highlighted(highlighted)
        last, self._signed = self._signed, highlighted
        for index in {last, highlighted} - {None}:
            assert index is not None
            self.reword(index, self._entries[index])


def _signed(entry: Content) -> Passage:
    return Passage((Paragraph(entry, Content("> ")),))


def _unsigned(entry: Content) -> Passage:
    return Passage((Paragraph(entry, Content("  ")),))
