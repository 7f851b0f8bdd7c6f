"""Working numbers from what is known, and telling what is still lacking."""

from collections.abc import Iterator

from assistant.doubt import Uncertain
from assistant.errors import CoilsideError
from assistant.frozen import dataclass
from assistant.thermo.refrigerants import find_refrigerant
from assistant.worksheet.expected_formulas import EXPECTED
from assistant.worksheet.formula import Formula
from assistant.worksheet.formulas import FORMULAS, formula_for
from assistant.worksheet.known import Known


@dataclass(frozen=True)
class Worked:
    """A number with the work behind it: `value` in SI with its doubt, and the inputs that went in."""

    name: str
    value: Uncertain
    formula: Formula
    inputs: tuple[tuple[str, Uncertain | str], ...]


@dataclass(frozen=True)
class Refused:
    """A number that cannot honestly be worked, though all that it needs was told: `error` says why."""

    name: str
    error: CoilsideError


class Sheet:
    """The worked numbers at one point of a call. Each is worked once, when it is first wanted.

    `earlier` is the sheet before the last answer: a number whose inputs are the same objects still is taken over.
    """

    def __init__(self, known: Known, earlier: "Sheet | None" = None) -> None:
        self.known = known
        self._done: dict[str, Worked | Refused | None] = {}
        self._kept = earlier._to_keep(known) if earlier else {}

    def _to_keep(self, known: Known) -> dict[str, Worked]:
        """Give what may be taken over at the same site with the same refrigerant, what was kept before among it."""
        same_site = self.known.altitude == known.altitude
        if not same_site or self.known.choices.get("refrigerant") != known.choices.get("refrigerant"):
            return {}
        return self._kept | {name: done for name, done in self._done.items() if isinstance(done, Worked)}

    def number(self, name: str) -> Worked | Refused | None:
        """Return a worked number by name; `None` when something that it needs is not known.

        Raises:
            KeyError: no worked number of that name.
        """
        if name not in self._done:
            self._done[name] = self._work(name)
        return self._done[name]

    def value(self, name: str) -> Uncertain | None:
        """Return the value [SI] of a reading, a fact or a worked number; `None` when there is none."""
        if name in FORMULAS:
            worked = self.number(name)
            return worked.value if isinstance(worked, Worked) else None
        return self.known.quantities.get(name)

    def lacking(self, name: str) -> tuple[str, ...]:
        """What has not been asked yet and a number needs; nothing when an answer to it is already out of reach."""
        wanted = tuple(dict.fromkeys(self._wanted(name)))
        blocked = any(name in self.known.asked and not self._has(name) for name in self._required(name))
        return () if blocked else tuple(name for name in wanted if name not in self.known.asked)

    def awaits(self, name: str) -> bool:
        """Tell whether a number could be worked now, but a fact was not asked yet that would make it a better one."""
        if name not in FORMULAS:
            return False
        formula, asked = formula_for(name, self.known), self.known.asked
        if not asked.issuperset(formula.asks):
            return True
        return any(wanted != name and wanted in FORMULAS and self.awaits(wanted) for wanted in formula.inputs)

    def needs(self, name: str) -> tuple[str, ...]:
        """The readings and facts that a number comes from on this system, each once; a reading comes from itself."""
        return tuple(dict.fromkeys(self._required(name)))

    def not_told(self, name: str) -> tuple[str, ...]:
        """What a number comes from that was not told."""
        told = self.known.quantities.keys() | self.known.choices.keys()
        return tuple(one for one in self.needs(name) if one not in told)

    def all_numbers(self) -> Iterator[Worked | Refused]:
        """Yield every number that what is known allows or forbids, in order of the formulas; none that is expected."""
        for name in FORMULAS:
            if name in EXPECTED:
                continue
            done = self.number(name)
            if done is not None:
                yield done

    def expected_numbers(self) -> Iterator[Worked | Refused]:
        """Yield what a sound unit would read, as far as what is known allows or forbids it."""
        for name in EXPECTED:
            done = self.number(name)
            if done is not None:
                yield done

    def _has(self, name: str) -> bool:
        return name in self.known.quantities or name in self.known.choices

    def _required(self, name: str) -> Iterator[str]:
        if name not in FORMULAS:
            yield name
            return
        for wanted in formula_for(name, self.known).inputs:
            if wanted == name:
                yield name
            else:
                yield from self._required(wanted)

    def _wanted(self, name: str) -> Iterator[str]:
        """Everything that is worth asking for a number, with the facts that choose between its formulas."""
        if name not in FORMULAS:
            yield name
            return
        formula = formula_for(name, self.known)
        for way in FORMULAS[name]:
            yield from way.chosen_by
        yield from formula.asks
        for wanted in formula.inputs:
            if wanted != name:
                yield from self._wanted(wanted)

    def _work(self, name: str) -> Worked | Refused | None:
        formula = formula_for(name, self.known)
        values: dict[str, Uncertain] = {}
        for wanted in formula.quantities:
            value = self.known.quantities.get(wanted) if wanted == name else self.value(wanted)
            if value is None:
                return self._refusal_of(wanted, name)
            values[wanted] = value
        kept = self._kept.get(name)
        if kept is not None and kept.formula is formula and _are_same(kept.inputs, values):
            return kept
        try:
            if "refrigerant" in formula.inputs:
                designation = self.known.choices.get("refrigerant")
                if designation is None:
                    return None
                find_refrigerant(designation)
            result = formula.compute(values, self.known)
        except CoilsideError as error:
            return Refused(name, error)
        shown = tuple((key, values.get(key, self.known.choices.get(key, ""))) for key in formula.inputs)
        return Worked(name, result, formula, shown)

    def _refusal_of(self, wanted: str, name: str) -> Refused | None:
        """Refuse a number that rests on a refused one, for the same reason."""
        if wanted == name or wanted not in FORMULAS:
            return None
        inner = self.number(wanted)
        return Refused(name, inner.error) if isinstance(inner, Refused) else None


def _are_same(inputs: tuple[tuple[str, Uncertain | str], ...], values: dict[str, Uncertain]) -> bool:
    """Tell whether the quantities among the inputs are the very objects; equal ones may have another doubt."""
    return all(values[name] is value for name, value in inputs if name in values)
