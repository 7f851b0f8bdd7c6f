"""The chat on a practice call, and its review on a page of its own."""

from collections.abc import Callable, Iterator, Mapping
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.suggester import SuggestFromList
from textual.widget import Widget
from textual.widgets import Static

from assistant.call.replies import COMMANDS, Command, read_command, tidy
from assistant.call.wording import title_of
from assistant.practice.session.practice_call import PracticeCall
from assistant.practice.session.practice_words import NOT_HERE, WORDS
from assistant.practice.training.review import CallReview, review_lines
from assistant.practice.visit.acts import acts_for
from assistant.practice.visit.amounts import minute_words
from assistant.practice.visit.visit import readings_here
from assistant.session.responses import Accepted, Response
from assistant.tui.app import LookApp
from assistant.tui.messages import KeyWanted
from assistant.tui.passage import Passage, line
from assistant.tui.screens.chat import ChatScreen
from assistant.tui.screens.pages import Heading, Page
from assistant.tui.widgets.edges import KeyBar, TitleBar
from assistant.tui.widgets.reply import ReplyRow


class PracticeScreen(ChatScreen):
    """A practice call: the title tells that it is one, and the minute of the visit."""

    BINDINGS: ClassVar[list[BindingType]] = [
        *(key for key in ChatScreen.BINDINGS if isinstance(key, Binding) and key.key != "f10"),
        Binding(
            "f10,ctrl+r", "review", "CallReview", key_display="F10", tooltip="once it is over: all of it on one page"
        ),
    ]
    words: ClassVar[Mapping[str, str]] = {
        **WORDS,
        **{word: text for word, text in COMMANDS.items() if word not in NOT_HERE},
    }

    session: PracticeCall

    def __init__(self, session: PracticeCall) -> None:
        self._told = session.is_over
        """Whether the review was shown by itself, as it is once, at the end."""
        super().__init__(session, session.news)

    def on_mount(self) -> None:
        """Offer the words that can be typed as they are begun."""
        site = self.session.visit.site
        offered = [f"take {name}" for name in readings_here()] + [f"do {act.name}" for act in acts_for(site)]
        self.reply.suggester = SuggestFromList([name.replace("_", " ") for name in offered], case_sensitive=False)

    def kept_as(self) -> str:
        """What becomes of the call, in a sentence."""
        number = self.session.number
        return "It is kept as a practice call." if number is None else f"It is kept as practice call {number}."

    def tell_title(self) -> None:
        """Show that it is practice, the minute of the visit, and the tree that is followed."""
        session, conversation = self.session, self.session.conversation
        tree = conversation.tree.title if conversation.tree and not session.call.alone else None
        number = "" if session.number is None else f" {session.number}"
        allowed = "" if session.call.minutes is None else f" of {session.call.minutes:.0f}"
        place = f"PRACTICE{number}, minute {minute_words(session.visit.minute)}{allowed}"
        self.query_one(TitleBar).tell(None, title_of(conversation), tree, call=place)

    def closing(self) -> str:
        """What is said when the call is over."""
        more = " Type new for another one." if self.session.following or self.session.draw else ""
        return f"The practice call is over. {self.kept_as()} F10 shows its review on one page.{more} F9 quits."

    def _tell_more(self) -> None:
        hint = "review, new or quit" if self.session.is_over else self.session.hint
        if hint:
            self.query_one(ReplyRow).tell(hint, self.transcript.at_end)
        else:
            super()._tell_more()

    def _show(self, response: Response, typed: str | None) -> None:
        super()._show(response, typed)
        if self.session.is_over and not self._told and isinstance(response, Accepted):
            self._told = True
            self.action_review()

    def _page_for(self, text: str) -> Callable[[], None] | None:
        typed = tidy(text).casefold()
        if typed == "review" and self.session.is_over:
            return self.action_review
        command = read_command(text)
        if isinstance(command, Command) and command.word == "opinion" and self.session.is_over:
            return self.action_opinion
        if isinstance(command, Command) and command.word in NOT_HERE:
            return None
        return super()._page_for(text)

    def action_review(self) -> None:
        """Show the review on a page of its own, once the call is over."""
        if not self.session.is_over:
            self.tell("The review comes when the call is over: name a cause, or give up.", is_problem=True)
            return
        self.app.push_screen(ReviewPage(self.session.review))


class ReviewPage(Page[None]):
    """The review of a practice call, both ways side by side where the screen is wide enough."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,f10,enter", "leave", "Back to the call", key_display="Esc"),
    ]

    def __init__(self, review: CallReview) -> None:
        self._review = review
        super().__init__()

    def compose(self) -> Iterator[Widget]:
        """Heading, text, keys."""
        yield Heading("PRACTICE  review")
        with VerticalScroll():
            yield Static(id="review")
        yield KeyBar(self.BINDINGS)

    def on_mount(self) -> None:
        """Lay the text out."""
        self.on_resize()

    def on_resize(self) -> None:
        """Lay the text out for the width there is."""
        lines = review_lines(self._review, self.app.size.width - 4)
        self.query_one("#review", Static).update(Passage(line(text) for text in lines))

    def on_key_wanted(self, message: KeyWanted) -> None:
        """The key bar was clicked."""
        self.action_leave()


class PracticeApp(LookApp):
    """The chat over a practice call."""

    def __init__(self, session: PracticeCall, look: str = "dark") -> None:
        super().__init__(look)
        self._session = session

    def on_mount(self) -> None:
        """Show the call as far as it goes."""
        self.push_screen(PracticeScreen(self._session))
