"""A tree as frozen values. Whatever a check may complain about keeps its place in the file.

`notes` are what an author wrote to themselves: no call shows them. `title` is what a call says of a node when it tells
where a decision leads; without one, that is derived from what the node is. `written_in` is the tree from which a node
was linked in; it is empty for a tree's own nodes.
"""

from collections.abc import Mapping
from dataclasses import field
from typing import Final

from assistant.frozen import dataclass
from assistant.source.problem import Place
from assistant.tree.condition import Condition
from assistant.tree.meaning import Compared, Meaning, Need
from assistant.tree.vocabulary import Vocabulary

MODE: Final = "mode"
"""The fact that tells whether the system cools or heats; a tree that is for one of them states it."""


@dataclass(frozen=True, slots=True)
class Named:
    """A name where an author wrote it."""

    text: str
    place: Place

    def __str__(self) -> str:
        return self.text


@dataclass(frozen=True, slots=True)
class Evidence:
    """A reading, observation, fact or worked number that a leaf shows; with `change`, what a reading changed by."""

    name: str
    change: bool
    place: Place


@dataclass(frozen=True, slots=True)
class When:
    """A branch that is taken when its condition is true."""

    condition: Condition
    go: Named
    say: str | None
    place: Place


@dataclass(frozen=True, slots=True)
class CannotTell:
    """A branch that is taken when what the decision needs was answered "cannot tell"."""

    go: Named
    say: str | None
    place: Place


@dataclass(frozen=True, slots=True)
class Otherwise:
    """A branch that is taken when no other is; a step with a plain `go` has this one alone."""

    go: Named
    say: str | None
    place: Place


Branch = When | CannotTell | Otherwise


@dataclass(frozen=True, eq=False)
class Decision:
    """What the branches of a step mean, worked out once.

    `meanings` stand beside the branches, None where a branch has no condition; `needs` are those of all conditions in
    order of appearance; `unknown` is the place of the branch for what cannot be told.
    """

    meanings: tuple[Meaning | None, ...]
    needs: tuple[Need, ...]
    comparisons: tuple[Compared, ...]
    unknown: int | None


def _decision(branches: tuple[Branch, ...], vocabulary: Vocabulary) -> Decision:
    meanings = tuple(branch.condition.meaning(vocabulary) if isinstance(branch, When) else None for branch in branches)
    known = [meaning for meaning in meanings if meaning is not None]
    return Decision(
        meanings,
        tuple(dict.fromkeys(need for meaning in known for need in meaning.needs)),
        tuple(test for meaning in known for test in meaning.comparisons),
        next((place for place, branch in enumerate(branches) if isinstance(branch, CannotTell)), None),
    )


@dataclass(frozen=True, slots=True)
class Step:
    """A node with ways on.

    `whole` is False where a way on could not be read: what is then missing from the step has been reported.
    """

    name: str
    say: str | None
    why: str | None
    cautions: tuple[Named, ...]
    do: tuple[Named, ...]
    ask: tuple[Named, ...]
    measure_again: tuple[Named, ...]
    branches: tuple[Branch, ...]
    whole: bool
    place: Place
    notes: tuple[Named, ...] = ()
    title: str | None = None
    written_in: str = ""
    _decided: list[tuple[Vocabulary, Decision]] = field(init=False, default_factory=list, compare=False, repr=False)

    @property
    def conditions(self) -> tuple[Condition, ...]:
        """The conditions of the branches, in order."""
        return tuple(branch.condition for branch in self.branches if isinstance(branch, When))

    def decision(self, vocabulary: Vocabulary) -> Decision:
        """Give what the branches mean; it is worked out once for a vocabulary."""
        if not self._decided or self._decided[0][0] is not vocabulary:
            self._decided[:] = [(vocabulary, _decision(self.branches, vocabulary))]
        return self._decided[0][1]


@dataclass(frozen=True, slots=True)
class Use:
    """A node that hands over to the whole tree called `tree`; a cause found there ends the call.

    The ways are the nodes of this tree at which the call goes on when that tree ends without a fault or undecided;
    without one, the call ends there. Linking replaces these nodes, so no call comes to one.
    """

    name: str
    tree: Named
    when_no_fault: Named | None
    when_undecided: Named | None
    say: str | None
    cautions: tuple[Named, ...]
    place: Place
    notes: tuple[Named, ...] = ()
    title: str | None = None


@dataclass(frozen=True, slots=True)
class CauseLeaf:
    """An end: a cause was found."""

    name: str
    cause: Named
    because: tuple[Evidence, ...]
    say: str | None
    cautions: tuple[Named, ...]
    place: Place
    notes: tuple[Named, ...] = ()
    written_in: str = ""


@dataclass(frozen=True, slots=True)
class NoFaultLeaf:
    """An end: nothing wrong was found; `text` is what to tell the customer."""

    name: str
    text: str
    because: tuple[Evidence, ...]
    cautions: tuple[Named, ...]
    place: Place
    notes: tuple[Named, ...] = ()
    title: str | None = None
    written_in: str = ""


@dataclass(frozen=True, slots=True)
class UndecidedLeaf:
    """An end: `text` says what is still open and what to do."""

    name: str
    text: str
    because: tuple[Evidence, ...]
    cautions: tuple[Named, ...]
    place: Place
    notes: tuple[Named, ...] = ()
    title: str | None = None
    written_in: str = ""


Leaf = CauseLeaf | NoFaultLeaf | UndecidedLeaf
Node = Step | Use | Leaf


@dataclass(frozen=True, slots=True)
class Head:
    """What a choice between trees needs of each."""

    name: str
    title: str
    complaints: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Tree:
    """One tree; `nodes` keep the order of the file.

    In a linked tree the nodes of the trees that it uses are among its own, and `parts` are the names and versions of
    these trees: two linked trees are the same edition only where these are equal as well.
    """

    name: str
    version: int
    title: str
    complaints: tuple[str, ...]
    mode: Named | None
    facts: tuple[Named, ...]
    start: Named
    nodes: Mapping[str, Node]
    path: str
    place: Place
    notes: tuple[Named, ...] = ()
    parts: tuple[tuple[str, int], ...] = ()

    @property
    def head(self) -> Head:
        """What a choice between trees needs of it."""
        return Head(self.name, self.title, self.complaints)

    @property
    def edition(self) -> str:
        """The tree with its version, and so every tree that it uses: `poor_cooling 3, valve_on_the_unit 2`."""
        return ", ".join(f"{name} {version}" for name, version in ((self.name, self.version), *self.parts))
