"""How much the chat sends over a slow line: `python -m tests.bench.bench_line`, read, never asserted.

It runs on a real terminal of the operating system, and counts the bytes that come for each key. 9600 baud carry about
960 bytes a second, a bad mobile connection a few thousand.
"""

import statistics
import tempfile
from pathlib import Path

from tests.cli.lines import REPLIES, folder_of_small
from tests.cli.terminal import Terminal

QUIET = 0.5


def counted(look: str, size: tuple[int, int], trees: Path, home: Path) -> None:
    """Print the bytes for each kind of key in one look and size."""
    width, height = size
    options = ("call", "--theme", look, "--trees", trees, "--home", home)
    with Terminal(*options, width=width, height=height) as terminal:
        terminal.wait_for("What is the complaint?")
        terminal.settle(1.0)
        first = len(terminal.sent)
        idle = len(terminal.read(3.0))
        letters, answers = [], []
        for reply in REPLIES[:6]:
            for letter in reply:
                terminal.press(letter)
                letters.append(len(terminal.settle(QUIET)))
            terminal.press("\r")
            answers.append(len(terminal.settle(QUIET)))
        keys = {}
        for name, key in (("F2 why", "\x1bOQ"), ("Esc", "\x1b"), ("PageUp", "\x1b[5~"), ("PageDown", "\x1b[6~")):
            terminal.press(key)
            keys[name] = len(terminal.settle(QUIET))
    shown = ", ".join(f"{name} {count}" for name, count in keys.items())
    letter, answer = statistics.median(letters), statistics.median(answers)
    print(
        f"{look} {width}x{height}: first screen {first}, three idle seconds {idle}; a letter {letter:.0f} "
        f"(most {max(letters)}); an answer {answer:.0f} (most {max(answers)}); {shown} bytes"
    )


def main() -> None:
    """Print the counts."""
    with tempfile.TemporaryDirectory() as folder:
        trees = folder_of_small(Path(folder) / "trees")
        for place, look in enumerate(("dark", "none")):
            for size in ((80, 24), (120, 36)):
                counted(look, size, trees, Path(folder) / f"{place}{size[0]}")


if __name__ == "__main__":
    main()
