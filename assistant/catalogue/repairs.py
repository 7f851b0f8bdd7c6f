"""A repair and its proof as what a tech does, act after act, with what the states of the unit ask for between them."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from assistant.catalogue.catalogue import Catalogue
from assistant.catalogue.entries import Act, Cause, Caution, WrittenStep
from assistant.catalogue.unit_state import FOUND, UnitState, holds_already


@dataclass(frozen=True, slots=True)
class GuardedAct:
    """An act with its cautions: all, those to be told whole in front of it, and those that come back.

    What was in front of the act before as well is not told once more.
    """

    act: Act
    cautions: tuple[Caution, ...]
    first: tuple[Caution, ...]
    again: tuple[Caution, ...]


@dataclass(frozen=True, slots=True)
class RepairStep:
    """One step: what it is called, what is particular here, and its acts, of which a sequence has several.

    `is_put_in` tells that no author wrote it: what comes next needs the state that it makes.
    """

    title: str
    say: str
    acts: tuple[GuardedAct, ...]
    is_put_in: bool = False

    @property
    def minutes(self) -> float:
        """How long it takes [min]."""
        return sum(one.act.minutes for one in self.acts)


@dataclass(frozen=True, slots=True)
class RepairPlan:
    """A repair and its proof in order, and the names of acts to whose state nothing leads."""

    repair: tuple[RepairStep, ...]
    proof: tuple[RepairStep, ...]
    stuck: tuple[str, ...] = ()

    @property
    def acts(self) -> tuple[Act, ...]:
        """Every act of both, in order."""
        return tuple(one.act for step in (*self.repair, *self.proof) for one in step.acts)

    @property
    def cautions(self) -> tuple[Caution, ...]:
        """The cautions of both, each once, in order."""
        steps = (*self.repair, *self.proof)
        return tuple(dict.fromkeys(caution for step in steps for one in step.acts for caution in one.cautions))


def plan_repair(
    catalogue: Catalogue,
    cause: Cause,
    state: UnitState = FOUND,
    safety_group: str | None = None,
    held: Iterable[str] = (),
) -> RepairPlan:
    """Return the acts of a cause's repair and proof, begun in a state of the unit.

    Cautions that are `held` were acknowledged just before. A flammable refrigerant adds cautions; without a safety
    group, as when nobody can tell it, all of them are added.
    """
    planning = _Planning(catalogue, safety_group, state, set(held))
    repair = planning.plan(cause.repair)
    proof = planning.plan(cause.prove)
    return RepairPlan(repair, proof, tuple(planning.stuck))


def usual_plan(catalogue: Catalogue, cause: Cause) -> RepairPlan:
    """Return the plan of a repair on a unit as it is found, whatever the refrigerant; worked once for a catalogue."""
    name = f"repair of {cause.name}"
    if name not in catalogue.worked:
        catalogue.worked[name] = plan_repair(catalogue, cause)
    plan: RepairPlan = catalogue.worked[name]
    return plan


@dataclass
class _Planning:
    """A plan while it is made: the state of the unit so far, and the cautions that were met."""

    catalogue: Catalogue
    safety_group: str | None
    state: UnitState
    met: set[str]
    last: frozenset[str] = frozenset()
    stuck: list[str] = field(default_factory=list)

    def plan(self, deeds: Sequence[WrittenStep]) -> tuple[RepairStep, ...]:
        steps: list[RepairStep] = []
        for deed in deeds:
            sequence = self.catalogue.sequences.get(deed.do)
            if sequence is not None:
                acts = [one for act in self.catalogue.acts_of(deed) for one in (*self._between(act), self._do(act))]
                steps.append(RepairStep(sequence.title, deed.say, tuple(acts)))
                continue
            for act in self.catalogue.acts_of(deed):
                put_in = self._between(act)
                steps.extend(RepairStep(one.act.title, "", (one,), is_put_in=True) for one in put_in)
                steps.append(RepairStep(act.title, deed.say, (self._do(act),)))
        return tuple(steps)

    def _between(self, act: Act) -> list[GuardedAct]:
        """Do what stands between the state of the unit and what an act needs."""
        chain = () if holds_already(self.state, act) else self.catalogue.planner.plan(self.state, act.needs)
        if chain is None:
            self.stuck.append(act.name)
        return [self._do(self.catalogue.acts[name]) for name in chain or ()]

    def _do(self, act: Act) -> GuardedAct:
        self.state = self.state.after(act)
        wanted = self.catalogue.with_joined(act.cautions, self.safety_group)
        # A catalogue that is being written may name some that are not there; its check tells.
        cautions = tuple(self.catalogue.cautions[name] for name in wanted if name in self.catalogue.cautions)
        first = tuple(one for one in cautions if one.name not in self.met)
        again = tuple(one for one in cautions if one.name in self.met - self.last)
        self.met.update(wanted)
        self.last = frozenset(wanted)
        return GuardedAct(act, cautions, first, again)
