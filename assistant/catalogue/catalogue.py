"""The whole catalogue, and the questions that trees, worksheet and walk put to it."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import field, replace
from functools import cached_property
from itertools import chain
from typing import Any

from assistant.catalogue.entries import (
    Act,
    ActSequence,
    Cause,
    CauseSigns,
    Caution,
    Entry,
    Fact,
    Limit,
    NumberEntry,
    Observation,
    Reading,
    SameWords,
    Taking,
    WrittenStep,
)
from assistant.catalogue.unit_state import FOUND, Planner
from assistant.errors import UnknownNameError
from assistant.expecting import read_expected_name
from assistant.frozen import dataclass
from assistant.quantity import Kind, Quantity, Unit, UnitSystem
from assistant.source.nearest import nearest
from assistant.source.problem import Place

DERIVED_CHOICES: Mapping[str, tuple[str, ...]] = {"safety_group": ("A1", "A2L", "A2", "A3", "B1", "B2L", "B2", "B3")}
"""Choices that follow from other facts, and are never asked. Source: ASHRAE 34, safety groups."""
_NOTHING_ASKED = Taking()
DERIVED_FROM: Mapping[str, tuple[str, ...]] = {"safety_group": ("refrigerant",)}
"""The facts that they follow from."""


@dataclass(frozen=True)
class Catalogue:
    """Every name of the trade's knowledge, by sort, in the order of the files.

    The order of `readings` is the order in which a tech takes them. `inputs` tells what each worked number is worked
    from; the formulas are not known on this floor, so whoever has them puts it in, and without it nobody asks.
    `left_out` are names of entries that are written down with a mistake, so that nothing stands for them here.
    """

    facts: Mapping[str, Fact] = field(default_factory=dict)
    readings: Mapping[str, Reading] = field(default_factory=dict)
    observations: Mapping[str, Observation] = field(default_factory=dict)
    acts: Mapping[str, Act] = field(default_factory=dict)
    numbers: Mapping[str, NumberEntry] = field(default_factory=dict)
    limits: Mapping[str, Limit] = field(default_factory=dict)
    cautions: Mapping[str, Caution] = field(default_factory=dict)
    sequences: Mapping[str, ActSequence] = field(default_factory=dict)
    causes: Mapping[str, Cause] = field(default_factory=dict)
    signs: Mapping[str, CauseSigns] = field(default_factory=dict)
    words: Mapping[str, SameWords] = field(default_factory=dict)
    inputs: Mapping[str, Collection[str]] = field(default_factory=dict)
    left_out: frozenset[str] = field(default=frozenset(), compare=False)

    def with_entries(self, sort: str, entries: Mapping[str, Entry]) -> "Catalogue":
        """Give the same with other entries of a sort, such as `facts`."""
        changed: dict[str, Any] = {sort: entries}
        return replace(self, **changed)

    @cached_property
    def taking_order(self) -> Mapping[str, int]:
        """Rank of everything that can be asked: facts, then what is seen, then readings as a tech takes them."""
        return {name: rank for rank, name in enumerate(chain(self.facts, self.observations, self.readings))}

    def names(self, sort: str) -> Collection[str]:
        """Return all names of a sort."""
        return [*self.facts, *DERIVED_CHOICES] if sort == "fact" else self._entries(sort).keys()

    def sort_of(self, name: str) -> str | None:
        """Tell whether a name is a number, reading, observation or fact; a fact that is also a number is a number."""
        if name in self.numbers or self._is_expected(name):
            return "number"
        if name in self.readings:
            return "reading"
        if name in self.observations:
            return "observation"
        return "fact" if name in self.facts or name in DERIVED_CHOICES else None

    def kind_of(self, name: str) -> Kind | None:
        """Return the kind of a reading, worked number or fact that is a quantity, or of what is expected of one."""
        of = read_expected_name(name)
        if of is not None:
            return self.kind_of(of) if self._is_expected(name) else None
        entry = self.numbers.get(name) or self.readings.get(name) or self.facts.get(name)
        return entry.kind if entry else None

    def choices_of(self, name: str) -> tuple[str, ...] | None:
        """Return the choices of an observation or fact; `None` where any text will do, as for a refrigerant."""
        if name in DERIVED_CHOICES:
            return DERIVED_CHOICES[name]
        entry = self.observations.get(name) or self.facts.get(name)
        return tuple(entry.choices) if entry and entry.choices else None

    def limit(self, name: str) -> Quantity | None:
        """A limit as it was typed."""
        entry = self.limits.get(name)
        return entry.quantity if entry else None

    def inputs_of(self, name: str) -> Collection[str] | None:
        """What a worked number or derived fact may be worked from; empty for what is asked, `None` if not known."""
        if name in DERIVED_CHOICES:
            return DERIVED_FROM[name]
        return self.inputs.get(name) if name in self.numbers or self._is_expected(name) else ()

    def _is_expected(self, name: str) -> bool:
        """Tell whether a name is that of an expected value that there is a formula for."""
        of = read_expected_name(name)
        if of is None or (of not in self.readings and of not in self.numbers):
            return False
        return name in self.inputs if self.inputs else True

    def acts_of(self, deed: WrittenStep) -> tuple[Act, ...]:
        """Return the acts of a step of a repair: one, or those of a sequence; what is not there is left out."""
        sequence = self.sequences.get(deed.do)
        names = sequence.acts if sequence else (deed.do,)
        return tuple(self.acts[name] for name in names if name in self.acts)

    def cautions_of_cause(self, name: str) -> Collection[str]:
        """Return the cautions that stand at the acts of a cause's repair."""
        cause = self.causes.get(name)
        acts = [act for deed in cause.repair for act in self.acts_of(deed)] if cause else []
        return tuple(dict.fromkeys(caution for act in acts for caution in act.cautions))

    def act_texts(self, name: str) -> tuple[str, str]:
        """What an act is called, and how it is done; empty for one that is not there."""
        act = self.acts.get(name)
        return (act.title, act.how) if act else ("", "")

    def cautions_of_act(self, name: str) -> Collection[str]:
        """The cautions that come before an act."""
        act = self.acts.get(name)
        return act.cautions if act else ()

    def taking(self, name: str) -> Taking:
        """What it asks for to take a reading or to look at something; nothing for a fact."""
        entry = self.readings.get(name) or self.observations.get(name)
        return entry.taking if entry else _NOTHING_ASKED

    @cached_property
    def between(self) -> tuple[Act, ...]:
        """The acts that a call puts in by itself."""
        return tuple(act for act in self.acts.values() if act.between)

    @cached_property
    def worked(self) -> dict[str, Any]:
        """What was worked out of the whole catalogue and is kept, by what it is called."""
        return {}

    @cached_property
    def planner(self) -> Planner:
        """Finds which of them lead to what is needed."""
        return Planner(self.between)

    def cautions_of_taking(self, name: str) -> tuple[str, ...]:
        """Return the cautions of a reading or an observation, behind those of the acts that lead to the state it needs.

        The unit is taken to run, as a tech finds it.
        """
        taking = self.taking(name)
        acts = self.planner.plan(FOUND, taking.needs) or ()
        before = chain.from_iterable(self.acts[act].cautions for act in acts)
        return tuple(dict.fromkeys((*before, *taking.cautions)))

    def words_of_caution(self, name: str) -> tuple[str, ...]:
        """Return the phrases that ask for a caution."""
        caution = self.cautions.get(name)
        return caution.words if caution else ()

    def is_irreversible(self, caution: str) -> bool:
        """Tell whether what is done under a caution cannot be taken back."""
        entry = self.cautions.get(caution)
        return entry is not None and entry.irreversible

    def place_of(self, sort: str, name: str) -> Place | None:
        """Return where a name is written down; `None` where it follows from others."""
        entry: Entry | None = self._entries(sort).get(name)
        return entry.place if entry else None

    def _entries(self, sort: str) -> Mapping[str, Entry]:
        match sort:
            case "fact":
                return self.facts
            case "reading":
                return self.readings
            case "observation":
                return self.observations
            case "act":
                return self.acts
            case "number":
                return self.numbers
            case "limit":
                return self.limits
            case "caution":
                return self.cautions
            case "sequence":
                return self.sequences
            case "cause":
                return self.causes
            case "signs":
                return self.signs
            case "words":
                return self.words
            case _:
                raise ValueError(f"no such sort of name: {sort}")

    def title_of(self, name: str) -> str:
        """Return how a screen calls anything that can be asked or worked."""
        expected = read_expected_name(name)
        if expected is not None:
            return f"{self.title_of(expected)} of a sound unit"
        for sort in (self.numbers, self.readings, self.observations, self.facts):
            if name in sort:
                return str(sort[name].title)
        return name.replace("_", " ")

    def unit_of(self, name: str, system: UnitSystem) -> Unit:
        """Return the unit in which a reading, worked number or fact is shown.

        Raises:
            UnknownNameError: the name is no quantity.
        """
        name = read_expected_name(name) or name
        entry = self.numbers.get(name) or self.readings.get(name) or self.facts.get(name)
        if entry is None or not entry.units:
            known = chain(self.readings, self.numbers)
            raise UnknownNameError("reading or worked number", name, nearest(name, known))
        return entry.units[system]

    def has_joined(self, cautions: Iterable[str]) -> bool:
        """Tell whether some refrigerant adds a caution to these."""
        wanted = set(cautions)
        return any(wanted & set(other.joins) for other in self.cautions.values())

    def with_joined(self, cautions: Iterable[str], safety_group: str | None) -> tuple[str, ...]:
        """Return the cautions in order, each once, with those that a flammable or toxic refrigerant adds right behind.

        Without a safety group, as when nobody can tell the refrigerant, all of those are added.
        """
        wanted: dict[str, None] = {}
        for name in cautions:
            wanted[name] = None
            for other in self.cautions.values():
                if name in other.joins and (safety_group is None or safety_group in other.safety_groups):
                    wanted[other.name] = None
        return tuple(wanted)
