"""Which example calls hold the limits of a tree: moved by one step, a limit must send some call to another end.

A limit that may be moved without any call failing is held by nobody: its value could be mistyped and no test would
tell.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from assistant.call.examples import ExampleResult, run_example
from assistant.call.library import Library
from assistant.call.turns import Decided
from assistant.catalogue.entries import Limit as LimitEntry
from assistant.quantity import KELVIN_PER_FAHRENHEIT, Kind
from assistant.tree.expression import Change, Compare, Limit, Quantity, tests
from assistant.tree.model import Step, Tree, When

_STEP_OF_TEMPERATURES = KELVIN_PER_FAHRENHEIT
_SHARE = 0.1


@dataclass(frozen=True, slots=True)
class Edge:
    """A limit of a tree moved by a step, up (`is_raised`) or down, and an example call that goes another way then.

    `turned` is that call, one that fails (`is_held`) if there is one; some ways come together again before the end.
    """

    limit: str
    is_raised: bool
    turned: str | None
    is_held: bool

    @property
    def words(self) -> str:
        """The edge in an author's names."""
        return f"{self.limit} {'raised' if self.is_raised else 'lowered'}"


def step_of(limit: LimitEntry) -> float:
    """How far [SI] a limit is moved: temperatures and their differences by 1 °F, all else by a tenth of itself."""
    if limit.quantity.kind in (Kind.TEMPERATURE, Kind.TEMPERATURE_DIFFERENCE):
        return _STEP_OF_TEMPERATURES
    return abs(limit.quantity.value) * _SHARE


def find_edges(library: Library, own: Tree, results: Sequence[ExampleResult]) -> Iterator[Edge]:
    """Yield both edges of each limit that the decisions of a tree compare with, for `results` of its example calls."""
    # What a used tree compares in front may settle the same.
    compared = tuple(_find_compared(library.tree(own.name)))
    for name in dict.fromkeys(one.limit for one in _find_compared(own)):
        step = step_of(library.catalogue.limits[name])
        here = [one for one in compared if one.limit == name]
        near = [result for result in reversed(results) if _is_near(result, here, step)]
        for is_raised in (True, False):
            moved = library.with_limit_moved(name, step if is_raised else -step)
            yield _edge(name, is_raised, near, moved, own.name)


def _edge(limit: str, is_raised: bool, near: Sequence[ExampleResult], moved: Library, tree: str) -> Edge:
    turned = None
    for result in near:
        after = run_example(moved, tree, result.call)
        if after.faults:
            return Edge(limit, is_raised, result.call.name, is_held=True)
        if turned is None and _way(after) != _way(result):
            turned = result.call.name
    return Edge(limit, is_raised, turned, is_held=False)


def _way(result: ExampleResult) -> list[tuple[str, int]]:
    return [(turn.node, turn.branch) for turn in result.conversation.turns if isinstance(turn, Decided)]


@dataclass(frozen=True, slots=True)
class _Compared:
    """A comparison with a limit: its node, the place of its branch, and the readings and numbers in it."""

    limit: str
    node: str
    branch: int
    names: frozenset[str]


def _find_compared(tree: Tree) -> Iterator[_Compared]:
    for node in tree.nodes.values():
        for place, branch in enumerate(node.branches if isinstance(node, Step) else ()):
            for test in tests(branch.condition.root) if isinstance(branch, When) else ():
                terms = [term for _, term in (*test.left.terms, *test.right.terms)] if isinstance(test, Compare) else []
                names = frozenset(term.name for term in terms if isinstance(term, Quantity | Change))
                for term in terms:
                    if isinstance(term, Limit):
                        yield _Compared(term.name, node.name, place, names)


def _is_near(result: ExampleResult, comparisons: Sequence[_Compared], step: float) -> bool:
    """Whether a call may come out otherwise when the limit moves by a step [SI]; others need not be walked again."""
    for turn in result.conversation.turns:
        if not isinstance(turn, Decided):
            continue
        for compared in comparisons:
            if compared.node != turn.node or compared.branch > turn.branch:
                continue
            margins = [scale.margin for scale in turn.scales if frozenset(scale.names) == compared.names]
            # Where nothing is in doubt, there is no scale to tell how near it was.
            if not margins or any(abs(margin) <= step * 1.001 for margin in margins):
                return True
    return False
