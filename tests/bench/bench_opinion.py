"""The second opinion: worked from nothing, then anew for one reading more: `python -m tests.bench.bench_opinion`.

Prints, asserts nothing; seconds of one processor.
"""

import time
from collections.abc import Callable

from assistant.catalogue.catalogue import Catalogue
from assistant.catalogue.loading import load_catalogue
from assistant.opinion.fits import READINGS, prepare
from assistant.opinion.inputs import Situation
from assistant.opinion.weighing import WeighedReading
from assistant.opinion.work import work_opinion
from assistant.quantity import fahrenheit
from assistant.simulator.plant import DeviceKind, Mode
from assistant.simulator.units import Facts, Weather
from assistant.source.shipped import shipped_folder

DOUBT = 0.42
WEATHER: dict[Mode, Weather] = {
    "cooling": Weather(fahrenheit(90.0), fahrenheit(77.0), fahrenheit(64.0), DOUBT, DOUBT, DOUBT),
    "heating": Weather(fahrenheit(40.0), fahrenheit(68.0), fahrenheit(56.0), DOUBT, DOUBT, DOUBT),
}
KINDS: tuple[tuple[DeviceKind, Mode], ...] = (
    ("txv", "cooling"), ("fixed_orifice", "cooling"), ("txv", "heating"), ("fixed_orifice", "heating"),
)  # fmt: skip


def best(work: Callable[[], object], times: int) -> float:
    """Seconds of a processor that the quickest of some runs takes, whatever else goes on."""
    taken = []
    for _ in range(times):
        start = time.process_time()
        work()
        taken.append(time.process_time() - start)
    return min(taken)


def show_times(catalogue: Catalogue, device: DeviceKind, mode: Mode) -> None:
    """Print the times of one kind of unit."""
    facts, weather = Facts("R-410A", device, mode, heat_pump=mode == "heating" or None), WEATHER[mode]
    prepared = prepare(facts, weather, device)
    whole = best(lambda: prepare(facts, weather, device), 2)
    taken = tuple(
        WeighedReading(name, float(value) + 1.0, DOUBT)
        for name, value in zip(READINGS, prepared.fitted[0].values, strict=True)
        if value == value
    )
    situation = Situation(facts, weather, device, taken, {})
    again = best(lambda: work_opinion(catalogue, situation, prepared), 10)
    print(
        f"{device:<14} {mode:<8} {len(prepared.fitted):>4} severities   from nothing {whole:6.2f} s"
        f"   a reading more {1e3 * again:6.1f} ms"
    )


def main() -> None:
    """Print the times."""
    catalogue, _ = load_catalogue(shipped_folder("trees") / "catalogue")
    for device, mode in KINDS:
        show_times(catalogue, device, mode)


if __name__ == "__main__":
    main()
