"""What a call is walked with: the catalogue and the trees."""

from collections.abc import Mapping
from dataclasses import replace
from functools import cached_property

from assistant.call.complaint import ComplaintIndex
from assistant.call.telling import node_words
from assistant.catalogue.catalogue import Catalogue
from assistant.catalogue.layers import Replaced
from assistant.errors import UnknownNameError
from assistant.frozen import dataclass
from assistant.source.nearest import nearest
from assistant.tree.model import Head, Step, Tree


@dataclass(frozen=True)
class Library:
    """Trees that passed their checks, by name, over one catalogue.

    `trees` may read a tree when it is first wanted; `listed` then tells what a choice between them needs. `replaced`
    is what a shop's own folder has in the place of what lies below it.
    """

    catalogue: Catalogue
    trees: Mapping[str, Tree]
    listed: tuple[Head, ...] | None = None
    replaced: tuple[Replaced, ...] = ()

    @cached_property
    def heads(self) -> tuple[Head, ...]:
        """What a choice between the trees needs of each."""
        return tuple(tree.head for tree in self.trees.values()) if self.listed is None else self.listed

    @cached_property
    def complaints(self) -> ComplaintIndex:
        """The trees' complaints, to be searched."""
        same = {name: entry.same for name, entry in self.catalogue.words.items()}
        return ComplaintIndex(tuple(head for head in self.heads if head.complaints), same)

    def words_of(self, tree: Tree, node: str) -> str:
        """Say what a node of one of the trees is; worked out once, as every call that comes there says it."""
        key = (id(tree), node)
        if key not in self._words:
            # The tree is kept with its words, so that nothing else can get its identity.
            self._words[key] = (tree, node_words(tree, node, self.catalogue))
        return self._words[key][1]

    @cached_property
    def _words(self) -> dict[tuple[int, str], tuple[Tree, str]]:
        return {}

    def why_of(self, step: Step) -> tuple[str, ...]:
        """Say why a step asks: its author's words, and what the numbers of its decision tell; worked out once."""
        if id(step) not in self._whys:
            numbers = (self.catalogue.numbers.get(need.name) for need in step.decision(self.catalogue).needs)
            told = (f"{entry.title}: {entry.tells}" for entry in numbers if entry is not None)
            why = tuple(dict.fromkeys((*((step.why,) if step.why else ()), *told)))
            self._whys[id(step)] = (step, why)
        return self._whys[id(step)][1]

    @cached_property
    def _whys(self) -> dict[int, tuple[Step, tuple[str, ...]]]:
        return {}

    def tree(self, name: str) -> Tree:
        """A tree by name.

        Raises:
            UnknownNameError: there is no such tree; carries the nearest names.
        """
        if name not in self.trees:
            raise UnknownNameError("tree", name, nearest(name, self.trees))
        return self.trees[name]

    def with_usual(self, usual: Mapping[str, str]) -> "Library":
        """The same, with other usual answers to some facts, as a person has set them; `usual` has them by name."""
        facts = {
            name: replace(fact, default=usual.get(name, fact.default)) for name, fact in self.catalogue.facts.items()
        }
        return replace(self, catalogue=self.catalogue.with_entries("facts", facts))

    def with_limit_moved(self, name: str, by: float) -> "Library":
        """The same with one limit moved by so much [SI], to see what rests on it."""
        limit = self.catalogue.limits[name]
        moved = replace(limit, quantity=replace(limit.quantity, value=limit.quantity.value + by))
        return replace(self, catalogue=self.catalogue.with_entries("limits", {**self.catalogue.limits, name: moved}))
