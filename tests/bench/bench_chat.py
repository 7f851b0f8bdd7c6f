"""How long the chat takes to start and to show an answer: run by hand, `python -m tests.bench.bench_chat`.

It types the longest example calls of the shipped tree into the chat without a terminal, and counts from Enter until
the new screen is laid out and drawn. The record is a real file.
"""

import asyncio
import statistics
import sys
import tempfile
import time
from pathlib import Path

from assistant.call.headless import walk_by_name
from assistant.call.library import Library
from assistant.call.loading import load_library
from assistant.records.store import Store
from assistant.source.shipped import shipped_folder
from assistant.tree.examples import ExampleCall, read_calls
from assistant.tui.app import chat_app
from assistant.tui.screens.chat import ChatScreen
from tests.tui.replies import Typist

FRAME = 1 / 60
TREE = "poor_cooling"


def longest(library: Library, count: int) -> list[ExampleCall]:
    """The example calls with the most turns."""
    calls, _ = read_calls(shipped_folder("trees") / f"{TREE}.calls.yaml")
    return sorted(calls, key=lambda call: -len(walk_by_name(library, TREE, call.given.texts()).turns))[:count]


async def drawn(screen: ChatScreen) -> None:
    """Wait until what was sent is laid out, then draw the whole screen once."""
    while True:
        done = asyncio.Event()
        screen.call_after_refresh(done.set)
        await done.wait()
        live = screen.transcript.live
        if live is None or live.region.height:
            break
    screen._compositor.render_strips()


async def typed(library: Library, call: ExampleCall, size: tuple[int, int]) -> list[float]:
    """Seconds from Enter to the drawn screen, for every answer of a call."""
    spent: list[float] = []
    with tempfile.TemporaryDirectory() as folder, Store(Path(folder) / "calls.db") as store:
        app = chat_app(library, store)
        async with app.run_test(size=size) as pilot:
            await pilot.pause(0.6)
            screen = app.screen
            assert isinstance(screen, ChatScreen)
            typist = Typist(call.given.texts())
            while screen.session.prompt is not None:
                screen.reply.write(typist.reply(screen.session.prompt))
                await pilot.pause()
                screen.transcript.scroll_end(animate=False, immediate=True)
                await pilot.pause()
                began = time.perf_counter()
                await screen.reply.action_submit()
                await drawn(screen)
                spent.append(time.perf_counter() - began)
    return spent


def report(title: str, spent: list[float]) -> None:
    """Print one line of times."""
    ordered = sorted(spent)
    late = sum(each > FRAME for each in spent)
    print(
        f"{title}: {len(spent)} answers, median {1e3 * statistics.median(spent):.1f} ms, "
        f"95 % within {1e3 * ordered[int(0.95 * (len(ordered) - 1))]:.1f} ms, longest {1e3 * ordered[-1]:.1f} ms, "
        f"{late} beyond a frame; the last five {', '.join(f'{1e3 * each:.1f}' for each in spent[-5:])} ms"
    )


async def first_question(library: Library) -> float:
    """Seconds from making the chat to its first question being drawn."""
    began = time.perf_counter()
    with tempfile.TemporaryDirectory() as folder, Store(Path(folder) / "calls.db") as store:
        app = chat_app(library, store)
        async with app.run_test(size=(80, 24)):
            assert isinstance(app.screen, ChatScreen)
            await drawn(app.screen)
            return time.perf_counter() - began


def main() -> None:
    """Print the times."""
    began = time.perf_counter()
    library, _ = load_library(shipped_folder("trees"))
    print(f"reading the trees: {time.perf_counter() - began:.2f} s")
    print(f"first question after that: {asyncio.run(first_question(library)):.2f} s")
    loaded = [name for name in ("uncertainties", "numpy", "rapidfuzz", "CoolProp") if name in sys.modules]
    print(f"loaded by then: {', '.join(loaded) or 'none of the slow libraries'}")
    for call in longest(library, 3):
        for size in ((80, 24), (120, 36)):
            report(f"{size[0]}x{size[1]} {call.name}", asyncio.run(typed(library, call, size)))


if __name__ == "__main__":
    main()
