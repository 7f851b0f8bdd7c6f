"""How often the trees find a fault whose truth is known: `python -m tests.bench.bench_practice [N] [SEED]`.

Prints, asserts nothing. Each call is a simulated system with one fault of random severity, in random weather, walked
through the tree for poor cooling: once with everything that eye and hand find, once with gauges and thermometers alone.
Readings are exact. "like it" counts a cause of the same family, which the circuit alone does not part.
"""

import random
import sys
import time
from collections import Counter, defaultdict

from assistant.call.headless import walk_by_name
from assistant.call.library import Library
from assistant.call.loading import load_library
from assistant.errors import PhysicsError
from assistant.practice.answers import as_given
from assistant.practice.faults import FAULTS, Had, had
from assistant.practice.plant import fahrenheit
from assistant.practice.system import System, Wish, practice_system
from assistant.practice.vapour import modelled
from assistant.source.shipped import shipped_folder
from assistant.thermo.air import from_relative_humidity

TREE = "poor_cooling"
FAMILIES = (
    {"low_airflow", "dirty_filter", "dirty_indoor_coil", "blower_fault", "duct_restriction", "filter_too_restrictive"},
    {"dirty_outdoor_coil", "outdoor_recirculation", "outdoor_fan_fault"},
    {"orifice_too_large", "orifice_not_seated"},
    {"txv_starving", "bulb_charge_lost", "liquid_line_restriction"},
    {"equalizer_upstream", "internal_equalizer_misapplied", "spring_set_wrong"},
)
OUTCOMES = ("right", "like it", "undecided", "no fault", "another")


def random_system(chance: random.Random) -> System | None:
    """A system with one fault or none; `None` where it would not run."""
    device = chance.choice(("txv", "fixed_orifice"))
    fault = chance.choice([None, *(one for one in FAULTS.values() if one.device in ("", device))])
    faults: tuple[Had, ...] = ()
    if fault is not None:
        severity = fault.usual * chance.uniform(0.6, 1.6)
        faults = (had(fault, min(max(severity, fault.low), fault.high)),)
    return_air = fahrenheit(chance.uniform(72.0, 84.0))
    wish = Wish(
        refrigerant=chance.choice(modelled()),
        tons=chance.choice((1.5, 2.0, 3.0, 4.0, 5.0)),
        device=device,
        outdoor=fahrenheit(chance.uniform(70.0, 108.0)),
        return_dry_bulb=return_air,
        return_wet_bulb=from_relative_humidity(return_air, chance.uniform(0.4, 0.7)).wet_bulb,
        faults=faults,
    )
    try:
        return practice_system(wish)
    except PhysicsError:
        return None


def outcome(library: Library, system: System, *, eyes: bool) -> tuple[str, str]:
    """How the walk ends against the truth, and the end's own name."""
    given = as_given(system)
    if not eyes:
        given = {name: texts for name, texts in given.items() if name not in system.observations}
    ended = walk_by_name(library, TREE, given).outcome
    kind, name = (ended.kind, ended.cause or ended.kind) if ended else ("undecided", "undecided")
    truth = system.wish.faults[0].fault.name if system.wish.faults else "no_fault"
    if name == truth:
        return "right", name
    if kind != "cause":
        return ("undecided" if kind == "undecided" else "no fault"), name
    alike = any(truth in family and name in family for family in FAMILIES)
    return ("like it" if alike else "another"), name


def main(count: int = 200, seed: int = 1) -> None:
    """Print the outcomes by fault, and what another cause was named instead."""
    chance = random.Random(seed)
    library, _ = load_library([shipped_folder("trees")], None)
    began = time.perf_counter()
    tables: dict[bool, dict[str, Counter[str]]] = {True: defaultdict(Counter), False: defaultdict(Counter)}
    mistaken: dict[bool, Counter[str]] = {True: Counter(), False: Counter()}
    stopped = 0
    for _ in range(count):
        system = random_system(chance)
        if system is None:
            stopped += 1
            continue
        truth = system.wish.faults[0].fault.name if system.wish.faults else "sound"
        for eyes, table in tables.items():
            end, name = outcome(library, system, eyes=eyes)
            table[f"{truth}, {system.wish.device}"][end] += 1
            if end == "another":
                mistaken[eyes][f"{truth}, {system.wish.device}: {name}"] += 1
    for eyes, table in tables.items():
        print_table("with all observations" if eyes else "with gauges and thermometers alone", table, mistaken[eyes])
    print(f"{count} systems, {stopped} would not run, {time.perf_counter() - began:.0f} s")


def print_table(title: str, table: dict[str, Counter[str]], mistaken: Counter[str]) -> None:
    """One line a fault, the sum, and the mistaken ends."""
    print(f"\n{title}")
    print(f"{'':<48}" + "".join(f"{name:>11}" for name in OUTCOMES))
    whole: Counter[str] = Counter()
    for truth in sorted(table):
        whole += table[truth]
        print(f"{truth:<48}" + "".join(f"{table[truth][name]:>11}" for name in OUTCOMES))
    print(f"{'all':<48}" + "".join(f"{whole[name]:>11}" for name in OUTCOMES))
    for name, times in mistaken.most_common():
        print(f"  another: {name} ({times})")


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
