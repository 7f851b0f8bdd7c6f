"""Faults with a severity: what each does to a plant.

Names are those of the causes in the catalogue, where `called` does not say another. What a severity means, and how much
is usual, stands with each fault; all of it is chosen. Several faults work on one plant at once.
"""

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Final

from assistant.errors import InputError, OutOfRangeError, UnknownNameError
from assistant.quantity import SEA_LEVEL
from assistant.simulator.metering import ExpansionValve, Orifice
from assistant.simulator.plant import BARE, INSULATED, RATED_DEW, RATED_SUPERHEAT, Plant
from assistant.simulator.vapour import modelled_designations
from assistant.thermo.curves import saturation
from assistant.thermo.valve import GasCharge

_BLOWER_FOLLOWS: Final = 0.8
"""How far the indoor air follows the compressor down to a low stage, as a share of its own step; chosen."""


@dataclass(frozen=True, slots=True)
class Fault:
    """A kind of fault: what its severity measures, which range it has, and what it does.

    `device` names the one metering device that can have it; `heat_pump` tells that only a heat pump can. Where one
    cause of the catalogue does several things, `called` is its name.
    """

    name: str
    severity: str
    usual: float
    low: float
    high: float
    work: Callable[[Plant, float], Plant]
    device: str = ""
    heat_pump: bool = False
    called: str = ""

    @property
    def cause(self) -> str:
        """The cause of the catalogue by which a tree ends."""
        return self.called or self.name


@dataclass(frozen=True, slots=True)
class PresentFault:
    """A fault of a system, with its severity."""

    fault: Fault
    severity: float


def _undercharge(plant: Plant, severity: float) -> Plant:
    return replace(plant, charge=plant.charge - severity * plant.rated_charge)


def _overcharge(plant: Plant, severity: float) -> Plant:
    return replace(plant, charge=plant.charge + severity * plant.rated_charge)


def _noncondensables(plant: Plant, severity: float) -> Plant:
    return replace(plant, noncondensables=plant.noncondensables + severity * plant.rated_fall)


def _restriction(plant: Plant, severity: float) -> Plant:
    return replace(plant, lines=replace(plant.lines, restriction=severity * plant.rated_fall))


def _indoor_air(plant: Plant, severity: float) -> Plant:
    return replace(plant, indoor_airflow=plant.indoor_airflow * (1.0 - severity))


def _outdoor_air(plant: Plant, severity: float) -> Plant:
    return replace(plant, outdoor_airflow=plant.outdoor_airflow * (1.0 - severity))


def _leakage(plant: Plant, severity: float) -> Plant:
    return replace(plant, compressor=replace(plant.compressor, leakage=severity))


def _bare_line(plant: Plant, severity: float) -> Plant:
    lines = plant.lines
    return replace(plant, lines=replace(lines, gas_gain=lines.gas_gain * (1.0 + (BARE / INSULATED - 1.0) * severity)))


def _suction_restriction(plant: Plant, severity: float) -> Plant:
    lines = plant.lines
    return replace(plant, lines=replace(lines, gas_restriction=severity * plant.rated_outlet))


def _outdoor_restriction(plant: Plant, severity: float) -> Plant:
    return replace(plant, lines=replace(plant.lines, outdoor_restriction=severity * plant.rated_fall))


def _low_stage(plant: Plant, severity: float) -> Plant:
    compressor = replace(plant.compressor, displacement=plant.compressor.displacement * (1.0 - severity))
    return replace(
        plant, compressor=compressor, indoor_airflow=plant.indoor_airflow * (1.0 - _BLOWER_FOLLOWS * severity)
    )


def _shut_idle(plant: Plant, severity: float) -> Plant:
    return replace(plant, lines=replace(plant.lines, idle=severity * plant.rated_fall))


def _reversing_leak(plant: Plant, severity: float) -> Plant:
    return replace(plant, reversing_leak=severity)


def _beside(plant: Plant, severity: float) -> Plant:
    return replace(plant, device=replace(plant.device, bypass=plant.device.bypass + severity * plant.full_area))


def _valve(change: Callable[[ExpansionValve, float], ExpansionValve]) -> Callable[[Plant, float], Plant]:
    def work(plant: Plant, severity: float) -> Plant:
        assert isinstance(plant.device, ExpansionValve)
        return replace(plant, device=change(plant.device, severity))

    return work


def _spring(valve: ExpansionValve, severity: float) -> ExpansionValve:
    closed = valve.spring.closed_spring_pressure * (1.0 + severity)
    return replace(valve, spring=replace(valve.spring, closed_spring_pressure=closed))


def _lost_charge(plant: Plant, severity: float) -> Plant:
    """So little is left that the bulb runs dry: above that temperature its pressure hardly rises."""
    assert isinstance(plant.device, ExpansionValve)
    curves = plant.fluid.curves
    usual = curves.dew_pressure(curves.dew_temperature(plant.rated_outlet) + RATED_SUPERHEAT)
    left = usual - severity * (usual - SEA_LEVEL)
    return replace(plant, device=replace(plant.device, charge=GasCharge(curves.dew_temperature(left))))


def _misplaced(valve: ExpansionValve, severity: float) -> ExpansionValve:
    """Warm where the severity is above zero, cold below."""
    if severity < 0.0:
        return replace(valve, bulb_in_liquid=-severity)
    return replace(valve, bulb_contact=valve.bulb_contact * (1.0 - severity))


def _blocked(plant: Plant, severity: float) -> Plant:
    assert isinstance(plant.device, ExpansionValve)
    trapped = plant.rated_outlet + severity * plant.rated_fall
    return replace(plant, device=replace(plant.device, trapped=trapped))


def _wrong_element(plant: Plant, severity: float) -> Plant:
    """Return the head of another refrigerant, by how far its pressure is from that of the right one."""
    assert isinstance(plant.device, ExpansionValve)
    mine = plant.fluid.curves
    others = (saturation(name) for name in modelled_designations() if name != mine.refrigerant.designation)
    pressure = mine.dew_pressure(RATED_DEW)
    by_distance = sorted(others, key=lambda other: abs(math.log(other.dew_pressure(RATED_DEW) / pressure)))
    return replace(plant, device=replace(plant.device, element=by_distance[round(severity) - 1]))


def _bore(sign: float) -> Callable[[Plant, float], Plant]:
    def work(plant: Plant, severity: float) -> Plant:
        assert isinstance(plant.device, Orifice)
        return replace(plant, device=replace(plant.device, area=plant.device.area * (1.0 + sign * severity)))

    return work


_FAULTS: Final = (
    Fault("undercharge", "share of the right charge that is missing", 0.2, 0.0, 0.6, _undercharge),
    Fault("overcharge", "share of the right charge that is too much", 0.2, 0.0, 0.6, _overcharge),
    Fault("noncondensables", "foreign gas, as a share of head minus suction", 0.2, 0.0, 0.6, _noncondensables),
    Fault("liquid_line_restriction", "its loss, as a share of head minus suction", 0.5, 0.0, 0.9, _restriction),
    Fault("low_airflow", "share of the indoor air that is missing", 0.3, 0.0, 0.7, _indoor_air),
    Fault("dirty_outdoor_coil", "share of the outdoor air that is missing", 0.4, 0.0, 0.8, _outdoor_air),
    Fault("compressor_not_pumping", "share of the gas that leaks back", 0.25, 0.0, 0.7, _leakage),
    Fault(
        "suction_line_uninsulated",
        "bare share of the line; all bare gains 2.7 times as much",
        1.0,
        0.0,
        1.0,
        _bare_line,
    ),
    Fault(
        "suction_line_restricted",
        "loss of a kink, a drier or a half-shut valve, as a share of the coil's pressure",
        0.25,
        0.0,
        0.6,
        _suction_restriction,
        called="service_valve_shut",
    ),
    Fault(
        "restricted_ahead_of_port",
        "its loss between condenser and liquid port, as a share of head minus suction",
        0.4,
        0.0,
        0.8,
        _outdoor_restriction,
        called="service_valve_shut",
    ),
    Fault(
        "low_stage",
        "share of the swept volume that a second stage leaves out; no fault, but read like one",
        0.33,
        0.0,
        0.5,
        _low_stage,
        called="compressor_not_pumping",
    ),
    Fault(
        "bulb_loose",
        "share of the return air in what the bulb feels",
        0.4,
        0.0,
        1.0,
        _valve(lambda valve, severity: replace(valve, bulb_contact=1.0 - severity)),
        "txv",
    ),
    Fault(
        "bulb_charge_lost",
        "share of the bulb's usual pressure over the air's that is gone, and no liquid left",
        0.25,
        0.05,
        1.0,
        _lost_charge,
        "txv",
    ),
    Fault(
        "txv_starving",
        "share of the valve's way that a plugged strainer closes",
        0.5,
        0.0,
        0.95,
        _valve(lambda valve, severity: replace(valve, area=valve.area * (1.0 - severity))),
        "txv",
    ),
    Fault(
        "txv_stuck_open",
        "opening below which the valve does not close, as a share of its travel",
        1.0,
        0.0,
        1.0,
        _valve(lambda valve, severity: replace(valve, least=severity)),
        "txv",
    ),
    Fault(
        "spring_set_wrong",
        "change of the spring's pressure at the seat: 1 is double, -1 none",
        2.5,
        -1.0,
        4.0,
        _valve(_spring),
        "txv",
    ),
    Fault(
        "equalizer_upstream",
        "how far liquid that leaks past the push rod chills the bulb behind the joint, 1 down to boiling",
        0.25,
        0.0,
        0.9,
        _valve(lambda valve, severity: replace(valve, equalizer=1, bulb_in_liquid=severity)),
        "txv",
    ),
    Fault(
        "internal_equalizer_misapplied",
        "1: the valve feels its own outlet, ahead of distributor and coil",
        1.0,
        1.0,
        1.0,
        _valve(lambda valve, _: replace(valve, equalizer=2)),
        "txv",
    ),
    Fault(
        "bulb_misplaced",
        "share of the air about it in what the bulb feels; below zero: of cold liquid or oil in the line",
        0.4,
        -0.9,
        1.0,
        _valve(_misplaced),
        "txv",
    ),
    Fault(
        "equalizer_blocked",
        "pressure shut up in the equalizer over the rated one, as a share of head minus suction",
        0.05,
        -0.3,
        0.4,
        _blocked,
        "txv",
    ),
    Fault(
        "valve_wrong_element",
        "the head of another refrigerant: 1 the nearest by pressure, 3 the farthest",
        2.0,
        1.0,
        3.0,
        _wrong_element,
        "txv",
    ),
    Fault(
        "txv_too_large",
        "area of the valve beyond the right one: 1 is double",
        1.0,
        0.0,
        2.0,
        _valve(lambda valve, severity: replace(valve, area=valve.area * (1.0 + severity))),
        "txv",
    ),
    Fault("orifice_too_small", "share of the right area that is missing", 0.25, 0.0, 0.7, _bore(-1.0), "fixed_orifice"),
    Fault("orifice_too_large", "share of the right area that is too much", 0.3, 0.0, 1.0, _bore(1.0), "fixed_orifice"),
    Fault(
        "orifice_not_seated",
        "what gets round the bore, as a share of the rated flow",
        0.3,
        0.0,
        1.0,
        _beside,
        "fixed_orifice",
    ),
    Fault(
        "check_valve_leaking",
        "what gets round the metering device, as a share of the rated flow",
        1.1,
        0.0,
        2.0,
        _beside,
        heat_pump=True,
    ),
    Fault(
        "check_valve_shut",
        "the loss at the idle device, as a share of head minus suction",
        0.6,
        0.0,
        0.9,
        _shut_idle,
        heat_pump=True,
    ),
    Fault(
        "reversing_valve_leaking",
        "share of the hot gas that slips into the suction",
        0.12,
        0.0,
        0.4,
        _reversing_leak,
        heat_pump=True,
    ),
)

FAULTS: Final[Mapping[str, Fault]] = {fault.name: fault for fault in _FAULTS}
"""Every fault by its name."""


def read_fault(text: str) -> PresentFault:
    """Return a fault as typed: a name, or a name and a severity such as `undercharge=0.3` or `undercharge=30%`.

    Raises:
        UnknownNameError: there is no such fault.
        InputError: the severity is no number.
        OutOfRangeError: the severity is outside what this fault can have.
    """
    name, has_severity, typed = text.partition("=")
    fault = FAULTS.get(name.strip())
    if fault is None:
        from assistant.source.nearest import nearest

        raise UnknownNameError("fault", name.strip()[:60], nearest(name.strip()[:60], list(FAULTS)))
    if not has_severity:
        return PresentFault(fault, fault.usual)
    number, percent = (typed.strip()[:-1], 100.0) if typed.strip().endswith("%") else (typed, 1.0)
    try:
        severity = float(number) / percent
    except ValueError:
        raise InputError(f"{name}: {typed[:60]!r} is no severity. Type a share such as 0.3 or 30%.") from None
    return with_severity(fault, severity)


def with_severity(fault: Fault, severity: float) -> PresentFault:
    """Return a fault with a severity.

    Raises:
        OutOfRangeError: the severity is outside what this fault can have.
    """
    if not fault.low <= severity <= fault.high:
        what = f"severity of {fault.name} ({fault.severity})"
        raise OutOfRangeError(what, severity, "", fault.low, fault.high, "what the practice system can show")
    return PresentFault(fault, severity)


def with_faults(plant: Plant, faults: Iterable[PresentFault]) -> Plant:
    """Return the plant with all its faults.

    Raises:
        InputError: a fault of a device that the plant does not have, the same fault twice, or no charge is left.
    """
    seen: set[str] = set()
    for one in faults:
        if one.fault.name in seen:
            raise InputError(f"The fault {one.fault.name} is named twice.")
        if one.fault.device and one.fault.device != plant.kind:
            raise InputError(f"The fault {one.fault.name} belongs to a system with {one.fault.device}.")
        if one.fault.heat_pump and not plant.heat_pump:
            raise InputError(f"The fault {one.fault.name} belongs to a heat pump.")
        seen.add(one.fault.name)
        plant = one.fault.work(plant, one.severity)
    if not plant.charge > 0.0:
        raise InputError("With these faults no refrigerant is left in the system.")
    return plant
