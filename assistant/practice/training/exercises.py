"""A trainer's list of practice calls, as a YAML file: which calls are to be worked, and within what time.

::

    practice: First week
    exercises:
      - title: Drawn by its number
        seed: 12
        difficulty: 2
        minutes: 45
      - title: The bakery
        complaint: Not cold enough since last week
        system: {refrigerant: R-410A, tons: 3, metering_device: txv}
        weather: {outdoor: 98 F, return: 78 F, wet_bulb: 65 F}
        faults: {dirty_filter: 50%}

An exercise is drawn from its `seed`, or has the `faults` that it names, `none` among them. What is left out of system
and weather is that of the rating point.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import Final, Literal

from assistant.errors import CoilsideError, QuantityError
from assistant.practice.visit.site import Guise, Hidden, Site, guises, steady
from assistant.quantity import Kind, fahrenheit, parse, plain, split
from assistant.simulator.faults import FAULTS, PresentFault, with_severity
from assistant.simulator.plant import RATED_OUTDOOR, RATED_RETURN, RATED_WET_BULB
from assistant.simulator.system import Wish
from assistant.simulator.vapour import modelled_designations
from assistant.source.keys import (
    Apart,
    AtLeastOne,
    ByName,
    Key,
    KeyTable,
    Listed,
    Needs,
    OneOf,
    PlainNumber,
    Text,
    Wrong,
    sample,
)
from assistant.source.nearest import nearest
from assistant.source.nodes import Mapping as Keys
from assistant.source.nodes import Node, Scalar, read
from assistant.source.problem import Place, Problem, shorten
from assistant.source.schema import Schema, schema_of_file
from assistant.source.shape import find_mistakes
from assistant.thermo.refrigerants import find_refrigerant

NONE: Final = "none"
USUAL: Final = "usual"
LONGEST: Final = 200
"""Characters of a title or a complaint."""
MOST_SEED: Final = 999_999_999
MOST_MINUTES: Final = 600.0
_COLD, _HEATED, _HEATED_WET = fahrenheit(47.0), fahrenheit(70.0), fahrenheit(56.0)
"""Weather of an exercise in heating: outdoors and return air as for the rating of a heat pump, wet bulb chosen [K]."""

_TEXT = Text(numeric=True)

_SYSTEM = KeyTable(
    "the system",
    {
        "refrigerant": Key(_TEXT, "One that the practice system has.", examples=tuple(modelled_designations())),
        "tons": Key(PlainNumber(1.5, 5), "Net cooling at the rating point.", write="tons: 3"),
        "metering_device": Key(
            OneOf({"txv": "", "fixed_orifice": ""}), "What feeds the indoor coil.", write="metering_device: txv"
        ),
    },
    "write: system: {refrigerant: R-410A, tons: 3}",
)
_WEATHER = KeyTable(
    "the weather",
    {
        "outdoor": Key(_TEXT, "Air that enters the outdoor coil.", examples=("95 F",)),
        "return": Key(_TEXT, "Return air, dry bulb.", examples=("80 F",)),
        "wet_bulb": Key(_TEXT, "Return air, wet bulb.", examples=("67 F",)),
        "altitude": Key(_TEXT, "Of the site.", examples=("600 ft",)),
    },
    "write: weather: {outdoor: 95 F}",
)
_FAULTS = "faults: {undercharge: 20%}"
_DRAWN = "says what is drawn otherwise, so the faults must be said too"
_EXERCISE = KeyTable(
    "an exercise",
    {
        "title": Key(
            Text(numeric=True, longest=LONGEST),
            "What the exercise is called; it should not tell the fault.",
            examples=("The bakery",),
        ),
        "seed": Key(
            PlainNumber(0, MOST_SEED, whole=True), "The number from which the call is drawn.", write="seed: 12"
        ),
        "difficulty": Key(
            PlainNumber(1, 4, whole=True), "From 1, one clear fault, to 4, two mild ones.", write="difficulty: 2"
        ),
        "mode": Key(OneOf({"cooling": "", "heating": ""}), "What the system is doing.", write="mode: cooling"),
        "minutes": Key(
            PlainNumber(1, MOST_MINUTES), "The time allowed for the visit, in minutes.", write="minutes: 45"
        ),
        "complaint": Key(
            Text(numeric=True, longest=LONGEST),
            "What the customer says.",
            examples=("Not cold enough since last week",),
        ),
        "system": Key(_SYSTEM, "The system, where it is not drawn.", write="system: {refrigerant: R-410A, tons: 3}"),
        "weather": Key(_WEATHER, "Weather and air, where they are not drawn.", write="weather: {outdoor: 95 F}"),
        "faults": Key(
            ByName(
                Text(numeric=True, empty=True),
                least=1,
                word=NONE,
                known={one.cause: "A share such as 20%, or usual." for one in guises(heat_pump=True)},
            ),
            "The hidden faults by cause with their severity, or none.",
            write=_FAULTS,
        ),
    },
    "write: - seed: 12",
    rules=(
        AtLeastOne(
            ("seed", "faults"),
            Wrong("shape-missing-key", "an exercise is drawn from a seed, or names its faults", "write: seed: 12"),
        ),
        Apart(
            "difficulty",
            "faults",
            Wrong(
                "shape-clash", '"difficulty" says what is drawn, and here the faults are said', "delete one of the two"
            ),
        ),
        *(
            Needs(name, "faults", Wrong("shape-clash", f'"{name}" {_DRAWN}', f"write: {_FAULTS}, or delete it"))
            for name in ("system", "weather")
        ),
    ),
)
LIST: Final = KeyTable(
    "a list of practice calls",
    {
        "practice": Key(_TEXT, "What the list is called.", needed=True, examples=("First week",)),
        "exercises": Key(
            Listed(_EXERCISE), "The practice calls.", needed=True, write="exercises:, and below it - seed: 12"
        ),
    },
    "write: practice: First week",
)
"""The keys of a list, from which its schema for editors is made as well."""


@dataclass(frozen=True, slots=True)
class Exercise:
    """One practice call of a list. `hidden` is `None` where system and faults are drawn from the seed.

    `minutes` is the time allowed, `None` where there is no limit.
    """

    title: str
    seed: int
    difficulty: int = 1
    mode: Literal["cooling", "heating"] = "cooling"
    minutes: float | None = None
    complaint: str = ""
    wish: Wish | None = None
    hidden: tuple[Hidden, ...] | None = None


@dataclass(frozen=True, slots=True)
class ExerciseList:
    """A trainer's list."""

    title: str
    exercises: tuple[Exercise, ...]


def exercises_schema() -> Schema:
    """Return the JSON Schema of a list, for editors."""
    return schema_of_file(LIST, "A list of practice calls")


def read_exercises(path: Path) -> tuple[ExerciseList | None, list[Problem]]:
    """Read a list; with any mistake there is no list, and every mistake is told at its place. Never raises."""
    root, problems = read(path)
    return (None, sorted(problems)) if root is None else build_exercises(root, problems)


def build_exercises(root: Node, problems: list[Problem]) -> tuple[ExerciseList | None, list[Problem]]:
    """Build a list from nodes; `problems` of reading them are handed on with those found here."""
    builder = _ListBuilder([*problems, *find_mistakes(root, LIST)])
    items = root.items("exercises") if isinstance(root, Keys) else ()
    found = [builder.exercise(item, place) for place, item in enumerate(items, start=1) if isinstance(item, Keys)]
    if builder.problems or not isinstance(root, Keys):
        return None, sorted(builder.problems)
    return ExerciseList(root.line("practice"), tuple(one for one in found if one is not None)), []


@dataclass
class _ListBuilder:
    problems: list[Problem]

    def wrong(self, code: str, place: Place, message: str, hint: str | None = None) -> None:
        self.problems.append(Problem(code, place, message, hint))

    def exercise(self, item: Keys, place: int) -> Exercise | None:
        wish = self.wish(item, heating=item.text("mode") == "heating")
        hidden = self.faults(item, wish)
        pumps = {one.cause for one in guises(heat_pump=True) if one.heat_pump}
        if any(one.cause in pumps for one in hidden or ()):
            wish = replace(wish, heat_pump=True)
        # With a mistake anywhere there is no list, and what is not whole is not tried.
        if self.problems:
            return None
        one = Exercise(
            title=item.line("title") or f"exercise {place}",
            seed=int(item.text("seed") or place),
            difficulty=int(item.text("difficulty") or 1),
            mode="heating" if item.text("mode") == "heating" else "cooling",
            minutes=_number(item, "minutes", _EXERCISE),
            complaint=item.line("complaint"),
            wish=wish if hidden is not None else None,
            hidden=hidden,
        )
        self.runs(one, item)
        return one

    def wish(self, item: Keys, *, heating: bool) -> Wish:
        system, weather = item.inside("system"), item.inside("weather")
        temperature = partial(self.quantity, weather, Kind.TEMPERATURE)
        return Wish(
            refrigerant=self.refrigerant(system),
            tons=_number(system, "tons", _SYSTEM) or 3.0,
            device="fixed_orifice" if system.text("metering_device") == "fixed_orifice" else "txv",
            outdoor=temperature("outdoor", _COLD if heating else RATED_OUTDOOR),
            return_dry_bulb=temperature("return", _HEATED if heating else RATED_RETURN),
            return_wet_bulb=temperature("wet_bulb", _HEATED_WET if heating else RATED_WET_BULB),
            altitude=self.quantity(weather, Kind.LENGTH, "altitude", 0.0),
            mode="heating" if heating else "cooling",
            heat_pump=heating,
        )

    def refrigerant(self, system: Keys) -> str:
        found = system.scalar("refrigerant")
        if found is None:
            return "R-410A"
        try:
            designation = find_refrigerant(found.text.strip()).designation
            if designation in modelled_designations():
                return designation
            error = f"the practice system has {', '.join(modelled_designations())}, not {designation}."
        except CoilsideError as unknown:
            error = str(unknown)
        self.wrong("shape-value", found.mark, f"refrigerant: {error}", "write it like refrigerant: R-410A")
        return "R-410A"

    def quantity(self, keys: Keys, kind: Kind, name: str, usual: float) -> float:
        """Return what stands behind a key of the weather [SI]; as usual where it is not there or has a mistake."""
        found = keys.scalar(name)
        if found is None:
            return usual
        try:
            return parse(found.text.strip(), kind, "ft" if kind is Kind.LENGTH else None).value
        except CoilsideError as error:
            like = sample(name, _WEATHER.keys[name])
            self.wrong("shape-value", found.mark, f"{name}: {error}", f"write it like {like}")
            return usual

    def faults(self, item: Keys, wish: Wish) -> tuple[Hidden, ...] | None:
        if item.key("faults") is None:
            return None
        found = (self.fault(key, value, wish) for key, value in item.inside("faults").entries)
        return tuple(one for one in found if one is not None)

    def fault(self, key: Scalar, value: Node, wish: Wish) -> Hidden | None:
        heating, device = wish.mode == "heating", wish.device
        guise = _guise(key.text, heating=heating)
        if guise is None:
            known = list(dict.fromkeys(one.cause for one in guises(heat_pump=True, heating=heating)))
            near = nearest(key.text, known, 1)
            message = f'the practice system cannot have the fault "{shorten(key.text, 40)}" in {wish.mode}'
            hint = f"write: {near[0]}" if near else f"the faults are {', '.join(known)}"
            self.wrong("name-fault", key.mark, message, hint)
            return None
        fault = FAULTS[guise.fault]
        if fault.device and fault.device != device:
            message = f"{guise.cause} belongs to a system with {fault.device}"
            self.wrong("shape-clash", key.mark, message, f"write: system: {{metering_device: {fault.device}}}")
            return None
        # Another form is told by the table of keys.
        text = value.text.strip() if isinstance(value, Scalar) else USUAL
        try:
            return Hidden(guise.cause, _read_severity(guise.fault, text), guise.place, guise.looks[0])
        except CoilsideError as error:
            hint = f"{guise.cause}: {plain(fault.usual)} is usual; it is the {fault.severity}"
            self.wrong("shape-value", value.mark, str(error), hint)
            return None

    def runs(self, one: Exercise, item: Keys) -> None:
        """A system that is said must run, or nobody can practise on it."""
        if one.wish is None or one.hidden is None:
            return
        try:
            steady(Site(one.wish, one.hidden))
        except CoilsideError as error:
            self.wrong(
                "shape-value", item.mark, f"this system would not run: {error}", "choose milder faults or weather"
            )


def _guise(cause: str, *, heating: bool) -> Guise | None:
    known = guises(heat_pump=True, heating=heating)
    return next((one for one in known if one.cause == cause.strip()), None)


def _number(keys: Keys, name: str, table: KeyTable) -> float | None:
    """Return the number behind a key; None where there is none or it does not fit."""
    scalar = keys.scalar(name)
    found = None if scalar is None or find_mistakes(scalar, table.keys[name].form) else split(scalar.text)
    return None if found is None else found[0]


def _read_severity(name: str, text: str) -> PresentFault:
    """Return a severity as written: a share such as 20% or 0.2, or `usual`.

    Raises:
        CoilsideError: it is none, or outside what the fault can have.
    """
    fault = FAULTS[name]
    if text in ("", USUAL):
        return with_severity(fault, fault.usual)
    found = split(text) if len(text) <= 20 else None
    if found is None or found[1] not in ("", "%"):
        raise QuantityError(f"{text[:20]!r} is no share such as 20% or 0.2, and not {USUAL}.")
    return with_severity(fault, found[0] / 100.0 if found[1] == "%" else found[0])


def explain_hidden(exercise: Exercise) -> Iterator[str]:
    """Yield the hidden faults of an exercise in which they are said, one line each."""
    for one in exercise.hidden or ():
        yield f"{one.cause}: {severity_words(one.had)}"


def severity_words(one: PresentFault) -> str:
    """Return how much of a fault there is."""
    if one.fault.low == one.fault.high:
        return one.fault.severity
    return f"{f'{one.severity:.0%}' if one.fault.high <= 1.0 else f'{one.severity:.1f}'}, {one.fault.severity}"
