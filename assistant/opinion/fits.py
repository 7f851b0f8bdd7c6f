"""The simulated unit with each fault in it, and how its readings move with what is not known of the unit.

About a few severities of each fault the readings are taken as straight in everything that is unknown. The slopes come
by small steps (0.03 of a spread) at the solved state: the balances say how the state moves, so that no step is solved
anew, and a valve keeps the side of its travel's end on which it stands.

Source: linear Gaussian models and their evidence, Bishop, Pattern Recognition and Machine Learning, 2006, section 2.3,
from memory. Slopes of a solved state: the implicit function theorem.
"""

import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from assistant.errors import CoilsideError, ImpossibleError
from assistant.opinion.hypotheses import SOUND, Suspect, severity_density, suspects
from assistant.quantity import KELVIN_PER_FAHRENHEIT, fahrenheit
from assistant.simulator.circuit import Circuit, work_circuit
from assistant.simulator.faults import PresentFault, with_faults
from assistant.simulator.metering import ExpansionValve, pass_flow
from assistant.simulator.newton import Point
from assistant.simulator.plant import Conditions, Plant
from assistant.simulator.readings import Truth, readings, truth
from assistant.simulator.solve import settle, solve
from assistant.simulator.units import Build, Facts, Weather, build_plant, conditions_of, moved, spreads, usual_build

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

HAND: Final = fahrenheit(90.0)
"""Temperature [K] of a bulb in a bare hand; chosen."""
ICE: Final = fahrenheit(32.0)
"""Temperature [K] of a bulb in ice and water."""
STEP: Final = 0.03
"""Step of a derivative, in spreads."""
_STEEPEST: Final = 100.0
"""No reading [K] moves so far for one spread of anything: where the slopes say so, as beside a valve's closed end, the
balances hardly tell one state from another, and nothing follows from them; chosen, ten times what any sound unit shows.
"""
_NUDGES: Final = (1e-5, 1e-5, 3.0)
_F: Final = KELVIN_PER_FAHRENHEIT
DEW: Final = ("suction_pressure", "controller_suction_pressure")
"""Pressures that are weighed as their dew point; all others count by their bubble point."""
BUBBLE: Final = ("liquid_pressure", "standing_pressure")
READINGS: Final = (
    "suction_pressure",
    "liquid_pressure",
    "standing_pressure",
    "suction_line_temperature",
    "evaporator_outlet_temperature",
    "liquid_line_temperature",
    "drier_inlet_temperature",
    "drier_outlet_temperature",
    "metering_inlet_temperature",
    "discharge_line_temperature",
    "supply_air_dry_bulb",
    "supply_air_wet_bulb",
    "condenser_leaving_air_temperature",
    "reversing_valve_suction_in",
    "reversing_valve_suction_out",
    "idle_device_inlet_temperature",
    "idle_device_outlet_temperature",
)
"""What is weighed, each as a temperature [K]."""

_ONE_CLAMP: Final = 1.3 * _F / math.sqrt(3.0)
"""Error [K] that two places share which are read with one thermometer: the accuracy that Title 24 RA3.2 asks of it."""
_MATTERS: Final = 0.05
"""Share of capacity or of efficiency whose loss matters; as in the outcomes of simulated calls."""
_SHOWS: Final = 4.5 * _F
"""How far superheat, subcooling or a saturation temperature [K] must move for a fault to matter that costs less."""
_MOST_SEVERITIES: Final = 11
_FAR: Final = 3.0
"""Spreads between two severities beyond which one between them is worked."""


@dataclass(frozen=True, slots=True)
class Discrepancy:
    """How far the model itself may be off [K, standard deviation], for readings that are off together."""

    spread: float
    names: tuple[str, ...]
    source: str


DISCREPANCIES: Final = (
    Discrepancy(
        1.0,
        (
            "suction_pressure",
            "suction_line_temperature",
            "evaporator_outlet_temperature",
            "reversing_valve_suction_in",
            "reversing_valve_suction_out",
        ),
        "evaporating; chosen",
    ),
    Discrepancy(
        1.0,
        (
            "suction_line_temperature",
            "evaporator_outlet_temperature",
            "reversing_valve_suction_in",
            "reversing_valve_suction_out",
        ),
        "superheat; chosen",
    ),
    Discrepancy(
        0.7,
        ("suction_line_temperature", "reversing_valve_suction_in", "reversing_valve_suction_out"),
        "gain of the suction line; chosen",
    ),
    Discrepancy(
        1.0,
        (
            "liquid_pressure",
            "liquid_line_temperature",
            "drier_inlet_temperature",
            "drier_outlet_temperature",
            "metering_inlet_temperature",
            "idle_device_inlet_temperature",
            "idle_device_outlet_temperature",
        ),
        "condensing; chosen",
    ),
    Discrepancy(
        0.8,
        (
            "liquid_line_temperature",
            "drier_inlet_temperature",
            "drier_outlet_temperature",
            "metering_inlet_temperature",
            "idle_device_inlet_temperature",
            "idle_device_outlet_temperature",
        ),
        "subcooling; chosen",
    ),
    Discrepancy(0.4, ("drier_outlet_temperature",), "loss in the drier; chosen"),
    Discrepancy(_ONE_CLAMP, ("drier_inlet_temperature", "drier_outlet_temperature"), "one thermometer for both"),
    Discrepancy(_ONE_CLAMP, ("reversing_valve_suction_in", "reversing_valve_suction_out"), "one thermometer for both"),
    Discrepancy(
        _ONE_CLAMP, ("idle_device_inlet_temperature", "idle_device_outlet_temperature"), "one thermometer for both"
    ),
    Discrepancy(0.7, ("metering_inlet_temperature",), "the liquid line on its way; chosen"),
    Discrepancy(0.5, ("standing_pressure",), "coil and air at rest; chosen"),
    Discrepancy(6.0, ("discharge_line_temperature",), "compressor efficiency and the clamp's place; chosen"),
    Discrepancy(1.0, ("supply_air_dry_bulb", "supply_air_wet_bulb"), "air that has not mixed; chosen"),
    Discrepancy(0.5, ("supply_air_dry_bulb",), "split of sensible and latent heat; chosen"),
    Discrepancy(1.2, ("condenser_leaving_air_temperature",), "air that has not mixed; chosen"),
    Discrepancy(0.5, ("reversing_valve_suction_out",), "what the reversing valve exchanges; chosen"),
    Discrepancy(0.4, ("idle_device_outlet_temperature",), "loss at the idle device; chosen"),
)


@dataclass(frozen=True)
class Hypothesis:
    """One severity of one cause: its prior share within the cause, what is read [K] and how that spreads.

    `values` is as long as `READINGS`, `spread` the covariance [K2] of everything but the instruments, `along` how
    the readings move over the whole cell of the severity, whose width is `width`. `opens` is how much more a valve
    would open at once with its bulb in a hand and in ice water; only a `heat_pump` can have some faults.
    """

    cause: str
    fault: str
    severity: float
    width: float
    share: float
    values: "Floats"
    spread: "Floats"
    along: "Floats"
    opens: tuple[float, float]
    heat_pump: bool = False


@dataclass(frozen=True)
class Prepared:
    """All that is worked ahead for one unit in one weather."""

    facts: Facts
    weather: Weather
    device: str
    fitted: tuple[Hypothesis, ...]


def saturation_reading(plant: Plant, name: str, value: float) -> float:
    """Return a reading as it is weighed [K]: a pressure [Pa] as its saturation temperature.

    Raises:
        OutOfRangeError: outside the curves.
    """
    if name in DEW:
        return plant.fluid.curves.dew_temperature(value)
    if name in BUBBLE:
        return plant.fluid.curves.bubble_temperature(value)
    return value


@dataclass(frozen=True)
class _Solved:
    """A fault at one severity as solved: readings [K], their slopes per spread, and how it runs."""

    severity: float
    values: "Floats"
    slopes: "Floats"
    truth: Truth
    opens: tuple[float, float]


def prepare(facts: Facts, weather: Weather, device: str) -> Prepared:
    """Work everything that does not hang on the readings: a second or two.

    Raises:
        CoilsideError: no such refrigerant or device, or a sound unit would not run in this weather.
    """
    import numpy as np

    worked = _Works(facts, weather)
    fitted: list[Hypothesis] = []
    pump = facts.heat_pump if facts.heat_pump is not None else facts.mode == "heating"
    sound = worked.sound(pump)
    off = discrepancy()
    sound_spread = sound.slopes @ sound.slopes.T + off
    still = np.zeros(len(READINGS))
    fitted.append(Hypothesis(SOUND, SOUND, 0.0, 0.0, 1.0, sound.values, sound_spread, still, sound.opens))
    scale = np.sqrt(np.diag(np.nan_to_num(sound_spread)) + 0.5)
    for suspect in suspects(device, heat_pump=facts.heat_pump if facts.mode == "cooling" else True):
        against = worked.sound(pump or suspect.fault.heat_pump)
        solved = worked.severities(suspect, pump or suspect.fault.heat_pump, scale)
        fitted.extend(_cells(suspect, solved, against, off))
    return Prepared(facts, weather, device, tuple(fitted))


def discrepancy() -> "Floats":
    """Return the covariance [K2] of what the model itself may be off, over `READINGS`."""
    import numpy as np

    columns = [[one.spread if name in one.names else 0.0 for name in READINGS] for one in DISCREPANCIES]
    off = np.array(columns)
    spread: Floats = off.T @ off
    return spread


def _cells(suspect: Suspect, solved: Sequence[_Solved], sound: _Solved, off: "Floats") -> list[Hypothesis]:
    """Return the severities of a fault, each for the stretch of severities about it; the slight ones count as sound."""
    import numpy as np

    if not solved:
        return []
    at = [one.severity for one in solved]
    middles = [(a + b) / 2.0 for a, b in itertools.pairwise(at)]
    edges = [at[0], *middles, at[-1]]
    if suspect.fault.low <= 0.0 <= at[0]:
        edges[0] = at[0] / 2.0
    found = []
    for i, one in enumerate(solved):
        low, high = edges[i], edges[i + 1]
        whole = suspect.is_whole or len(solved) == 1
        width = 0.0 if whole else high - low
        share = 1.0 if whole else width * severity_density(suspect.fault, one.severity)
        along = np.zeros(len(READINGS))
        if width:
            a, b = max(i - 1, 0), min(i + 1, len(solved) - 1)
            along = (solved[b].values - solved[a].values) / (at[b] - at[a]) * width
        cause = suspect.cause if matters(one.truth, sound.truth) else SOUND
        spread = one.slopes @ one.slopes.T + off + np.outer(along, along) / 12.0
        found.append(
            Hypothesis(
                cause,
                suspect.fault.name,
                one.severity,
                width,
                share,
                one.values,
                spread,
                along,
                one.opens,
                suspect.fault.heat_pump,
            )
        )
    return found


def matters(found: Truth, sound: Truth) -> bool:
    """Tell whether a fault costs enough, or shows enough, to matter."""
    capacity = _delivery(found) / _delivery(sound)
    efficiency = capacity * sound.total_power / found.total_power
    if 1.0 - min(capacity, efficiency) >= _MATTERS:
        return True
    pairs = (
        (found.superheat, sound.superheat),
        (found.evaporator_superheat, sound.evaporator_superheat),
        (found.subcooling, sound.subcooling),
        (found.condensing_temperature, sound.condensing_temperature),
        (found.evaporating_temperature, sound.evaporating_temperature),
    )
    return any(abs(now - before) >= _SHOWS for now, before in pairs)


def _delivery(found: Truth) -> float:
    return found.net_cooling if math.isnan(found.net_heating) else found.net_heating


@dataclass
class _Works:
    """Works units for one set of facts and one weather, and keeps the sound ones."""

    facts: Facts
    weather: Weather

    def __post_init__(self) -> None:
        self._units: dict[bool, tuple[tuple[Plant, Conditions], ...]] = {}
        self._sound: dict[bool, _Solved] = {}
        self._circuits: dict[bool, Circuit] = {}
        self._twins: dict[tuple[object, ...] | None, _Solved] = {}

    def units(self, pump: bool) -> tuple[tuple[Plant, Conditions], ...]:
        """Return the usual unit, then one for each unknown, moved by a small step."""
        if pump not in self._units:
            usual = usual_build(self.facts)
            steps = spreads(self.facts, self.weather)
            builds = [usual, *(moved(usual, name, STEP * spread) for name, spread in steps.items())]
            self._units[pump] = tuple(self._unit(build, pump) for build in builds)
        return self._units[pump]

    def _unit(self, build: Build, pump: bool) -> tuple[Plant, Conditions]:
        return build_plant(self.facts, build, pump), conditions_of(self.facts, self.weather, build)

    def sound(self, pump: bool) -> _Solved:
        """Return the sound unit.

        Raises:
            PhysicsError: it does not run in this weather.
        """
        if pump not in self._sound:
            plant, conditions = self.units(pump)[0]
            self._circuits[pump] = solve(plant, conditions)
            self._sound[pump] = self._straighten((), 0.0, pump, self._circuits[pump])
        return self._sound[pump]

    def severities(self, suspect: Suspect, pump: bool, scale: "Floats") -> list[_Solved]:
        """Return a fault at the severities that are tried, and between them where the readings move far.

        What has no steady state is left out: nobody could have measured there.
        """
        import numpy as np

        self.sound(pump)
        found: dict[float, tuple[_Solved, Point]] = {}
        start = self._circuits[pump].point
        falling = sorted((one for one in suspect.severities if one < 0.0), reverse=True)
        rising = sorted(one for one in suspect.severities if one >= 0.0)
        for side in (falling, rising):
            point = start
            for severity in side:
                solved = self._solve(suspect, severity, pump, point)
                if solved is not None:
                    found[severity] = solved
                    point = solved[1]
        while not suspect.is_whole and 1 < len(found) < _MOST_SEVERITIES:
            at = sorted(found)
            jumps = [
                float(np.nanmax(np.abs(found[b][0].values - found[a][0].values) / scale))
                for a, b in itertools.pairwise(at)
            ]
            worst = max(range(len(jumps)), key=jumps.__getitem__)
            if jumps[worst] < _FAR:
                break
            between = (at[worst] + at[worst + 1]) / 2.0
            solved = self._solve(suspect, between, pump, found[at[worst]][1])
            if solved is None:
                break
            found[between] = solved
        return [found[severity][0] for severity in sorted(found)]

    def _solve(self, suspect: Suspect, severity: float, pump: bool, point: Point) -> tuple[_Solved, Point] | None:
        faults = (PresentFault(suspect.fault, severity),)
        plant, conditions = self.units(pump)[0]
        try:
            circuit = settle(with_faults(plant, faults), conditions, point)
            return self._straighten(faults, severity, pump, circuit), circuit.point
        except CoilsideError:
            return None

    def _straighten(self, faults: tuple[PresentFault, ...], severity: float, pump: bool, found: Circuit) -> _Solved:
        """Return the readings at a solved circuit with their slopes in every unknown.

        Raises:
            CoilsideError: nothing can be read there.
        """
        import numpy as np

        units = self.units(pump)
        plant, conditions = with_faults(units[0][0], faults), units[0][1]
        twin = _twin_key(plant, found)
        if twin in self._twins:
            return replace(self._twins[twin], severity=severity, opens=_held_bulb(plant, found))
        apart = _balance(found)
        values, rest = _read(plant, conditions, found), np.array(apart(plant, found))
        pushed, told = [], []
        for i, nudge in enumerate(_NUDGES):
            there = list(found.point)
            there[i] += nudge
            near = work_circuit(plant, conditions, (there[0], there[1], there[2]))
            pushed.append((np.array(apart(plant, near)) - rest) / nudge)
            told.append((_read(plant, conditions, near) - values) / nudge)
        balance, reads = np.array(pushed).T, np.array(told).T
        slopes = []
        for other, weather in units[1:]:
            try:
                spoilt = with_faults(other, faults)
                near = work_circuit(spoilt, weather, found.point)
                shift = np.linalg.solve(balance, rest - np.array(apart(spoilt, near)))
                slopes.append((_read(spoilt, weather, near) + reads @ shift - values) / STEP)
            except (CoilsideError, np.linalg.LinAlgError):
                slopes.append(np.zeros(len(READINGS)))
        if np.nanmax(np.abs(slopes)) > _STEEPEST:
            raise ImpossibleError("a state that anything at all would upset: it is no steady one")
        solved = _Solved(severity, values, np.array(slopes).T, truth(plant, found), _held_bulb(plant, found))
        if twin is not None:
            self._twins[twin] = solved
        return solved


def _twin_key(plant: Plant, found: Circuit) -> tuple[object, ...] | None:
    """Return what two faults share that hold a valve open in one place: nothing of its bulb or spring counts there."""
    valve, opening = plant.device, found.metered.opening
    if not isinstance(valve, ExpansionValve) or valve.least + 1e-9 < opening < 1.0 - 1e-9:
        return None
    place = tuple(round(part, 6) for part in (found.point[0], found.point[1], found.point[2] / 1e5))
    return place, plant.charge, plant.lines, plant.indoor_airflow, plant.outdoor_airflow, plant.heat_pump


def _balance(found: Circuit) -> Callable[[Plant, Circuit], Point]:
    """Return what must vanish at a solved circuit: a valve within its travel balances, one at its end stays there."""
    opening = found.metered.opening

    def apart(plant: Plant, at: Circuit) -> Point:
        valve = plant.device
        if not isinstance(valve, ExpansionValve):
            return at.residuals(plant)
        if valve.least + 1e-9 < opening < 1.0 - 1e-9:
            return at.valve_apart(valve), *at.residuals(plant)[1:]
        stands = max(opening, valve.least)
        missing = (stands - at.opening_wanted(valve)) * valve.area * at.metered.flux
        return missing / plant.rated_flow, *at.residuals(plant)[1:]

    return apart


def _read(plant: Plant, conditions: Conditions, found: Circuit) -> "Floats":
    import numpy as np

    shown = readings(plant, conditions, found)
    return np.array([saturation_reading(plant, name, shown[name]) if name in shown else math.nan for name in READINGS])


def _held_bulb(plant: Plant, found: Circuit) -> tuple[float, float]:
    """Return how much more a valve opens at once with its bulb in a hand and in ice water, as a share of its travel."""
    valve = plant.device
    if not isinstance(valve, ExpansionValve):
        return 0.0, 0.0
    hand, ice = (pass_flow(plant.fluid, replace(valve, bulb_held_at=held), found.feed).opening for held in (HAND, ICE))
    return hand - found.metered.opening, ice - found.metered.opening
