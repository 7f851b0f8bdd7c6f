"""What a call is walked with: the catalogue and the trees."""

from collections.abc import Mapping
from dataclasses import replace
from functools import cached_property

from assistant.call.complaint import ComplaintIndex
from assistant.catalogue.catalogue import Catalogue
from assistant.catalogue.layers import Replaced
from assistant.errors import UnknownNameError
from assistant.frozen import dataclass
from assistant.source.nearest import nearest
from assistant.tree.model import Head, Tree


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
        return ComplaintIndex(self.heads, same)

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
