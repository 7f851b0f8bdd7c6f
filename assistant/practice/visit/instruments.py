"""Instruments between a practice system and the eye: accuracy, scatter, display, lag, and a probe off the pipe.

`shown(name, true, kit, draw)` is what an instrument shows for a true value. Each instrument of a kit has one error for
the whole visit and a little scatter at each look; both together stay within what the catalogue promises of it, so a
worked number's doubt covers them. `settled_share` and `seating` are for a thermometer that was only just put on.

All is drawn from the kit's seed: the same kit shows the same. Values in SI: K, Pa absolute, A, m3/s, s.

Source: accuracies as in the catalogue of readings (California Title 24 RA3.2 for gauges and thermometers); displays,
lags and how often a clamp sits badly are chosen.
"""

import math
import random
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from assistant.errors import UnknownNameError
from assistant.quantity import (
    KELVIN_PER_FAHRENHEIT,
    PSI,
    SEA_LEVEL,
    ZERO_FAHRENHEIT,
    Kind,
    Unit,
    UnitSystem,
    in_unit,
    preferred_unit,
    unit_named,
)
from assistant.source.nearest import nearest

_INCH_OF_WATER = 249.08891


@dataclass(frozen=True, slots=True)
class Instrument:
    """One instrument of the kit: it shows within ± (`fraction` of the reading + `fixed`), of which `repeat` is scatter.

    `step` is the last digit of its display in its US unit, `lag` [s] the time constant with which it follows.
    `fitting` and `reading` are the minutes that it takes to put it on and to look again. `clamps`: it sits on a pipe.
    `own_unit` is its US unit where that is not the usual one of its kind.
    """

    title: str
    kind: Kind
    fixed: float
    fraction: float = 0.0
    repeat: float = 0.0
    step: float = 0.1
    lag: float = 0.0
    fitting: float = 1.0
    reading: float = 0.5
    clamps: bool = False
    own_unit: str = ""

    def unit(self, system: UnitSystem = "us") -> Unit:
        """Return the unit in which its display shows."""
        own = unit_named(self.own_unit, self.kind) if self.own_unit and system == "us" else None
        return own or preferred_unit(self.kind, system)


def _thermometer(title: str, lag: float, fitting: float, *, clamps: bool = False) -> Instrument:
    fixed, repeat = 1.3 * KELVIN_PER_FAHRENHEIT, 0.5 * KELVIN_PER_FAHRENHEIT
    return Instrument(title, Kind.TEMPERATURE, fixed, 0.001, repeat, 0.1, lag, fitting, clamps=clamps)


INSTRUMENTS: Final[Mapping[str, Instrument]] = {
    "low_gauge": Instrument("low-side gauge", Kind.PRESSURE, 3.5 * PSI, repeat=0.5 * PSI, lag=2.0, fitting=3.0),
    "high_gauge": Instrument("high-side gauge", Kind.PRESSURE, 7.0 * PSI, repeat=1.0 * PSI, lag=2.0, fitting=3.0),
    "suction_clamp": _thermometer("pipe clamp for the suction side", 30.0, 1.0, clamps=True),
    "liquid_clamp": _thermometer("pipe clamp for the liquid side", 30.0, 1.0, clamps=True),
    "wire": _thermometer("wire thermometer for hot pipes", 20.0, 2.0, clamps=True),
    "air_probe": _thermometer("air thermometer", 25.0, 1.0),
    "wick": _thermometer("wetted thermometer", 45.0, 2.0),
    "clamp_meter": Instrument("clamp meter", Kind.CURRENT, 0.3, 0.02, 0.2, fitting=3.0),
    "manometer": Instrument(
        "manometer with two probes",
        Kind.PRESSURE_DIFFERENCE,
        0.03 * _INCH_OF_WATER,
        step=0.01,
        lag=1.0,
        fitting=8.0,
        own_unit="in wc",
    ),
    "flow_plate": Instrument("flow plate", Kind.AIRFLOW, 0.0, 0.07, 0.0, 5.0, 5.0, 20.0, 2.0),
    "watch": Instrument("watch", Kind.DURATION, 0.0, step=1.0, fitting=0.0, reading=0.0),
}
"""The kit by name."""

USED: Final[Mapping[str, str]] = {
    "minutes_running": "watch",
    "suction_pressure": "low_gauge",
    "liquid_pressure": "high_gauge",
    "hot_gas_pressure": "high_gauge",
    "standing_pressure": "high_gauge",
    "suction_line_temperature": "suction_clamp",
    "evaporator_outlet_temperature": "suction_clamp",
    "liquid_line_temperature": "liquid_clamp",
    "drier_inlet_temperature": "liquid_clamp",
    "drier_outlet_temperature": "liquid_clamp",
    "metering_inlet_temperature": "liquid_clamp",
    "discharge_line_temperature": "wire",
    "outdoor_air_temperature": "air_probe",
    "return_air_dry_bulb": "air_probe",
    "supply_air_dry_bulb": "air_probe",
    "condenser_leaving_air_temperature": "air_probe",
    "return_air_wet_bulb": "wick",
    "supply_air_wet_bulb": "wick",
    "external_static_pressure": "manometer",
    "compressor_current": "clamp_meter",
    "indoor_airflow": "flow_plate",
    "reversing_valve_suction_in": "suction_clamp",
    "reversing_valve_suction_out": "suction_clamp",
    "idle_device_inlet_temperature": "liquid_clamp",
    "idle_device_outlet_temperature": "liquid_clamp",
}
"""Which instrument takes which reading."""

_BADLY_SEATED = 0.03
_AIR_FELT = (0.2, 0.5)


@dataclass(frozen=True, slots=True)
class Kit:
    """The instruments of one visit: the seed of their errors, and accuracies [Pa], [K] of the tech's own, if told."""

    seed: int
    gauges: float | None = None
    thermometers: float | None = None


def instrument_of(name: str) -> Instrument:
    """Return the instrument that takes a reading.

    Raises:
        UnknownNameError: no instrument of the kit takes it.
    """
    used = USED.get(name)
    if used is None:
        raise UnknownNameError("reading that the practice system gives", name, nearest(name, list(USED)))
    return INSTRUMENTS[used]


def promised_accuracy(name: str, value: float, kit: Kit) -> tuple[float, float]:
    """Return the half-widths [SI] that an instrument promises at a value: of everything, and of its scatter alone.

    Raises:
        UnknownNameError: no instrument of the kit takes that reading.
    """
    one = instrument_of(name)
    own = {Kind.PRESSURE: kit.gauges, Kind.TEMPERATURE: kit.thermometers}.get(one.kind)
    if own is not None:
        return own, min(one.repeat, own / 2.0)
    # As the catalogue states it, the share of a temperature is taken of its number in degrees Fahrenheit.
    measure = value / KELVIN_PER_FAHRENHEIT - ZERO_FAHRENHEIT if one.kind is Kind.TEMPERATURE else value
    unit = KELVIN_PER_FAHRENHEIT if one.kind is Kind.TEMPERATURE else 1.0
    return one.fixed + one.fraction * abs(measure) * unit, one.repeat


def show_reading(name: str, true: float, kit: Kit, draw: int = 0, atmosphere: float = SEA_LEVEL) -> float:
    """What the display shows for a true value, both in SI; pressures absolute, the gauge stands in `atmosphere` [Pa].

    `draw` counts the looks: the same look shows the same, another one differs by the scatter.

    Raises:
        UnknownNameError: no instrument of the kit takes that reading.
    """
    one = instrument_of(name)
    whole, scatter = promised_accuracy(name, true, kit)
    steady = random.Random(f"{kit.seed} {USED[name]}").uniform(-1.0, 1.0) * (whole - scatter)
    once = random.Random(f"{kit.seed} {name} {draw}").uniform(-1.0, 1.0) * scatter
    value = true + steady + once
    if one.kind is not Kind.TEMPERATURE:
        value = max(value, 0.0)
    return _round_to_display(value, one, atmosphere)


def _round_to_display(value: float, one: Instrument, atmosphere: float) -> float:
    """Rounded to the display's last digit."""
    unit = one.unit()
    number = round(in_unit(value, unit, atmosphere) / one.step) * one.step
    return unit.to_si(number) + (atmosphere if unit.gauge else 0.0)


def settled_share(name: str, seconds: float) -> float:
    """The share (0 to 1) of the way to the true value that an instrument has gone after some time [s] in its place.

    Raises:
        UnknownNameError: no instrument of the kit takes that reading.
    """
    lag = instrument_of(name).lag
    return 1.0 if lag <= 0.0 else 1.0 - math.exp(-max(seconds, 0.0) / lag)


def seating(name: str, kit: Kit, fitting: int) -> float:
    """Return the share of the air in what a clamp feels, for its `fitting`-th place on the pipe; 0 where it sits well.

    Raises:
        UnknownNameError: no instrument of the kit takes that reading.
    """
    if not instrument_of(name).clamps:
        return 0.0
    chance = random.Random(f"{kit.seed} {name} fitted {fitting}")
    return chance.uniform(*_AIR_FELT) if chance.random() < _BADLY_SEATED else 0.0
