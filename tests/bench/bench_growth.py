"""How an answer gets slower as a call gets longer: `python -m tests.bench.bench_growth`, read, never asserted.

A chain of steps, each with a pressure measured again and a number decided on, makes calls of 10, 100 and 1,000 turns; a
whole example call has 30 to 90. Times are those of the processor.
"""

import asyncio
import resource
import statistics
import tempfile
import time
from dataclasses import replace
from pathlib import Path
from unittest.mock import patch

from assistant.call.library import Library
from assistant.call.loading import load_library
from assistant.session.session import Session
from assistant.source.shipped import shipped_folder
from assistant.store.store import Store
from assistant.tree.reader import read_tree
from assistant.tui.screens.chat import ChatScreen
from assistant.tui.widgets import panel
from tests.bench.bench_chat import Painted, Seen, answered
from tests.tui.replies import Typist

STEP = """
  step_{here}:
    do: wait_settled
    measure_again: suction_pressure
    decide:
      - when: superheat > 90 F
        go: done
      - cannot_tell: step_{next}
      - otherwise: step_{next}
"""


def chain(length: int) -> str:
    """A tree of so many steps in a row."""
    steps = "".join(STEP.format(here=place, next=place + 1) for place in range(length))
    return f"""
tree: chain
version: 1
title: Long
complaints: [long]
facts: [refrigerant]
start: step_0
nodes:
{steps}
  step_{length}: {{undecided: The end of the chain.}}
  done: {{no_fault: Done.}}
"""


def library_of(length: int, shipped: Library, folder: Path) -> Library:
    """The shipped catalogue with the chain alone."""
    file = folder / "chain.yaml"
    file.write_text(chain(length), encoding="utf-8")
    tree, problems = read_tree(file)
    assert tree is not None, problems
    return replace(shipped, trees={"chain": tree}, listed=None)


def say(session: Session, typist: Typist, turns: int) -> list[float]:
    """Answer until there are so many turns; gives the seconds of the last ten answers."""
    spent: list[float] = []
    while len(session.conversation.turns) < turns and session.prompt is not None:
        reply = typist.reply(session.prompt)
        began = time.process_time()
        session.say(reply)
        spent.append(time.process_time() - began)
    return spent[-10:]


async def shown(library: Library, store: Store, number: int, typist: Typist) -> list[float]:
    """Seconds of the processor from Enter to the drawn screen for five more answers of a call in the chat."""
    spent: list[float] = []
    app = Painted(library, store, Session.resume(library, store, number))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause(0.6)
        screen = app.screen
        assert isinstance(screen, ChatScreen)
        for _ in range(6):
            assert screen.session.prompt is not None
            screen.reply.write(typist.reply(screen.session.prompt))
            await pilot.pause()
            screen.transcript.scroll_end(animate=False, immediate=True)
            await pilot.pause()
            spent.append((await answered(screen))[1])
    return spent[1:]


@patch.object(panel, "Transcript", Seen)
def main() -> None:
    """Print the times."""
    shipped, _ = load_library(shipped_folder("trees"))
    with tempfile.TemporaryDirectory() as folder:
        library = library_of(300, shipped, Path(folder))
        for turns in (10, 100, 1000):
            # The pressure moves a little each time, so that the number is new at each step.
            readings = [f"{118 + place % 7} psig" for place in range(400)]
            typist = Typist(
                {"refrigerant": ["410a"], "suction_line_temperature": ["55 F"], "suction_pressure": readings}
            )
            with Store(Path(folder) / f"{turns}.db") as store:
                session = Session.begin(library, store)
                answered = say(session, typist, turns)
                assert session.number is not None
                began = time.process_time()
                Session.resume(library, store, session.number)
                again = time.process_time() - began
                screens = asyncio.run(shown(library, store, session.number, typist))
            memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
            answer, screen = (1e3 * statistics.median(spent) for spent in (answered, screens))
            print(
                f"{turns} turns: an answer {answer:.1f} ms, picked up in {1e3 * again:.1f} ms, "
                f"an answer on the screen {screen:.1f} ms, memory so far {memory:.0f} MB"
            )


if __name__ == "__main__":
    main()
