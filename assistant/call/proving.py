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
    """Judge a repair by the readings after it: whether this cause is gone, and apart from that what else they ask."""
    readings, name = tuple(_rows(proof)), proof.leaf.name
    if len(proof.missing) == len(proof.again):
        return Verified(name, readings, (), "Nothing could be measured again, so nothing is proven.", "", None, None)
    gone, conditions = _is_gone(proof), tuple(_conditions(proof))
    title = proof.catalogue.causes[proof.leaf.cause.text].title
    if gone is None and proof.missing:
        verdict = f"Without {_missing(proof)} it cannot be told whether it still is: {title}."
    elif gone is None:
        verdict = f"It is a close call whether it still is: {title}. Let it run on and measure again."
    else:
        verdict = f"The readings no longer lead to: {title}." if gone else f"By the readings it still is: {title}."
    beyond, checks_out = _beyond(proof) if gone else ("", gone)
    return Verified(name, readings, conditions, verdict, beyond, gone, checks_out)


def _is_gone(proof: Proof) -> bool | None:
    """Tell whether the way to the cause is left beyond doubt at any of its decisions; `None` where it hangs on a doubt.

    A doubt counts only where the other side of it would lead back to the cause, or away from it when nothing else does.
    """
    is_open = False
    for taken in _looked_at_again(proof):
        was, now = taken.picked.branch.go.text, pick(taken.step, proof.after)
        if not isinstance(now, Picked) or proof.rests_on(taken.step, proof.missing):
            is_open = True
            continue
        others = {other.branch.go.text for other in _other_ways(proof, taken.step, now)}
        if now.branch.go.text != was and was not in others:
            return True
        is_open = is_open or now.branch.go.text != was or bool(others)
    return None if is_open else False


def _other_ways(proof: Proof, step: Step, picked: Picked) -> Iterator[Picked]:
    """The branches of a decision to which a comparison inside its doubt would lead the other way."""
    for _, kept, _ in close_calls(step, proof.after, picked, frozenset(), proof.display, proof.tree):
        other = pick(step, proof.after, kept.flips)
        if isinstance(other, Picked):
            yield other


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
        is_close = isinstance(now, Picked) and any(_other_ways(proof, taken.step, now))
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


def _verdict_of(truth: bool | None, values: str) -> str:
    word = {True: "yes", False: "no", None: _UNTOLD}[truth]
    return f"{word} ({values})" if values else word


def _beyond(proof: Proof) -> tuple[str, bool | None]:
    """What the readings ask beyond the cause that is gone, in words, and whether the repair checks out."""
    end, is_close = _end(proof)
    open_still = " That is a close call: let it run on and measure again before you act on it." if is_close else ""
    match end:
        case CauseLeaf():
            other = proof.catalogue.causes[end.cause.text].title
            return f"They lead to another cause now: {other}.{open_still}", None if is_close else False
        case NoFaultLeaf():
            return "The tree finds no fault now.", True
        case UndecidedLeaf():
            return f"The tree ends undecided now: {end.text}", None
        case str():
            return f"The tree would now ask for: {end}.", True
        case _:
            lacking = f" without {_missing(proof)}" if proof.missing else ""
            return f"Where the readings lead now cannot be told{lacking}.", None


def _missing(proof: Proof) -> str:
    return ", ".join(proof.catalogue.title_of(name) for name in proof.missing)


def _end(proof: Proof) -> tuple[Leaf | str | None, bool]:
    """Where the tree leads by the new readings: an end, the title of what it would ask next, or nowhere known.

    With it, whether a doubt on that way would lead elsewhere. A decision that looks at nothing new goes as it did; a
    change is not measured anew, so it counts as it was.
    """
    at, is_close = proof.tree.start.text, False
    if at not in proof.way:
        # A call that began at a node of its own has no way from the tree's start.
        at = next(iter(proof.way), proof.leaf.name)
    for _ in range(_LONGEST):
        node = proof.tree.nodes[at]
        if not isinstance(node, Step):
            return (node if isinstance(node, Leaf) else None), is_close
        taken = proof.way.get(at)
        if proof.rests_on(node, proof.missing):
            break
        if taken is not None and not proof.rests_on(node, proof.again):
            at = taken.picked.branch.go.text
            continue
        picked = pick(node, proof.after)
        if isinstance(picked, Wanting):
            return proof.catalogue.title_of(picked.names[0]), is_close
        if picked is None:
            break
        is_close = is_close or any(_other_ways(proof, node, picked))
        at = picked.branch.go.text
    return None, is_close
