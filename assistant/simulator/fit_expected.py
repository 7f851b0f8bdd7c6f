"""Derive `data/expected`, the surfaces of what sound units read, from the simulated unit.

::

    python -m assistant.simulator.fit_expected                  write all files anew, some minutes
    python -m assistant.simulator.fit_expected --check          derive again, tell how far the shipped files are off
    python -m assistant.simulator.fit_expected R-410A txv cooling   one of them

The weather is spread evenly over the domain (Halton's sequence), so that nothing is drawn by chance.
"""

import argparse
import json
import math
import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any, Final

import numpy as np

from assistant.errors import PhysicsError
from assistant.simulator.circuit import Circuit
from assistant.simulator.expected import (
    COARSE,
    CURVED,
    DOMAINS,
    FINE,
    PUMP,
    QUANTITIES,
    file_of,
    terms,
)
from assistant.simulator.plant import Conditions, DeviceKind, Mode, Plant
from assistant.simulator.readings import readings
from assistant.simulator.refrigerant import saturation_ends
from assistant.simulator.solve import solve, sound_plant
from assistant.simulator.structure import draw_structure
from assistant.simulator.units import TONS, UNKNOWNS, Build, Facts, Weather, build_plant, conditions_of, moved
from assistant.simulator.vapour import Vapour, modelled_designations

POINTS: Final = {"cooling": 110, "heating": 45}
POINTS_MOVED: Final = {"cooling": 30, "heating": 18}
MAKES: Final = 16
"""Weather for the values, weather for what moves them, and makes of another structure."""
TOLERANCE: Final = 0.05
"""How far a value derived again may lie from the shipped one [K]."""
_BASES: Final = (2, 3, 5)
_DIGITS: Final = 5
Solved = dict[str, float] | None
"""The quantities of a unit in some weather; `None` where it finds no steady state."""


def weather(mode: Mode, count: int) -> Iterator[Weather]:
    """Yield weather spread over the domain of a mode."""
    domain = DOMAINS[mode]
    for index in range(1, count + 1):
        place = [2.0 * _halton(index, base) - 1.0 for base in _BASES[: len(domain.middles)]]
        told = [m + h * p for m, h, p in zip(domain.middles, domain.halves, place, strict=True)]
        if mode == "cooling":
            yield Weather(told[0], told[1] + told[2], told[1], 0.0, 0.0, 0.0)
        else:
            yield Weather(told[0], told[1], told[1] - 6.0, 0.0, 0.0, 0.0)


def _halton(index: int, base: int) -> float:
    found, share = 0.0, 1.0
    while index:
        share /= base
        found += share * (index % base)
        index //= base
    return found


def quantities(plant: Plant, conditions: Conditions, rated_power: float) -> dict[str, float]:
    """Return the quantities of the surfaces for a solved unit.

    Raises:
        PhysicsError: no steady state.
    """
    found = solve(plant, conditions)
    return quantities_of(plant, conditions, found, rated_power)


def quantities_of(plant: Plant, conditions: Conditions, found: Circuit, rated_power: float) -> dict[str, float]:
    """Return the quantities of the surfaces at a state; `rated_power` [W] is that of the usual unit."""
    fluid, read = plant.fluid, readings(plant, conditions, found)
    low, port = saturation_ends(fluid, found.suction_pressure), saturation_ends(fluid, found.liquid_pressure)
    outlet = saturation_ends(fluid, found.coil_outlet)
    return {
        "evaporating": low.dew,
        "condensing": port.bubble,
        "superheat": _carried_on(
            fluid, found.suction_pressure, read["suction_line_temperature"], found.returned_enthalpy
        ),
        "subcooling": port.bubble - read["liquid_line_temperature"],
        "outlet_superheat": _carried_on(
            fluid, found.coil_outlet, found.feed.line_temperature, found.evaporated.enthalpy
        )
        + outlet.dew
        - low.dew,
        "discharge_over_condensing": read["discharge_line_temperature"] - port.bubble,
        "supply": read["supply_air_dry_bulb"],
        "condenser_air_rise": read.get("condenser_leaving_air_temperature", conditions.outdoor) - conditions.outdoor,
        "power": found.compressed.power / rated_power,
    }


def _carried_on(fluid: Vapour, pressure: float, read: float, enthalpy: float) -> float:
    """Return the superheat [K], below zero where liquid comes along: by the heat that is missing to dry vapour."""
    at = saturation_ends(fluid, pressure)
    if enthalpy >= at.vapour_enthalpy:
        return read - at.dew
    return (enthalpy - at.vapour_enthalpy) / ((fluid.enthalpy(pressure, at.dew + 5.0) - at.vapour_enthalpy) / 5.0)


def derive(refrigerant: str, device: DeviceKind, mode: Mode) -> dict[str, Any]:
    """Return what belongs into the data file of one kind of unit."""
    facts = Facts(refrigerant, device, mode)
    pump = mode == "heating"
    usual = build_plant(facts, Build(), pump)
    power = sound_plant(refrigerant, TONS, device, "cooling", pump)[1].compressed.power

    def of(plant: Plant, count: int) -> list[Solved]:
        found: list[Solved] = []
        for one in weather(mode, count):
            try:
                found.append(quantities(plant, conditions_of(facts, one), power))
            except PhysicsError:
                found.append(None)
        return found

    many, few = list(weather(mode, POINTS[mode])), list(weather(mode, POINTS_MOVED[mode]))
    domain = DOMAINS[mode]
    fine = [terms(domain.place(w.outdoor, w.return_dry_bulb, w.return_wet_bulb), FINE) for w in many]
    coarse = [terms(domain.place(w.outdoor, w.return_dry_bulb, w.return_wet_bulb), COARSE) for w in few]
    middle = of(usual, POINTS[mode])
    values, misfit = {}, {}
    for name in QUANTITIES:
        told = [None if one is None else one[name] for one in middle]
        values[name], misfit[name] = _fit(fine, told)
    slopes: dict[str, dict[str, list[float]]] = {name: {} for name in QUANTITIES}
    curvature: dict[str, list[float]] = {}

    def move(unknown: str, low: Plant | None, high: Plant, step: float) -> None:
        above, below = of(high, POINTS_MOVED[mode]), None if low is None else of(low, POINTS_MOVED[mode])
        for name in QUANTITIES:
            if below is None:
                told = _each(lambda b, m: (b - m) / step, name, above, middle)
            else:
                told = _each(lambda b, a: (b - a) / (2.0 * step), name, above, below)
            slopes[name][unknown] = _fit(coarse, told)[0]
            if unknown == CURVED and below is not None:
                bent = _each(lambda b, a, m: (b + a - 2.0 * m) / (2.0 * step**2), name, above, below, middle)
                curvature[name] = _fit(coarse, bent)[0]

    for one in UNKNOWNS:
        plants = [build_plant(facts, moved(Build(), one.name, sign * one.spread), pump) for sign in (-1.0, 1.0)]
        move(one.name, plants[0], plants[1], one.spread)
    if mode == "cooling":
        move(PUMP, None, build_plant(facts, Build(), True), 1.0)
    others = [of(build_plant(facts, Build(), pump, draw_structure(seed)), POINTS_MOVED[mode]) for seed in range(MAKES)]
    makes = {name: _fit(coarse, _spread(name, middle, others))[0] for name in QUANTITIES}
    return {
        "format": 1,
        "values": values,
        "slopes": slopes,
        "curvature": curvature,
        "makes": makes,
        "misfit": {name: round(value, 4) for name, value in misfit.items()},
    }


def _spread(name: str, middle: Sequence[Solved], others: Sequence[Sequence[Solved]]) -> list[float | None]:
    """Return how far makes part from the usual one at each place, as a root mean square."""
    found: list[float | None] = []
    for usual, *ones in zip(middle, *others, strict=False):
        apart = [one[name] - usual[name] for one in ones if one is not None and usual is not None]
        found.append(math.sqrt(sum(a * a for a in apart) / len(apart)) if apart else None)
    return found


def _each(work: Callable[..., float], name: str, *several: Sequence[Solved]) -> list[float | None]:
    """Work something at each place at which all are there."""
    return [
        None if any(one is None for one in ones) else work(*(one[name] for one in ones if one is not None))
        for ones in zip(*several, strict=False)
    ]


def _fit(rows: Sequence[Sequence[float]], told: Sequence[float | None]) -> tuple[list[float], float]:
    """Return the coefficients of least squares, and the root mean square of what is left."""
    kept = [(row, value) for row, value in zip(rows, told, strict=True) if value is not None]
    matrix, wanted = np.array([row for row, _ in kept]), np.array([value for _, value in kept])
    found = np.linalg.lstsq(matrix, wanted, rcond=None)[0]
    left = float(np.sqrt(np.mean((matrix @ found - wanted) ** 2)))
    return [float(f"{value:.{_DIGITS}g}") for value in found], left


def largest_difference(ours: Mapping[str, Any], theirs: Mapping[str, Any], mode: Mode) -> float:
    """Return how far the values of two data files part over the domain [K], at most."""
    domain, worst = DOMAINS[mode], 0.0
    for one in weather(mode, POINTS_MOVED[mode]):
        at = terms(domain.place(one.outdoor, one.return_dry_bulb, one.return_wet_bulb), FINE)
        for name in QUANTITIES:
            pair = [sum(c * t for c, t in zip(data["values"][name], at, strict=True)) for data in (ours, theirs)]
            worst = max(worst, abs(pair[0] - pair[1]))
    return worst


def main(arguments: Sequence[str] | None = None) -> int:
    """Write or check the data files; 0 when all is well, 1 when the shipped surfaces are off."""
    parser = argparse.ArgumentParser(prog="python -m assistant.simulator.fit_expected", description="Fit the surfaces.")
    parser.add_argument("--check", action="store_true", help="compare with the shipped files, write nothing")
    parser.add_argument("one", nargs="*", help="refrigerant, metering device and mode of one file")
    options = parser.parse_args(arguments)
    off = 0.0
    devices: tuple[DeviceKind, ...] = ("txv", "fixed_orifice")
    modes: tuple[Mode, ...] = ("cooling", "heating")
    for name in modelled_designations():
        for device in devices:
            for mode in modes:
                if options.one and options.one != [name, device, mode]:
                    continue
                data = derive(name, device, mode)
                file = file_of(name, device, mode)
                if options.check:
                    apart = largest_difference(data, json.loads(file.read_text(encoding="utf-8")), mode)
                    off = max(off, apart)
                    print(f"{name:<8} {device:<14} {mode:<8} {apart:.1e}")
                    continue
                file.parent.mkdir(exist_ok=True)
                file.write_text(json.dumps(data, separators=(",", ":")) + "\n", encoding="utf-8")
                print(
                    f"{name:<8} {device:<14} {mode:<8} misfit of superheat {data['misfit']['superheat']:.2f} K",
                    flush=True,
                )
    return 0 if off <= TOLERANCE else 1


if __name__ == "__main__":
    sys.exit(main())
