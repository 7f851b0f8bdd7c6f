"""Taking a catalogue entry's keys apart, with a problem at the right place for everything that does not fit."""

import re
from collections.abc import Mapping as MappingOf

from assistant.catalogue.entries import Accuracy
from assistant.catalogue.keys import REFRIGERANT, Keys
from assistant.errors import QuantityError
from assistant.quantity import (
    Kind,
    Quantity,
    Unit,
    UnitSystem,
    difference_of,
    parse,
    preferred_unit,
    unit_named,
    unit_names,
)
from assistant.source.nearest import nearest
from assistant.source.nodes import Mapping, Node, Scalar, Sequence
from assistant.source.problem import Place, Problem, shortened

NAME = re.compile(r"[a-z][a-z0-9_]*")
"""What an entry may be called, so that a condition can name it."""
CHOICE = re.compile(r"[A-Za-z0-9_][A-Za-z0-9_.\-]*")
"""What a choice may be called."""


class Fields:
    """The keys of one entry. Whatever is missing or wrong becomes a problem and a harmless stand-in value.

    Which keys there are, and which must be there, is said by `keys`.
    """

    def __init__(self, name: str, node: Node, problems: list[Problem], keys: Keys) -> None:
        self.name = name
        self.problems = problems
        self.keys = keys
        self.node = node if isinstance(node, Mapping) else Mapping((), node.mark)
        if not isinstance(node, Mapping):
            self._note("shape-form", node.mark, f"{name} needs its keys below it", "title: ...")

    @property
    def place(self) -> Place:
        """Where the entry stands."""
        return self.node.mark

    def _note(self, code: str, place: Place, message: str, hint: str | None = None) -> None:
        self.problems.append(Problem(code, place, message, hint))

    def check_keys(self) -> None:
        """Report every key that does not belong here."""
        for key, _ in self.node.entries:
            if key.text not in self.keys:
                near = nearest(key.text, self.keys)
                hint = f"write {' or '.join(near)}" if near else f"keys here: {', '.join(self.keys)}"
                self._note("shape-unknown-key", key.mark, f"{self.name} has no key {shortened(key.text)!r}", hint)

    def _scalar(self, key: str, needed: bool) -> Scalar | None:
        found = self.node.get(key)
        if isinstance(found, Scalar) and found.text.strip():
            return found
        if found is not None:
            self._note("shape-form", found.mark, f"{key} of {self.name} is a text", f"{key}: ...")
        elif needed:
            self._note("shape-missing-key", self.place, f"{self.name} has no {key}", f"{key}: ...")
        return None

    def text(self, key: str) -> str:
        """A text on one line; empty when it is not there."""
        found = self._scalar(key, self.keys[key].needed)
        return " ".join(found.text.split()) if found else ""

    def texts(self, key: str) -> tuple[str, ...]:
        """A list of texts; a single text counts as a list of one."""
        return tuple(" ".join(item.text.split()) for item in self.scalars(key))

    def scalars(self, key: str) -> tuple[Scalar, ...]:
        """A list of texts with their places."""
        found, needed = self.node.get(key), self.keys[key].needed
        if found is None:
            if needed:
                self._note("shape-missing-key", self.place, f"{self.name} has no {key}", f"{key}: [...]")
            return ()
        items = found.items if isinstance(found, Sequence) else (found,)
        if needed and not items:
            self._note("shape-empty", found.mark, f"{key} of {self.name} is an empty list", f"{key}: [...]")
        good = tuple(item for item in items if isinstance(item, Scalar) and item.text.strip())
        for item in items:
            if item not in good:
                # In a list, words with a colon behind them are keys to YAML.
                hint = 'put text that contains ": " in quotes' if isinstance(item, Mapping) else f"{key}: [...]"
                self._note("shape-form", item.mark, f"{key} of {self.name} is a list of texts", hint)
        return good

    def flag(self, key: str) -> bool:
        """Whether a key is there with `yes`."""
        found = self._scalar(key, needed=False)
        if found is None or found.text in ("yes", "no"):
            return found is not None and found.text == "yes"
        self._note("shape-form", found.mark, f"{key} of {self.name} is yes or no", f"{key}: yes")
        return False

    def choices(self, key: str = "choices") -> MappingOf[str, str]:
        """The names of choices with the words that a tech sees."""
        found = self.node.get(key)
        if found is None:
            if self.keys[key].needed:
                message = f"{self.name} has no {key}"
                self._note("shape-missing-key", self.place, message, "choices: {clean: ..., dirty: ...}")
            return {}
        if not isinstance(found, Mapping):
            first = found.items[0] if isinstance(found, Sequence) and found.items else None
            name = shortened(first.text) if isinstance(first, Scalar) and CHOICE.fullmatch(first.text) else "clean"
            message = f"{key} of {self.name} are names, each with the words that a tech sees"
            self._note("shape-form", found.mark, message, f"write, without a dash: {name}: ...")
            return {}
        if len(found.entries) < 2:
            message = f"{self.name} needs at least two choices"
            self._note("shape-form", found.mark, message, "choices: {clean: ..., dirty: ...}")
        return {name.text: self._choice(name, value) for name, value in found.entries}

    def _choice(self, name: Scalar, value: Node) -> str:
        if CHOICE.fullmatch(name.text) is None:
            message = f"{shortened(name.text)!r} cannot be a choice: letters, digits, _, - and . make one"
            self._note("shape-name", name.mark, message, "write, for example: badly_iced")
        if isinstance(value, Scalar) and value.text.strip():
            return " ".join(value.text.split())
        message = f"the choice {shortened(name.text)} needs the words that a tech sees"
        self._note("shape-form", name.mark, message, f"{shortened(name.text)}: ...")
        return ""

    def kind(self, key: str = "kind") -> Kind | None:
        """A kind by its name."""
        found = self._scalar(key, needed=True)
        if found is None:
            return None
        if found.text in Kind.__members__.values():
            return Kind(found.text)
        known = [*Kind, REFRIGERANT] if self.keys[key].form == "fact_kind" else [*Kind]
        near = [kind for kind in known if kind.startswith(found.text)] or nearest(found.text, known)
        hint = f"write {' or '.join(near)}" if near else f"kinds: {', '.join(known)}"
        self._note("kind-unknown", found.mark, f"there is no kind {shortened(found.text)!r}", hint)
        return None

    def units(self, kind: Kind) -> MappingOf[UnitSystem, Unit]:
        """The units in which the entry is asked and shown: `unit` (US) and `si_unit`, each the usual one if absent."""
        return {"us": self._unit("unit", kind, "us"), "si": self._unit("si_unit", kind, "si")}

    def _unit(self, key: str, kind: Kind, system: UnitSystem) -> Unit:
        usual = preferred_unit(kind, system)
        found = self.node.get(key)
        if not isinstance(found, Scalar):
            if found is not None:
                self._note("shape-form", found.mark, f"{key} of {self.name} is a text", f"{key}: {usual.symbol}")
            return usual
        unit = unit_named(found.text, kind)
        if unit is None:
            known = ", ".join(name for name in unit_names(kind) if name)
            message = f"{shortened(found.text)!r} is no unit of {kind.words.removeprefix('an ').removeprefix('a ')}"
            self._note("kind-unit", found.mark, message, f"write one of {known}")
        return unit or usual

    def quantity(self, key: str, kind: Kind, default_unit: str | None = None) -> Quantity | None:
        """A quantity with its unit."""
        found = self._scalar(key, needed=True)
        return None if found is None else self.parsed(found, kind, default_unit)

    def parsed(self, scalar: Scalar, kind: Kind, default_unit: str | None = None) -> Quantity | None:
        """One scalar as a quantity."""
        try:
            return parse(scalar.text, kind, default_unit)
        except QuantityError as error:
            self._note("kind-value", scalar.mark, str(error))
            return None

    def span(self, key: str, kind: Kind) -> tuple[Quantity, Quantity] | None:
        """Two quantities, the lower one first."""
        items, found = self.scalars(key), self.node.get(key)
        if found is not None and (not isinstance(found, Sequence) or len(found.items) != 2):
            unit = preferred_unit(kind, "us").symbol
            hint = f"{key}: [lowest {unit}, highest {unit}]"
            self._note("shape-form", found.mark, f"{key} of {self.name} are two values in brackets", hint)
            return None
        ends = [self.parsed(item, kind) for item in items]
        return (ends[0], ends[1]) if len(ends) == 2 and ends[0] is not None and ends[1] is not None else None

    def accuracy(self, key: str, kind: Kind, source: str) -> Accuracy | None:
        """An accuracy such as `3.5 psi` or `0.1 % + 1.3 F`."""
        found = self._scalar(key, self.keys[key].needed)
        if found is None:
            return None
        fraction, fixed = 0.0, 0.0
        for part in found.text.split("+"):
            of = Kind.FRACTION if "%" in part else difference_of(kind)
            piece = self.parsed(Scalar(part.strip(), found.mark), of)
            if piece is not None and of is Kind.FRACTION:
                fraction += piece.value
            elif piece is not None:
                fixed += piece.value
        return Accuracy(fraction, fixed, found.text.strip(), source)
