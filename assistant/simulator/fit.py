"""Derive `data/vapour.json`, the tables of superheated vapour, from the equations of state.

::

    python -m assistant.simulator.fit            write the file anew
    python -m assistant.simulator.fit --check    derive again and report how far the shipped file is from it
"""

import argparse
import itertools
import json
import math
import sys
from collections.abc import Callable, Mapping, Sequence
from typing import Any, Final

from assistant.simulator.vapour import BEND, DATA
from assistant.thermo import reference
from assistant.thermo.curves import Saturation, saturation
from assistant.thermo.fit import nodes

REFRIGERANTS: Final = ("R-410A", "R-22", "R-32", "R-454B")
LOWEST: Final = 1e5
"""Lowest pressure of a table [Pa]."""
TOP_SHARE: Final = 0.9
"""Highest pressure of a table, as a share of the critical one: closer to it the polynomials do not follow."""
MOST_SUPERHEAT: Final = 140.0
"""Highest superheat of a table [K]."""
ACROSS: Final = 10
ALONG: Final = 9
TOLERANCE: Final = 1e-6

_DIGITS = 8  # significant, far below what the tables promise


def table(value: Callable[[int, int], float], across: int, along: int) -> list[list[float]]:
    """Return the coefficients through values at the nodes, by two cosine sums."""
    grid = [[value(i, j) for j in range(along)] for i in range(across)]
    rows = [_series(row) for row in grid]
    columns = [_series([row[j] for row in rows]) for j in range(along)]
    return [[float(f"{columns[j][i]:.{_DIGITS}g}") for j in range(along)] for i in range(across)]


def _series(values: Sequence[float]) -> list[float]:
    n = len(values)
    angles = [math.pi * (k + 0.5) / n for k in range(n)]
    return [
        (1.0 if j == 0 else 2.0) / n * math.fsum(v * math.cos(j * a) for v, a in zip(values, angles, strict=True))
        for j in range(n)
    ]


def fit_refrigerant(curves: Saturation) -> dict[str, Any]:
    """Fit the table of one refrigerant; the result is its entry in the data file."""
    fluid = curves.refrigerant
    low, high = LOWEST, round(TOP_SHARE * fluid.critical_pressure, -3)
    middle, half = math.log(low * high) / 2.0, math.log(high / low) / 2.0
    pressures = [math.exp(middle + half * x) for x in nodes(ACROSS)]
    dew = [reference.saturation_at_pressure(fluid.model_name, p, "dew") for p in pressures]
    span = math.log1p(MOST_SUPERHEAT / BEND)
    above = [BEND * math.expm1((y + 1.0) / 2.0 * span) for y in nodes(ALONG)]
    states = [
        [reference.vapour_state(fluid.model_name, p, start.temperature + a) for a in above]
        for p, start in zip(pressures, dew, strict=True)
    ]

    def heat(i: int, j: int) -> float:
        return (states[i][j].enthalpy - dew[i].enthalpy) / above[j]

    def entropy(i: int, j: int) -> float:
        return (states[i][j].entropy - dew[i].entropy) / math.log1p(above[j] / dew[i].temperature)

    def density(i: int, j: int) -> float:
        return states[i][j].density / dew[i].density * states[i][j].temperature / dew[i].temperature

    return {
        "model": fluid.model_name,
        "low": low,
        "high": high,
        "most_superheat": MOST_SUPERHEAT,
        "heat": table(heat, ACROSS, ALONG),
        "entropy": table(entropy, ACROSS, ALONG),
        "density": table(density, ACROSS, ALONG),
        "dew_entropy": table(lambda i, _: dew[i].entropy, ACROSS, 1),
    }


def derive() -> dict[str, Any]:
    """Everything that belongs into the data file."""
    return {"format": 1, "refrigerants": {name: fit_refrigerant(saturation(name)) for name in REFRIGERANTS}}


def as_text(data: Mapping[str, Any]) -> str:
    """Return the data file as text: one line per refrigerant, so that a change shows where it is."""
    lines = ",\n".join(
        f"{json.dumps(name)}: {json.dumps(entry, separators=(',', ':'))}"
        for name, entry in data["refrigerants"].items()
    )
    return f'{{"format": {data["format"]}, "refrigerants": {{\n{lines}\n}}}}\n'


def largest_difference(ours: Mapping[str, Any], theirs: Mapping[str, Any]) -> float:
    """Return how far two entries are apart, relative to the leading coefficient of each table."""
    worst = 0.0
    for name, mine in ours.items():
        if isinstance(mine, list):
            pairs = zip(itertools.chain(*mine), itertools.chain(*theirs[name]), strict=True)
            worst = max(worst, sum(abs(a - b) for a, b in pairs) / abs(mine[0][0]))
        elif mine != theirs.get(name):
            return math.inf
    return worst


def main(arguments: Sequence[str] | None = None) -> int:
    """Write or check the data file; 0 when all is well, 1 when the shipped tables are off."""
    parser = argparse.ArgumentParser(prog="python -m assistant.simulator.fit", description="Fit the vapour tables.")
    parser.add_argument("--check", action="store_true", help="compare with the shipped file, write nothing")
    options = parser.parse_args(arguments)
    data = derive()
    if not options.check:
        DATA.write_text(as_text(data), encoding="utf-8")
        print(f"{len(data['refrigerants'])} refrigerants written")
        return 0
    shipped = json.loads(DATA.read_text(encoding="utf-8"))["refrigerants"]
    off = {name: largest_difference(entry, shipped[name]) for name, entry in data["refrigerants"].items()}
    for name, difference in off.items():
        print(f"{name:<10} {difference:.1e}  {'same' if difference <= TOLERANCE else 'DIFFERS'}")
    return 0 if max(off.values()) <= TOLERANCE else 1


if __name__ == "__main__":
    sys.exit(main())
