"""Curves against CoolProp, a full worksheet, and the start of `pt`: `python -m tests.bench.bench_numbers`.

Prints, asserts nothing. Times are minima over repeats; read the ratios.
"""

import subprocess
import sys
import time
import timeit
from collections.abc import Callable

from assistant.call.headless import state_by_name
from assistant.call.loading import load_library
from assistant.source.shipped import shipped_folder
from assistant.thermo import reference
from assistant.thermo.curves import saturation
from assistant.worksheet.sheet import Sheet, Worked

FULL_SET = {
    "refrigerant": "R-454B", "metering_device": "fixed_orifice", "altitude": "3000 ft", "liquid_line_lift": "20 ft",
    "suction_pressure": "108 psig", "liquid_pressure": "330 psig", "standing_pressure": "200 psig",
    "suction_line_temperature": "54 F", "evaporator_outlet_temperature": "52 F", "liquid_line_temperature": "96 F",
    "drier_inlet_temperature": "96 F", "drier_outlet_temperature": "95 F", "discharge_line_temperature": "175 F",
    "outdoor_air_temperature": "92 F", "condenser_leaving_air_temperature": "110 F", "return_air_dry_bulb": "78 F",
    "return_air_wet_bulb": "65 F", "supply_air_dry_bulb": "58 F", "supply_air_wet_bulb": "56 F",
    "indoor_airflow": "1200 cfm", "heater_power": "9 kW",
}  # fmt: skip


def best(call: Callable[[], object], number: int) -> float:
    """Seconds of one call, the best of five repeats."""
    return min(timeit.repeat(call, number=number, repeat=5)) / number


def side_by_side(label: str, ours: float, theirs: float) -> None:
    """One line: our time, theirs, and how many times faster ours is."""
    print(f"{label:<52} {1e6 * ours:>12.1f} us {1e6 * theirs:>14.1f} us {theirs / ours:>9.0f} x")


def process(program: str) -> float:
    """Seconds of a fresh interpreter, the best of five."""
    runs = []
    for _ in range(5):
        start = time.perf_counter()
        subprocess.run([sys.executable, "-c", program], check=True, stdout=subprocess.DEVNULL)
        runs.append(time.perf_counter() - start)
    return min(runs)


def main() -> None:
    """Print every measurement."""
    print(f"{'':52} {'ours':>15} {'CoolProp':>17} {'ratio':>11}")
    few = [4e5 + step * 1.3e5 for step in range(20)]
    for name in ("R-22", "R-454B"):
        curves = saturation(name)
        model = curves.refrigerant.model_name
        ours, theirs = (
            best(lambda c=curves: c.dew_temperature(9e5), 2000),
            best(lambda m=model: reference.saturation_at_pressure(m, 9e5, "dew"), 3),
        )
        side_by_side(f"{name}: dew temperature of one pressure", ours, theirs)
        whole = best(lambda c=curves: [c.dew_temperature(p) for p in few], 100)
        each = best(lambda m=model: [reference.saturation_at_pressure(m, p, "dew") for p in few], 1)
        side_by_side(f"{name}: of {len(few)} pressures, each", whole / len(few), each / len(few))

    library, _ = load_library(shipped_folder("trees"))
    known = state_by_name(library.catalogue, FULL_SET).sheet.known
    worked = [number for number in Sheet(known).all_numbers() if isinstance(number, Worked)]
    spent = best(lambda: list(Sheet(known).all_numbers()), 20)
    print(f"\na full worksheet with doubt, {len(worked)} numbers: {1e3 * spent:.2f} ms")

    pt = process("from assistant.cli.main import main; main(['pt', 'R-410A', '122.8psig'])")
    library_alone = process("import CoolProp")
    print(f"coilside pt, whole process: {pt:.3f} s; import CoolProp alone: {library_alone:.3f} s")


if __name__ == "__main__":
    main()
