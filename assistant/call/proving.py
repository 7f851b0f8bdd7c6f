"""After a repair: the readings before and after, and whether the tree still comes to the same cause."""

from collections.abc import Iterator, Mapping, Sequence

from assistant.call.decision import Flip, Picked, Wanting, close_calls, pick, values_of
from assistant.call.evidence import known_text
from assistant.call.state import State
from assistant.call.telling import condition_words, node_words
from assistant.call.turns import BeforeAfter, Rechecked, Verified
from assistant.catalogue.catalogue import Catalogue
from assistant.frozen import dataclass
from assistant.tree.evaluation import evaluate
from assistant.tree.model import CauseLeaf, Leaf, NoFaultLeaf, Step, Tree, UndecidedLeaf, When
from assistant.worksheet.formulas import FORMULAS
from assistant.worksheet.showing import Display

_UNTOLD = "cannot tell"

# A way that goes round longer than this has left the way of the call long ago.
_LONGEST = 200


@dataclass(frozen=True, slots=True)
class Taken:
    """A decision as it was taken on the way: the branch, and the comparisons that counted as their opposite."""

    step: Step
    picked: Picked
    flips: frozenset[Flip]


@dataclass(frozen=True)
class Proof:
    """A repair to be judged: the way to the `leaf` by step, what was known then, what is known now.

    `again` are the names that were to be measured again; what could not be is not in `after`.
    """

    tree: Tree
    leaf: CauseLeaf
    way: Mapping[str, Taken]
    before: State
    after: State
    again: tuple[str, ...]
    display: Display

    @property
    def catalogue(self) -> Catalogue:
        """What the names mean."""
        return self.display.catalogue

    @property
    def missing(self) -> tuple[str, ...]:
        """What was to be measured again and could not be."""
        known = self.after.quantities.keys() | self.after.choices.keys()
        return tuple(name for name in self.again if name not in known)

    def rests_on(self, step: Step, names: Sequence[str]) -> bool:
        """Whether a decision looks at any of some readings, or at a number that comes from one."""
        wanted = (need.name for need in step.decision(self.catalogue).needs if need.sort != "change")
        return any(name in names for need in wanted for name in self.inputs(need))

    def inputs(self, name: str) -> tuple[str, ...]:
        """What a name comes from; a reading or an observation comes from itself."""
        return self.before.sheet.needs(name) if name in FORMULAS else (name,)


def together(proof: Proof) -> tuple[str, ...]:
    """What is to be measured again, with every reading that stands in one number of the way with any of it.

    A number from a reading after the repair and one before it would be a number of no system at all.
    """
    names = dict.fromkeys(proof.again)
    decisions = [taken.step.decision(proof.catalogue) for taken in proof.way.values()]
    numbers = dict.fromkeys(need.name for decision in decisions for need in decision.needs)
    readings = [
        [name for name in proof.inputs(number) if name in proof.catalogue.readings and name in proof.before.quantities]
        for number in numbers
        if number in FORMULAS
    ]
    grew = True
    while grew:
        fresh = [name for group in readings if names.keys() & set(group) for name in group if name not in names]
        names.update(dict.fromkeys(fresh))
        grew = bool(fresh)
    seen = [name for name in names if name not in proof.catalogue.readings]
    return (*seen, *(name for name in proof.catalogue.readings if name in names))


def verified(proof: Proof) -> Verified:
    """What the readings after a repair say of it."""
    readings = tuple(_rows(proof))
    if len(proof.missing) == len(proof.again):
        return Verified(proof.leaf.name, readings, (), "Nothing could be measured again, so nothing is proven.", None)
    conditions = tuple(_conditions(proof))
    verdict, checks_out = _verdict(proof)
    if any(condition.is_close for condition in conditions):
        verdict += " It is a close call: the measurement cannot really decide it. Let it run on and measure again."
        checks_out = None
    return Verified(proof.leaf.name, readings, conditions, verdict, checks_out)


def _rows(proof: Proof) -> Iterator[BeforeAfter]:
    """What was measured again, and the numbers of the evidence and of the deciding conditions that rest on it."""
    for name in proof.again:
        yield _row(proof, name)
    named = [item.name for item in proof.leaf.because if not item.change]
    for taken in _looked_at_again(proof):
        named += [need.name for need in taken.step.decision(proof.catalogue).needs]
    for name in dict.fromkeys(named):
        is_new = name in FORMULAS and any(item in proof.again for item in proof.inputs(name))
        if is_new and proof.before.quantity(name) is not None:
            yield _row(proof, name)


def _row(proof: Proof, name: str) -> BeforeAfter:
    before, after = (known_text(name, state, proof.display) for state in (proof.before, proof.after))
    return BeforeAfter(proof.catalogue.title_of(name), before or _UNTOLD, after or _UNTOLD)


def _looked_at_again(proof: Proof) -> Iterator[Taken]:
    return (taken for taken in proof.way.values() if proof.rests_on(taken.step, proof.again))


def _conditions(proof: Proof) -> Iterator[Rechecked]:
    """The conditions that decided on the way, as far as they rest on what was measured again."""
    for taken in _looked_at_again(proof):
        now = pick(taken.step, proof.after)
        was, goes = taken.picked.branch.go.text, now.branch.go.text if isinstance(now, Picked) else None
        meanings = taken.step.decision(proof.catalogue).meanings
        is_close = isinstance(now, Picked) and _is_close(proof, taken.step, now)
        for index, before in taken.picked.evaluations:
            meaning = meanings[index]
            if meaning is None or _only_passed(taken.picked, index):
                continue
            again = evaluate(meaning, proof.after)
            yield Rechecked(
                condition_words(meaning.root, proof.display),
                _verdict_of(before.truth, values_of(before.comparisons, proof.display)),
                _verdict_of(again.truth, values_of(again.comparisons, proof.display)),
                node_words(proof.tree, was, proof.catalogue),
                None if goes is None else node_words(proof.tree, goes, proof.catalogue),
                goes == was,
                is_close,
            )


def _only_passed(picked: Picked, index: int) -> bool:
    """Whether a condition was only passed on the way to a branch further down that held."""
    return isinstance(picked.branch, When) and index != picked.index


def _is_close(proof: Proof, step: Step, picked: Picked) -> bool:
    return bool(close_calls(step, proof.after, picked, frozenset(), proof.display, proof.tree))


def _verdict_of(truth: bool | None, values: str) -> str:
    word = {True: "yes", False: "no", None: _UNTOLD}[truth]
    return f"{word} ({values})" if values else word


def _verdict(proof: Proof) -> tuple[str, bool | None]:
    """The verdict in words, and whether the repair checks out."""
    title = proof.catalogue.causes[proof.leaf.cause.text].title
    end = _end(proof)
    no_more = f"The readings no longer lead to: {title}."
    untold = ", ".join(proof.catalogue.title_of(name) for name in proof.missing)
    match end:
        case CauseLeaf() if end.cause.text == proof.leaf.cause.text:
            return f"By the readings it still is: {title}. The repair is not proven.", False
        case CauseLeaf():
            other = proof.catalogue.causes[end.cause.text].title
            return f"{no_more} They lead to another cause now: {other}.", False
        case NoFaultLeaf():
            return f"{no_more} The tree finds no fault now.", True
        case UndecidedLeaf():
            return f"{no_more} The tree ends undecided now: {end.text}", None
        case str():
            return f"{no_more} The tree would now ask for: {end}.", True
        case _:
            lacking = f" without: {untold}" if untold else ""
            return f"Where the readings lead now cannot be told{lacking}.", None


def _end(proof: Proof) -> Leaf | str | None:
    """Where the tree leads by the new readings: an end, the title of what it would ask next, or nowhere known.

    A decision that looks at nothing new goes as it did; a change is not measured anew, so it counts as it was.
    """
    at = proof.tree.start.text
    if at not in proof.way:
        # A call that began at a node of its own has no way from the tree's start.
        at = next(iter(proof.way), proof.leaf.name)
    for _ in range(_LONGEST):
        node = proof.tree.nodes[at]
        if not isinstance(node, Step):
            return node if isinstance(node, Leaf) else None
        taken = proof.way.get(at)
        if proof.rests_on(node, proof.missing):
            return None
        if taken is not None and not proof.rests_on(node, proof.again):
            at = taken.picked.branch.go.text
            continue
        picked = pick(node, proof.after)
        if isinstance(picked, Wanting):
            return proof.catalogue.title_of(picked.names[0])
        if picked is None:
            return None
        at = picked.branch.go.text
    return None
