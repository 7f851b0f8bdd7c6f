"""When an application has nothing left to do, told from its event loop, so that tests wait no longer than they must.

Textual's own pilot sleeps for fixed times until the process stands still; over a thousand keys that is half of the time
of these tests.
"""

import asyncio
from asyncio import sleep
from time import monotonic

from textual import _wait
from textual._context import active_app
from textual.app import App
from textual.worker import WorkerState

# What is due later than this is a matter of the clock, as a cursor that blinks: a test that waits for it says so.
_SOON = _wait.SLEEP_GRANULARITY
_WORKING = (WorkerState.PENDING, WorkerState.RUNNING)


async def wait_for_idle(min_sleep: float = 0.0, max_sleep: float = 1.0) -> None:
    """Wait until nothing is ready to run and nothing is due soon; while threads work, as Textual itself does.

    A thread that watches files works as long as its application lives; what comes of it a test waits for by itself.
    """
    loop = asyncio.get_running_loop()
    end, slept = monotonic() + max_sleep, 0.0
    while slept < _SOON and monotonic() < end:
        await sleep(0)
        if any(worker.state in _WORKING and worker.group != "watch" for worker in active_app.get().workers):
            break
        if _has_to_draw(active_app.get()):
            await sleep(0.001)
            continue
        if loop._ready:  # type: ignore[attr-defined]
            continue
        due = [timer.when() for timer in loop._scheduled if not timer.cancelled()]  # type: ignore[attr-defined]
        first = min(due, default=loop.time() + 1.0) - loop.time()
        if first > _SOON:
            return
        pause = max(first, 0.0) + 0.001
        await sleep(pause)
        slept += pause
    await _wait.wait_for_idle(min_sleep, max_sleep)


def _has_to_draw(app: App[object]) -> bool:
    """Whether something is still to be laid out or drawn, or waits for that, as the numbers beside a question do."""
    if not app._running or not app.screen_stack:
        return False
    screen = app.screen
    waits = screen._callbacks or screen._dirty_widgets
    return bool(waits or screen._layout_required or screen._repaint_required)
