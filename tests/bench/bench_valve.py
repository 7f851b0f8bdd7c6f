"""What a turn of a knob of the valve bench costs in processor time, in each view, and a whole sweep."""

import asyncio
import time
from collections.abc import Callable
from dataclasses import replace

from assistant.pictures.cells import UNICODE
from assistant.practice.valve_bench.bench import balance_by_hand, orifice_flows, rated_settings
from assistant.practice.valve_bench.coil import settle_all
from assistant.practice.valve_bench.knobs import HEAD, LOAD, turn_by_steps
from assistant.practice.valve_bench.page import hand_rows
from assistant.practice.valve_bench.sweep import sweep
from assistant.practice.valve_bench.talk import Bench
from assistant.simulator.vapour import modelled_designations
from assistant.tui.valve_bench_app import ValveBenchApp

TURNS = 40
FRAME = 1000.0 / 60.0


def spent(work: Callable[[], object]) -> float:
    """Processor time of some work [ms]."""
    before = time.process_time()
    work()
    return (time.process_time() - before) * 1000.0


def print_times(name: str, times: list[float]) -> None:
    """The middle and the longest of some times [ms]."""
    ordered = sorted(times)
    print(f"{name:<44} median {ordered[len(ordered) // 2]:6.1f} ms   longest {ordered[-1]:6.1f} ms")


def main() -> None:
    """Print the times of turns and sweeps; a frame at 60 a second is the measure."""
    print(f"one frame: {FRAME:.1f} ms")
    for refrigerant in modelled_designations():
        first = rated_settings(refrigerant)
        print_times(f"{refrigerant}: first state on the coil", [spent(lambda: settle_all(first))])  # noqa: B023
        for knob in (LOAD, HEAD):
            turned, near, times = first, settle_all(first), []
            for turn in range(TURNS):
                turned = turn_by_steps(turned, knob, 1 if turn < TURNS // 2 else -1, "us")[0]
                before = time.process_time()
                near = settle_all(turned, near)
                times.append((time.process_time() - before) * 1000.0)
            print_times(f"{refrigerant}: a turn of {knob.name} on the coil", times)
        hand = [
            spent(lambda: hand_rows(first, balance_by_hand(first), orifice_flows(first), "us", 80, UNICODE))  # noqa: B023
            for _ in range(TURNS)
        ]
        print_times(f"{refrigerant}: by hand, laid out", hand)
        print_times(f"{refrigerant}: a whole sweep", [spent(lambda: list(sweep(first, LOAD, "us")))])  # noqa: B023
    for on_coil in (False, True):
        asyncio.run(on_the_screen(on_coil))


async def on_the_screen(on_coil: bool) -> None:
    """Time the keys on the screen, with all that Textual does."""
    bench = Bench(replace(rated_settings("R-410A")), on_coil=on_coil)
    async with ValveBenchApp(bench).run_test(size=(120, 36)) as pilot:
        await pilot.pause()
        times = []
        for turn in range(TURNS):
            before = time.process_time()
            await pilot.press("right" if turn < TURNS // 2 else "left")
            times.append((time.process_time() - before) * 1000.0)
        print_times(f"a key on the screen, {'on the coil' if on_coil else 'by hand'}", times)


if __name__ == "__main__":
    main()
