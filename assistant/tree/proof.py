"""Which values make several forms true at once, or that none do: the proof behind "this can never be taken".

The search splits only where a form leaves a choice, and asks the arithmetic at every step. It is bounded: a decision
that is too large to be proven is one about which nothing is said.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import field
from fractions import Fraction
from weakref import WeakKeyDictionary

from assistant.frozen import dataclass
from assistant.tree.forms import ATMOSPHERE, All, Any, Form, NoFormError, Pick, form_of, names_in, opposite
from assistant.tree.linear import Guess, Row, UnprovenError, feasible, sample
from assistant.tree.meaning import IsOneOf
from assistant.tree.model import Decision, Step, Tree, When
from assistant.tree.vocabulary import Vocabulary

MOST_TESTS = 60
"""Tests in one decision, beyond which nothing is claimed about it."""
_MOST_SPLITS = 200
_PER_NODE = 20


@dataclass
class Effort:
    """What may still be spent on proofs: a tree made to be hard must not keep its reader waiting."""

    left: int = 2000

    @classmethod
    def for_tree(cls, tree: Tree) -> "Effort":
        """Enough for any tree that people write, however large."""
        return cls(2000 + _PER_NODE * len(tree.nodes))

    def spend(self) -> None:
        """Take one step.

        Raises:
            UnprovenError: nothing is left.
        """
        self.left -= 1
        if self.left < 0:
            raise UnprovenError


@dataclass(frozen=True, slots=True)
class Model:
    """One way for several forms to be true: what remains of the choices, and the numbers [SI]."""

    choices: Mapping[str, tuple[str, ...]]
    rows: frozenset[Row]

    def numbers(self, guess: Guess) -> dict[str, Fraction]:
        """Give values of the numbers; the atmosphere is chosen first, since all gauge pressures rest on it."""
        found = sample(self.rows, guess, (ATMOSPHERE,))
        assert found is not None
        return found


@dataclass(frozen=True, slots=True)
class Known:
    """The conditions of one decision as forms, in the order of its branches."""

    branches: tuple[tuple[When, Form], ...]


# Several rules reason about the same decision.
_KNOWN: WeakKeyDictionary[Decision, Known | None] = WeakKeyDictionary()


def gather_known(step: Step, vocabulary: Vocabulary) -> Known | None:
    """Give a decision's conditions as forms; None where a mistake or its size forbids to reason about it."""
    decision = step.decision(vocabulary)
    if decision not in _KNOWN:
        _KNOWN[decision] = _known(step, decision, vocabulary)
    return _KNOWN[decision]


def _known(step: Step, decision: Decision, vocabulary: Vocabulary) -> Known | None:
    whens = [branch for branch in step.branches if isinstance(branch, When)]
    meanings = [meaning for meaning in decision.meanings if meaning is not None]
    found = [test for meaning in meanings for test in meaning.tests]
    if not whens or len(found) > MOST_TESTS:
        return None
    free: dict[str, tuple[str, ...]] = {}
    for test in found:
        if isinstance(test, IsOneOf):
            free[test.need.name] = tuple(dict.fromkeys((*free.get(test.need.name, ()), *test.choices)))
    try:
        forms = tuple(
            (branch, form_of(meaning.root, vocabulary, free)) for branch, meaning in zip(whens, meanings, strict=True)
        )
    except NoFormError:
        return None
    return Known(forms)


def model_of(true: Iterable[Form], false: Iterable[Form], effort: Effort) -> Model | None:
    """Give a way for some forms to be true and others false, or None when there is none.

    Raises:
        UnprovenError: it was not decided within bounds.
    """
    search = _Search(effort)
    return search.run([*true, *(opposite(form) for form in false)], {}, frozenset())


def can_be(true: Iterable[Form], false: Iterable[Form], effort: Effort) -> bool:
    """Tell whether there is a way for some forms to be true and others false.

    Raises:
        UnprovenError: it was not decided within bounds.
    """
    return _are_apart([*true, *false]) or model_of(true, false, effort) is not None


def _are_apart(forms: list[Form]) -> bool:
    """Tell whether no name is in two tests, so that each of the tests, and with it each form, can be true or false."""
    seen: set[str] = set()
    waiting = list(forms)
    while waiting:
        form = waiting.pop()
        match form:
            case All() | Any():
                waiting.extend(form.parts)
                continue
            case Row():
                names = [name for name, _ in form.terms]
            case Pick():
                names = [form.name] if 0 < len(form.allowed) < len(form.all) else []
        if not names or not seen.isdisjoint(names):
            return False
        seen.update(names)
    return True


def shadows(earlier: list[tuple[When, Form]], form: Form, effort: Effort) -> list[When] | None:
    """Give the branches, as few as may be, that take everything that a later one would; None when something is left.

    Raises:
        UnprovenError: it was not decided within bounds.
    """
    # Branches that share no name with this one, directly or through others, take either all that it would or nothing.
    near = _near(earlier, form)
    if can_be([form], [other for _, other in near], effort):
        near = [item for item in earlier if item not in near]
        if not near or can_be([form], [other for _, other in near], effort):
            return None
    for branch, other in near:
        if not can_be([form], [other], effort):
            return [branch]
    kept = list(near)
    for item in near:
        fewer = [other for other in kept if other is not item]
        if not can_be([form], [other for _, other in fewer], effort):
            kept = fewer
    return [branch for branch, _ in kept]


def _near(earlier: list[tuple[When, Form]], form: Form) -> list[tuple[When, Form]]:
    names = names_in(form)
    near: list[tuple[When, Form]] = []
    waiting = [(item, names_in(item[1])) for item in earlier]
    grown = True
    while grown:
        grown = False
        for entry in list(waiting):
            if entry[1] & names:
                names |= entry[1]
                near.append(entry[0])
                waiting.remove(entry)
                grown = True
    return [item for item in earlier if item in near]


@dataclass
class _Search:
    effort: Effort
    splits: int = field(default=0)

    def run(self, goals: list[Form], choices: Mapping[str, tuple[str, ...]], rows: frozenset[Row]) -> Model | None:
        chosen = dict(choices)
        wanted = set(rows)
        either: list[Any] = []
        for form in _flat(goals):
            match form:
                case Row():
                    wanted.add(form)
                case Pick():
                    left = tuple(c for c in chosen.get(form.name, form.all) if c in form.allowed)
                    if not left:
                        return None
                    chosen[form.name] = left
                case _:
                    either.append(form)
        if len(wanted) > len(rows) and not self._feasible(wanted):
            return None
        now = frozenset(wanted)
        open_parts = [self._open_parts(form, chosen, now) for form in either]
        waiting = [parts for parts in open_parts if parts is not None]
        if not waiting:
            return Model(chosen, now)
        # What has the fewest ways left is settled first; without any, this way is at its end.
        waiting.sort(key=len)
        for part in waiting[0]:
            self.splits += 1
            if self.splits > _MOST_SPLITS:
                raise UnprovenError
            found = self.run([part, *(Any(parts) for parts in waiting[1:])], chosen, now)
            if found is not None:
                return found
        return None

    def _open_parts(
        self, form: Any, chosen: Mapping[str, tuple[str, ...]], rows: frozenset[Row]
    ) -> tuple[Form, ...] | None:
        """Give the parts of which one must still hold, without those that no longer can; None when one does."""
        left: list[Form] = []
        for part in form.parts:
            match part:
                case Row():
                    if part in rows:
                        return None
                    if self._feasible(rows | {part}):
                        left.append(part)
                case Pick():
                    now = chosen.get(part.name, part.all)
                    if part.allowed.issuperset(now):
                        return None
                    if not part.allowed.isdisjoint(now):
                        left.append(part)
                case _:
                    left.append(part)
        return tuple(left)

    def _feasible(self, rows: Iterable[Row]) -> bool:
        self.effort.spend()
        return feasible(rows)


def _flat(goals: Iterable[Form]) -> Iterator[Row | Pick | Any]:
    for goal in goals:
        if isinstance(goal, All) or (isinstance(goal, Any) and len(goal.parts) == 1):
            yield from _flat(goal.parts)
        else:
            yield goal
