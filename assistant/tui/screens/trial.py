"""The chat on a tree that is being written."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.screen import Screen
from textual.suggester import SuggestFromList
from textual.widget import Widget

from assistant.author.attempt import Attempt
from assistant.author.examined import Examined
from assistant.author.trial import WORDS, Trial
from assistant.call.replies import COMMANDS, tidy
from assistant.tui.messages import KeyWanted
from assistant.tui.screens.chat import ChatScreen
from assistant.tui.screens.jump import JumpPage
from assistant.tui.screens.page import Heading
from assistant.tui.widgets.key_bar import KeyBar
from assistant.tui.widgets.mistakes import Mistakes
from assistant.tui.widgets.title_bar import TitleBar

_BEHIND = "You walk the tree as it was before."
_HARMLESS = "The tree can be walked all the same."


class TrialScreen(ChatScreen):
    """A call on the last state of the tree that could be walked."""

    BINDINGS: ClassVar[list[BindingType]] = [
        *(key for key in ChatScreen.BINDINGS if isinstance(key, Binding) and key.key not in ("f9", "f10")),
        *(
            replace(binding, tooltip="stop here; nothing is kept")
            for binding in ChatScreen.BINDINGS
            if isinstance(binding, Binding) and binding.key == "f9"
        ),
        Binding("f10,ctrl+g", "jump", "Jump", key_display="F10", tooltip="begin at another node; also Ctrl+G"),
    ]
    words: ClassVar[Mapping[str, str]] = {**COMMANDS, **WORDS}

    session: Trial

    def __init__(self, trial: Trial, notes: Sequence[str] = ()) -> None:
        self._notes = tuple(notes)
        super().__init__(trial)

    def compose_more(self) -> Iterator[Widget]:
        """What is wrong with the file."""
        yield Mistakes()

    def on_mount(self) -> None:
        """Say where the call begins."""
        self.show_saved((*self._notes, self.session.begun))

    def show_saved(self, notes: Sequence[str]) -> None:
        """Show the call as the saved file has it; what is being typed stays."""
        trial = self.session
        self.reply.suggester = SuggestFromList([f"jump {name}" for name in trial.tree.nodes], case_sensitive=False)
        # What takes room comes first, so that the end of the call is kept in view.
        self.tell(" ".join(note for note in notes if note))
        if trial.latest is not None:
            self.query_one(Mistakes).tell(trial.latest, _BEHIND if trial.is_behind else _HARMLESS)
        self._follow()

    def show_examined(self, result: Examined) -> None:
        """Show in the title how the example calls of the saved file end."""
        self.session.examined = result
        if self.query(TitleBar):
            self.tell_title()

    def kept_as(self) -> str:
        """What becomes of the call, in a sentence."""
        return "Nothing is kept: this was only tried."

    def tell_title(self) -> None:
        """Show which tree is tried, and the node to which the call has come."""
        trial = self.session
        ends = f" - {trial.examined.summary}" if trial.examined else ""
        self.query_one(TitleBar).tell(None, f"at {trial.at}", trial.tree.title, call=f"trying {trial.tree.name}{ends}")

    def _page_for(self, text: str) -> Callable[[], None] | None:
        return self.action_jump if tidy(text).casefold() == "jump" else super()._page_for(text)

    def action_jump(self) -> None:
        """Pick a node to begin at."""
        self.app.push_screen(JumpPage(self.session.tree, self.session.at), self._jump)

    def _jump(self, node: str | None) -> None:
        if node is not None:
            self.reply.clear()
            self._show(self.session.jump(node), None)


class WaitScreen(Screen[None]):
    """What is wrong with a tree that cannot be walked yet."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("f9,q", "app.leave", "Quit", key_display="F9")]

    def __init__(self, found: Attempt) -> None:
        self._found = found
        super().__init__()

    def compose(self) -> Iterator[Widget]:
        """Heading, mistakes, keys."""
        yield Heading(f"Coilside  trying {self._found.file.name}")
        yield Mistakes()
        yield KeyBar(self.BINDINGS)

    def on_mount(self) -> None:
        """Show the mistakes."""
        self.show_found(self._found)

    def show_found(self, found: Attempt) -> None:
        """Show what is wrong now."""
        self.query_one(Mistakes).tell(
            found, "The tree cannot be walked yet; mend it and save, this screen goes on then."
        )

    async def on_key_wanted(self, message: KeyWanted) -> None:
        """The key bar was clicked."""
        await self.run_action(message.action)
