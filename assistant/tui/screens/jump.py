"""Picking the node at which a trial is to begin, by typing a part of its name."""

from collections.abc import Iterator, Mapping
from typing import ClassVar

from textual import on
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Input, OptionList

from assistant.call.replies import tidy
from assistant.source.nearest import nearest
from assistant.source.problem import shorten
from assistant.tree.model import CauseLeaf, Node, NoFaultLeaf, Step, Tree, UndecidedLeaf
from assistant.tui.messages import KeyWanted, Stepped
from assistant.tui.passage import MUTED, STRONG, plain
from assistant.tui.screens.pages import Heading, Page
from assistant.tui.widgets.chooser import Chooser
from assistant.tui.widgets.edges import KeyBar
from assistant.tui.widgets.reply import ReplyLine


def fitting(typed: str, nodes: Mapping[str, Node]) -> tuple[str, ...]:
    """The nodes whose names hold all typed parts; where none does, the nearest names."""
    parts = tidy(typed).casefold().replace("_", " ").split()
    found = tuple(name for name in nodes if all(part in name.casefold() for part in parts))
    return found or nearest("_".join(parts), nodes, 5)


class JumpPage(Page[str]):
    """The nodes of a tree; what is typed leaves only those that hold it."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "pick", "Begin at the marked node", key_display="Enter"),
        Binding("escape", "leave", "Back to the call", key_display="Esc"),
    ]
    AUTO_FOCUS = "ReplyLine"

    def __init__(self, tree: Tree, at: str) -> None:
        self._tree = tree
        self._at = at
        self._shown = tuple(tree.nodes)
        super().__init__()

    def compose(self) -> Iterator[Widget]:
        """Heading, what is typed, list, keys."""
        yield Heading("At which node shall the call begin? Type a part of its name.")
        yield PartOfName()
        yield Chooser([self._words(name) for name in self._shown])
        yield KeyBar(self.BINDINGS)

    def on_mount(self) -> None:
        """Mark the node at which the call is now."""
        self.query_one(ReplyLine).placeholder = "Part of a name; the arrow keys move the mark"
        self.query_one(Chooser).highlighted = self._shown.index(self._at) if self._at in self._shown else 0

    def _words(self, name: str) -> Content:
        return plain(name, STRONG) + plain(f"  {says(self._tree.nodes[name])}", MUTED)

    @on(Input.Changed)
    def _typed(self, event: Input.Changed) -> None:
        self._shown = fitting(event.value, self._tree.nodes)
        self.query_one(Chooser).refill([self._words(name) for name in self._shown])

    @on(Input.Submitted)
    def action_pick(self) -> None:
        """Take the marked node."""
        place = self.query_one(Chooser).highlighted
        if place is not None:
            self.dismiss(self._shown[place])

    @on(Stepped)
    def _step(self, message: Stepped) -> None:
        chooser = self.query_one(Chooser)
        if message.by > 0:
            chooser.action_cursor_down()
        else:
            chooser.action_cursor_up()

    @on(OptionList.OptionSelected)
    def _picked(self, event: OptionList.OptionSelected) -> None:
        self.dismiss(self._shown[event.option_index])

    async def on_key_wanted(self, message: KeyWanted) -> None:
        """The key bar was clicked."""
        await self.run_action(message.action)


class PartOfName(ReplyLine):
    """What is typed leaves the nodes that fit; Enter takes the marked one of them."""

    async def action_submit(self) -> None:
        """Send it, and leave it standing: without it all nodes would be back."""
        self.post_message(self.Submitted(self, self.value))


def says(node: Node) -> str:
    """The first words by which an author knows a node again."""
    match node:
        case CauseLeaf():
            return f"cause: {node.cause}"
        case NoFaultLeaf():
            return f"no fault: {shorten(node.text, 50)}"
        case UndecidedLeaf():
            return f"undecided: {shorten(node.text, 50)}"
        case Step():
            asked = f"ask {', '.join(map(str, node.ask))}" if node.ask else ""
            does = f"do {', '.join(map(str, node.do))}" if node.do else ""
            return shorten(does or node.say or asked or node.why or "decides", 60)
        case _:
            return f"use {node.tree}"
