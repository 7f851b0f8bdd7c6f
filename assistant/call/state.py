"""What has been gathered while one call is walked. It lives inside one run of the walk and never leaves it."""

from dataclasses import field, replace
from typing import Final, assert_never

from assistant import doubt
from assistant.call.answers import Charged, Chosen, EntryValue, Measured, Untold
from assistant.catalogue.catalogue import Catalogue
from assistant.catalogue.entries import Reading
from assistant.doubt import Uncertain
from assistant.errors import CoilsideError, QuantityError
from assistant.frozen import dataclass
from assistant.quantity import Kind, Quantity
from assistant.thermo.air import standard_pressure
from assistant.worksheet.known import Known
from assistant.worksheet.plausibility import Contradiction
from assistant.worksheet.sheet import Sheet

ALTITUDE: Final = "altitude"
"""The fact by which a gauge pressure becomes an absolute one."""
REFRIGERANT: Final = "refrigerant"
"""The fact on which saturation hangs, and what there is to mind."""
OWN_ACCURACY: Final = {Kind.PRESSURE: "pressure_accuracy", Kind.TEMPERATURE: "temperature_accuracy"}
"""The facts by which a tech tells the accuracy of their own instruments, by what these measure."""


@dataclass(frozen=True)
class Measurement:
    """One reading as taken: its value [SI, absolute] with the doubt of the instrument."""

    name: str
    value: Uncertain
    repeatability: float | None


@dataclass
class State:
    """Facts, observations and measurements so far, and the sheet that works numbers from them."""

    catalogue: Catalogue
    quantities: dict[str, Uncertain] = field(default_factory=dict)
    choices: dict[str, str] = field(default_factory=dict)
    asked: dict[str, None] = field(default_factory=dict)
    latest: dict[str, Measurement] = field(default_factory=dict)
    baselines: dict[str, Measurement] = field(default_factory=dict)
    visits: dict[str, int] = field(default_factory=dict)
    shown: dict[str, float] = field(default_factory=dict)
    contradicted: frozenset[Contradiction] = frozenset()
    altitude: float = 0.0
    _sheet: Sheet | None = None
    _earlier: Sheet | None = None

    @property
    def sheet(self) -> Sheet:
        """The worked numbers for what is known now."""
        if self._sheet is None:
            known = Known(dict(self.quantities), dict(self.choices), frozenset(self.asked), self.altitude)
            self._sheet = Sheet(known, self._earlier)
        return self._sheet

    @property
    def untold(self) -> tuple[str, ...]:
        """What was asked and could not be told, by its title."""
        known = self.quantities.keys() | self.choices.keys()
        return tuple(self.catalogue.title_of(name) for name in self.asked if name not in known)

    def take(self, name: str, value: EntryValue) -> None:
        """Take the answer to a fact, observation or reading.

        Raises:
            CoilsideError: the value cannot be at this site, such as a gauge pressure below a vacuum.
        """
        self._change()
        self.asked[name] = None
        self.quantities.pop(name, None)
        self.choices.pop(name, None)
        self.latest.pop(name, None)
        match value:
            case Untold():
                return
            case Chosen(chosen) | Charged(chosen):
                self.choices[name] = chosen
            case Measured(quantity):
                self._measure(name, quantity)
            case _:
                assert_never(value)

    def _measure(self, name: str, quantity: Quantity) -> None:
        value = self.absolute(name, quantity)
        if name == ALTITUDE:
            self.altitude = quantity.value
        reading = self.catalogue.readings.get(name)
        if reading is None:
            self.quantities[name] = value
            return
        measured = doubt.within(value, self._accuracy(reading, quantity.value), name)
        repeats = reading.repeatability.of(quantity.value, quantity.kind) if reading.repeatability else None
        if quantity.around:
            measured += doubt.within(0.0, quantity.around)
            repeats = None if repeats is None else repeats + quantity.around
        self.latest[name] = Measurement(name, measured, repeats)
        self.quantities[name] = measured

    def _change(self) -> None:
        """Begin a new sheet; what does not hang on the change is taken over from the one before."""
        self._sheet, self._earlier = None, self._sheet or self._earlier

    def absolute(self, name: str, quantity: Quantity) -> float:
        """Give what a quantity is at this site [SI, pressures absolute].

        Raises:
            CoilsideError: it cannot be here.
        """
        if name in OWN_ACCURACY.values() and quantity.value <= 0:
            raise QuantityError("No instrument is exact: its accuracy is more than nothing.")
        if name == ALTITUDE:
            standard_pressure(quantity.value)
        # The sheet knows the atmosphere too, but it is made anew after each answer.
        return quantity.absolute(standard_pressure(self.altitude) if quantity.unit.gauge else None)

    def keep(self, name: str) -> None:
        """Measuring again was tried and could not be done: the earlier value counts, but no change is known."""
        self.latest.pop(name, None)

    def copy(self) -> "State":
        """What is known now, to be compared with what is known later."""
        return replace(
            self,
            quantities=dict(self.quantities),
            choices=dict(self.choices),
            asked=dict(self.asked),
            latest=dict(self.latest),
            baselines=dict(self.baselines),
            visits=dict(self.visits),
            shown=dict(self.shown),
            _sheet=None,
            _earlier=self._sheet or self._earlier,
        )

    def _accuracy(self, reading: Reading, value: float) -> float:
        """Half-width of what the instrument promises: as the tech told of their own, else as the catalogue has it."""
        own = self.quantities.get(OWN_ACCURACY.get(reading.kind, ""))
        return doubt.nominal(own) if own is not None else reading.accuracy.of(value, reading.kind)

    def mark_baseline(self, name: str) -> None:
        """Keep the latest measurement of a reading as the one that a change is counted from."""
        if name in self.latest:
            self.baselines[name] = self.latest[name]
        else:
            self.baselines.pop(name, None)

    # What follows answers the questions of a condition.

    @property
    def atmosphere(self) -> float:
        """The atmospheric pressure of the site [Pa]."""
        return self.sheet.known.atmosphere

    def quantity(self, name: str) -> Uncertain | None:
        """A reading, fact or worked number [SI]; a number waits for a fact off the data plate that may replace it."""
        return None if self.sheet.awaits(name) else self.sheet.value(name)

    def choice(self, name: str) -> str | None:
        """A chosen fact or observation, or a choice that follows from the facts."""
        return self.sheet.known.safety_group if name == "safety_group" else self.choices.get(name)

    def change(self, name: str) -> Uncertain | None:
        """What a reading changed by since its baseline [SI].

        The same instrument minutes apart: its calibration error cancels, what remains is its repeatability.
        """
        before, after = self.baselines.get(name), self.latest.get(name)
        if before is None or after is None:
            return None
        if after.repeatability is None:
            return after.value - before.value
        moved = doubt.nominal(after.value) - doubt.nominal(before.value)
        return doubt.within(moved, after.repeatability) + doubt.within(0.0, after.repeatability)


def why_not_here(state: State, name: str, value: EntryValue) -> str | None:
    """Tell why an answer cannot be taken at this site; `None` when it can."""
    if not isinstance(value, Measured):
        return None
    try:
        state.absolute(name, value.quantity)
    except CoilsideError as error:
        return str(error)
    return None
