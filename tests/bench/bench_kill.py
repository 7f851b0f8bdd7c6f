"""Calls killed outright at random moments: `python -m tests.bench.bench_kill [ROUNDS] [SEED]`, read, never asserted.

Half of the rounds are killed in the chat on a real terminal, half line by line. After each, the record is opened
anew: every answer whose next question was on the screen must be there, nothing else than what was typed, and the call
picked up must show the same conversation as one that was never cut.
"""

import random
import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from assistant.call.library import Library
from assistant.call.loading import load_library
from assistant.call.prompts import DoStep
from assistant.session.session import Session
from assistant.store.store import Store
from tests.cli.lines import REPLIES, STORED, folder_of_small
from tests.cli.terminal import Terminal

SIZE = (200, 60)
"""So wide that no question is wrapped: then it can be found among what was sent."""

ENDED = {"chat": "END OF THE CALL", "plain": "The call has ended."}
"""What shows behind the last answer."""


@dataclass(frozen=True)
class Round:
    """How one round went: answers acknowledged when the kill came, answers found afterwards, what is wrong if any."""

    acknowledged: int
    found: int
    wrong: str = ""


def questions(library: Library) -> list[str]:
    """The question that each reply answers, as far as a line of the screen holds it."""
    session = Session(library, None)
    asked: list[str] = []
    for reply in REPLIES:
        assert session.prompt is not None
        # Of an act its title is on one line; how it is done goes over many.
        asked.append(session.prompt.title if isinstance(session.prompt, DoStep) else session.prompt.question)
        session.say(reply)
    assert session.prompt is None
    return asked


def killed(options: Sequence[str | Path], asked: Sequence[str], lifetime: float) -> int:
    """Type the call until its time [s] is over, then kill; gives the answers whose next question was seen."""
    end = time.monotonic() + lifetime
    width, height = SIZE
    with Terminal("call", *options, width=width, height=height) as terminal:
        seen = -1
        while seen + 1 < len(asked) and terminal.wait_until_shown(asked[seen + 1], max(end - time.monotonic(), 0.0)):
            seen += 1
            if seen < len(REPLIES):
                terminal.press(f"{REPLIES[seen]}\r")
    return max(seen, 0)


def check(library: Library, home: Path, acknowledged: int) -> Round:
    """Open the record and hold it against what was acknowledged."""
    if not (home / "calls.db").exists():
        return Round(acknowledged, 0, "the record is missing" if acknowledged else "")
    with Store(home / "calls.db") as store:
        entries = store.entries()
        found = [(answer.name, answer.text) for entry in entries for answer in store.answers(entry.number)]
        if found != list(STORED[: len(found)]):
            return Round(acknowledged, len(found), f"other answers than were typed: {found}")
        if len(found) < acknowledged:
            return Round(acknowledged, len(found), f"lost {acknowledged - len(found)}")
        if entries:
            again = Session.resume(library, store, entries[0].number)
            uncut = Session(library, None)
            for reply in REPLIES[: len(found)]:
                uncut.say(reply)
            if (again.conversation.turns, again.prompt) != (uncut.conversation.turns, uncut.prompt):
                return Round(acknowledged, len(found), "another conversation")
    return Round(acknowledged, len(found))


def rounds(face: str, library: Library, trees: Path, count: int, dice: random.Random) -> list[Round]:
    """Kill so many calls, each at a moment of its own; half of the time that a whole one takes is for loading."""
    asked = (*questions(library), ENDED[face])
    options = ("--plain" if face == "plain" else "--no-color", "--trees", trees, "--home")
    done: list[Round] = []
    with tempfile.TemporaryDirectory() as folder:
        began = time.monotonic()
        killed((*options, Path(folder) / "whole"), asked, 60.0)
        whole = time.monotonic() - began
        for number in range(count):
            home = Path(folder) / str(number)
            acknowledged = killed((*options, home), asked, whole * dice.uniform(0.5, 1.02))
            done.append(check(library, home, acknowledged))
    return done


def main() -> None:
    """Print how the rounds went."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    seed = int(sys.argv[2]) if len(sys.argv) > 2 else 1
    dice = random.Random(seed)
    with tempfile.TemporaryDirectory() as folder:
        trees = folder_of_small(Path(folder) / "trees")
        library, _ = load_library(trees)
        for face, share in (("chat", count // 2), ("plain", count - count // 2)):
            done = rounds(face, library, trees, share, dice)
            wrong = [each for each in done if each.wrong]
            spread = sorted(each.found for each in done)
            print(
                f"{face}: {len(done)} calls killed, {sum(each.acknowledged for each in done)} answers acknowledged, "
                f"{sum(each.found for each in done)} found, {sum(each.found > each.acknowledged for each in done)} "
                f"times one more than was seen, {len(wrong)} wrong; "
                f"answers in a call from {spread[0]} to {spread[-1]}, median {spread[len(spread) // 2]}"
            )
            for each in wrong:
                print(f"  {each.wrong}")


if __name__ == "__main__":
    main()
