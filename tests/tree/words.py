"""A small vocabulary for the tests of the tree language, and values by name."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field

from assistant.doubt import Uncertain
from assistant.quantity import SEA_LEVEL, Kind, Quantity, parse
from assistant.source.problem import Place
from assistant.tree.vocabulary import Sort

READINGS = {
    "suction_pressure": Kind.PRESSURE,
    "liquid_pressure": Kind.PRESSURE,
    "suction_line_temperature": Kind.TEMPERATURE,
    "outdoor_air_temperature": Kind.TEMPERATURE,
    "return_air_dry_bulb": Kind.TEMPERATURE,
    "external_static_pressure": Kind.PRESSURE_DIFFERENCE,
    "compressor_current": Kind.CURRENT,
    "minutes_running": Kind.DURATION,
}
NUMBERS = {
    "evaporating_temperature": Kind.TEMPERATURE,
    "superheat": Kind.TEMPERATURE_DIFFERENCE,
    "subcooling": Kind.TEMPERATURE_DIFFERENCE,
    "superheat_target": Kind.TEMPERATURE_DIFFERENCE,
    "compression_ratio": Kind.RATIO,
    "flash_gas_fraction": Kind.FRACTION,
}
OBSERVATIONS = {
    "filter_condition": ("clean", "dirty", "clogged"),
    "indoor_coil_face": ("clean", "dirty", "iced"),
    "frost_line": ("none", "at_valve", "whole_coil"),
}
FACTS: dict[str, tuple[str, ...] | Kind | None] = {
    "refrigerant": None,
    "metering_device": ("txv", "fixed_orifice", "eev"),
    "mode": ("cooling", "heating"),
    "safety_group": ("A1", "A2L", "A3"),
    "altitude": Kind.LENGTH,
    "superheat_target": Kind.TEMPERATURE_DIFFERENCE,
}
LIMITS = {
    "superheat_band": parse("5 F", Kind.TEMPERATURE_DIFFERENCE),
    "flooding": parse("2 F", Kind.TEMPERATURE_DIFFERENCE),
    "high_head": parse("435 psia", Kind.PRESSURE),
}
CAUTIONS: dict[str, tuple[str, ...]] = {
    "moving_parts": ("reach* into",),
    "floodback": ("warm* the bulb", "hold the bulb"),
    "electrical": ("capacitor*",),
    "opening_circuit": ("recover*", "cut* ... drier"),
}
ACTS: dict[str, tuple[str, tuple[str, ...]]] = {
    "warm_bulb": ("Warm the bulb in the hand", ("floodback",)),
    "wait_settled": ("Let it settle", ()),
    "recover_charge": ("Recover the whole charge", ("opening_circuit",)),
}
CAUSES: dict[str, tuple[str, ...]] = {
    "bulb_charge_lost": ("opening_circuit",),
    "bulb_loose": (),
    "low_airflow": (),
    "low_charge": (),
}
# superheat_target is left out: of that number nobody has told what it is worked from.
INPUTS: dict[str, tuple[str, ...]] = {
    "evaporating_temperature": ("refrigerant", "suction_pressure"),
    "superheat": ("refrigerant", "suction_pressure", "suction_line_temperature"),
    "subcooling": ("refrigerant", "liquid_pressure"),
    "compression_ratio": ("liquid_pressure", "suction_pressure"),
    "flash_gas_fraction": ("refrigerant", "suction_pressure"),
}


class Words:
    """A vocabulary of a handful of names."""

    def names(self, sort: Sort) -> Collection[str]:
        return {
            "reading": tuple(READINGS),
            "number": tuple(NUMBERS),
            "observation": tuple(OBSERVATIONS),
            "fact": tuple(FACTS),
            "limit": tuple(LIMITS),
            "caution": tuple(CAUTIONS),
            "cause": tuple(CAUSES),
            "act": tuple(ACTS),
        }[sort]

    def sort_of(self, name: str) -> str | None:
        if name in READINGS:
            return "reading"
        if name in NUMBERS:
            return "number"
        if name in OBSERVATIONS:
            return "observation"
        return "fact" if name in FACTS else None

    def kind_of(self, name: str) -> Kind | None:
        fact = FACTS.get(name)
        return READINGS.get(name) or NUMBERS.get(name) or (fact if isinstance(fact, Kind) else None)

    def choices_of(self, name: str) -> tuple[str, ...] | None:
        fact = FACTS.get(name)
        return OBSERVATIONS.get(name) or (fact if isinstance(fact, tuple) else None)

    def limit(self, name: str) -> Quantity | None:
        return LIMITS.get(name)

    def inputs_of(self, name: str) -> Collection[str] | None:
        if name == "safety_group":
            return ("refrigerant",)
        return INPUTS.get(name) if name in NUMBERS else ()

    def cautions_of_cause(self, name: str) -> Collection[str]:
        return CAUSES.get(name, ())

    def act_texts(self, name: str) -> tuple[str, str]:
        return ACTS.get(name, ("", ()))[0], ""

    def cautions_of_act(self, name: str) -> Collection[str]:
        return ACTS.get(name, ("", ()))[1]

    def words_of_caution(self, name: str) -> tuple[str, ...]:
        return CAUTIONS.get(name, ())

    def is_irreversible(self, caution: str) -> bool:
        return caution == "opening_circuit"

    def place_of(self, sort: Sort, name: str) -> Place | None:
        return Place(f"{sort}s.yaml", 1, 1, 2) if name != "safety_group" else None


WORDS = Words()


@dataclass
class Known:
    """Values on a call, by name, in SI."""

    quantities: Mapping[str, Uncertain] = field(default_factory=dict)
    choices: Mapping[str, str] = field(default_factory=dict)
    changes: Mapping[str, Uncertain] = field(default_factory=dict)
    atmosphere: float | None = SEA_LEVEL

    def quantity(self, name: str) -> Uncertain | None:
        return self.quantities.get(name)

    def choice(self, name: str) -> str | None:
        return self.choices.get(name)

    def change(self, name: str) -> Uncertain | None:
        return self.changes.get(name)
