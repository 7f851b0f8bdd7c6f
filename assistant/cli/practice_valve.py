"""`coilside practice valve`: the valve bench on the screen, line by line, or once."""

import json
import os
import shutil
import sys
from collections.abc import Callable
from dataclasses import asdict
from typing import TYPE_CHECKING, Any, TypeVar

import click

from assistant.cli.options import json_option, look_options, units_option
from assistant.cli.talk import is_on_screen, is_typed, read_line, say
from assistant.errors import InputError
from assistant.quantity import UnitSystem

if TYPE_CHECKING:
    from assistant.practice.valve_bench.talk import Bench

_F = TypeVar("_F", bound=Callable[..., Any])
_KNOBS = {
    "refrigerant": "R-410A, R-22, R-32 or R-454B.",
    "bulb": "Temperature of the bulb, held by hand.",
    "equalizer": "Pressure at the equalizer, held by hand.",
    "spring": "Pressure of the spring at the seat.",
    "head": "Head pressure, at the inlet of every device.",
    "subcooling": "Of the liquid at the inlet.",
    "flash": "Vapour that arrives with the liquid, such as 5%.",
    "load": "On the coil: air over it, of the rated flow.",
    "wet_bulb": "On the coil: wet bulb of the return air.",
}
_SWEEP = "On the coil: go through load, head, wet bulb, subcooling, flash or spring."


def _knob_options(command: _F) -> _F:
    """An option for every knob."""
    for name, text in reversed(_KNOBS.items()):
        command = click.option(f"--{name.replace('_', '-')}", name, default=None, metavar="VALUE", help=text)(command)
    return command


@click.command("valve")
@_knob_options
@click.option("--coil", "on_coil", is_flag=True, help="Valve and orifices each run on one coil.")
@click.option("--sweep", "over", default=None, metavar="KNOB", help=_SWEEP)
@click.option("--once", is_flag=True, help="Print what follows from the options, and end.")
@click.option("--plain", is_flag=True, help="Line by line: for pipes, dumb terminals and screen readers.")
@json_option
@units_option
@look_options
def valve(
    on_coil: bool, over: str | None, once: bool, plain: bool, as_json: bool, units: Any, theme: str, **knobs: str | None
) -> None:
    """The valve bench: turn bulb, equalizer, spring and pressures of an expansion valve, and see what its pin does.

    Fixed orifices stand beside it, under the same pressures or on the same coil: turn load or head pressure there,
    and see what holds superheat and what does not.

    \b
        coilside practice valve --bulb 62F
        coilside practice valve --once --sweep head
    """
    bench = _bench(units, knobs, on_coil, over)
    if as_json:
        say(json.dumps(_values(bench, units, with_sweep=over is not None), indent=2, ensure_ascii=False))
        return
    if is_on_screen() and not (plain or once):
        from assistant.tui.screens.pictures import signs_for
        from assistant.tui.valve_bench_app import ValveBenchApp

        signs = signs_for(os.environ.get("TERM", ""), sys.stdout.encoding)
        ValveBenchApp(bench, units, theme, signs).run()
        return
    _line_by_line(bench, units, "sweep" if over is not None else "state", once=once)


def _bench(units: UnitSystem, knobs: dict[str, str | None], on_coil: bool, over: str | None) -> "Bench":
    """The bench that the options ask for.

    Raises:
        InputError: a value that no knob can take.
    """
    from assistant.practice.valve_bench.bench import rated_settings
    from assistant.practice.valve_bench.talk import Bench, understand
    from assistant.thermo.refrigerants import find_refrigerant

    bench = Bench(rated_settings(find_refrigerant(knobs.pop("refrigerant", None) or "R-410A").designation), on_coil)
    lines = [f"{name.replace('_', ' ')} {value}" for name, value in knobs.items() if value is not None]
    for line in (*lines, *([f"sweep {over}"] if over is not None else [])):
        said = understand(bench, line, units)
        if said.is_problem or not said.wants:
            raise InputError(said.news)
        bench = said.bench
    return bench


def _line_by_line(bench: "Bench", units: UnitSystem, wants: str, *, once: bool) -> None:
    """Write what follows, and after each line that is typed again, until there is none or it says quit."""
    from assistant.call.wording import wrapped
    from assistant.practice.valve_bench.talk import Said, lines_of, understand

    width = min(shutil.get_terminal_size((80, 24)).columns, 100)
    is_ascii = "utf" not in (sys.stdout.encoding or "").casefold()
    said = Said(bench, wants=wants)
    while said.wants != "leave":
        for line in wrapped(tuple(lines_of(said, units, width, is_ascii=is_ascii)), width):
            say(line)
        typed = None if once else read_line()
        if typed is None:
            return
        say("" if is_typed() else f"> {typed.strip()[:60]}")
        said = understand(said.bench, typed.rstrip("\n"), units)


def _values(bench: "Bench", units: UnitSystem, *, with_sweep: bool) -> dict[str, Any]:
    """Everything for another program, in SI."""
    from assistant.practice.valve_bench.bench import balance_by_hand, orifice_flows
    from assistant.practice.valve_bench.coil import Settled, settle_all
    from assistant.practice.valve_bench.sweep import sweep, swept_knob
    from assistant.practice.valve_bench.words import chosen_lines, rated_flow

    def devices(found: Any) -> dict[str, Any]:
        return {
            one.name: {key: value for key, value in asdict(one).items() if key != "name"}
            if isinstance(one, Settled)
            else {"refused": one.reason}
            for one in found
        }

    balance = balance_by_hand(bench.turned)
    values = {
        "turned": asdict(bench.turned),
        "rated_flow": rated_flow(bench.turned),
        "held_by_hand": {
            "valve": {**asdict(balance), "pin": balance.stand.value},
            "orifices": dict(orifice_flows(bench.turned)),
        },
        "on_the_coil": devices(settle_all(bench.turned)),
        "units": "SI: K, Pa absolute (spring, left, rate, flux_drop: differences), kg/s, W; shares of 1",
        "chosen": list(chosen_lines(units)),
    }
    if with_sweep:
        knob = swept_knob(bench.over)
        rows = [{knob.name: at.value, **devices(at.found)} for at in sweep(bench.turned, knob, units)]
        values["sweep"] = {"over": knob.name, "rows": rows}
    return values
