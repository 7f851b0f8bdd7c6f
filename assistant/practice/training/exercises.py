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

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any, Final, Literal, cast

from assistant.errors import CoilsideError, InputError, QuantityError
from assistant.practice.visit.site import Guise, Hidden, Site, guises, steady
from assistant.quantity import Kind, fahrenheit, parse, plain, split
from assistant.simulator.faults import FAULTS, Had, had
from assistant.simulator.plant import RATED_OUTDOOR, RATED_RETURN, RATED_WET_BULB
from assistant.simulator.system import Wish
from assistant.simulator.vapour import modelled
from assistant.source.nearest import nearest
from assistant.source.nodes import Mapping as Keys
from assistant.source.nodes import Node, Scalar, read
from assistant.source.nodes import Sequence as List
from assistant.source.problem import Place, Problem, shortened
from assistant.thermo.refrigerants import find

NONE: Final = "none"
USUAL: Final = "usual"
LONGEST: Final = 200
"""Characters of a title or a complaint."""
MOST_SEED: Final = 999_999_999
MOST_MINUTES: Final = 600.0
_COLD, _HEATED, _HEATED_WET = fahrenheit(47.0), fahrenheit(70.0), fahrenheit(56.0)
"""Weather of an exercise in heating: outdoors and return air as for the rating of a heat pump, wet bulb chosen [K]."""

_Sort = Literal["text", "whole", "number", "choice", "temperature", "length", "refrigerant", "keys"]


@dataclass(frozen=True, slots=True)
class Key:
    """What stands behind a key: its sort, what it says, how it is written; a whole number has bounds."""

    sort: _Sort
    says: str
    example: str
    choices: tuple[str, ...] = ()
    low: float = 0.0
    high: float = 0.0


EXERCISE: Final[Mapping[str, Key]] = {
    "title": Key("text", "What the exercise is called; it should not tell the fault.", "title: The bakery"),
    "seed": Key("whole", "The number from which the call is drawn.", "seed: 12", (), 0, MOST_SEED),
    "difficulty": Key("whole", "From 1, one clear fault, to 4, two mild ones.", "difficulty: 2", (), 1, 4),
    "mode": Key("choice", "What the system is doing.", "mode: cooling", ("cooling", "heating")),
    "minutes": Key("number", "The time allowed for the visit, in minutes.", "minutes: 45", (), 1, MOST_MINUTES),
    "complaint": Key("text", "What the customer says.", "complaint: Not cold enough since last week"),
    "system": Key("keys", "The system, where it is not drawn.", "system: {refrigerant: R-410A, tons: 3}"),
    "weather": Key("keys", "Weather and air, where they are not drawn.", "weather: {outdoor: 95 F}"),
    "faults": Key("keys", "The hidden faults by cause with their severity, or none.", "faults: {undercharge: 20%}"),
}  # fmt: skip
SYSTEM: Final[Mapping[str, Key]] = {
    "refrigerant": Key("refrigerant", "One that the practice system has.", "refrigerant: R-410A"),
    "tons": Key("number", "Net cooling at the rating point.", "tons: 3", (), 1.5, 5),
    "metering_device": Key("choice", "What feeds the indoor coil.", "metering_device: txv", ("txv", "fixed_orifice")),
}
WEATHER: Final[Mapping[str, Key]] = {
    "outdoor": Key("temperature", "Air that enters the outdoor coil.", "outdoor: 95 F"),
    "return": Key("temperature", "Return air, dry bulb.", "return: 80 F"),
    "wet_bulb": Key("temperature", "Return air, wet bulb.", "wet_bulb: 67 F"),
    "altitude": Key("length", "Of the site.", "altitude: 600 ft"),
}


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


def read_exercises(path: Path) -> tuple[ExerciseList | None, list[Problem]]:
    """Read a list; with any mistake there is no list, and every mistake is told at its place. Never raises."""
    root, problems = read(path)
    reader = _Reader(Place(str(path)), list(problems))
    found = reader.list(root) if root is not None else None
    return (None if reader.problems else found), sorted(reader.problems)


@dataclass
class _Reader:
    whole: Place
    problems: list[Problem] = field(default_factory=list)

    def wrong(self, code: str, place: Place, message: str, hint: str | None = None) -> None:
        self.problems.append(Problem(code, place, message, hint))

    def list(self, root: Node) -> ExerciseList | None:
        if not isinstance(root, Keys):
            self.wrong(
                "shape-form", root.mark, "a list of practice calls holds keys and values", "practice: First week"
            )
            return None
        self.keys(root, ("practice", "exercises"), "a list of practice calls")
        title, items = root.get("practice"), root.get("exercises")
        if not isinstance(title, Scalar) or not title.text.strip():
            place = title.mark if title is not None else self.whole
            self.wrong("shape-missing-key", place, "the list has no name", "write: practice: First week")
        if not isinstance(items, List) or not items.items:
            place = items.mark if items is not None else self.whole
            self.wrong(
                "shape-missing-key", place, "the list has no exercises", "write: exercises:, and below it - seed: 12"
            )
            return None
        found = [self.exercise(item, place) for place, item in enumerate(items.items, start=1)]
        name = _line(title) if isinstance(title, Scalar) else ""
        return ExerciseList(name, tuple(one for one in found if one is not None))

    def keys(self, node: Keys, allowed: tuple[str, ...], what: str) -> None:
        for key, _ in node.entries:
            if key.text not in allowed:
                near = nearest(key.text, allowed, 1)
                message = f'"{shortened(key.text, 40)}" is no key of {what}; the keys are {", ".join(allowed)}'
                self.wrong("shape-unknown-key", key.mark, message, f"write: {near[0]}" if near else None)

    def exercise(self, item: Node, place: int) -> Exercise | None:
        if not isinstance(item, Keys) or not item.entries:
            self.wrong("shape-form", item.mark, "an exercise holds keys and values", "write: - seed: 12")
            return None
        before = len(self.problems)
        self.keys(item, tuple(EXERCISE), "an exercise")
        values = {name: self.value(item, name, EXERCISE[name]) for name in EXERCISE if EXERCISE[name].sort != "keys"}
        wish = self.wish(item, heating=values["mode"] == "heating")
        hidden = self.faults(item, wish)
        pumps = {one.cause for one in guises(heat_pump=True) if one.heat_pump}
        if any(one.cause in pumps for one in hidden or ()):
            wish = replace(wish, heat_pump=True)
        self.fits(item)
        if len(self.problems) > before:
            return None
        one = Exercise(
            title=cast(str, values["title"]) or f"exercise {place}",
            seed=int(values["seed"] if values["seed"] is not None else place),
            difficulty=int(values["difficulty"] or 1),
            mode=cast(Literal["cooling", "heating"], values["mode"] or "cooling"),
            minutes=cast("float | None", values["minutes"]),
            complaint=cast(str, values["complaint"]) or "",
            wish=wish if hidden is not None else None,
            hidden=hidden,
        )
        self.runs(one, item)
        return one

    def fits(self, item: Keys) -> None:
        """Which keys go together."""
        faults = item.key("faults")
        if faults is None:
            for name in ("system", "weather"):
                if (key := item.key(name)) is not None:
                    message = f'"{name}" says what is drawn otherwise, so the faults must be said too'
                    self.wrong("shape-clash", key.mark, message, f"write: {EXERCISE['faults'].example}, or delete it")
            if item.key("seed") is None:
                message = "an exercise is drawn from a seed, or names its faults"
                self.wrong("shape-missing-key", item.mark, message, "write: seed: 12")
        elif (key := item.key("difficulty")) is not None:
            message = '"difficulty" says what is drawn, and here the faults are said'
            self.wrong("shape-clash", key.mark, message, "delete one of the two")

    def value(self, owner: Keys, name: str, key: Key) -> Any:
        """What stands behind a key; `None` where it is not there or has a mistake."""
        node = owner.get(name)
        if node is None:
            return None
        if not isinstance(node, Scalar) or not node.text.strip():
            self.wrong("shape-form", node.mark, f'"{name}" is one value', f"write: {key.example}")
            return None
        try:
            return _value(_line(node), key)
        except CoilsideError as error:
            self.wrong("shape-value", node.mark, f"{name}: {error}", f"write it like {key.example}")
            return None

    def inside(self, item: Keys, name: str, keys: Mapping[str, Key]) -> dict[str, Any]:
        node = item.get(name)
        if node is None:
            return {}
        if not isinstance(node, Keys) or not node.entries:
            self.wrong("shape-form", node.mark, f'"{name}" holds keys and values', f"write: {EXERCISE[name].example}")
            return {}
        self.keys(node, tuple(keys), f'"{name}"')
        found = {one: self.value(node, one, key) for one, key in keys.items()}
        return {one: value for one, value in found.items() if value is not None}

    def wish(self, item: Keys, *, heating: bool) -> Wish:
        system, weather = self.inside(item, "system", SYSTEM), self.inside(item, "weather", WEATHER)
        return Wish(
            refrigerant=system.get("refrigerant", "R-410A"),
            tons=system.get("tons", 3.0),
            device=system.get("metering_device", "txv"),
            outdoor=weather.get("outdoor", _COLD if heating else RATED_OUTDOOR),
            return_dry_bulb=weather.get("return", _HEATED if heating else RATED_RETURN),
            return_wet_bulb=weather.get("wet_bulb", _HEATED_WET if heating else RATED_WET_BULB),
            altitude=weather.get("altitude", 0.0),
            mode="heating" if heating else "cooling",
            heat_pump=heating,
        )

    def faults(self, item: Keys, wish: Wish) -> tuple[Hidden, ...] | None:
        node = item.get("faults")
        if node is None:
            return None
        if isinstance(node, Scalar) and node.text.strip() == NONE:
            return ()
        if not isinstance(node, Keys) or not node.entries:
            message = '"faults" names causes, each with how much of it, or says none'
            self.wrong("shape-form", node.mark, message, f"write: {EXERCISE['faults'].example}")
            return ()
        found = (self.fault(key, value, wish) for key, value in node.entries)
        return tuple(one for one in found if one is not None)

    def fault(self, key: Scalar, value: Node, wish: Wish) -> Hidden | None:
        heating, device = wish.mode == "heating", wish.device
        guise = _guise(key.text, heating=heating)
        if guise is None:
            known = list(dict.fromkeys(one.cause for one in guises(heat_pump=True, heating=heating)))
            near = nearest(key.text, known, 1)
            message = f'the practice system cannot have the fault "{shortened(key.text, 40)}" in {wish.mode}'
            hint = f"write: {near[0]}" if near else f"the faults are {', '.join(known)}"
            self.wrong("name-fault", key.mark, message, hint)
            return None
        fault = FAULTS[guise.fault]
        if fault.device and fault.device != device:
            message = f"{guise.cause} belongs to a system with {fault.device}"
            self.wrong("shape-clash", key.mark, message, f"write: system: {{metering_device: {fault.device}}}")
            return None
        text = _line(value) if isinstance(value, Scalar) else "?"
        try:
            return Hidden(guise.cause, _had(guise.fault, text), guise.place, guise.looks[0])
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


def _line(node: Scalar) -> str:
    return " ".join(node.text.split())


def _value(text: str, key: Key) -> Any:
    """A text as the value of a key.

    Raises:
        CoilsideError: it is none.
    """
    match key.sort:
        case "text":
            if len(text) > LONGEST:
                raise InputError(f"it has more than {LONGEST} characters.")
            return text
        case "choice":
            if text not in key.choices:
                raise InputError(f"{text[:40]!r} is none of {', '.join(key.choices)}.")
            return text
        case "temperature":
            return parse(text, Kind.TEMPERATURE).value
        case "length":
            return parse(text, Kind.LENGTH, "ft").value
        case "refrigerant":
            designation = find(text).designation
            if designation not in modelled():
                raise InputError(f"the practice system has {', '.join(modelled())}, not {designation}.")
            return designation
        case _:
            return _number(text, key)


def _number(text: str, key: Key) -> float:
    found = split(text) if len(text) <= 20 else None
    is_whole = found is not None and found[0] == int(found[0])
    if found is None or found[1] or not key.low <= found[0] <= key.high or (key.sort == "whole" and not is_whole):
        what = "whole number" if key.sort == "whole" else "number"
        raise InputError(f"{text[:20]!r} is no {what} from {plain(key.low)} to {plain(key.high)}.")
    return found[0]


def _had(name: str, text: str) -> Had:
    """A severity as written: a share such as 20% or 0.2, or `usual`.

    Raises:
        CoilsideError: it is none, or outside what the fault can have.
    """
    fault = FAULTS[name]
    if text in ("", USUAL):
        return had(fault, fault.usual)
    found = split(text) if len(text) <= 20 else None
    if found is None or found[1] not in ("", "%"):
        raise QuantityError(f"{text[:20]!r} is no share such as 20% or 0.2, and not {USUAL}.")
    return had(fault, found[0] / 100.0 if found[1] == "%" else found[0])


def explained(exercise: Exercise) -> Iterator[str]:
    """The hidden faults of an exercise in which they are said, one line each."""
    for one in exercise.hidden or ():
        yield f"{one.cause}: {severity_words(one.had)}"


def severity_words(one: Had) -> str:
    """How much of a fault there is."""
    if one.fault.low == one.fault.high:
        return one.fault.severity
    return f"{f'{one.severity:.0%}' if one.fault.high <= 1.0 else f'{one.severity:.1f}'}, {one.fault.severity}"
