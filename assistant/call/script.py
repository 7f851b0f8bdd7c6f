"""The script of a call: a generator that gives prompts and turns, and is sent the answer to each prompt.

Nothing here knows where answers come from. A prompt is given out, its answer comes back as a value that fits it; a
turn is given out and nothing comes back.
"""

from collections.abc import Generator, Iterable
from dataclasses import field
from typing import Final, assert_never

from assistant.call.answers import ALL_TREES, Acted, Chosen, HoldsUp, MeasureFirst, Remeasure, Value, write_value
from assistant.call.asking import (
    ask_any_tree,
    ask_complaint,
    ask_tree,
    check_out,
    close_call,
    node_at,
    settle,
)
from assistant.call.decision import Flip, Grounds, Kept, Picked, Wanting, close_calls, pick
from assistant.call.evidence import evidence_lines, measured
from assistant.call.gathering import Asking, Gathering
from assistant.call.keys import NodeAt
from assistant.call.prompts import Prompt
from assistant.call.proving import Proof, Taken, together, verified
from assistant.call.state import State
from assistant.call.turns import (
    CameBack,
    Concluded,
    Decided,
    NothingWrong,
    NumberMissing,
    Repair,
    Told,
    Turn,
    Undecided,
)
from assistant.catalogue.repairs import plan_repair
from assistant.errors import UnknownNameError
from assistant.frozen import dataclass
from assistant.source.nearest import nearest
from assistant.tree.evaluation import evaluate
from assistant.tree.meaning import Meaning
from assistant.tree.model import (
    MODE,
    CauseLeaf,
    Leaf,
    NoFaultLeaf,
    Step,
    Tree,
    UndecidedLeaf,
    Use,
    When,
)
from assistant.worksheet.formulas import FORMULAS
from assistant.worksheet.sheet import Refused
from assistant.worksheet.showing import refusal

MOST_VISITS: Final = 25
"""Times a call may come through one node: after so many, going on helps nobody."""

_WHY_A_FACT: Final = ("It stays the same for the whole call, and what is asked later rests on it.",)


@dataclass(frozen=True, slots=True)
class Outcome:
    """How a call ended: `kind` is cause, no_fault or undecided; `proven` is what the tech said of the repair."""

    kind: str
    cause: str | None = None
    proven: bool | None = None


@dataclass(frozen=True, slots=True)
class Start:
    """Where a call begins without a complaint: at a `node` of a tree; `None` is the tree's own start.

    `known` are names that are asked in front of the node, as the way to it would have asked them.
    """

    tree: str
    node: str | None = None
    known: tuple[str, ...] = ()


@dataclass
class Script(Gathering):
    """One run through a call. `play` is the generator; the other fields can be read while it runs."""

    start: Start | None = None
    tree: Tree | None = None
    kept: list[Kept] = field(default_factory=list)
    close_calls: list[Kept] = field(default_factory=list)
    outcome: Outcome | None = None
    _way: dict[str, Taken] = field(default_factory=dict)
    _kept_truth: dict[tuple[str, Flip], bool] = field(default_factory=dict)

    def play(self) -> Asking:
        """The whole call, from the complaint, or from where it is to start, to its end.

        Raises:
            UnknownNameError: there is no such tree or node to start at.
        """
        tree = self.library.tree(self.start.tree) if self.start else (yield from self._choose_tree())
        self.tree = tree
        if tree.mode is not None:
            self.state.take(MODE, Chosen(tree.mode.text))
        yield from self._ask_each((fact.text for fact in tree.facts), _WHY_A_FACT)
        begin = tree.start.text
        if self.start is not None:
            begin = self.start.node or begin
            if begin not in tree.nodes:
                raise UnknownNameError("node", begin, nearest(begin, tree.nodes))
            yield from self._ask_each(self.start.known, ("The way to the step where this call begins asks for it.",))
        node: str | None = begin
        while node is not None:
            node = yield from self._node(tree, node)

    def _choose_tree(self) -> Generator[Prompt | Turn, Value, Tree]:
        complaint = write_value((yield ask_complaint()))
        chosen = yield ask_tree(self.library.heads, self.library.complaints.matches(complaint))
        while chosen == Chosen(ALL_TREES):
            chosen = yield ask_any_tree(self.library.heads)
        assert isinstance(chosen, Chosen)
        return self.library.tree(chosen.name)

    def _node(self, tree: Tree, name: str) -> Generator[Prompt | Turn, Value, str | None]:
        """One node; gives the next one's name, or `None` at the end of the call."""
        node = tree.nodes[name]
        self.state.visits[name] = self.state.visits.get(name, 0) + 1
        if self.state.visits[name] > MOST_VISITS:
            yield Undecided(
                name, f"This is the {MOST_VISITS + 1}th time round; nothing new is learned.", self.state.untold
            )
            self.outcome = Outcome("undecided")
            return None
        if isinstance(node, Step):
            return (yield from self._step(tree, node))
        if isinstance(node, Use):
            raise ValueError(f"{name}: only linked trees can be walked")
        return (yield from self._end(tree, node))

    def _step(self, tree: Tree, step: Step) -> Generator[Prompt | Turn, Value, str | None]:
        self._here = tuple(map(str, step.cautions))
        at = node_at(tree, step)
        yield from self._caution(step.cautions, at, step.name)
        if step.say:
            yield Told(step.name, step.say)
        names = [named.text for named in step.measure_again]
        not_taken = [name for name in names if name not in self.state.asked]
        yield from self._ask_each(
            not_taken, (*self.library.why_of(step), "It is measured before the step, to see what changes.")
        )
        done = True
        for act in step.do:
            done = done and (yield from self._do(act.text, at, step.name, (step.why,) if step.why else ()))
        is_new = self.state.visits[step.name] > 1
        # Of a step that could not be done, nothing is asked: its decision goes the way of what cannot be told.
        for named in step.ask if done else ():
            is_fact = named.text in self.library.catalogue.facts
            if named.text not in self.state.asked or (is_new and not is_fact):
                why = self.library.why_of(step) or (_WHY_A_FACT if is_fact else ())
                yield from self._ask(named.text, why, again=is_new and not is_fact, is_stale=True)
        if done:
            for name in names:
                self.state.mark_baseline(name)
                yield from self._ask(name, self.library.why_of(step), again=True, is_stale=True)
        return (yield from self._decide(step, at, frozenset(), could_do=done))

    def _decide(
        self, step: Step, at: NodeAt, flips: frozenset[Flip], could_do: bool = True
    ) -> Generator[Prompt | Turn, Value, str | None]:
        """Ask for what the decision lacks, take a branch, and stop at a close call."""
        while True:
            picked = pick(step, self.state, flips, skip_to_unknown=not could_do)
            if isinstance(picked, Wanting):
                yield from self._ask(picked.names[0], self.library.why_of(step))
                continue
            if picked is None:
                text = f"The tree has no way on from here ({self._words(step.name)}). Its author should be told."
                yield Undecided(step.name, text, self.state.untold)
                self.outcome = Outcome("undecided")
                return None
            yield from self._show_numbers(step, picked)
            again = yield from self._offer_again(step, at, picked, flips)
            if again is None:
                break
            yield from self._ask(again, self.library.why_of(step), again=True)
        branch = picked.branch
        self._way[step.name] = Taken(step, picked, flips)
        here, way = self._words(step.name), self._words(branch.go.text)
        grounds = Grounds(step, picked, dict(self.state.choices), self.display)
        yield Decided(step.name, branch.go.text, here, way, grounds, picked.index)
        if branch.say:
            yield Told(step.name, branch.say)
        return branch.go.text

    def _offer_again(
        self, step: Step, at: NodeAt, picked: Picked, flips: frozenset[Flip]
    ) -> Generator[Prompt | Turn, Value, str | None]:
        """At a close call, the reading that is to be measured again, or `None` to go on with the other way kept."""
        assert self.tree is not None
        found = close_calls(step, self.state, picked, flips, self.display, self.tree)
        if not found:
            return None
        catalogue = self.library.catalogue
        names: dict[str, None] = {}
        for _, kept, _ in found:
            for index, _ in kept.flips - flips:
                names.update(dict.fromkeys(self._readings_of(step, index)))
        readings = [reading for name, reading in catalogue.readings.items() if name in names]
        leanings = tuple(leaning for leaning, _, _ in found)
        prompt = close_call(step, at, self._words(picked.branch.go.text), leanings, readings)
        reply = yield prompt
        if isinstance(reply, Remeasure):
            return reply.name
        for _, kept, comparison in found:
            for flip in kept.flips - flips:
                self._kept_truth[step.name, flip] = not comparison.holds
            # Coming through the same node again keeps the same way once, as it reads now.
            self.kept = [way for way in self.kept if (way.node, way.flips) != (kept.node, kept.flips)]
            self.kept.append(kept)
            self.close_calls.append(kept)
        return None

    def _readings_of(self, step: Step, index: int) -> Iterable[str]:
        for need in self._meaning(step, index).needs:
            yield from self.state.sheet.needs(need.name)

    def _meaning(self, step: Step, index: int) -> Meaning:
        meaning = step.decision(self.library.catalogue).meanings[index]
        assert meaning is not None
        return meaning

    def _words(self, node: str) -> str:
        assert self.tree is not None
        return self.library.words_of(self.tree, node)

    def _show_numbers(self, step: Step, picked: Picked) -> Asking:
        """Show each worked number that the branches so far are about, when it is new or has changed."""
        for index, _ in picked.evaluations:
            for need in self._meaning(step, index).needs:
                if need.name in FORMULAS:
                    yield from self._show_number(need.name, step)
        if not isinstance(picked.branch, When):
            yield from self._show_refused(step)

    def _show_refused(self, step: Step) -> Asking:
        for meaning in step.decision(self.library.catalogue).meanings:
            for need in meaning.needs if meaning is not None else ():
                found = self.state.sheet.number(need.name) if need.name in FORMULAS else None
                if isinstance(found, Refused):
                    yield NumberMissing(found, refusal(found, self.display))

    def _end(self, tree: Tree, leaf: Leaf) -> Generator[Prompt | Turn, Value, str | None]:
        """An end of the tree; gives the node of a kept way when this end does not hold up."""
        at = node_at(tree, leaf)
        yield from self._caution(leaf.cautions, at, leaf.name)
        match leaf:
            case CauseLeaf():
                holds = yield from self._cause(tree, at, leaf)
            case NoFaultLeaf():
                yield NothingWrong(leaf.name, leaf.text)
                holds = yield from self._holds_up(at, leaf, "Does that fit what you see?")
                self.outcome = Outcome("no_fault")
            case UndecidedLeaf():
                yield Undecided(leaf.name, leaf.text, self.state.untold)
                holds = yield from self._holds_up(at, leaf, "Leave it there?")
                self.outcome = Outcome("undecided")
            case _:
                assert_never(leaf)
        if holds is not False or not self.kept:
            return None
        return (yield from self._come_back(tree))

    def _cause(self, tree: Tree, at: NodeAt, leaf: CauseLeaf) -> Generator[Prompt | Turn, Value, bool | None]:
        cause = self.library.catalogue.causes[leaf.cause.text]
        if leaf.say:
            yield Told(leaf.name, leaf.say)
        against = tuple(kept.text for kept in self.close_calls)
        look_alikes = tuple((self._title(look.cause), look.tell) for look in cause.looks_like)
        evidence = tuple(evidence_lines(leaf.because, self.state, self.display))
        yield Concluded(leaf.name, cause, evidence, against, look_alikes)
        # Where nobody asked for the refrigerant, the worst is told, as where nobody knows it.
        group, held = self.state.sheet.known.safety_group, frozenset(self._minded)
        repair = Repair(cause, plan_repair(self.library.catalogue, cause, safety_group=group, held=held))
        yield repair
        proven = yield from self._proven(tree, at, leaf, repair)
        self.outcome = Outcome("cause", cause.name, proven)
        if proven is False and not self.kept:
            others = "; ".join(f"{title}: {tell}" for title, tell in look_alikes)
            text = f"It was not {cause.title.lower()}, and no other way was kept open. What looks alike: {others}"
            yield Undecided(leaf.name, text, self.state.untold)
            self.outcome = Outcome("undecided")
        return proven

    def _proven(
        self, tree: Tree, at: NodeAt, leaf: CauseLeaf, repair: Repair
    ) -> Generator[Prompt | Turn, Value, bool | None]:
        """Whether the repair is proven, as the tech says; the readings can be taken again first, to see."""
        before = self.state.copy()
        named = measured(leaf.because, before)
        names = together(Proof(tree, leaf, dict(self._way), before, before, named, self.display))
        titles = tuple(self.library.catalogue.title_of(name) for name in names)
        ways = tuple(dict.fromkeys(f"{act.title}: {act.how}" for act in repair.plan.acts))
        question = "Repaired and measured again: is it proven?"
        while isinstance(
            reply := (yield check_out(at, leaf.name, question, len(self.kept), titles, ways)), MeasureFirst
        ):
            # A repair lies between: what guards the measuring is read anew.
            self._just_met.clear()
            after = yield from self._measured_again(at, leaf, names)
            if after is not None:
                yield verified(Proof(tree, leaf, dict(self._way), before, after, names, self.display))
        self._just_met.clear()
        return _holds(reply)

    def _measured_again(
        self, at: NodeAt, leaf: CauseLeaf, names: tuple[str, ...]
    ) -> Generator[Prompt | Turn, Value, State | None]:
        """What is known after a repair, without what could not be measured again; `None` when it has not settled."""
        guards = dict.fromkeys(caution for name in names for caution in self._guards[name])
        yield from self._caution(guards, at, leaf.name)
        if (yield settle(at, leaf.name)) == Acted(is_done=False):
            return None
        self._just_met.clear()
        why = ("Beside what was read before the repair, it shows what the repair did.",)
        for name in names:
            yield from self._ask(name, why, again=True, is_stale=True)
        return self.state.copy()

    def _title(self, cause: str) -> str:
        return self.library.catalogue.causes[cause].title

    def _holds_up(self, at: NodeAt, leaf: Leaf, question: str) -> Generator[Prompt | Turn, Value, bool | None]:
        """Ask whether an end other than a cause holds up, where another way is open."""
        if not self.kept:
            return None
        return _holds((yield check_out(at, leaf.name, question, len(self.kept))))

    def _come_back(self, tree: Tree) -> Generator[Prompt | Turn, Value, str | None]:
        """Take the likeliest way that was kept."""
        kept = max(self.kept, key=lambda way: way.likelihood)
        self.kept.remove(kept)
        self.outcome = None
        step = tree.nodes[kept.node]
        assert isinstance(step, Step)
        yield CameBack(kept.node, kept.text)
        flips = frozenset(flip for flip in kept.flips if self._must_flip(step, flip))
        return (yield from self._decide(step, node_at(tree, step), flips))

    def _must_flip(self, step: Step, flip: Flip) -> bool:
        """Whether a comparison still reads the other way than the kept way takes it; a repair may have moved it."""
        index, place = flip
        comparison = evaluate(self._meaning(step, index), self.state).comparisons[place]
        return comparison.holds is not self._kept_truth[step.name, flip]


def _holds(reply: Value) -> bool | None:
    return reply.holds if isinstance(reply, HoldsUp) else None
