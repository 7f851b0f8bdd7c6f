"""Values with which several forms are true, said as an author would: round, and in the units of the decision."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from math import ceil, floor

from assistant.quantity import SEA_LEVEL, Kind, Unit, plain, preferred_unit, unit_named
from assistant.tree.forms import ATMOSPHERE, OTHER, exact, from_exact, variable
from assistant.tree.linear import Bounds
from assistant.tree.meaning import Constant, IsOneOf
from assistant.tree.model import Step
from assistant.tree.proof import Model
from assistant.tree.vocabulary import Vocabulary

# What a tech may well find, in the unit that is shown in the United States; only to say examples with.
_USUAL: Mapping[Kind, int] = {
    Kind.TEMPERATURE: 70,
    Kind.TEMPERATURE_DIFFERENCE: 10,
    Kind.PRESSURE: 120,
    Kind.PRESSURE_DIFFERENCE: 5,
    Kind.LENGTH: 1000,
    Kind.DURATION: 20,
    Kind.CURRENT: 8,
    Kind.RATIO: 3,
    Kind.FRACTION: 20,
    Kind.AIRFLOW: 1200,
    Kind.POWER: 36_000,
    Kind.SPECIFIC_AIRFLOW: 400,
    Kind.SPECIFIC_ENERGY: 20,
    Kind.MASS_FLOW: 500,
}


def said(model: Model, step: Step, vocabulary: Vocabulary) -> str:
    """Say the values of a model: `superheat is 10 F and filter_condition is clogged`."""
    guess = _Guess(_units(step, vocabulary))
    numbers = model.numbers(guess)
    parts = [_choice(name, left, step, vocabulary) for name, left in model.choices.items()]
    for name, unit in guess.units.items():
        if name in numbers:
            value = from_exact(numbers[name] - (guess.atmosphere if unit.gauge else 0), unit)
            parts.append(f"{name} is {plain(float(value))} {unit.symbol}".rstrip())
    return " and ".join(parts)


def _choice(name: str, left: tuple[str, ...], step: Step, vocabulary: Vocabulary) -> str:
    if OTHER not in left:
        return f"{name} is {_one_of(left)}"
    named = dict.fromkeys(
        choice
        for condition in step.conditions
        for test in condition.meaning(vocabulary).tests
        if isinstance(test, IsOneOf) and test.need.name == name
        for choice in test.choices
        if choice not in left
    )
    return f"{name} is not {_one_of(tuple(named))}" if named else f"{name} is anything"


def _one_of(choices: tuple[str, ...]) -> str:
    return choices[0] if len(choices) == 1 else f"one of [{', '.join(choices)}]"


def _units(step: Step, vocabulary: Vocabulary) -> dict[str, Unit]:
    """Give the unit of every number of a decision: the one written beside it, else the usual one."""
    usual: dict[str, Unit] = {}
    written: dict[str, Unit] = {}
    for test in step.decision(vocabulary).comparisons:
        symbol = next((term.unit.symbol for term in test.terms if isinstance(term, Constant) and not term.limit), "")
        for term in test.terms:
            if isinstance(term, Constant):
                continue
            usual[variable(term)] = preferred_unit(term.kind, "us")
            unit = unit_named(symbol, term.kind) if symbol else None
            if unit is not None:
                written.setdefault(variable(term), unit)
    return usual | written


@dataclass
class _Guess:
    """Chooses values that a tech may well find, or the roundest ones near them."""

    units: dict[str, Unit]
    atmosphere: Fraction = field(default=Fraction(SEA_LEVEL))

    def __call__(self, name: str, bounds: Bounds) -> Fraction:
        if name == ATMOSPHERE:
            self.atmosphere = _inside(Fraction(SEA_LEVEL), bounds)
            return self.atmosphere
        unit = self.units.get(name)
        if unit is None:
            return _inside(Fraction(0), bounds)
        shift = self.atmosphere if unit.gauge else Fraction(0)
        usual = exact(_USUAL[unit.kind], preferred_unit(unit.kind, "us"))
        return exact_of(_inside(from_exact(usual, unit), _in_unit(bounds, unit, shift)), unit) + shift


def exact_of(number: Fraction, unit: Unit) -> Fraction:
    """Give the SI value of a number in a unit."""
    zero = exact(0.0, unit)
    return zero + number * (exact(1.0, unit) - zero)


def _in_unit(bounds: Bounds, unit: Unit, shift: Fraction) -> Bounds:
    low, high = (None if edge is None else from_exact(edge - shift, unit) for edge in (bounds.low, bounds.high))
    # A vacuum is counted downwards.
    if unit.factor < 0:
        return Bounds(high, bounds.high_closed, low, bounds.low_closed)
    return Bounds(low, bounds.low_closed, high, bounds.high_closed)


def _inside(usual: Fraction, bounds: Bounds) -> Fraction:
    """Give the usual value where it is allowed, else the whole number nearest to it, else the middle."""
    low, high = bounds.low, bounds.high
    usual = Fraction(round(usual))
    nearest = [usual]
    if low is not None:
        nearest.extend((Fraction(ceil(low)), Fraction(floor(low) + 1), low))
    if high is not None:
        nearest.extend((Fraction(floor(high)), Fraction(ceil(high) - 1), high))
    allowed = [value for value in nearest if bounds.allow(value)]
    if allowed:
        # A value at the very edge shows less than one inside.
        return min(allowed, key=lambda value: (value in (low, high), value.denominator != 1, abs(value - usual)))
    assert low is not None
    assert high is not None
    return (low + high) / 2
