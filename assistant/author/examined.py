"""How the example calls of a tree that is being written end, as it was last saved."""

from collections.abc import Callable
from dataclasses import dataclass

from assistant.author.attempt import Attempt
from assistant.call.examples import run_example
from assistant.tree.examples import read_calls
from assistant.tree.shelf import Shelf


@dataclass(frozen=True, slots=True)
class Examined:
    """How many example calls were walked, and what is wrong with those that do not end as they must."""

    count: int
    faults: tuple[tuple[str, str], ...]

    @property
    def summary(self) -> str:
        """In as few words as a title needs."""
        return f"{self.count - len(self.faults)} of {self.count} example calls end as they must"

    @property
    def lines(self) -> tuple[str, ...]:
        """The same, and each call that fails with what is wrong with it."""
        return (f"{self.summary}.", *(f"{name}: {fault}" for name, fault in self.faults))


def examine(found: Attempt, pause: Callable[[], bool] = lambda: False) -> Examined | None:
    """Walk the example calls beside a tree; `None` where there is none, or no tree to walk.

    `pause` is called between two of them, so that a screen is not kept waiting; where it says so, it ends here.
    """
    shelf = Shelf(found.layers)
    name = found.file.stem
    if found.library is None or found.tree is None or name not in shelf.calls:
        return None
    calls, _ = read_calls(shelf.calls[name])
    faults = []
    for call in calls:
        if pause():
            return None
        result = run_example(found.library, found.tree.name, call)
        faults += [(call.name, "; ".join(result.faults))] if result.faults else []
    return Examined(len(calls), tuple(faults)) if calls else None
