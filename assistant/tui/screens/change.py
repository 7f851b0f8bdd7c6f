"""Picking the earlier answer that is to be changed."""

from collections.abc import Iterator, Sequence
from typing import ClassVar

from textual import on
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.widget import Widget
from textual.widgets import OptionList

from assistant.call.prompts import Acknowledge
from assistant.call.turns import Answered, Turn
from assistant.tui.messages import KeyWanted
from assistant.tui.options import brief
from assistant.tui.passage import MUTED, STRONG, plain
from assistant.tui.screens.pages import Heading, Page
from assistant.tui.widgets.chooser import Chooser
from assistant.tui.widgets.edges import KeyBar


def changeable(turns: Sequence[Turn]) -> tuple[Answered, ...]:
    """The answers that can be picked; a caution was read, which cannot be undone."""
    return tuple(turn for turn in turns if isinstance(turn, Answered) and not isinstance(turn.prompt, Acknowledge))


class ChangePage(Page[Answered]):
    """The answers so far, the latest marked."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "pick", "Change the marked one", key_display="Enter"),
        Binding("escape", "leave", "Back to the call", key_display="Esc"),
    ]

    def __init__(self, answered: Sequence[Answered]) -> None:
        self._answered = tuple(answered)
        super().__init__()

    def compose(self) -> Iterator[Widget]:
        """Heading, list, keys."""
        yield Heading("Which answer do you want to change?")
        yield Chooser([_words(turn) for turn in self._answered])
        yield KeyBar(self.BINDINGS)

    def on_mount(self) -> None:
        """Mark the latest answer: the one just mistyped."""
        chooser = self.query_one(Chooser)
        chooser.highlighted = len(self._answered) - 1
        chooser.focus()

    @on(OptionList.OptionSelected)
    def pick(self, event: OptionList.OptionSelected) -> None:
        """One was picked."""
        self.dismiss(self._answered[event.option_index])

    def action_pick(self) -> None:
        """Change what is marked."""
        self.query_one(Chooser).action_select()

    async def on_key_wanted(self, message: KeyWanted) -> None:
        """The key bar was clicked."""
        await self.run_action(message.action)


def _words(turn: Answered) -> Content:
    return plain(f"{brief(turn.prompt).rstrip('.?')}: ", MUTED) + plain(turn.shown, STRONG)
