"""What is wrong with a tree that is being tried, each mistake with its line and a caret."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from textual.containers import VerticalScroll
from textual.widget import Widget

from assistant.author.attempt import Attempt
from assistant.source.problem import Problem
from assistant.tui.passage import MUTED, Block, Excerpt, Passage, line


class MistakeList(Widget):
    """The lines of the mistakes."""

    DEFAULT_CSS = """
    MistakeList {
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


class Mistakes(VerticalScroll, can_focus=False):
    """The mistakes of the file as it was last saved; nothing is shown where there are none."""

    DEFAULT_CSS = """
    Mistakes {
        height: auto;
        max-height: 9;
        display: none;
        scrollbar-size-vertical: 1;
    }
    Mistakes.-some {
        display: block;
    }
    """

    help_text = "Mistakes of the saved file stand above the reply line; the word problems shows them all."

    def compose(self) -> Iterator[Widget]:
        """The lines."""
        yield MistakeList()

    def tell(self, found: Attempt, consequence: str) -> None:
        """Show what is wrong with the file, and what that means for the call."""
        listed = self.query_one(MistakeList)
        listed.blocks = tuple(_blocks(found, consequence)) if found.problems else ()
        self.set_class(bool(found.problems), "-some")
        listed.refresh(layout=True)
        self.scroll_home(animate=False)


def _blocks(found: Attempt, consequence: str) -> Iterator[Block]:
    count = len(found.problems)
    yield line(f"! {count} MISTAKE{'' if count == 1 else 'S'}. {consequence}", "bold $warning")
    for place, problem in enumerate(found.problems):
        if place:
            yield line("")
        yield Excerpt(_from_here(problem, found.file.parent), found.texts.get(problem.place.path))
    if count > 1:
        yield line("Type problems to read them all at once.", MUTED)


def _from_here(problem: Problem, folder: Path) -> Problem:
    """The problem with its file as it is named in the folder of the tree: a line of the screen is short."""
    path = Path(problem.place.path)
    if not path.is_relative_to(folder):
        return problem
    return replace(problem, place=replace(problem.place, path=path.relative_to(folder).as_posix()))
