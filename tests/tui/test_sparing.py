"""What is sent over the line is less, and shows the same."""

import re
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len
from rich.console import Console
from rich.segment import Segment
from rich.style import Style
from textual.strip import Strip

from assistant.call.loading import load_library
from assistant.store.store import Store
from assistant.tui.app import chat_app
from assistant.tui.sparing import Sent, changed
from tests.cli.lines import folder_of_small
from tests.cli.terminal import Terminal
from tests.tui.driving import enter
from tests.tui.screens import screen_text

WIDTH = 24
_TOKEN = re.compile(
    r"\x1b\[(\d+);(\d+)H|\x1b\[([0-9;]*)m|\x1b\[[0-9;?<>=!]*[ -/]*[@-~]|\x1b\][^\x07\x1b]*(?:\x07|\x1b\\)|(.)", re.S
)


class Grid:
    """A terminal of few words: it moves the cursor, takes looks, and writes characters of one or two cells."""

    def __init__(self) -> None:
        self.cells: dict[tuple[int, int], tuple[str, str]] = {}
        self.at = (0, 0)
        self.look = ""

    def take(self, sent: str) -> None:
        for row, column, look, char in _TOKEN.findall(sent):
            if row:
                self.at = (int(row) - 1, int(column) - 1)
            elif char:
                self._write(char)
            elif look:
                self.look = "" if look == "0" else look.removeprefix("0;")

    def _write(self, char: str) -> None:
        row, column = self.at
        width = cell_len(char)
        if width == 0:
            if (row, column - 1) in self.cells:
                under, look = self.cells[row, column - 1]
                self.cells[row, column - 1] = (under + char, look)
            return
        self.cells[row, column] = (char, self.look)
        for more in range(1, width):
            self.cells[row, column + more] = ("", self.look)
        self.at = (row, column + width)

    def text(self, width: int, height: int) -> str:
        rows = (
            "".join(self.cells.get((row, column), (" ", ""))[0] for column in range(width)) for row in range(height)
        )
        return "\n".join(row.rstrip() for row in rows) + "\n"


STYLES = (Style(), Style(bold=True), Style(color="#112233"), Style(color="#112233", bgcolor="#445566"), None)
TEXTS = st.text(alphabet="ab é漢\N{FIRE}e\u0301-", max_size=8)
SEGMENTS = st.lists(st.tuples(TEXTS, st.sampled_from(STYLES)).map(lambda pair: Segment(*pair)), max_size=6)
CONSOLE = Console(color_system="truecolor", force_terminal=True)


@given(st.lists(SEGMENTS, min_size=1, max_size=4))
def test_a_row_shows_what_it_should_whatever_it_showed(rows: list[list[Segment]]) -> None:
    """Sent bit by bit, the terminal shows the same characters and looks as when the last row is sent whole."""
    sent, grid, whole = Sent(), Grid(), Grid()
    for row in rows:
        strip = Strip(row).adjust_cell_length(WIDTH, Style(bgcolor="#000000"))
        grid.take(sent.changes(0, strip, CONSOLE))
    whole.take(Sent().changes(0, strip, CONSOLE))
    assert grid.cells == whole.cells


def test_a_row_that_is_the_same_sends_nothing() -> None:
    """As where Textual refreshes a widget in which nothing has changed."""
    sent, strip = Sent(), Strip([Segment("warm air", STYLES[2])])
    assert "warm air" in sent.changes(3, strip, CONSOLE)
    assert sent.changes(3, Strip([Segment("warm", STYLES[2]), Segment(" air", STYLES[2])]), CONSOLE) == ""


def test_a_typed_letter_sends_itself_and_the_cursor() -> None:
    """Not the line behind it."""
    cursor = Style(reverse=True)
    before = [Segment("> wa"), Segment(" ", cursor), Segment(" " * 70)]
    after = [Segment("> war"), Segment(" ", cursor), Segment(" " * 69)]
    start, segments = changed(before, after)
    assert (start, [segment.text for segment in segments]) == (4, ["r", " "])


async def test_a_real_terminal_shows_what_the_screen_holds(tmp_path: Path) -> None:
    """After answers, a page opened and closed, another look, and a way back through the call."""
    trees = folder_of_small(tmp_path / "trees")
    replies = ("it is not cold", "", "22", "ok", "clean", "73")
    with Terminal("call", "--trees", trees, "--home", tmp_path / "real") as terminal:
        terminal.wait_for("What is the complaint?")
        terminal.settle(0.5)
        for reply in replies:
            terminal.press(f"{reply}\r")
            terminal.settle(0.5)
        for keys in ("\x1bOP", "\x1b", "\x1b[19~", "\x1b[5~", "warm"):
            terminal.press(keys)
            terminal.settle(0.5)
    grid = Grid()
    grid.take(terminal.sent.decode("utf-8", errors="replace"))
    with Store(tmp_path / "calls.db") as store:
        async with chat_app(load_library(trees)[0], store).run_test(size=(80, 24)) as pilot:
            await enter(pilot, *replies)
            for key in ("f1", "escape", "f8", "pageup", *"warm"):
                await pilot.press(key)
                await pilot.pause()
            assert grid.text(80, 24) == screen_text(pilot.app)
