"""The valve bench in words: the balance written out as arithmetic, devices beside each other, and what is chosen."""

from collections.abc import Iterator, Sequence
from typing import Final

from assistant.practice.valve_bench.bench import ORIFICE_SIZES, TONS, Balance, Stand, Turned, rig
from assistant.practice.valve_bench.coil import Found, Settled, Unsettled
from assistant.practice.valve_bench.knobs import Knob, show_setting
from assistant.quantity import Kind, UnitSystem, preferred_unit, show
from assistant.simulator.plant import (
    RATED_BUBBLE,
    RATED_DEW,
    RATED_RETURN,
    RATED_SUBCOOLING,
    RATED_SUPERHEAT,
)
from assistant.simulator.structure import USUAL

_SHARES: Final = dict(ORIFICE_SIZES)


def temperature(value: float, system: UnitSystem) -> str:
    """Return a temperature [K] as shown."""
    return show(value, preferred_unit(Kind.TEMPERATURE, system))


def difference(value: float, system: UnitSystem) -> str:
    """Return a temperature difference [K] as shown."""
    return show(value, preferred_unit(Kind.TEMPERATURE_DIFFERENCE, system))


def pressure(value: float, system: UnitSystem) -> str:
    """Return a pressure [Pa] as shown."""
    return show(value, preferred_unit(Kind.PRESSURE, system))


def pressure_difference(value: float, system: UnitSystem) -> str:
    """Return a pressure difference [Pa] as shown."""
    return show(value, preferred_unit(Kind.PRESSURE_DIFFERENCE, system))


def flow(value: float, system: UnitSystem) -> str:
    """Return a flow [kg/s] as shown."""
    return show(value, preferred_unit(Kind.MASS_FLOW, system))


def share(value: float) -> str:
    """Return a share of 1 in percent."""
    return f"{100.0 * value:.0f} %"


def size_of(name: str) -> str:
    """Return how large an orifice is beside the right one; empty for the valve."""
    area = _SHARES.get(name)
    return "" if area is None else f"{share(area)} area"


def knob_line(turned: Turned, knobs: Sequence[Knob], system: UnitSystem) -> str:
    """Return where all knobs stand, in one sentence."""
    return "; ".join(f"{knob.title.lower()} {show_setting(turned, knob, system)}" for knob in knobs if knob.kind)


def force_rows(balance: Balance, system: UnitSystem) -> Iterator[str]:
    """Yield the forces one below the other, each with what it does; what is left comes last."""
    for does, what, sign, value in (
        ("OPENS", f"bulb at {temperature(balance.bulb, system)}", " ", pressure(balance.bulb_pressure, system)),
        ("CLOSES", "equalizer", "-", pressure(balance.equalizer, system)),
        ("CLOSES", "spring at the seat", "-", pressure_difference(balance.spring, system)),
        ("LEFT", "to lift the pin", "=", pressure_difference(balance.left, system)),
    ):
        number, _, unit = value.partition(" ")
        yield f"{does:<7}{what:<19}{sign} {number:>6} {unit}"


def pin_line(balance: Balance, system: UnitSystem) -> str:
    """Return what the pin does, with the arithmetic."""
    left, rate = pressure_difference(balance.left, system), pressure_difference(balance.rate, system)
    gains = f"Over its travel the spring gains {rate}"
    match balance.stand:
        case Stand.SHUT:
            return f"Nothing is left to lift the pin ({left}): it is SHUT on its seat."
        case Stand.WIDE_OPEN:
            return f"{gains}, and {left} are left: the pin is WIDE OPEN, out of travel."
        case Stand.BETWEEN:
            return f"{gains}: {left} / {rate} = {share(balance.opening)} OPEN."


def superheat_line(balance: Balance, system: UnitSystem) -> str:
    """Return the superheat, and what this spring asks for."""
    over = difference(balance.superheat, system)
    worked = f"{temperature(balance.bulb, system)} - {temperature(balance.evaporating, system)} = {over}"
    opens, wide = difference(balance.opens_at, system), difference(balance.wide_open_at, system)
    return f"Superheat: bulb - dew = {worked}. This spring opens from {opens} on, wide at {wide}."


def flow_line(balance: Balance, rated: float, system: UnitSystem) -> str:
    """Return the flow, and what drives it."""
    if balance.flux_drop <= 0.0:
        return "Flow: none. The pressure at the equalizer is not below the head pressure."
    if balance.flow <= 0.0:
        return "Flow: none."
    drop = pressure_difference(balance.flux_drop, system)
    told = f"{flow(balance.flow, system)}, {share(balance.flow / rated)} of the rated"
    return f"Flow: {share(balance.opening)} x area x root of (2 x density x {drop}) = {told}."


def balance_lines(balance: Balance, rated: float, system: UnitSystem) -> Iterator[str]:
    """Yield the whole balance, a line for each force and for each step."""
    yield from force_rows(balance, system)
    yield pin_line(balance, system)
    yield superheat_line(balance, system)
    yield flow_line(balance, rated, system)


def flow_rows(balance: Balance, flows: Sequence[tuple[str, float]], rated: float, system: UnitSystem) -> Iterator[str]:
    """Yield what valve and orifices pass under the same pressures."""
    for name, size, passes in (
        ("TXV", f"{share(balance.opening)} open", balance.flow),
        *((name, size_of(name), passes) for name, passes in flows),
    ):
        yield f"{name:<14} {size:<10} {flow(passes, system):>10} {share(passes / rated):>7}"


FLOW_HEAD: Final = f"{'':<14} {'':<10} {'flow':>10} {'of rated':>8}"


def outlet_words(found: Settled, system: UnitSystem) -> str:
    """Return the superheat at the coil's outlet, or how much liquid leaves it."""
    if found.floods:
        return f"floods {100.0 * found.liquid:.0f} %" if found.liquid >= 0.005 else "floods <1 %"
    return difference(found.superheat, system)


def coil_rows(found: Sequence[Found], rated: float, system: UnitSystem, *, with_heat: bool = True) -> Iterator[str]:
    """Yield where each device settles on the coil."""
    for one in found:
        size = size_of(one.name)
        if isinstance(one, Unsettled):
            yield f"{one.name:<14} {size:<10} {one.reason}"
            continue
        if one.balance is not None:
            size = f"{share(one.balance.opening)} open"
        boils, passes = temperature(one.evaporating, system), share(one.flow / rated)
        heat = f" {show(one.heat, preferred_unit(Kind.POWER, system)):>13}" if with_heat else ""
        yield f"{one.name:<14} {size:<10} {outlet_words(one, system):>12} {boils:>9} {passes:>6}{heat}"


def coil_head(*, with_heat: bool = True) -> str:
    """Return the heading of the rows of `coil_rows`."""
    return f"{'':<14} {'':<10} {'superheat':>12} {'boils at':>9} {'flow':>6}" + (f" {'heat':>13}" if with_heat else "")


def verdict_lines(found: Sequence[Found], system: UnitSystem) -> Iterator[str]:
    """Yield what the states say, in words: whether the valve holds, and what floods, starves or freezes."""
    for one in found:
        if isinstance(one, Settled) and one.balance is not None:
            yield _valve_verdict(one.balance, system)
    flooding = [_short(one.name) for one in found if isinstance(one, Settled) and one.floods]
    if flooding:
        yield f"Liquid reaches the compressor, which can wreck it: {', '.join(flooding)}."
    freezing = [_short(one.name) for one in found if isinstance(one, Settled) and one.freezes]
    if freezing:
        yield f"Below freezing; frost is left out here: {', '.join(freezing)}."


def _short(name: str) -> str:
    return name.removesuffix(" orifice")


def _valve_verdict(balance: Balance, system: UnitSystem) -> str:
    opens, wide = difference(balance.opens_at, system), difference(balance.wide_open_at, system)
    match balance.stand:
        case Stand.BETWEEN:
            return f"The TXV holds: it opens from {opens} on and would be wide open at {wide}."
        case Stand.WIDE_OPEN:
            return f"The TXV is wide open, out of travel: beyond {wide} its superheat goes where an orifice's would."
        case Stand.SHUT:
            return "The TXV is shut."


def chosen_lines(system: UnitSystem) -> Iterator[str]:
    """Yield what is chosen and what is left out."""
    yield (
        f"Parts of a {TONS:g} ton practice system, sized at {temperature(RATED_DEW, system)} in the coil, "
        f"{difference(RATED_SUPERHEAT, system)} superheat, {temperature(RATED_BUBBLE, system)} condensing, "
        f"{difference(RATED_SUBCOOLING, system)} subcooling: there the valve and the right orifice pass the same."
    )
    yield (
        f"Wide open the valve passes {USUAL.reserve:g} times that. Its bulb holds liquid of the system's own "
        "refrigerant and is as warm as the line; the equalizer is external."
    )
    yield (
        "The orifices follow a correlation that was measured with R-22, taken for the others as it stands. Vapour that"
        " comes along makes every device pass less, by the root of the mixture's density against acceleration."
    )
    yield "No lines, no distributor: the head pressure stands at the device, one pressure in the coil. Sea level."
    yield (
        f"On the coil: a compressor draws against the head pressure; air of {temperature(RATED_RETURN, system)} blows "
        "over it, at 100 % load 400 cfm a ton. Steady: no hunting, no frost. Condenser and charge are left out."
    )


def rated_flow(turned: Turned) -> float:
    """Return the flow [kg/s] at the rating point."""
    return rig(turned.refrigerant).rated_flow
