"""What is known so far, beside the transcript: worked numbers, readings, system facts, what was seen."""

from collections.abc import Iterator
from dataclasses import dataclass

from textual.containers import Horizontal
from textual.widget import Widget

from assistant.call.asking import shown_answer
from assistant.call.should import should_be
from assistant.call.walk import Conversation
from assistant.quantity import Kind
from assistant.session.system import fact_prompt, told_facts
from assistant.tui.passage import MUTED, STRONG, Block, Pair, line, plain
from assistant.tui.widgets.column import Column, View
from assistant.tui.widgets.transcript import Transcript
from assistant.worksheet.sheet import Worked

_UNTOLD = "cannot tell"


@dataclass(frozen=True)
class Known(View):
    """A line of the panel: a heading, or a title with what is known of it."""

    title: str
    value: str = ""
    style: str = ""

    gap = 0

    def blocks(self) -> tuple[Block, ...]:
        """The line."""
        if not self.value:
            return (line(self.title, self.style),)
        return (Pair(plain(self.title, MUTED), plain(self.value, self.style)),)


class Panel(Column, can_focus=True):
    """The side panel; it scrolls by itself."""

    DEFAULT_CSS = """
    Panel {
        width: 33;
    }
    """

    has_bars = False
    edge = "│"
    at_bottom = False
    help_text = (
        "The panel shows the numbers and answers so far, ± being the doubt (about 95 %). F7 hides and shows it; on a "
        "narrow screen it stands in front of the call. Tab moves into it, to scroll with the arrow keys."
    )

    def watch_has_focus(self, has_focus: bool) -> None:
        """The keys scroll it: a thicker edge says so."""
        super().watch_has_focus(has_focus)
        self.edge = "┃" if has_focus else "│"
        self.redraw_all()

    def tell(self, conversation: Conversation, opinion: str = "") -> None:
        """Show what is known, and what the second opinion says; what was there before is not drawn anew."""
        shown = {view: view for view in self.views}
        known = [shown.get(each, each) for each in known_lines(conversation, opinion)]
        if known != list(self.views):
            self.put(known)


def known_lines(conversation: Conversation, opinion: str = "") -> Iterator[Known]:
    """What is known, under a heading for each sort; sorts without anything are left out."""
    catalogue = conversation.display.catalogue
    asked = conversation.state.asked
    # A usual target needs no reading, so it would stand there before there is anything to hold against it.
    worked = (number for number in conversation.numbers if isinstance(number, Worked))
    is_measured = any(name in catalogue.readings for number in worked for name, _ in number.inputs)
    facts = tuple(_fact(conversation, name) for name in asked if name in catalogue.facts)
    groups = (
        ("SECOND OPINION", (Known(opinion, style=STRONG),) if opinion else ()),
        ("WORKED NUMBERS", tuple(_numbers(conversation)) if is_measured else ()),
        (
            "READINGS",
            tuple(line for name in catalogue.readings if name in asked for line in _reading(conversation, name)),
        ),
        ("SYSTEM", (*facts, *_told(conversation))),
        ("SEEN", tuple(_choice(conversation, name) for name in asked if name in catalogue.observations)),
    )
    shown = [(heading, lines) for heading, lines in groups if lines]
    if not shown:
        yield Known("Readings and worked numbers appear here.", style=MUTED)
    for place, (heading, lines) in enumerate(shown):
        if place:
            yield Known("", style=heading)
        yield Known(heading, style="bold $accent")
        yield from lines


def _numbers(conversation: Conversation) -> Iterator[Known]:
    display = conversation.display
    for number in conversation.numbers:
        shown = display.with_doubt(number.name, number.value) if isinstance(number, Worked) else "cannot be worked"
        yield Known(display.catalogue.title_of(number.name), shown, STRONG if isinstance(number, Worked) else MUTED)


def _quantity(conversation: Conversation, name: str) -> Known:
    value = conversation.state.quantities.get(name)
    display = conversation.display
    shown = _UNTOLD if value is None else display.with_doubt(name, value)
    return Known(_own_title(conversation, name), shown, MUTED if value is None else STRONG)


def _reading(conversation: Conversation, name: str) -> Iterator[Known]:
    """A reading, and beneath it what it would be on a sound unit, once the weather tells that."""
    yield _quantity(conversation, name)
    found = should_be(conversation.state.sheet, name, conversation.display)
    if found:
        yield Known("  should be about", found, MUTED)


def _fact(conversation: Conversation, name: str) -> Known:
    kind = conversation.display.catalogue.facts[name].kind
    return _quantity(conversation, name) if isinstance(kind, Kind) else _choice(conversation, name)


def _told(conversation: Conversation) -> Iterator[Known]:
    """Facts that were told before they are asked."""
    display = conversation.display
    for name, answer in told_facts(conversation).items():
        if name not in conversation.state.asked:
            prompt = fact_prompt(name, display.catalogue, display.system)
            yield Known(_own_title(conversation, name), shown_answer(prompt, answer.value), STRONG)


def _choice(conversation: Conversation, name: str) -> Known:
    catalogue = conversation.display.catalogue
    chosen = conversation.state.choices.get(name)
    title = _own_title(conversation, name)
    if chosen is None:
        return Known(title, _UNTOLD, MUTED)
    entry = catalogue.observations.get(name) or catalogue.facts[name]
    return Known(title, entry.choices.get(chosen, chosen), STRONG)


def _own_title(conversation: Conversation, name: str) -> str:
    """The title of what was asked; a fact may share its name with a worked number."""
    catalogue = conversation.display.catalogue
    fact = catalogue.facts.get(name)
    return fact.title if fact is not None else catalogue.title_of(name)


class CallArea(Horizontal):
    """A row of which nothing shows between what stands in it, so that drawing it takes no time."""

    BLANK = True

    def __init__(self) -> None:
        super().__init__(id="call")

    def compose(self) -> Iterator[Widget]:
        """What was said, and what is known."""
        yield Transcript()
        yield Panel()
