"""How often sound units of another structure read what is expected: `python -m tests.bench.bench_expected [N] [SEED]`.

Prints, asserts nothing. Each unit is drawn: its refrigerant, device, mode and weather evenly over what is modelled,
what is not known of it from the table of spreads, the structure of its make by `draw_structure`. The range is the value
with its expanded doubt, k = 2, weather known exactly; 95 in 100 should lie within. Then the half widths, and the time
that all expected values of a call take.
"""

import math
import random
import statistics
import sys
import time
from collections import defaultdict

from assistant.doubt import expanded, nominal
from assistant.errors import CoilsideError
from assistant.quantity import KELVIN_PER_FAHRENHEIT, PSI
from assistant.simulator.expected import DOMAINS, LOAD, RATED_LOAD, expected_readings
from assistant.simulator.plant import DeviceKind, Mode
from assistant.simulator.readings import readings
from assistant.simulator.solve import solve, sound_plant
from assistant.simulator.structure import draw_structure
from assistant.simulator.units import (
    TONS,
    Build,
    Facts,
    Weather,
    build_plant,
    conditions_of,
    moved,
    spreads,
    usual_build,
)
from assistant.simulator.vapour import modelled_designations

_PRESSURES = ("suction_pressure", "liquid_pressure")


def draw_facts(chance: random.Random) -> Facts:
    """Draw what is told of a unit."""
    devices: tuple[DeviceKind, ...] = ("txv", "fixed_orifice")
    mode: Mode = "heating" if chance.random() < 0.25 else "cooling"
    return Facts(
        chance.choice(modelled_designations()),
        chance.choice(devices),
        mode,
        subcooling=chance.choice((None, chance.uniform(8.0, 13.0) * KELVIN_PER_FAHRENHEIT)),
        heat_pump=mode == "heating",
    )


def draw_weather(chance: random.Random, mode: Mode) -> Weather:
    """Draw weather from the domain, where it is most of the time."""
    domain = DOMAINS[mode]
    told = [m + h * chance.uniform(-0.85, 0.85) for m, h in zip(domain.middles, domain.halves, strict=True)]
    if mode == "cooling":
        return Weather(told[0], told[1] + told[2], told[1], 0.0, 0.0, 0.0)
    return Weather(told[0], told[1], told[1] - 6.0, 0.0, 0.0, 0.0)


def draw_build(chance: random.Random, facts: Facts, weather: Weather) -> Build:
    """Draw what is not known of a unit."""
    build = usual_build(facts)
    for name, spread in spreads(facts, weather).items():
        build = moved(build, name, chance.gauss(0.0, spread))
    return build


def main(count: int = 2000, seed: int = 1) -> None:
    """Print how often a range holds, by reading, and how wide it is."""
    chance = random.Random(seed)
    held: dict[str, list[bool]] = defaultdict(list)
    widths: dict[str, list[float]] = defaultdict(list)
    off: dict[str, list[float]] = defaultdict(list)
    refused, times = 0, []
    for _ in range(count):
        facts = draw_facts(chance)
        weather = draw_weather(chance, facts.mode)
        build, structure = draw_build(chance, facts, weather), draw_structure(chance.randrange(10_000, 10_060))
        try:
            plant = build_plant(facts, build, bool(facts.heat_pump), structure)
            conditions = conditions_of(facts, weather)
            found = solve(plant, conditions)
            read = readings(plant, conditions, found)
        except CoilsideError:
            refused += 1
            continue
        usual = sound_plant(facts.refrigerant, TONS, facts.device, "cooling", bool(facts.heat_pump))[1]
        read[LOAD] = found.compressed.power / usual.compressed.power / RATED_LOAD
        began = time.process_time()
        told = expected_readings(
            facts,
            {
                "outdoor_air_temperature": weather.outdoor,
                "return_air_dry_bulb": weather.return_dry_bulb,
                "return_air_wet_bulb": weather.return_wet_bulb,
            },
        )
        times.append(1e3 * (time.process_time() - began))
        low, port = told["suction_pressure"], told["liquid_pressure"]
        curves = plant.fluid.curves
        for name, lines, pressure, curve, sign in (
            ("superheat", "suction_line_temperature", "suction_pressure", curves.dew_temperature, 1.0),
            ("subcooling", "liquid_line_temperature", "liquid_pressure", curves.bubble_temperature, -1.0),
        ):
            read[name] = sign * (read[lines] - curve(read[pressure]))
            told[name] = sign * (told[lines] - _lifted(curve, told[pressure]))
        del low, port
        for name, value in told.items():
            spread = expanded(value)
            held[name].append(abs(read[name] - nominal(value)) <= spread)
            off[name].append((read[name] - nominal(value)) / spread)
            widths[f"{name} {facts.mode}"].append(spread)
    print(f"{count - refused} sound units of another structure, {refused} would not run")
    for name, kept in held.items():
        share, n = sum(kept) / len(kept), len(kept)
        margin = 1.96 * math.sqrt(share * (1 - share) / n)
        unit, scale = (
            ("psi", PSI) if name in _PRESSURES else ("", 1.0) if name == LOAD else ("F", KELVIN_PER_FAHRENHEIT)
        )
        wide = ", ".join(
            f"{mode} {statistics.median(widths[f'{name} {mode}']) / scale:.2g} {unit}"
            for mode in ("cooling", "heating")
            if widths[f"{name} {mode}"]
        )
        mean = statistics.mean(off[name])
        print(f"{name:<34}{100 * share:6.1f} +- {100 * margin:.1f} in 100 within; half width {wide}; off {mean:+.2f}")
    print(f"all expected values of a call: median {statistics.median(times):.2f} ms")


def _lifted(curve, pressure):  # type: ignore[no-untyped-def]
    from assistant.doubt import lift

    return lift(lambda p: (curve(p), (curve(p + 100.0) - curve(p - 100.0)) / 200.0))(pressure)


if __name__ == "__main__":
    main(*map(int, sys.argv[1:3]))
