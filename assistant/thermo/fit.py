"""Derive `data/curves.json` from the equations of state.

::

    python -m assistant.thermo.fit            write the file anew
    python -m assistant.thermo.fit --check    derive again and report how far the shipped file is from it

Points are solved at the Chebyshev nodes, so the series follow by a cosine sum without least squares; coefficients
are rounded far below the accuracy that is promised, and the tail that rounding would erase is dropped. The top of
a range is 1 K below the critical point, where the slopes are still tame; for a pseudo-pure equation 3 K, because
bubble and dew come from separate auxiliary equations that do not quite meet in its critical point.
"""

import argparse
import json
import math
import sys
from collections.abc import Mapping, Sequence
from typing import Any

from assistant.thermo import reference
from assistant.thermo.refrigerants import DATA, load_curves, load_list

NODES = 96
TOLERANCE = 1e-6  # relative, between a shipped curve and the same one derived again

_BELOW_CRITICAL = {"pure": 1.0, "pseudo-pure": 3.0, "mixture": 1.0}
_PRESSURE_DECIMALS = 10  # of ln p
# A mixture's Newton iteration stops with a little slack in the densities: digits beyond it would be fitted noise.
_DENSITY_DECIMALS = {"pure": 10, "pseudo-pure": 10, "mixture": 8}  # of ln of the density
_ENTHALPY_DECIMALS = {"pure": 4, "pseudo-pure": 4, "mixture": 2}  # [J/kg]
_START_DECIMALS = 4  # [K]
_START_TERMS = 12


def nodes(count: int) -> list[float]:
    """Return the zeros of the Chebyshev polynomial of degree `count`, from +1 down to -1."""
    return [math.cos(math.pi * (k + 0.5) / count) for k in range(count)]


def chebyshev(values: Sequence[float], decimals: int, most: int | None = None) -> list[float]:
    """Coefficients of the series through values at the `nodes`, rounded, without the tail that rounds to nothing."""
    n = len(values)
    angles = [math.pi * (k + 0.5) / n for k in range(n)]
    raw = [
        (1.0 if j == 0 else 2.0) / n * math.fsum(v * math.cos(j * a) for v, a in zip(values, angles, strict=True))
        for j in range(n // 2 if most is None else most)
    ]
    rounded = [round(c, decimals) for c in raw]
    last = max(j for j, c in enumerate(rounded) if abs(c) > 2 * 10.0**-decimals)
    return rounded[: last + 1]


def node_temperatures(origin: float, low: float, high: float, count: int = NODES) -> list[float]:
    """Temperatures [K] at the nodes of the coordinate that `curves.Coordinate` defines, rising."""
    top, bottom = math.sqrt(origin - high), math.sqrt(origin - low)
    return [origin - (top + (x + 1.0) / 2.0 * (bottom - top)) ** 2 for x in nodes(count)]


def fit_refrigerant(model: str, kind: str) -> dict[str, Any]:
    """Fit every curve of one refrigerant; the result is its entry in the data file."""
    fixed = reference.derive_constants(model)
    low = fixed.lowest_temperature
    high = round(fixed.critical_temperature - _BELOW_CRITICAL[kind], 3)
    origin = round(fixed.critical_temperature + (0.2 if kind == "mixture" else 0.0), 6)
    temperatures = node_temperatures(origin, low, high)
    bubble = reference.saturation_points(model, temperatures, "bubble")
    dew = reference.saturation_points(model, temperatures, "dew")
    entry: dict[str, Any] = {
        "model": model,
        "kind": kind,
        "library": fixed.library,
        "critical_temperature": round(fixed.critical_temperature, 4),
        "critical_pressure": round(fixed.critical_pressure, 0),
        "molar_mass": round(fixed.molar_mass, 9),
        "origin_temperature": origin,
        "minimum_temperature": low,
        "maximum_temperature": high,
    }
    for phase, points in (("dew", dew), ("bubble", bubble)):
        if phase == "bubble" and kind == "pure":
            continue
        entry[f"{phase}_pressure"] = chebyshev([math.log(p.pressure) for p in points], _PRESSURE_DECIMALS)
        entry[f"{phase}_temperature"] = _starts([(math.log(p.pressure), p.temperature) for p in points])
    for name, points in (("liquid", bubble), ("vapour", dew)):
        entry[f"{name}_density"] = chebyshev([math.log(p.density) for p in points], _DENSITY_DECIMALS[kind])
        entry[f"{name}_enthalpy"] = chebyshev([p.enthalpy for p in points], _ENTHALPY_DECIMALS[kind])
    return entry


def _starts(points: Sequence[tuple[float, float]]) -> list[float]:
    """Return a coarse series of T over ln p, by interpolation between the points; good to a hundredth of a kelvin."""
    low, high = points[0][0], points[-1][0]
    values = []
    for x in nodes(_START_TERMS * 2):
        wanted = low + (x + 1.0) / 2.0 * (high - low)
        k = min(max(sum(p <= wanted for p, _ in points), 2), len(points) - 2)
        values.append(_lagrange(points[k - 2 : k + 2], wanted))
    return chebyshev(values, _START_DECIMALS, _START_TERMS)


def _lagrange(points: Sequence[tuple[float, float]], x: float) -> float:
    return sum(y * math.prod((x - other) / (own - other) for other, _ in points if other != own) for own, y in points)


def derive() -> dict[str, Any]:
    """Everything that belongs into the data file."""
    return {
        "format": 1,
        "enthalpy_reference": "bubble liquid at 273.15 K has 200 kJ/kg",
        "refrigerants": {
            entry["designation"]: fit_refrigerant(entry["model"]["name"], entry["model"]["kind"])
            for entry in load_list()["refrigerants"]
        },
    }


def as_text(data: Mapping[str, Any]) -> str:
    """Return the data file as text: one line per refrigerant, so that a change shows where it is."""
    head = {key: value for key, value in data.items() if key != "refrigerants"}
    lines = ",\n".join(
        f"{json.dumps(name)}: {json.dumps(entry, separators=(',', ':'))}"
        for name, entry in data["refrigerants"].items()
    )
    return f'{json.dumps(head)[:-1]}, "refrigerants": {{\n{lines}\n}}}}\n'


def largest_difference(ours: Mapping[str, Any], theirs: Mapping[str, Any]) -> float:
    """Return how far two entries of one refrigerant can be apart, relative for pressure and density.

    No Chebyshev polynomial exceeds 1, so the sum of the differences of the coefficients bounds that of the curves.
    Enthalpies count against 1e5 J/kg, the size of a latent heat. Infinite when the entries cover different ranges.
    """
    if ours.keys() != theirs.keys() or any(ours[key] != theirs[key] for key in ours if key.endswith("um_temperature")):
        return math.inf
    worst = 0.0
    for key, mine in ours.items():
        if isinstance(mine, list) and not key.endswith("_temperature"):
            longer = max(len(mine), len(theirs[key]))
            pairs = zip(_pad(mine, longer), _pad(theirs[key], longer), strict=True)
            size = 1e5 if key.endswith("enthalpy") else 1.0
            worst = max(worst, sum(abs(a - b) for a, b in pairs) / size)
    return worst


def _pad(values: Sequence[float], length: int) -> list[float]:
    return [*values, *[0.0] * (length - len(values))]


def main(arguments: Sequence[str] | None = None) -> int:
    """Write or check the data file; 0 when all is well, 1 when the shipped curves are off."""
    parser = argparse.ArgumentParser(prog="python -m assistant.thermo.fit", description="Fit the saturation curves.")
    parser.add_argument("--check", action="store_true", help="compare with the shipped file, write nothing")
    options = parser.parse_args(arguments)
    data = derive()
    if not options.check:
        (DATA / "curves.json").write_text(as_text(data), encoding="utf-8")
        print(f"{len(data['refrigerants'])} refrigerants written")
        return 0
    shipped = load_curves()
    off = {name: largest_difference(entry, shipped.get(name, {})) for name, entry in data["refrigerants"].items()}
    for name, difference in off.items():
        print(f"{name:<10} {difference:.1e}  {'same' if difference <= TOLERANCE else 'DIFFERS'}")
    return 0 if max(off.values()) <= TOLERANCE and off.keys() == shipped.keys() else 1


if __name__ == "__main__":
    sys.exit(main())
