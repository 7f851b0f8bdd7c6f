"""Replies by chance from a seed: readings that a system with some fault could give, choices, and garbage."""

import random
from collections.abc import Callable, Mapping
from typing import assert_never

from assistant.call.answers import Value
from assistant.call.prompts import (
    Acknowledge,
    AskChoice,
    AskQuantity,
    AskRefrigerant,
    AskText,
    CheckOut,
    CloseCall,
    DoStep,
    Prompt,
)
from assistant.call.replies import Given, read_answer
from assistant.quantity import KELVIN_PER_FAHRENHEIT, PSI, SEA_LEVEL, ZERO_FAHRENHEIT
from assistant.thermo.curves import saturation
from assistant.thermo.refrigerants import find_refrigerant

System = Mapping[str, str]
"""Readings by name that belong together."""

REFRIGERANTS = ("R-22", "R-410A", "R-32", "R-407C", "R-454B")
GARBAGE = (
    "", "?", "asdf", "12,,5", "1e999", "-", "999999999 psig", "70 furlongs", "\x00\x1b[31m", "\u202e73 psig",
    "🙂", "73 psig 20 F", "NaN", "inf", "cannot", "a" * 3000, "   ", "٣", "0x10", "--", "again", "back to you",
)  # fmt: skip
COMMANDS = ("back", "undo", "why", "work", "work superheat", "answers", "help", "change suction_pressure", "change",
            "change filter condition", "change nothing at all")  # fmt: skip


def kelvin(fahrenheit: float) -> float:
    """A temperature in F as K."""
    return (fahrenheit + ZERO_FAHRENHEIT) * KELVIN_PER_FAHRENHEIT


def gauge(pressure: float) -> str:
    """A pressure [Pa, absolute] as a gauge at sea level reads it."""
    return f"{(pressure - SEA_LEVEL) / PSI:.1f} psig"


def readings_of(
    refrigerant: str,
    evaporating: float,
    superheat: float,
    condensing: float,
    subcooling: float,
    outdoor: float = 95,
    return_air: float = 80,
    wet_bulb: float = 67,
    rise: float = 20,
    drop: float = 19,
) -> dict[str, str]:
    """What instruments read on a system in that state; all temperatures and differences in F."""
    curves = saturation(find_refrigerant(refrigerant))
    return {
        "suction_pressure": gauge(curves.dew_pressure(kelvin(evaporating))),
        "suction_line_temperature": f"{evaporating + superheat:.1f} F",
        "liquid_pressure": gauge(curves.bubble_pressure(kelvin(condensing))),
        "liquid_line_temperature": f"{condensing - subcooling:.1f} F",
        "outdoor_air_temperature": f"{outdoor:.1f} F",
        "return_air_dry_bulb": f"{return_air:.1f} F",
        "return_air_wet_bulb": f"{wet_bulb:.1f} F",
        "supply_air_dry_bulb": f"{return_air - drop:.1f} F",
        "condenser_leaving_air_temperature": f"{outdoor + rise:.1f} F",
    }


def system_of(chance: random.Random) -> System:
    """A system in any state at all, settled and with its indoor air in order, so that the circuit is come to."""
    refrigerant = chance.choice(REFRIGERANTS)
    outdoor = chance.uniform(50, 110)
    circuit = readings_of(
        refrigerant,
        evaporating=chance.uniform(20, 60),
        superheat=chance.choice((chance.uniform(-2, 8), chance.uniform(8, 20), chance.uniform(20, 45))),
        condensing=outdoor + chance.uniform(4, 45),
        subcooling=chance.choice((chance.uniform(0, 6), chance.uniform(7, 13), chance.uniform(14, 25))),
        outdoor=outdoor,
        rise=chance.uniform(5, 32),
        drop=chance.uniform(8, 28),
    )
    settled = {"minutes_running": "25 min", "refrigerant": refrigerant, "mode": "cooling", "altitude": "0 ft"}
    air = {"filter_condition": "clean", "air_at_vents": chance.choice(("normal", "normal", "weak"))}
    return {**circuit, **settled, **air, "outdoor_unit": "all_well"}


def nothing_told(chance: random.Random) -> System:
    """A system of which nothing belongs together."""
    return {}


SYSTEMS: tuple[Callable[[random.Random], System], ...] = (system_of, system_of, system_of, nothing_told)


def chance_reply(prompt: Prompt, chance: random.Random, system: System, commands: bool = False) -> str:
    """Something to type at a prompt."""
    die = chance.random()
    if commands and die < 0.15:
        return chance.choice(COMMANDS)
    if die < 0.3:
        return chance.choice(GARBAGE)
    if die < 0.38:
        return "cannot tell"
    if prompt.name in system and die < 0.95:
        return system[prompt.name]
    return _fitting(prompt, chance)


def _fitting(prompt: Prompt, chance: random.Random) -> str:
    """A reply of the right form, and any value."""
    match prompt:
        case AskText():
            return "not cooling"
        case AskQuantity():
            low, high = prompt.low, prompt.high
            if low is None or high is None:
                return f"{chance.uniform(0, 20):.1f} {prompt.unit.symbol}"
            span = low.unit.from_si(low.value), low.unit.from_si(high.value)
            return f"{chance.uniform(*span):.1f} {low.unit.symbol}"
        case AskChoice():
            return str(chance.randint(0, len(prompt.choices)))
        case AskRefrigerant():
            return chance.choice(REFRIGERANTS)
        case Acknowledge():
            return str(prompt.place) if prompt.is_listed else "ok"
        case DoStep():
            return chance.choice(("done", "done", "done", "cannot do"))
        case CloseCall():
            return chance.choice(("", "", "1", "2"))
        case CheckOut():
            return chance.choice(("yes", "no", "no", "cannot tell"))
        case _:
            assert_never(prompt)


def typed_answer(prompt: Prompt, chance: random.Random, system: System) -> Value:
    """What is typed until the prompt takes it: the answer."""
    for _ in range(200):
        read = read_answer(prompt, chance_reply(prompt, chance, system))
        if isinstance(read, Given):
            return read.value
    raise AssertionError(f"nothing fits {prompt}")
