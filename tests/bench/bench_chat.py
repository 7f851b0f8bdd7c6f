"""How long the chat takes to start and to show an answer: run by hand, `python -m tests.bench.bench_chat`.

It types the longest example call of several trees into the chat without a terminal, and counts from Enter until the
next question is drawn and made into what a terminal is sent; the numbers beside it follow. The record is a real file.
On a busy machine the processor's time is what counts.
"""

import asyncio
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Any
from unittest.mock import patch

from textual.geometry import Region
from textual.strip import Strip

from assistant.call.headless import walk_by_name
from assistant.call.library import Library
from assistant.call.loading import load_library
from assistant.session.session import Session
from assistant.source.shipped import shipped_folder
from assistant.store.store import Store
from assistant.tree.examples import ExampleCall, read_calls
from assistant.tui.app import ChatApp
from assistant.tui.screens.chat import ChatScreen
from assistant.tui.widgets import panel
from assistant.tui.widgets.transcript import Transcript
from tests.cli.terminal import Terminal
from tests.tui.replies import Typist

FRAME = 1 / 60
TREES = ("poor_cooling", "poor_heating", "iced_coil", "superheat_hunting", "valve_bench", "reversing_valve")
SIZES = ((80, 24), (120, 36))
SLOW = ("uncertainties", "numpy", "rapidfuzz", "CoolProp")


def longest(library: Library, tree: str) -> ExampleCall:
    """The example call of a tree with the most turns."""
    calls, _ = read_calls(shipped_folder("trees") / f"{tree}.calls.yaml")
    return max(calls, key=lambda call: len(walk_by_name(library, tree, call.given.texts()).turns))


async def drawn(screen: ChatScreen) -> None:
    """Wait until nothing is left to be laid out or sent to the terminal."""
    while True:
        done = asyncio.Event()
        screen.call_after_refresh(done.set)
        await done.wait()
        if not (screen._dirty_widgets or screen._layout_required or screen._repaint_required):
            break


class Seen(Transcript):
    """The transcript, which notes that it was drawn: other lines may be sent a frame before it."""

    was_drawn = False

    def render_lines(self, crop: Region) -> list[Strip]:
        Seen.was_drawn = True
        return super().render_lines(crop)


class Painted(ChatApp):
    """The chat, which notes when the transcript has been sent to the terminal, in the signs that are sent."""

    def __init__(self, library: Library, store: Store, session: Session | None = None) -> None:
        super().__init__(library, store, "us", session)
        self.at: list[tuple[float, float]] = []
        self.loaded_at_first: list[str] | None = None

    def _display(self, *given: Any, **named: Any) -> None:
        super()._display(*given, **named)
        screen, update = given
        if update is not None:
            update.render_segments(self.console)
        if Seen.was_drawn:
            self.at.append((time.perf_counter(), time.process_time()))
        if self.loaded_at_first is None and isinstance(screen, ChatScreen) and screen.transcript.lines:
            self.loaded_at_first = [name for name in SLOW if name in sys.modules]


async def answered(screen: ChatScreen) -> tuple[float, float]:
    """Send the reply; seconds of the clock and of the processor until the next question is drawn."""
    app = screen.app
    assert isinstance(app, Painted)
    before = screen.session.conversation
    began, worked = time.perf_counter(), time.process_time()
    app.at, Seen.was_drawn = [], False
    await screen.reply.action_submit()
    while screen.session.conversation is before and time.perf_counter() - began < 5:
        app.at, Seen.was_drawn = [], False
        await asyncio.sleep(0)
    await drawn(screen)
    return app.at[0][0] - began, app.at[0][1] - worked


async def typed(library: Library, tree: str, call: ExampleCall, size: tuple[int, int]) -> list[tuple[float, float]]:
    """The seconds of every answer of a call."""
    spent: list[tuple[float, float]] = []
    with tempfile.TemporaryDirectory() as folder, Store(Path(folder) / "calls.db") as store:
        app = Painted(library, store)
        async with app.run_test(size=size) as pilot:
            await pilot.pause(0.6)
            screen = app.screen
            assert isinstance(screen, ChatScreen)
            typist = Typist({**call.given.texts(), "tree": (tree,)}, complaint=library.trees[tree].title)
            while screen.session.prompt is not None:
                screen.reply.write(typist.reply(screen.session.prompt))
                await pilot.pause()
                screen.transcript.scroll_end(animate=False, immediate=True)
                await pilot.pause()
                spent.append(await answered(screen))
    return spent


def report(title: str, spent: list[tuple[float, float]]) -> None:
    """Print one line of times, of the clock and of the processor."""
    clock, worked = (sorted(1e3 * each for each in times) for times in zip(*spent, strict=True))
    place = int(0.95 * (len(spent) - 1))
    late = sum(each > 1e3 * FRAME for each in worked)
    print(
        f"{title}: {len(spent)} answers, median {statistics.median(clock):.1f} ms ({statistics.median(worked):.1f} of "
        f"the processor), 95 % within {clock[place]:.1f} ms ({worked[place]:.1f}), longest {clock[-1]:.1f} ms "
        f"({worked[-1]:.1f}); {late} beyond a frame of the processor's time"
    )


def loaded(module: str) -> float:
    """Seconds of the processor for a fresh interpreter that imports a module."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run([sys.executable, "-c", f"import {module}"], check=True)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def coolprop_alone() -> float:
    """What CoolProp costs by itself."""
    return loaded("CoolProp.CoolProp")


def first_on_terminal() -> float:
    """Seconds of the processor for the program to show its first question on a real terminal."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    with tempfile.TemporaryDirectory() as folder, Terminal("call", "--home", folder) as terminal:
        terminal.wait_for("What is the complaint?")
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


async def first_question(library: Library) -> tuple[float, list[str]]:
    """Seconds from making the chat to its first question being drawn, and the slow libraries loaded by then."""
    began = time.perf_counter()
    with tempfile.TemporaryDirectory() as folder, Store(Path(folder) / "calls.db") as store:
        app = Painted(library, store)
        async with app.run_test(size=(80, 24)):
            assert app.loaded_at_first is not None
            return app.at[0][0] - began, app.loaded_at_first


@patch.object(panel, "Transcript", Seen)
def main() -> None:
    """Print the times."""
    began = time.perf_counter()
    library, _ = load_library(shipped_folder("trees"))
    print(f"reading the trees: {time.perf_counter() - began:.2f} s")
    first, slow = asyncio.run(first_question(library))
    print(f"first question after that: {first:.2f} s")
    print(f"loaded by then: {', '.join(slow) or 'none of the slow libraries'}")
    question, coolprop = (statistics.median(each() for _ in range(3)) for each in (first_on_terminal, coolprop_alone))
    print(
        f"first question on a terminal {question:.2f} s of the processor, import CoolProp {coolprop:.2f} s: "
        f"{question / coolprop:.0%} of it"
    )
    for size in SIZES:
        every: list[tuple[float, float]] = []
        for tree in TREES:
            call = longest(library, tree)
            spent = asyncio.run(typed(library, tree, call, size))
            report(f"  {size[0]}x{size[1]} {tree}, {call.name}", spent)
            every += spent
        report(f"{size[0]}x{size[1]} all", every)
    print(f"memory: {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MB at the most")


if __name__ == "__main__":
    main()
