"""How surely and how fast the practice system is solved: `python -m tests.bench.bench_circuit [N] [SEED] [MODE]`.

Prints, asserts nothing. Each point is a system of random size, refrigerant and metering device, with no fault or with
one of random severity from nothing to more than is usual, in random weather: in cooling 65 to 115 °F outdoors, 68 to
85 °F and 45 to 80 % relative humidity indoors; in heating 10 to 62 °F outdoors, 62 to 78 °F indoors. Times are those of
the processor, so that what else runs does not count.
"""

import random
import statistics
import sys
import time
from collections import Counter
from typing import cast

from assistant.errors import PhysicsError
from assistant.quantity import fahrenheit
from assistant.simulator.faults import FAULTS, PresentFault, with_severity
from assistant.simulator.plant import Mode
from assistant.simulator.system import Wish, practice_system
from assistant.simulator.vapour import modelled_designations
from assistant.thermo.air import from_relative_humidity

_MOST = 1.6


def random_wish(chance: random.Random, mode: Mode = "cooling") -> Wish:
    """A system with one fault or none, anywhere in the box."""
    device = chance.choice(("txv", "fixed_orifice"))
    fault = chance.choice([None, *(one for one in FAULTS.values() if one.device in ("", device))])
    faults: tuple[PresentFault, ...] = ()
    if fault is not None:
        severity = fault.usual * chance.uniform(0.0, _MOST)
        faults = (with_severity(fault, min(max(severity, fault.low), fault.high)),)
    outdoor = chance.uniform(65.0, 115.0) if mode == "cooling" else chance.uniform(10.0, 62.0)
    indoor = fahrenheit(chance.uniform(68.0, 85.0) if mode == "cooling" else chance.uniform(62.0, 78.0))
    return Wish(
        refrigerant=chance.choice(modelled_designations()),
        tons=chance.choice((1.5, 2.0, 3.0, 4.0, 5.0)),
        device=device,
        outdoor=fahrenheit(outdoor),
        return_dry_bulb=indoor,
        return_wet_bulb=from_relative_humidity(indoor, chance.uniform(0.45, 0.8)).wet_bulb,
        faults=faults,
        mode=mode,
    )


def main(count: int = 1000, seed: int = 1, mode: Mode = "cooling") -> None:
    """Print how many were solved, what was refused, and how long it took."""
    chance = random.Random(seed)
    tried: Counter[str] = Counter()
    refused: Counter[str] = Counter()
    times = []
    for _ in range(count):
        wish = random_wish(chance, mode)
        name = f"{wish.faults[0].fault.name if wish.faults else 'sound'}, {wish.device}"
        tried[name] += 1
        began = time.process_time()
        try:
            practice_system(wish)
        except PhysicsError:
            refused[name] += 1
        times.append(1e3 * (time.process_time() - began))
    for name in sorted(tried):
        print(f"{name:<50}{tried[name]:>6} tried{refused[name]:>6} refused")
    solved = count - refused.total()
    print(f"\n{mode}: {solved} of {count} solved, {solved / count:.2%}")
    ordered = sorted(times)
    print(
        f"a solve, instruments aside: median {statistics.median(times):.1f} ms, nineteen of twenty within"
        f" {ordered[int(0.95 * count)]:.1f} ms, longest {ordered[-1]:.0f} ms"
    )


if __name__ == "__main__":
    main(*map(int, sys.argv[1:3]), **({"mode": cast(Mode, sys.argv[3])} if len(sys.argv) > 3 else {}))
