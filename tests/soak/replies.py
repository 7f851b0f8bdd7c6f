"""Replies of any kind: `python -m tests.soak.replies [REPLIES] [SEED]`, by default 1,000,000.

Each is read against a prompt of each kind in turn, as a face would: what comes back is an answer, a command or a
sentence. An answer is read again from what is kept of it, and is the same then.
"""

import random
import sys
import time
from collections import Counter
from collections.abc import Sequence

from assistant.call.answers import Answer, write_answer
from assistant.call.examples import run_example
from assistant.call.library import Library
from assistant.call.loading import load_library
from assistant.call.prompts import Prompt
from assistant.call.replies import Given, Unclear, read_reply, read_written
from assistant.call.turns import Answered
from assistant.catalogue.catalogue import Catalogue
from assistant.session.session import Session
from assistant.source.shipped import shipped_folder
from assistant.tree.examples import ENDING, read_calls
from tests.call.chance import COMMANDS, GARBAGE
from tests.soak.counted import memory

SLOW = 5.0
PIECES = (
    *GARBAGE, *COMMANDS, "73", "118.5", "-40", "1e9", "9" * 40, " ", "psig", "kPa", "F", "\xb0C", "\xb0", "bar",
    "in hg", "/", "cannot tell", "understood", "done", "yes", "no", "y", "1", "2", "3", "1 2", "if", "same",
    "same 99999999999999999999", "sheet", "note", "R-410A", "r22", "txv", "ok", "measure again", "go on", "\udce9",
    "\ud800", "\0", "\x9b", "e", ".", ",",
)  # fmt: skip


def prompts(library: Library, most: int) -> list[Prompt]:
    """Prompts of every kind, as the example calls meet them: at most so many of each."""
    begin = Session(library, None)
    found: dict[str, dict[str, Prompt]] = {}
    for prompt in (begin.prompt, _next(begin, "not cooling"), _next(begin, "all trees")):
        assert prompt is not None
        found.setdefault(type(prompt).__name__, {})[prompt.question] = prompt
    for file in sorted(shipped_folder("trees").glob(f"*{ENDING}")):
        for call in read_calls(file)[0][:most]:
            for turn in run_example(library, file.name.removesuffix(ENDING), call).conversation.turns:
                if isinstance(turn, Answered):
                    of_kind = found.setdefault(type(turn.prompt).__name__, {})
                    if len(of_kind) < most:
                        of_kind.setdefault(turn.prompt.name, turn.prompt)
    return [prompt for of_kind in found.values() for prompt in of_kind.values()]


def _next(session: Session, text: str) -> Prompt | None:
    session.say(text)
    return session.prompt


def reply(dice: random.Random) -> str:
    """A reply by chance: pieces of what is typed, signs of any kind, or both."""
    if dice.random() < 0.3:
        return "".join(
            chr(dice.choice((dice.randrange(128), dice.randrange(0x3000)))) for _ in range(dice.randrange(30))
        )
    return dice.choice(("", " ")).join(dice.choice(PIECES) for _ in range(dice.choice((1, 1, 2, 3))))


def run(replies: int, seed: int, asked: Sequence[Prompt], catalogue: Catalogue) -> tuple[Counter[str], list[str]]:
    """Read so many replies; gives what came of them, and what went wrong."""
    dice = random.Random(seed)
    came: Counter[str] = Counter()
    wrong: list[str] = []
    kinds = [[prompt for prompt in asked if type(prompt) is kind] for kind in dict.fromkeys(map(type, asked))]
    for _ in range(replies):
        prompt, text = dice.choice(dice.choice(kinds)), reply(dice)
        begun = time.monotonic()
        try:
            found = read_reply(prompt, text)
            if isinstance(found, Given):
                written = write_answer(Answer(prompt.key, found.value))
                again = read_written(written, catalogue, "us")
                if again.value != found.value:
                    wrong.append(f"{prompt.name} {text!r}: kept as {written.text!r}, which is read as {again.value}")
            elif isinstance(found, Unclear) and not found.message:
                wrong.append(f"{prompt.name} {text!r}: nothing said")
        except Exception as error:
            wrong.append(f"{prompt.name} {text!r}: {type(error).__name__}: {error}")
            continue
        if time.monotonic() - begun > SLOW:
            wrong.append(f"{prompt.name} {text!r}: slow")
        came[f"{type(prompt).__name__} {type(found).__name__}"] += 1
    return came, wrong


def main() -> None:
    """Print how it went."""
    replies = int(sys.argv[1]) if len(sys.argv) > 1 else 1_000_000
    seed = int(sys.argv[2]) if len(sys.argv) > 2 else 1
    library, _ = load_library(shipped_folder("trees"))
    asked = prompts(library, 60)
    begun = time.monotonic()
    came, wrong = run(replies, seed, asked, library.catalogue)
    took = time.monotonic() - begun
    print(f"{replies:,} replies to {len(asked)} prompts in {took:.0f} s, {memory()}: {len(wrong)} wrong")
    for what, count in sorted(came.items()):
        print(f"  {count:9,} {what}")
    for said in wrong[:40]:
        print(f"  WRONG {said[:300]}")


if __name__ == "__main__":
    main()
