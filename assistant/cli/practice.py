"""`coilside practice`: systems that never stood anywhere, to practise on."""

import json
import math
from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import TYPE_CHECKING, Any, TypeVar, cast

import click

from assistant.cli.options import json_option, units_option
from assistant.cli.practice_call import CALL_COMMANDS
from assistant.cli.practice_outcomes import outcomes
from assistant.cli.practice_valve import valve
from assistant.cli.talk import say
from assistant.errors import InputError, OutOfRangeError
from assistant.quantity import ZERO_CELSIUS, Kind, UnitSystem, in_unit, parse, plain, preferred_unit, show, split
from assistant.ranges import range_sentence
from assistant.settings import setting

if TYPE_CHECKING:
    from assistant.simulator.system import Wish

_F = TypeVar("_F", bound=Callable[..., Any])
_DEVICES = ("txv", "fixed_orifice")
_MODES = ("cooling", "heating")
_RATED = {
    "cooling": {"outdoor": "95F", "return_air": "80F", "wet_bulb": "67F"},
    "heating": {"outdoor": "47F", "return_air": "70F", "wet_bulb": "60F"},
}
"""The weather of the rating points, where nothing else is asked for."""


@click.group()
def practice() -> None:
    """A simulated cooling system to practise on."""


for _command in CALL_COMMANDS:
    practice.add_command(_command)
practice.add_command(outcomes)
practice.add_command(valve)


def _faults(_ctx: click.Context, _parameter: click.Parameter, value: tuple[str, ...]) -> tuple[Any, ...]:
    from assistant.simulator.faults import read_fault

    return tuple(read_fault(text) for text in value)


def _weather(command: _F) -> _F:
    """The options that name a system and its weather."""
    for option in (
        click.option(
            "--altitude",
            default=lambda: setting("altitude").text or "0 ft",
            show_default="0 ft, or as set",
            help="Of the site: thin air cools less, and gauges read against it.",
        ),
        click.option("--wet-bulb", default=None, help="Return air, wet bulb.  [default: 67F, in heating 60F]"),
        click.option("--return", "return_air", default=None, help="Return air.  [default: 80F, in heating 70F]"),
        click.option("--outdoor", default=None, help="Air at the outdoor coil.  [default: 95F, in heating 47F]"),
        click.option("--rise", default="0 ft", show_default=True, help="Of the indoor coil above the outdoor unit."),
        click.option("--heat-pump", is_flag=True, help="A heat pump, which has more faults; in heating it is one."),
        click.option(
            "--mode",
            type=click.Choice(_MODES),
            default="cooling",
            show_default=True,
            help="What it is to do; only a heat pump heats.",
        ),
        click.option(
            "--device", type=click.Choice(_DEVICES), default="txv", show_default=True, help="Metering device."
        ),
        click.option("--tons", default="3", show_default=True, help="Net cooling at the rating point, 1.5 to 5."),
        click.option("--refrigerant", default="R-410A", show_default=True, help="R-410A, R-22, R-32 or R-454B."),
    ):
        command = option(command)
    return command


def _wish(named: dict[str, Any]) -> "Wish":
    """The system and weather of the options that `_weather` gives."""
    from assistant.simulator.plant import DeviceKind, Mode
    from assistant.simulator.system import Wish

    named = named | {name: text for name, text in _RATED[named["mode"]].items() if named[name] is None}
    return Wish(
        mode=cast(Mode, named["mode"]),
        heat_pump=named["heat_pump"],
        refrigerant=named["refrigerant"],
        tons=_number(named["tons"], "size in tons"),
        device=cast(DeviceKind, named["device"]),
        outdoor=parse(named["outdoor"], Kind.TEMPERATURE).value,
        return_dry_bulb=parse(named["return_air"], Kind.TEMPERATURE).value,
        return_wet_bulb=parse(named["wet_bulb"], Kind.TEMPERATURE).value,
        altitude=parse(named["altitude"], Kind.LENGTH, "ft").value,
        rise=parse(named["rise"], Kind.LENGTH, "ft").value,
    )


@practice.command("system")
@_weather
@click.option("--charge", default="100%", show_default=True, help="Of the right charge.")
@click.option(
    "--fault",
    "faults",
    multiple=True,
    callback=_faults,
    metavar="NAME[=SEVERITY]",
    help="A fault, such as undercharge=0.3; give several for several. `coilside practice faults` lists them.",
)
@click.option("--bulb", default=None, metavar="TEMPERATURE", help="Hold the valve's bulb at it: 95F a hand, 32F ice.")
@click.option("--answers", "as_answers", is_flag=True, help="Print a file of answers for `coilside walk`.")
@json_option
@units_option
def system(
    charge: str, faults: tuple[Any, ...], bulb: str | None, as_answers: bool, as_json: bool, units: Any, **named: Any
) -> None:
    """What a technician would read at a simulated split system, with faults that you choose.

    The readings are exact and settled: no instrument stands between. How the system is sized and what is
    left out of it stands below them.
    """
    from assistant.simulator.system import practice_system

    held = None if bulb is None else parse(bulb, Kind.TEMPERATURE).value
    try:
        wish = replace(_wish(named), charge=_share(charge), faults=faults, bulb_held_at=held)
        found = practice_system(wish)
    except OutOfRangeError as error:
        raise InputError(range_sentence(error, units)) from error
    if as_json:
        say(json.dumps(_values(found), indent=2, ensure_ascii=False))
    elif as_answers:
        say("\n".join(_answers(found)))
    else:
        say("\n".join(_lines(found, units)))


@practice.command("signs")
@_weather
@json_option
@units_option
def signs(as_json: bool, units: Any, **named: Any) -> None:
    """How the readings move with each fault at its usual severity, against the same system without it.

    Why they do stands in assistant/simulator/signs.md.
    """
    from assistant.simulator.signs import QUANTITIES, changes, sign

    try:
        wish = _wish(named)
        moved, quantities = list(changes(wish)), QUANTITIES[wish.mode]
    except OutOfRangeError as error:
        raise InputError(range_sentence(error, units)) from error
    if as_json:
        values = {
            one.fault.fault.name: dict(zip(quantities, one.changes, strict=True)) if one.changes else None
            for one in moved
        }
        say(json.dumps({"units": "K", "changes": values}, indent=2))
        return
    unit = preferred_unit(Kind.TEMPERATURE_DIFFERENCE, units)
    say(f"{'change in ' + unit.label:<34}" + "".join(f"{name:>12}" for name in quantities))
    for one in moved:
        told = (f"{in_unit(change, unit):+10.1f} {sign(change)}" for change in one.changes)
        name = f"{one.fault.fault.name} {plain(one.fault.severity)}"
        say(f"{name:<34}" + ("".join(told) if one.changes else "  would not run"))


@practice.command("faults")
@json_option
def faults_command(as_json: bool) -> None:
    """The faults that a simulated system can have, what their severity means, and how much is usual."""
    from assistant.simulator.faults import FAULTS

    if as_json:
        say(
            json.dumps(
                {
                    fault.name: {
                        "severity": fault.severity,
                        "usual": fault.usual,
                        "range": [fault.low, fault.high],
                        "device": fault.device or None,
                        "heat_pump": fault.heat_pump,
                    }
                    for fault in FAULTS.values()
                },
                indent=2,
            )
        )
        return
    for fault in FAULTS.values():
        only = f"; {fault.device} only" if fault.device else "; heat pump only" if fault.heat_pump else ""
        say(f"{fault.name:<30} {plain(fault.usual):>5}  {fault.severity}{only}")


def _number(text: str, what: str) -> float:
    parts = split(text) if len(text) <= 60 else None
    if parts is None or parts[1]:
        raise InputError(f"I cannot read {text[:60]!r} as a {what}. Type a number such as 3 or 2.5.")
    return parts[0]


def _share(text: str) -> float:
    parts = split(text) if len(text) <= 60 else None
    if parts is None or parts[1] not in ("", "%"):
        raise InputError(f"I cannot read {text[:60]!r} as a charge. Type a share of the right one, such as 90%.")
    return parts[0] / 100.0 if parts[1] == "%" else parts[0]


def _values(found: Any) -> dict[str, Any]:
    """Everything for another program, in SI."""
    from dataclasses import asdict

    from assistant.practice.visit.answers import sights_of
    from assistant.simulator.plant import CHOSEN, NOT_MODELLED

    wish = found.wish
    return {
        "system": {
            "refrigerant": found.plant.fluid.curves.refrigerant.designation,
            "tons": wish.tons,
            "metering_device": wish.device,
            "mode": wish.mode,
            "heat_pump": wish.is_heat_pump,
            "altitude": wish.altitude,
            "atmospheric_pressure": found.conditions.atmosphere,
            "charge_kg": found.plant.charge,
        },
        "faults": [{"name": one.fault.name, "severity": one.severity} for one in wish.faults],
        "readings": dict(found.readings),
        "observations": sights_of(found),
        "truth": {name: None if math.isnan(value) else value for name, value in asdict(found.truth).items()},
        "units": "SI: K, Pa absolute, m3/s, s, W, kg/s; shares of 1",
        "chosen": list(CHOSEN),
        "not_modelled": list(NOT_MODELLED),
    }


def _shown(found: Any, units: UnitSystem) -> Iterator[tuple[str, str]]:
    from assistant.simulator.readings import KINDS

    for name, value in found.readings.items():
        yield name, show(value, preferred_unit(KINDS[name], units), found.conditions.atmosphere)


def _lines(found: Any, units: UnitSystem) -> Iterator[str]:
    from assistant.practice.visit.answers import sights_of
    from assistant.simulator.plant import CHOSEN, NOT_MODELLED
    from assistant.simulator.readings import tons_of
    from assistant.simulator.system import names_of

    difference = preferred_unit(Kind.TEMPERATURE_DIFFERENCE, units)
    temperature = preferred_unit(Kind.TEMPERATURE, units)
    truth = found.truth
    designation = found.plant.fluid.curves.refrigerant.designation
    kind = f"heat pump in {found.wish.mode}, " if found.wish.is_heat_pump else ""
    built = f"{designation}, {plain(found.wish.tons)} tons, {kind}{found.wish.device}"
    yield f"{built}; faults: {names_of(found.wish.faults)}"
    yield ""
    for name, value in _shown(found, units):
        yield f"  {name:<36} {value}"
    yield ""
    for name, choice in sights_of(found).items():
        yield f"  {name:<36} {choice}"
    yield ""
    yield "How it really runs:"
    for name, at, beyond, value in (
        ("evaporating", truth.evaporating_temperature, "superheat", truth.superheat),
        ("condensing", truth.condensing_temperature, "subcooling", truth.subcooling),
    ):
        yield f"  {name} {show(at, temperature)}, {beyond} {show(value, difference)}"
    heating = found.wish.mode == "heating"
    net, does = (truth.net_heating, "heating") if heating else (truth.net_cooling, "cooling")
    yield f"  net {does} {tons_of(net):.2f} tons, {truth.total_power / 1000:.2f} kW with both fans"
    opening = "" if math.isnan(truth.opening) else f", valve {truth.opening:.0%} open"
    yield f"  charge {truth.charge:.0%} of the right one{opening}"
    if truth.evaporating_temperature < ZERO_CELSIUS:
        yield "  The coil boils below freezing: on a real one frost would grow and take the air away. That is left out."
    yield ""
    yield "Chosen, not measured:"
    yield from (f"  - {line}" for line in CHOSEN)
    yield "Left out:"
    yield from (f"  - {line}" for line in NOT_MODELLED)


def _answers(found: Any) -> Iterator[str]:
    from assistant.practice.visit.answers import answers_of, facts_of
    from assistant.simulator.system import names_of

    yield f"# A simulated system; faults: {names_of(found.wish.faults)}"
    yield "facts:"
    yield from (f"  {name}: {text}" for name, text in facts_of(found).items())
    yield "answers:"
    for name, texts in answers_of(found).items():
        yield f"  {name}: {texts[0] if len(texts) == 1 else '[' + ', '.join(texts) + ']'}"
