"""How long the thermo floor takes, run by hand: `python -m tests.bench.bench_thermo`. Prints, asserts nothing."""

import subprocess
import sys
import time
import timeit

LINE = "{:<58} {:>10.2f} {}"


def cold(label: str, program: str) -> None:
    """Time a fresh interpreter for a program, less the time of an empty one."""
    spent = []
    for source in ("pass", program):
        runs = []
        for _ in range(5):
            start = time.perf_counter()
            subprocess.run([sys.executable, "-c", source], check=True)
            runs.append(time.perf_counter() - start)
        spent.append(min(runs))
    print(LINE.format(label, 1e3 * (spent[1] - spent[0]), "ms"))


def warm(label: str, call, number: int) -> None:
    """Time one call in a warm process."""
    print(LINE.format(label, 1e6 * min(timeit.repeat(call, number=number, repeat=5)) / number, "us"))


def main() -> None:
    """Print every measurement."""
    cold("find a refrigerant", "from assistant.thermo.refrigerants import find; find('410a')")
    cold("first dew temperature", "from assistant.thermo.curves import saturation as s; s('410a').dew_temperature(9e5)")
    cold("first wet bulb", "from assistant.thermo.air import from_wet_bulb as f; f(300.0, 290.0)")
    cold(
        "first superheated state (loads CoolProp)",
        "from assistant.thermo.reference import vapour_state; vapour_state('R410A', 9e5, 290.0)",
    )

    from assistant.thermo import circuit, reference
    from assistant.thermo.curves import saturation

    curves = saturation("R-454B")
    warm("pressure at a temperature", lambda: curves.dew_pressure(280.0), 5000)
    warm("temperature at a pressure", lambda: curves.dew_temperature(9e5), 5000)
    warm("temperature at a pressure, with its slope", lambda: curves.follow_dew(9e5), 5000)
    warm("saturated liquid enthalpy", lambda: curves.liquid_enthalpy(300.0), 5000)
    warm("flash gas fraction", lambda: circuit.flash_gas_fraction(curves, 310.0, 9e5), 2000)
    warm("superheated state, pure", lambda: reference.vapour_state("R22", 6e5, 290.0), 500)
    warm("superheated state, mixture", lambda: reference.vapour_state("R454B.mix", 9e5, 290.0), 500)
    warm(
        "dew point of a mixture by the equations", lambda: reference.saturation_at_pressure("R454B.mix", 9e5, "dew"), 2
    )


if __name__ == "__main__":
    main()
