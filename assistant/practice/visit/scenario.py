"""A drawn practice call: the system, its weather, what is hidden in it, and what the customer says.

Difficulty 1 hides one clear fault, 2 one mild one, 3 a clear and a mild one, 4 two mild ones. A draw counts only when
each fault alone moves something that instruments show beyond doubt, and what the customer says is true. The same seed
and difficulty give the same call.
"""

import math
import random
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Final

from assistant.errors import InputError, OutOfRangeError, PhysicsError
from assistant.practice.visit.answers import facts_of
from assistant.practice.visit.doing import pounds
from assistant.practice.visit.instruments import Kit
from assistant.practice.visit.site import (
    Guise,
    Hidden,
    Site,
    air_lost,
    guises,
    rated_current,
    solve_wish,
    sound_charge,
    steady,
)
from assistant.quantity import KELVIN_PER_FAHRENHEIT, ZERO_CELSIUS, Kind, fahrenheit, plain, preferred_unit, show
from assistant.simulator.faults import FAULTS, Fault, PresentFault
from assistant.simulator.plant import RATED_SUBCOOLING, DeviceKind, Mode
from assistant.simulator.readings import Truth
from assistant.simulator.system import System, Wish
from assistant.simulator.vapour import modelled_designations
from assistant.thermo.air import from_relative_humidity

DIFFICULTIES: Final = (1, 2, 3, 4)
_CLEAR, _MILD = (0.95, 1.5), (0.55, 0.8)
"""Range of a severity as a share of the usual one; chosen."""
_DEARER = 1.05
"""How much more power a unit of cooling takes before somebody sees it on a bill; chosen."""
_LABOURS = 2.0
"""Rise of the condensing temperature [K] that is heard at the compressor; chosen."""
_BACKWARDS = 0.4
"""Share of the faults that can go either way which go below zero; chosen."""
_AIR_MISSED, _MUCH, _SOME = 0.28, 0.10, 0.03
"""Shares of the air, and of what the house gets, whose loss is noticed; chosen."""
_WET = 1.0
"""Superheat [K] below which liquid comes along the suction line; chosen."""
_HEAT_PUMPS = 0.35
"""Share of the systems that are heat pumps; chosen."""
_ROUNDS, _STEPS = 30, 5
_GROWTH = 0.3
"""How much worse a fault is made at a time, in parts of where it began, until it shows; chosen."""
_BACK = 0.5
"""The usual severity below zero at the most, as a share of the least there can be; chosen."""
_GLASSES = 0.3
"""Share of the systems with a sight glass; chosen."""
_SIZES = (1.5, 2.0, 2.5, 3.0, 3.5, 4.0, 5.0)
_ALTITUDES = (0.0, 0.0, 0.0, 300.0, 750.0, 1600.0)
_NO_ICE = ZERO_CELSIUS - 3.0
"""Evaporating temperature [K] below which ice would grow, which the circuit does not know of; no such call is drawn."""
_HOTTEST_DISCHARGE = fahrenheit(265.0)
_HIGHEST_CONDENSING = fahrenheit(148.0)
"""Beyond these a protector would stop a real one; chosen."""
_LACKS = {"clear": 0.08, "mild": 0.03}
"""Share of the cooling that a fault must cost, or it moves superheat, subcooling or condensing by `_MOVES`; chosen."""
_LACKS_HEAT = {"clear": 0.22, "mild": 0.10}
"""Share of the heat; else only a hotter condensing or a flood counts: heat is judged by what is delivered; chosen."""
_MOVES = {"clear": 7.0 * KELVIN_PER_FAHRENHEIT, "mild": 4.5 * KELVIN_PER_FAHRENHEIT}
"""[K]; chosen."""


@dataclass(frozen=True, slots=True)
class Scenario:
    """A practice call before anything is done.

    `complaint` is what the customer says, `tree` the tree that fits it. `glass`: the liquid line has a sight glass.
    """

    seed: int
    difficulty: int
    site: Site
    complaint: str
    tree: str
    kit: Kit
    glass: bool = False
    heat_pump: bool = False
    running_since: float = -90.0

    @property
    def system(self) -> System:
        """How it runs as it is found.

        Raises:
            PhysicsError: it does not run.
        """
        return steady(self.site).system

    @property
    def causes(self) -> tuple[str, ...]:
        """What is hidden, by the causes of the catalogue, the one that costs most first."""
        return tuple(one.cause for one in self.site.hidden)

    @property
    def facts(self) -> Mapping[str, str]:
        """What the data plate and the site say, by name and as typed."""
        facts = facts_of(solve_wish(self.site.wish))
        if self.site.has("internal_equalizer_misapplied"):
            facts["equalizer"] = "internal"
        return facts


def plate_of(scenario: Scenario) -> tuple[str, ...]:
    """Return the data plate of the outdoor unit, line by line, as one would read it before the first gauge."""
    wish = scenario.site.wish
    return (
        f"{wish.refrigerant}, {pounds(sound_charge(scenario.site))} with these lines",
        f"{plain(wish.tons)} tons, {'heat pump' if wish.is_heat_pump else 'cooling only'}",
        f"compressor: {rated_current(scenario.system):.1f} A rated load",
        f"subcooling {show(RATED_SUBCOOLING, preferred_unit(Kind.TEMPERATURE_DIFFERENCE, 'us'))}"
        if wish.device == "txv"
        else "fixed orifice: charge by superheat, or by weight",
    )


def draw_scenario(
    seed: int,
    difficulty: int = 1,
    *,
    device: DeviceKind | None = None,
    refrigerant: str | None = None,
    cause: str | None = None,
    mode: Mode | None = None,
    kit: Kit | None = None,
) -> Scenario:
    """Return the practice call of a seed, with as much of it fixed as is wished.

    Raises:
        InputError: a cause, device or refrigerant that there is not, or none that fits together.
        OutOfRangeError: a difficulty that there is not.
    """
    if difficulty not in DIFFICULTIES:
        raise OutOfRangeError("difficulty", difficulty, "", 1, 4, "practice calls")
    chance = random.Random(f"practice call {seed} {difficulty}")
    heating, heat_pump = _kind(chance, mode, cause)
    possible = guises(heat_pump=heat_pump, heating=heating)
    wanted = tuple(one for one in possible if cause in (None, one.cause))
    if not wanted:
        raise InputError(f"No practice call in {'heating' if heating else 'cooling'} hides {str(cause)[:60]!r}.")
    fitting = _devices(wanted)
    if device is not None and device not in fitting:
        raise InputError(f"A system with {device} cannot have the cause {cause}.")
    for _ in range(_ROUNDS):
        chosen: DeviceKind = chance.choice(fitting) if device is None else device
        house = _house(chance, refrigerant or chance.choice(modelled_designations()), chosen)
        house = replace(house, mode="heating" if heating else "cooling", heat_pump=heat_pump)
        bare = Site(_weather(chance, house))
        picked = _pick_hidden(chance, (wanted, possible), chosen, difficulty)
        site = _faulty(bare, picked)
        complaint = _complaint(chance, site) if site else None
        if site and complaint:
            said, tree = complaint
            glass, since = chance.random() < _GLASSES, -chance.uniform(30.0, 180.0)
            return Scenario(seed, difficulty, site, said, tree, kit or Kit(seed), glass, heat_pump, since)
    raise InputError("No such call could be drawn: on this system the fault does not show. Try another seed.")


def _kind(chance: random.Random, mode: Mode | None, cause: str | None) -> tuple[bool, bool]:
    """Tell whether it heats, and whether it is a heat pump: as wished, else as the cause asks for, else as drawn."""
    heating = mode == "heating"
    pump_only = any(one.cause == cause and one.heat_pump for one in guises(heat_pump=True))
    drawn = chance.random() < _HEAT_PUMPS
    return heating, heating or pump_only or drawn


def _devices(wanted: tuple[Guise, ...]) -> tuple[DeviceKind, ...]:
    """Return the metering devices that can have one of the faults."""
    both: tuple[DeviceKind, ...] = ("txv", "fixed_orifice")
    return tuple(kind for kind in both if any(FAULTS[one.fault].device in ("", kind) for one in wanted))


def _house(chance: random.Random, refrigerant: str, device: DeviceKind) -> Wish:
    altitude = chance.choice(_ALTITUDES)
    return Wish(refrigerant, chance.choice(_SIZES), device, 308.15, 299.8, 292.6, altitude)


def _weather(chance: random.Random, wish: Wish) -> Wish:
    """A day on which somebody complains: warm outdoors and a house no longer cool, or cold and no longer warm."""
    if wish.mode == "heating":
        returned = fahrenheit(chance.uniform(62.0, 70.0))
        wet = from_relative_humidity(returned, chance.uniform(0.3, 0.45)).wet_bulb
        outdoor = fahrenheit(chance.uniform(32.0, 52.0))
        return replace(wish, outdoor=outdoor, return_dry_bulb=returned, return_wet_bulb=wet)
    returned = fahrenheit(chance.uniform(74.0, 83.0))
    wet = from_relative_humidity(returned, chance.uniform(0.45, 0.62)).wet_bulb
    return replace(wish, outdoor=fahrenheit(chance.uniform(80.0, 104.0)), return_dry_bulb=returned, return_wet_bulb=wet)


@dataclass(frozen=True, slots=True)
class _Picked:
    """What is to be hidden: its guise, how much it weighs, and its severity at the least."""

    guise: Guise
    weight: str
    severity: float
    look: str

    def grown(self, step: int) -> Hidden:
        """Return the fault, a little worse with each step."""
        fault = FAULTS[self.guise.fault]
        severity = self.severity * (1.0 + _GROWTH * step)
        return Hidden(
            self.guise.cause, PresentFault(fault, _limit_severity(fault, severity)), self.guise.place, self.look
        )


def _limit_severity(fault: Fault, severity: float) -> float:
    """Return a severity that the fault can have; the head of a valve is one of a few."""
    within = min(max(severity, fault.low), fault.high)
    return float(round(within)) if fault.name == "valve_wrong_element" else within


def _pick_hidden(
    chance: random.Random, usable: tuple[Iterable[Guise], Iterable[Guise]], device: str, difficulty: int
) -> tuple[_Picked, ...]:
    """Return what is to be hidden: one fault of the first ones, or two that are a fair question together."""
    wanted, possible = usable
    first = _one(chance, [one for one in wanted if FAULTS[one.fault].device in ("", device)])
    picked = [_weigh(chance, first, "clear" if difficulty in (1, 3) else "mild")]
    if difficulty >= 3:
        others = [one for one in possible if FAULTS[one.fault].device in ("", device) and not _too_alike(one, first)]
        picked.append(_weigh(chance, _one(chance, others), "mild"))
    return tuple(picked)


def _one(chance: random.Random, usable: list[Guise]) -> Guise:
    """One of the guises, each cause as likely as another."""
    cause = chance.choice(sorted({one.cause for one in usable}))
    return chance.choice([one for one in usable if one.cause == cause])


def _weigh(chance: random.Random, guise: Guise, weight: str) -> _Picked:
    fault = FAULTS[guise.fault]
    share = chance.uniform(*(_CLEAR if weight == "clear" else _MILD))
    backwards = guise.sign < 0 or (guise.sign == 0 and chance.random() < _BACKWARDS)
    severity = share * (-min(fault.usual, -fault.low * _BACK) if backwards else fault.usual)
    return _Picked(guise, weight, severity, chance.choice(guise.looks))


def _faulty(site: Site, picked: tuple[_Picked, ...]) -> Site | None:
    """Return the site with its faults, each as mild as still shows; `None` where one cannot, or it would not run."""
    sound = solve_wish(site.wish)
    found: list[tuple[float, Hidden]] = []
    for one in picked:
        shown = _showing(sound, site, one)
        if shown is None:
            return None
        found.append(shown)
    found.sort(key=lambda pair: -pair[0])
    faulty = replace(site, hidden=tuple(hidden for _, hidden in found))
    return faulty if _runs(faulty) else None


def _showing(sound: System, site: Site, picked: _Picked) -> tuple[float, Hidden] | None:
    """Return the share of the cooling that a fault costs, and the fault, made worse until it shows beyond doubt."""
    before = None
    for step in range(_STEPS):
        hidden = picked.grown(step)
        if hidden == before:
            return None
        try:
            cost = _cost(sound, replace(site, hidden=(hidden,)), picked.weight)
        except PhysicsError:
            return None
        if cost is not None:
            return cost, hidden
        before = hidden
    return None


def _too_alike(one: Guise, other: Guise) -> bool:
    """Two faults in one place or one device, or of one kind, would be no fair question."""
    device = FAULTS[one.fault].device
    in_device = bool(device) and device == FAULTS[other.fault].device
    return in_device or one.place == other.place or one.fault == other.fault


def _cost(sound: System, site: Site, weight: str) -> float | None:
    """The share of what the house gets that a fault costs, or `None` where it does not show beyond doubt.

    Raises:
        PhysicsError: with this fault it does not run.
    """
    found = steady(site).system.truth
    lost = 1.0 - delivery(found) / delivery(sound.truth)
    hotter = found.condensing_temperature - sound.truth.condensing_temperature
    if found.superheat < _WET < sound.truth.superheat - _WET:
        return lost
    if site.wish.mode == "heating":
        return lost if lost >= _LACKS_HEAT[weight] or hotter >= _MOVES[weight] else None
    superheat, subcooling = found.superheat - sound.truth.superheat, found.subcooling - sound.truth.subcooling
    return (
        lost if lost >= _LACKS[weight] or max(abs(superheat), abs(subcooling), abs(hotter)) >= _MOVES[weight] else None
    )


def _runs(site: Site) -> bool:
    """Tell whether a real one would run like this, without ice and without a protector that stops it."""
    try:
        found = steady(site)
    except PhysicsError:
        return False
    return (
        (site.wish.mode == "heating" or found.system.truth.evaporating_temperature > _NO_ICE)
        and found.readings["discharge_line_temperature"] < _HOTTEST_DISCHARGE
        and found.system.truth.condensing_temperature < _HIGHEST_CONDENSING
    )


def delivery(truth: Truth) -> float:
    """Return what the house gets [W]: cooling or heating."""
    return truth.net_cooling if math.isnan(truth.net_heating) else truth.net_heating


def _complaint(chance: random.Random, site: Site) -> tuple[str, str] | None:
    """Return what the customer says, and the tree that fits; `None` where nobody would complain yet."""
    sound, found = solve_wish(site.wish).truth, steady(site).system.truth
    heating = site.wish.mode == "heating"
    lost = 1.0 - delivery(found) / delivery(sound)
    says = _HEATING if heating else _COOLING
    true = {
        "air": air_lost(site) > _AIR_MISSED,
        "weak": lost > _MUCH,
        "dearer": found.total_power / delivery(found) > _DEARER * sound.total_power / delivery(sound),
        "labours": found.condensing_temperature - sound.condensing_temperature > _LABOURS,
        "wet": found.superheat < _WET,
    }
    about = [one for one, holds in true.items() if holds] or (["hardly"] if lost > _SOME else [])
    if not about:
        return None
    one = chance.choice(about)
    tree = "poor_heating" if heating else "liquid_floodback" if one == "wet" else "poor_cooling"
    return chance.choice(says[one]), tree


_AIR: Final = ("Hardly any air comes out of the vents any more.", "It blows, but you can barely feel it.")
_LOUD: Final = "but the unit outside sounds as if it works harder than it used to."
_COOLING: Final[Mapping[str, tuple[str, ...]]] = {
    "air": _AIR,
    "weak": (
        "It runs all day and never gets down to what we set.",
        "It used to be cold in here by noon. Now it just runs.",
        "The air from the vents is not cold like it was last year.",
    ),
    "dearer": ("It cools, but it runs longer than ever and the electric bill has gone up.",),
    "labours": (f"It cools, {_LOUD}",),
    "wet": ("The big pipe outside is soaking wet, and the unit sounds rougher than it did.",),
    "hardly": ("On hot afternoons it does not quite keep up any more.",),
}
_HEATING: Final[Mapping[str, tuple[str, ...]]] = {
    "air": _AIR,
    "weak": (
        "It runs all day and the house does not get warm.",
        "What comes from the vents is lukewarm at best. Last winter it was fine.",
    ),
    "dearer": ("It heats, but the electric bill is much higher than last winter.",),
    "labours": (f"It heats, {_LOUD}",),
    "wet": ("The unit outside sounds rougher than it did last winter, and it gurgles.",),
    "hardly": ("On cold mornings it does not quite keep up any more.",),
}
"""What customers say, by what must be true of it."""
