"""The turns of a call, one below the other, with the prompt that is asked now at the end."""

from collections.abc import Iterable, Sequence

from textual import events
from textual.geometry import Size

from assistant.call.prompts import Prompt
from assistant.call.turns import Answered, Turn
from assistant.tui.messages import RoomChanged
from assistant.tui.widgets.column import Column, View
from assistant.tui.widgets.prompts import PromptView, prompt_view
from assistant.tui.widgets.turns import ESC_CLOSES, Aside, EndedView, shows_the_same, view_of


class Transcript(Column):
    """The record of the call on the screen.

    It is given each new state of the conversation whole, and touches only what differs from the one before.
    """

    help_text = "PageUp and PageDown move through the call. An answered prompt can be clicked to change its answer."

    def __init__(self) -> None:
        self._shown: list[tuple[Turn, View]] = []
        self._tail: PromptView | EndedView | None = None
        self._aside: Aside | None = None
        self._first: View | None = None
        super().__init__()

    @property
    def live(self) -> PromptView | None:
        """The prompt that is asked now."""
        return self._tail if isinstance(self._tail, PromptView) else None

    @property
    def has_aside(self) -> bool:
        """Whether an aside stands behind the prompt."""
        return self._aside is not None

    def follow(self, turns: Sequence[Turn], prompt: Prompt | None, changing: Answered | None, closing: str) -> None:
        """Show a state of the conversation; `closing` is said where nothing is asked any more."""
        began = not self._shown and self._tail is None
        same = self._common(turns)
        is_back = same < len(self._shown)
        del self._shown[same:]
        fresh = list(turns[same:])
        tail = self._tail
        new: list[View] = []
        if isinstance(tail, PromptView) and not is_back and _answers(fresh, tail):
            answered = fresh.pop(0)
            assert isinstance(answered, Answered)
            tail.settle(answered)
            self._shown.append((answered, tail))
            new.append(tail)
        views = [(turn, view_of(turn)) for turn in fresh]
        self._shown.extend(views)
        self._tail = _tail_for(prompt, changing, closing)
        self._aside = None
        later: list[View] = [*(view for _, view in views), self._tail]
        self.put([*new, *later], same, new)
        finding = None if began else next((view for view in later if view.is_finding), None)
        self._begin_at(finding or self._tail)

    def show_aside(
        self, title: str, lines: Iterable[str], closing: str = ESC_CLOSES, keeps_prompt: bool = False
    ) -> None:
        """Say something beside the record, behind the prompt; it goes with the next answer.

        Where not all fits, it is read from its own beginning, or from that of the prompt where that is to be kept.
        """
        self.drop_aside()
        self._aside = Aside(title, tuple(lines), closing)
        self.put([self._aside], len(self.views))
        self._begin_at(self._tail if keeps_prompt and self._tail else self._aside)

    def drop_aside(self) -> None:
        """Take the aside away."""
        if self._aside is not None:
            self._aside = None
            self.put((), len(self.views) - 1)

    def point(self, typed: str) -> None:
        """Mark the option that the reply being typed would choose."""
        if self.live is not None and self.live.point(typed):
            self.redraw(self.live)

    def page(self, by: int) -> None:
        """Move through the call by a screen."""
        if by < 0 and not self.fits:
            self.scroll_page_up(animate=False)
        elif by > 0:
            self.scroll_page_down(animate=False)

    def to_end(self) -> None:
        """Show the end of the call."""
        self.scroll_end(animate=False, immediate=True)

    def on_click(self, event: events.Click) -> None:
        """A click points at an option; one on an answered prompt asks to change it."""
        view = self.view_at(event.y)
        if isinstance(view, PromptView):
            event.stop()
            message = view.clicked(event.style.meta.get("option"))
            if message is not None:
                self.post_message(message)

    def _common(self, turns: Sequence[Turn]) -> int:
        """How many turns from the start are shown as they are."""
        for place, ((old, _), new) in enumerate(zip(self._shown, turns, strict=False)):
            if old is not new and not shows_the_same(old, new):
                return place
        return min(len(self._shown), len(turns))

    def _begin_at(self, first: View) -> None:
        """Where it and what follows do not fit, begin at its top, so that nothing is passed over unread."""
        self._first = first
        top = self.top_of(first)
        if self.lines - top > self.room.height:
            self.scroll_to(y=top, animate=False, immediate=True)
        else:
            self.to_end()

    def resized(self, room: Size) -> None:
        """News above the reply line take room, another width breaks lines elsewhere; what is read stays in view."""
        before, was_at_end, reading = self.room, self.at_end, self.view_at(0)
        super().resized(room)
        if not before.width and self._first is not None:
            self._begin_at(self._first)
        elif was_at_end:
            self.to_end()
        elif reading is not None and before.width != room.width:
            self.scroll_to(y=self.top_of(reading), animate=False, immediate=True)
        self.post_message(RoomChanged())


def _answers(fresh: Sequence[Turn], tail: PromptView) -> bool:
    """Whether the first new turn is the answer to the prompt at the end."""
    first = fresh[0] if fresh else None
    return tail.was is None and isinstance(first, Answered) and first.prompt == tail.prompt


def _tail_for(prompt: Prompt | None, changing: Answered | None, closing: str) -> PromptView | EndedView:
    if prompt is None:
        return EndedView(closing)
    return prompt_view(prompt, changing.shown if changing else None)
