"""What is known so far, beside the transcript: worked numbers, readings, system facts, what was seen."""

from collections.abc import Iterator

from textual.containers import VerticalScroll
from textual.widget import Widget

from assistant.call.asking import shown_answer
from assistant.call.walk import Conversation
from assistant.quantity import Kind
from assistant.records.system import fact_prompt, told_facts
from assistant.tui.passage import MUTED, STRONG, Block, Pair, Passage, line, plain
from assistant.worksheet.sheet import Worked

_UNTOLD = "cannot tell"


class KnownSoFar(Widget):
    """The lines of the panel."""

    DEFAULT_CSS = """
    KnownSoFar {
        height: auto;
        width: 100%;
        padding: 0 1;
    }
    """

    def __init__(self) -> None:
        self.blocks: tuple[Block, ...] = ()
        super().__init__()

    def render(self) -> Passage:
        """The lines as text."""
        return Passage(self.blocks)

    def tell(self, conversation: Conversation) -> None:
        """Show what is known; nothing is drawn anew when nothing has changed."""
        blocks = tuple(known_blocks(conversation))
        if blocks != self.blocks:
            self.blocks = blocks
            self.refresh(layout=True)


class Panel(VerticalScroll):
    """The side panel; it scrolls by itself."""

    DEFAULT_CSS = """
    Panel {
        width: 33;
        height: 1fr;
        scrollbar-size-vertical: 1;
    }
    """

    help_text = (
        "The panel shows the numbers and answers so far, ± being the doubt (about 95 %). F7 hides and shows it; on a "
        "narrow screen it stands in front of the call. Tab moves into it, to scroll with the arrow keys."
    )

    def compose(self) -> Iterator[Widget]:
        """The lines."""
        yield KnownSoFar()

    def tell(self, conversation: Conversation) -> None:
        """Show what is known."""
        self.query_one(KnownSoFar).tell(conversation)


def known_blocks(conversation: Conversation) -> Iterator[Block]:
    """What is known, under a heading for each sort; sorts without anything are left out."""
    catalogue = conversation.display.catalogue
    asked = conversation.state.asked
    # A usual target needs no reading, so it would stand there before there is anything to hold against it.
    worked = (number for number in conversation.numbers if isinstance(number, Worked))
    is_measured = any(name in catalogue.readings for number in worked for name, _ in number.inputs)
    facts = tuple(_fact(conversation, name) for name in asked if name in catalogue.facts)
    groups = (
        ("WORKED NUMBERS", tuple(_numbers(conversation)) if is_measured else ()),
        ("READINGS", tuple(_quantity(conversation, name) for name in catalogue.readings if name in asked)),
        ("SYSTEM", (*facts, *_told(conversation))),
        ("SEEN", tuple(_choice(conversation, name) for name in asked if name in catalogue.observations)),
    )
    shown = [(heading, blocks) for heading, blocks in groups if blocks]
    if not shown:
        yield line("Readings and worked numbers appear here.", MUTED)
    for place, (heading, blocks) in enumerate(shown):
        if place:
            yield line("")
        yield line(heading, "bold $accent")
        yield from blocks


def _numbers(conversation: Conversation) -> Iterator[Block]:
    display = conversation.display
    for number in conversation.numbers:
        shown = display.with_doubt(number.name, number.value) if isinstance(number, Worked) else "cannot be worked"
        yield _pair(display.catalogue.title_of(number.name), shown, STRONG if isinstance(number, Worked) else MUTED)


def _quantity(conversation: Conversation, name: str) -> Block:
    value = conversation.state.quantities.get(name)
    display = conversation.display
    shown = _UNTOLD if value is None else display.with_doubt(name, value)
    return _pair(_own_title(conversation, name), shown, MUTED if value is None else STRONG)


def _fact(conversation: Conversation, name: str) -> Block:
    kind = conversation.display.catalogue.facts[name].kind
    return _quantity(conversation, name) if isinstance(kind, Kind) else _choice(conversation, name)


def _told(conversation: Conversation) -> Iterator[Block]:
    """Facts that were told before they are asked."""
    display = conversation.display
    for name, answer in told_facts(conversation).items():
        if name not in conversation.state.asked:
            prompt = fact_prompt(name, display.catalogue, display.system)
            yield _pair(_own_title(conversation, name), shown_answer(prompt, answer.text), STRONG)


def _choice(conversation: Conversation, name: str) -> Block:
    catalogue = conversation.display.catalogue
    chosen = conversation.state.choices.get(name)
    title = _own_title(conversation, name)
    if chosen is None:
        return _pair(title, _UNTOLD, MUTED)
    entry = catalogue.observations.get(name) or catalogue.facts[name]
    return _pair(title, entry.choices.get(chosen, chosen), STRONG)


def _own_title(conversation: Conversation, name: str) -> str:
    """The title of what was asked; a fact may share its name with a worked number."""
    catalogue = conversation.display.catalogue
    fact = catalogue.facts.get(name)
    return fact.title if fact is not None else catalogue.title_of(name)


def _pair(title: str, value: str, style: str) -> Pair:
    return Pair(plain(title, MUTED), plain(value, style))
