"""The entries of the catalogue, one frozen record per sort of name."""

from collections.abc import Mapping
from dataclasses import field

from assistant.catalogue.unit_state import Needs
from assistant.frozen import dataclass
from assistant.quantity import KELVIN_PER_FAHRENHEIT, ZERO_FAHRENHEIT, Kind, Quantity, Unit, UnitSystem
from assistant.source.problem import Place


@dataclass(frozen=True, slots=True)
class Accuracy:
    """What an instrument promises: ± (`fraction` of the reading + `fixed`).

    `fixed` is in SI. The fraction of a temperature is taken of its number in °F, as the accuracy of a field
    thermometer is stated there; of any other reading it is taken of the number itself.
    """

    fraction: float
    fixed: float
    text: str
    source: str

    def of(self, value: float, kind: Kind) -> float:
        """Half-width of the interval in which the true value lies, for a reading of `value` [SI]."""
        if kind is Kind.TEMPERATURE:
            fahrenheit = value / KELVIN_PER_FAHRENHEIT - ZERO_FAHRENHEIT
            return self.fraction * abs(fahrenheit) * KELVIN_PER_FAHRENHEIT + self.fixed
        return self.fraction * abs(value) + self.fixed


@dataclass(frozen=True, slots=True)
class Fact:
    """Something that does not change during the call; a quantity, one of `choices`, or a refrigerant."""

    name: str
    title: str
    question: str
    how: str
    kind: Kind | None
    units: Mapping[UnitSystem, Unit]
    choices: Mapping[str, str]
    default: str | None
    place: Place

    @property
    def is_refrigerant(self) -> bool:
        """Whether it is answered with a refrigerant's designation."""
        return self.kind is None and not self.choices


@dataclass(frozen=True, slots=True)
class Taking:
    """What taking a reading or looking at something asks for: the unit's state, who may, its minutes and cautions."""

    needs: Needs = field(default_factory=dict)
    who: tuple[str, ...] = ()
    minutes: float = 0.0
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Reading:
    """A number off an instrument. `low` and `high` bound what can be believed."""

    name: str
    title: str
    question: str
    how: str
    spoils: str
    kind: Kind
    units: Mapping[UnitSystem, Unit]
    low: Quantity
    high: Quantity
    accuracy: Accuracy
    repeatability: Accuracy | None
    place: Place
    taking: Taking = Taking()


@dataclass(frozen=True, slots=True)
class Observation:
    """A choice the tech makes from what they see, hear or feel: choice name to its words."""

    name: str
    title: str
    question: str
    how: str
    choices: Mapping[str, str]
    place: Place
    taking: Taking = Taking()


@dataclass(frozen=True, slots=True)
class Act:
    """What a tech does: how, how long it takes [min], who may, and what it is to the state of the unit.

    What was told before of the readings and observations that it `changes` counts no more. One that stands `between`
    is put in where what comes next needs the state that it makes.
    """

    name: str
    title: str
    how: str
    minutes: float
    who: tuple[str, ...]
    needs: Needs
    cautions: tuple[str, ...]
    makes: Mapping[str, str]
    leaves: str
    undo: tuple[str, ...]
    changes: tuple[str, ...]
    between: bool
    source: str
    place: Place


@dataclass(frozen=True, slots=True)
class NumberEntry:
    """A worked number: what it is called and what it tells. Its formula is code, in the worksheet."""

    name: str
    title: str
    kind: Kind
    units: Mapping[UnitSystem, Unit]
    tells: str
    place: Place


@dataclass(frozen=True, slots=True)
class Limit:
    """A line that decisions are drawn at; of a gauge unit, `quantity` is still a gauge pressure."""

    name: str
    quantity: Quantity
    what: str
    source: str
    place: Place


@dataclass(frozen=True, slots=True)
class Caution:
    """A safety statement. With `joins`, it comes along with those cautions when the refrigerant's group asks for it.

    A step that says one of the `words` needs this caution. What is done under an `irreversible` one cannot be taken
    back, so a verdict behind it should not hang on one doubtful number.
    """

    name: str
    title: str
    text: str
    rule: str
    joins: tuple[str, ...]
    safety_groups: tuple[str, ...]
    words: tuple[str, ...]
    irreversible: bool
    place: Place


@dataclass(frozen=True, slots=True)
class LookAlike:
    """Another cause with similar readings, and how to tell the two apart."""

    cause: str
    tell: str


@dataclass(frozen=True, slots=True)
class ActSequence:
    """Acts that belong together; a repair names them as one."""

    name: str
    title: str
    acts: tuple[str, ...]
    place: Place


@dataclass(frozen=True, slots=True)
class WrittenStep:
    """A step of a repair or its proof: an act or a sequence of acts, and what is particular at this place."""

    do: str
    say: str


@dataclass(frozen=True, slots=True)
class Cause:
    """What a call can end with: what it is, why the readings look so, how to repair it and prove the repair."""

    name: str
    title: str
    what: str
    why: str
    looks_like: tuple[LookAlike, ...]
    repair: tuple[WrittenStep, ...]
    prove: tuple[WrittenStep, ...]
    licence: str
    source: str
    place: Place


@dataclass(frozen=True, slots=True)
class CauseSigns:
    """How common a cause is, and how often each choice of an observation is seen with it, both in words.

    `reads_like` is the cause by which the simulated unit knows it.
    """

    name: str
    reads_like: str
    common: str
    shows: Mapping[str, Mapping[str, str]]
    source: str
    place: Place


@dataclass(frozen=True, slots=True)
class SameWords:
    """Words and short phrases of the trade that mean the same; `name` stands for them all."""

    name: str
    same: tuple[str, ...]
    place: Place


Entry = (
    Fact | Reading | Observation | Act | NumberEntry | Limit | Caution | ActSequence | Cause | CauseSigns | SameWords
)
