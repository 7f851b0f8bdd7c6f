"""Whether typing goes on while a picture loads the equations of state: `python -m tests.bench.bench_pictures`.

The pictures of a call are opened and closed again, then keys are pressed without a pause, each counted from the press
to the drawn screen, until the superheated states have come in. For comparison keys are pressed for some seconds before,
and while the same states are worked in a thread of the same process, which is what the other process is there to avoid.
"""

import asyncio
import threading
import time

from assistant.call.headless import walk_by_name
from assistant.call.library import Library
from assistant.call.loading import load_library
from assistant.call.pictured import pictures_of
from assistant.pictures.album import as_svg, find_wanted, in_characters
from assistant.pictures.cells import UNICODE
from assistant.pictures.vapour import work_here
from assistant.session.session import Session
from assistant.source.shipped import shipped_folder
from assistant.tree.examples import read_calls
from assistant.tui.app import LookApp
from assistant.tui.screens.chat import ChatScreen
from assistant.tui.screens.pictures import PicturePage

TREE = "poor_cooling"
SIZE = (80, 24)
QUIET = 8.0
GAP = 0.01


def session_of(library: Library) -> Session:
    """A call whose last readings fix most of the cycle."""
    calls, _ = read_calls(shipped_folder("trees") / f"{TREE}.calls.yaml")
    found = [walk_by_name(library, TREE, call.given.texts()) for call in calls]
    best = max(found, key=lambda call: len(find_wanted(pictures_of(call, {}))))
    return Session(library, None, answers=best.used)


class BareApp(LookApp):
    """The chat alone, without a record."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.session = session

    def on_mount(self) -> None:
        """Show the call."""
        self.push_screen(ChatScreen(self.session))


async def press(screen: ChatScreen) -> float:
    """Seconds from a key to the drawn screen; the key comes a moment later, whatever the loop does then."""
    began = time.perf_counter() + GAP
    await asyncio.sleep(GAP)
    screen.reply.insert_text_at_cursor("x")
    done = asyncio.Event()
    screen.call_after_refresh(done.set)
    await done.wait()
    screen._compositor.render_strips()
    return time.perf_counter() - began


def report(title: str, spent: list[float], total: float) -> None:
    """Print one line."""
    ordered = sorted(spent)
    late = sum(one > 0.1 for one in ordered)
    print(
        f"{title:34} {len(ordered):5} keys in {total:5.1f} s: median {ordered[len(ordered) // 2] * 1e3:5.1f} ms, "
        f"longest {ordered[-1] * 1e3:6.1f} ms, {late} above 100 ms"
    )


async def typing(library: Library) -> None:
    """Type while the states are worked, apart and then in a thread."""
    app = BareApp(session_of(library))
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause(0.5)
        screen = app.screen
        assert isinstance(screen, ChatScreen)
        quiet: list[float] = []
        began = time.perf_counter()
        while time.perf_counter() - began < QUIET:
            quiet.append(await press(screen))
        report("nothing loads", quiet, time.perf_counter() - began)
        began = time.perf_counter()
        screen.action_picture()
        await asyncio.sleep(0)
        page = app.screen
        assert isinstance(page, PicturePage)
        done = asyncio.Event()
        page.call_after_refresh(done.set)
        await done.wait()
        page._compositor.render_strips()
        print(f"the page is there after {(time.perf_counter() - began) * 1e3:.0f} ms")
        await pilot.press("escape")
        await pilot.pause()
        spent: list[float] = []
        while screen._vapours.asked:
            spent.append(await press(screen))
        report("a process of its own loads", spent, time.perf_counter() - began)
        states = tuple(screen._vapours.known)
        thread = threading.Thread(target=lambda: work_here(states))
        spent = []
        began = time.perf_counter()
        thread.start()
        while thread.is_alive():
            spent.append(await press(screen))
        report("a thread of this process loads", spent, time.perf_counter() - began)


def drawing(library: Library) -> None:
    """Time the pictures themselves."""
    call = session_of(library).conversation
    known = work_here(find_wanted(pictures_of(call, {})))
    for width, height in ((80, 24), (200, 60)):
        began = time.perf_counter()
        for _ in range(20):
            for picture in pictures_of(call, known):
                in_characters(picture, width, height, UNICODE)
        print(f"all pictures computed and drawn at {width}x{height}: {(time.perf_counter() - began) / 20 * 1e3:.1f} ms")
    began = time.perf_counter()
    for picture in pictures_of(call, known):
        as_svg(picture)
    print(f"all pictures as SVG: {(time.perf_counter() - began) * 1e3:.1f} ms")


def main() -> None:
    """Measure and print."""
    library, _ = load_library(shipped_folder("trees"))
    asyncio.run(typing(library))
    drawing(library)


if __name__ == "__main__":
    main()
