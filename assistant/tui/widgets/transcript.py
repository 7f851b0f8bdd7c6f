"""The turns of a call, one below the other, with the prompt that is asked now at the end."""

from collections.abc import Iterable, Sequence

from textual.containers import VerticalScroll
from textual.widget import Widget

from assistant.call.prompts import Prompt
from assistant.call.turns import Answered, Turn
from assistant.tui.messages import RoomChanged
from assistant.tui.widgets.aside import ESC_CLOSES, Aside
from assistant.tui.widgets.ended import EndedView
from assistant.tui.widgets.prompts import prompt_view
from assistant.tui.widgets.prompts.base import PromptView
from assistant.tui.widgets.turns.base import TurnView
from assistant.tui.widgets.views import shows_the_same, view_of


class Transcript(VerticalScroll, can_focus=False):
    """The record of the call on the screen.

    It is given each new state of the conversation whole, and touches only what differs from the one before.
    """

    DEFAULT_CSS = """
    Transcript {
        width: 1fr;
        height: 1fr;
        align-vertical: bottom;
        scrollbar-size-vertical: 1;
    }
    """

    help_text = "PageUp and PageDown move through the call. An answered prompt can be clicked to change its answer."

    def __init__(self) -> None:
        self._shown: list[tuple[Turn, TurnView]] = []
        self._tail: PromptView | EndedView | None = None
        self._aside: Aside | None = None
        super().__init__()

    @property
    def live(self) -> PromptView | None:
        """The prompt that is asked now."""
        return self._tail if isinstance(self._tail, PromptView) else None

    @property
    def has_aside(self) -> bool:
        """Whether an aside stands behind the prompt."""
        return self._aside is not None

    @property
    def at_end(self) -> bool:
        """Whether the end of the call is in view; the empty line below it need not be."""
        return self.virtual_size.height - self.scroll_offset.y - 1 <= self.scrollable_content_region.height

    @property
    def fits(self) -> bool:
        """Whether all of the call is in view."""
        return self.virtual_size.height <= self.scrollable_content_region.height

    def follow(self, turns: Sequence[Turn], prompt: Prompt | None, changing: Answered | None, closing: str) -> None:
        """Show a state of the conversation; `closing` is said where nothing is asked any more."""
        began = not self._shown and self._tail is None
        same = self._common(turns)
        gone: list[Widget] = [view for _, view in self._shown[same:]]
        del self._shown[same:]
        fresh = list(turns[same:])
        tail = self._tail
        if isinstance(tail, PromptView) and not gone and _answers(fresh, tail):
            answered = fresh.pop(0)
            assert isinstance(answered, Answered)
            tail.settle(answered)
            self._shown.append((answered, tail))
        elif tail is not None:
            gone.append(tail)
        new = [(turn, view_of(turn)) for turn in fresh]
        self._shown.extend(new)
        self._tail = _tail_for(prompt, changing, closing)
        if self._aside is not None:
            gone.append(self._aside)
            self._aside = None
        views: list[TurnView] = [*(view for _, view in new), self._tail]
        with self.app.batch_update():
            if gone:
                self.remove_children(gone)
            self.mount_all(views)
        self.anchor()
        finding = None if began else next((view for view in views if view.is_finding), None)
        self.call_after_refresh(self._begin_at, finding or self._tail)

    def show_aside(
        self, title: str, lines: Iterable[str], closing: str = ESC_CLOSES, keeps_prompt: bool = False
    ) -> None:
        """Say something beside the record, behind the prompt; it goes with the next answer.

        Where not all fits, it is read from its own beginning, or from that of the prompt where that is to be kept.
        """
        self.drop_aside()
        self._aside = Aside(title, tuple(lines), closing)
        self.mount(self._aside)
        self.anchor()
        self.call_after_refresh(self._begin_at, self._tail if keeps_prompt and self._tail else self._aside)

    def drop_aside(self) -> None:
        """Take the aside away."""
        if self._aside is not None:
            self._aside.remove()
            self._aside = None

    def on_resize(self) -> None:
        """News above the reply line take room away, and give it back."""
        self.post_message(RoomChanged())

    def _common(self, turns: Sequence[Turn]) -> int:
        """How many turns from the start are shown as they are."""
        for place, ((old, _), new) in enumerate(zip(self._shown, turns, strict=False)):
            if not shows_the_same(old, new):
                return place
        return min(len(self._shown), len(turns))

    def _begin_at(self, first: Widget) -> None:
        """Where it and what follows do not fit, begin at its top, so that nothing is passed over unread."""
        top = first.virtual_region.y
        if first.is_attached and self.virtual_size.height - top > self.scrollable_content_region.height:
            self.scroll_to(y=top, animate=False, immediate=True)


def _answers(fresh: Sequence[Turn], tail: PromptView) -> bool:
    """Whether the first new turn is the answer to the prompt at the end."""
    first = fresh[0] if fresh else None
    return tail.was is None and isinstance(first, Answered) and first.prompt == tail.prompt


def _tail_for(prompt: Prompt | None, changing: Answered | None, closing: str) -> PromptView | EndedView:
    if prompt is None:
        return EndedView(closing)
    return prompt_view(prompt, changing.shown if changing else None)
