"""What the tree language asks of its surroundings: which names there are, and what they are worth on a call.

The language knows no catalogue and no worksheet; whatever has these methods will do.
"""

from collections.abc import Collection
from typing import Literal, Protocol

from assistant.doubt import Uncertain
from assistant.quantity import Kind, Quantity
from assistant.source.problem import Place

Sort = Literal["reading", "number", "observation", "fact", "limit", "caution", "cause", "act"]
"""What a name stands for. A name that is a fact and a worked number counts as a number."""


class Vocabulary(Protocol):
    """The names that a tree may use."""

    def names(self, sort: Sort) -> Collection[str]:
        """Give all names of a sort."""
        ...

    def sort_of(self, name: str) -> str | None:
        """Give `reading`, `number`, `observation` or `fact`; None for any other name."""
        ...

    def kind_of(self, name: str) -> Kind | None:
        """Give the kind of a reading, a worked number or a fact that is a quantity; None for any other name."""
        ...

    def choices_of(self, name: str) -> tuple[str, ...] | None:
        """Give the choices of an observation or fact; None where there are none or any text will do."""
        ...

    def limit(self, name: str) -> Quantity | None:
        """Give a limit as its author typed it; `name` is without `limits.`."""
        ...

    def inputs_of(self, name: str) -> Collection[str] | None:
        """Give what a worked number or derived fact may be worked from; empty for what is asked; None if not known."""
        ...

    def cautions_of_cause(self, name: str) -> Collection[str]:
        """Give the cautions that stand at the acts of a cause's repair."""
        ...

    def act_texts(self, name: str) -> tuple[str, str]:
        """Give what an act is called, and how it is done; empty for one that is not there."""
        ...

    def cautions_of_act(self, name: str) -> Collection[str]:
        """Give the cautions that come before an act."""
        ...

    def words_of_caution(self, name: str) -> tuple[str, ...]:
        """Give the phrases (as `assistant.source.phrases` reads them) that ask for a caution."""
        ...

    def is_irreversible(self, caution: str) -> bool:
        """Tell whether what is done under a caution cannot be taken back."""
        ...

    def place_of(self, sort: Sort, name: str) -> Place | None:
        """Give where a name is written down; None where it follows from others."""
        ...


class Values(Protocol):
    """What is known at one point of a call; whatever is unknown is None."""

    @property
    def atmosphere(self) -> float | None:
        """The atmospheric pressure of the site [Pa], which gauge pressures need."""
        ...

    def quantity(self, name: str) -> Uncertain | None:
        """Give a reading, worked number or fact [SI, pressures absolute]."""
        ...

    def choice(self, name: str) -> str | None:
        """Give the choice made for an observation or fact."""
        ...

    def change(self, name: str) -> Uncertain | None:
        """Give the last measurement of a reading minus the one before it [SI]."""
        ...
