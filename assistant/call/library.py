"""What a call is walked with: the catalogue and the trees."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from assistant.call.complaint import ComplaintIndex
from assistant.catalogue.catalogue import Catalogue
from assistant.errors import UnknownNameError
from assistant.source.nearest import nearest
from assistant.tree.model import Tree


@dataclass(frozen=True)
class Library:
    """Trees that passed their checks, by name, over one catalogue."""

    catalogue: Catalogue
    trees: Mapping[str, Tree]

    @cached_property
    def complaints(self) -> ComplaintIndex:
        """The trees' complaints, to be searched."""
        same = {name: entry.same for name, entry in self.catalogue.words.items()}
        return ComplaintIndex(tuple(self.trees.values()), same)

    def tree(self, name: str) -> Tree:
        """A tree by name.

        Raises:
            UnknownNameError: there is no such tree; carries the nearest names.
        """
        if name not in self.trees:
            raise UnknownNameError("tree", name, nearest(name, self.trees))
        return self.trees[name]
