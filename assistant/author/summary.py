"""What the example calls of a tree show: which fail and where they part, what they cover, and how much they ask."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from statistics import median

from assistant.author.edges import Edge, find_edges
from assistant.author.ways import coverage
from assistant.call.examples import ExampleResult, run_example
from assistant.call.keys import Topic
from assistant.call.library import Library
from assistant.call.prompts import Acknowledge
from assistant.call.turns import Answered, Concluded, Decided, NothingWrong, Undecided
from assistant.call.walk import Conversation
from assistant.source.problem import without_controls
from assistant.tree.examples import ExampleCall
from assistant.tree.graph import links, reached, turned_around
from assistant.tree.model import CannotTell, CauseLeaf, NoFaultLeaf, Step, Tree, UndecidedLeaf, Use, When

# What comes before the tree's own questions: which complaint, which tree.
_BEFORE = (Topic.COMPLAINT, Topic.TREE)


@dataclass(frozen=True, slots=True)
class Parted:
    """The decision behind which an end could no longer be reached: the node, where it led, and its reasons."""

    node: str
    go: str
    reasons: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Failure:
    """An example call that fails: where it stands, what is wrong, and where it left the way to its end."""

    call: ExampleCall
    faults: tuple[str, ...]
    parted: Parted | None


@dataclass(frozen=True, slots=True)
class UntakenWay:
    """A branch that no example call takes, in its author's words."""

    node: str
    words: str
    go: str


@dataclass(frozen=True, slots=True)
class CallEffort:
    """How much one call asked before it came to its end: questions and steps to answer, and cautions apart."""

    call: str
    questions: int
    cautions: int


@dataclass(frozen=True)
class Summary:
    """The example calls of one tree; `reached` counts them by the cause that they come to, in used trees too."""

    tree: str
    calls: int
    failures: tuple[Failure, ...]
    causes: tuple[str, ...]
    causes_missed: tuple[str, ...]
    reached: Mapping[str, int]
    ways: int
    untaken: tuple[UntakenWay, ...]
    edges: tuple[Edge, ...]
    asked: tuple[CallEffort, ...]

    @property
    def passed(self) -> int:
        """How many calls end where they must, and use every answer."""
        return self.calls - len(self.failures)

    @property
    def loose(self) -> tuple[Edge, ...]:
        """The sides of limits that have no call near them: the limit may be moved, and each call goes as before."""
        return tuple(edge for edge in self.edges if edge.turned is None)

    @property
    def median_questions(self) -> float | None:
        """The median number of questions of a call; `None` without calls."""
        return median(one.questions for one in self.asked) if self.asked else None

    @property
    def median_cautions(self) -> float | None:
        """The median number of cautions of a call; `None` without calls."""
        return median(one.cautions for one in self.asked) if self.asked else None

    @property
    def longest(self) -> CallEffort | None:
        """The call that asks most."""
        return max(self.asked, key=lambda one: one.questions, default=None)


def summary(library: Library, written: Mapping[str, Tree], name: str, calls: Sequence[ExampleCall]) -> Summary:
    """Walk the example calls of a tree; `written` are the trees as they were read, without those that they use.

    What a tree hands over to another is that tree's to cover: only its own causes and ways count here.
    """
    own = written[name]
    results = [run_example(library, name, call) for call in calls]
    taken = coverage((result.conversation for result in results), own, written).taken
    ways = list(_ways(own))
    causes = tuple(dict.fromkeys(leaf.cause.text for leaf in own.nodes.values() if isinstance(leaf, CauseLeaf)))
    ends = {result.reached for result in results}
    return Summary(
        tree=name,
        calls=len(calls),
        failures=tuple(_failures(library.tree(name), results)),
        causes=causes,
        causes_missed=tuple(cause for cause in causes if cause not in ends),
        reached=Counter(result.reached for result in results if result.reached in library.catalogue.causes),
        ways=len(ways),
        untaken=tuple(way for place, way in ways if place not in taken),
        edges=tuple(find_edges(library, own, [result for result in results if not result.faults])),
        asked=tuple(count_asked(result.conversation, result.call.name) for result in results),
    )


def count_asked(conversation: Conversation, name: str) -> CallEffort:
    """Count what a call asks from its facts up to its first end."""
    questions = cautions = 0
    for turn in conversation.turns:
        if isinstance(turn, Concluded | NothingWrong | Undecided):
            break
        if isinstance(turn, Answered) and turn.prompt.key.topic not in _BEFORE:
            if isinstance(turn.prompt, Acknowledge):
                cautions += 1
            else:
                questions += 1
    return CallEffort(name, questions, cautions)


def _ways(tree: Tree) -> Iterator[tuple[tuple[str, int], UntakenWay]]:
    """Give every way of a tree, numbered within its node as a drawing numbers its arrows."""
    for name, node in tree.nodes.items():
        named: list[tuple[str, str]] = []
        if isinstance(node, Step):
            for branch in node.branches:
                words = "cannot tell" if isinstance(branch, CannotTell) else "otherwise"
                words = " ".join(branch.condition.text.split()) if isinstance(branch, When) else words
                named.append((words, branch.go.text))
        elif isinstance(node, Use):
            if node.when_no_fault is not None:
                named.append(("it ends without a fault", node.when_no_fault.text))
            if node.when_undecided is not None:
                named.append(("it ends undecided", node.when_undecided.text))
        for at, (words, go) in enumerate(named):
            yield (name, at), UntakenWay(name, without_controls(words), go)


def _failures(tree: Tree, results: Sequence[ExampleResult]) -> Iterator[Failure]:
    back = turned_around(links(tree))
    for result in results:
        if result.faults:
            yield Failure(result.call, result.faults, _find_parted(tree, back, result))


def _find_parted(tree: Tree, back: Mapping[str, tuple[str, ...]], result: ExampleResult) -> Parted | None:
    """Find the last decision of a call up to which the end that it must reach could still be reached."""
    wanted = result.call.reaches.text
    if result.reached == wanted:
        return None
    leaves = [name for name, node in tree.nodes.items() if _end_of(node) == wanted]
    leading = reached(leaves, back)
    decided = [turn for turn in result.conversation.turns if isinstance(turn, Decided)]
    for turn in decided:
        if turn.node in leading and turn.go not in leading:
            return Parted(turn.node, turn.go, turn.reasons)
    return None


def _end_of(node: object) -> str | None:
    match node:
        case CauseLeaf():
            return node.cause.text
        case NoFaultLeaf():
            return "no_fault"
        case UndecidedLeaf():
            return "undecided"
        case _:
            return None
