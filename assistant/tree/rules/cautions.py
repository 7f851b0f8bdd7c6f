"""What can hurt someone is guarded: words that ask for a caution stand only where it has been acknowledged."""

from collections.abc import Iterable, Iterator, Mapping

from assistant.source.phrases import find
from assistant.source.problem import Place, Problem, shortened
from assistant.tree.flow import surely
from assistant.tree.graph import links
from assistant.tree.model import CauseLeaf, Node, NoFaultLeaf, Step, Tree, UndecidedLeaf
from assistant.tree.vocabulary import Vocabulary

Guards = Mapping[str, frozenset[str]]
"""Phrases with the cautions of which any one answers for them."""


def check(tree: Tree, vocabulary: Vocabulary) -> Iterator[Problem]:
    """Report every text that asks for a caution which is not acknowledged on every way to it."""
    guards = guards_of(vocabulary)
    gives = {name: [caution.text for caution in node.cautions] for name, node in tree.nodes.items()}
    acknowledged = surely([tree.start.text] if tree.start.text in tree.nodes else [], links(tree), gives)
    for name, node in tree.nodes.items():
        if name in acknowledged:
            for place, text in _texts(node):
                yield from _unguarded(place, text, acknowledged[name], guards, "caution: [{}]")
            if isinstance(node, CauseLeaf):
                yield from _of_cause(node, acknowledged[name], guards, vocabulary)


def guards_of(vocabulary: Vocabulary) -> dict[str, frozenset[str]]:
    """Give the phrases that ask for cautions; a phrase that several cautions name is answered for by each."""
    found: dict[str, frozenset[str]] = {}
    for caution in vocabulary.names("caution"):
        for phrase in vocabulary.words_of_caution(caution):
            found[phrase] = found.get(phrase, frozenset()) | {caution}
    return found


def _texts(node: Node) -> Iterator[tuple[Place, str]]:
    match node:
        case Step():
            yield from ((node.place, text) for text in (node.say, node.do) if text)
            yield from ((branch.place, branch.say) for branch in node.branches if branch.say)
        case CauseLeaf():
            yield from ((node.place, text) for text in (node.say,) if text)
        case NoFaultLeaf() | UndecidedLeaf():
            yield node.place, node.text


def _of_cause(
    leaf: CauseLeaf, acknowledged: frozenset[str], guards: Guards, vocabulary: Vocabulary
) -> Iterator[Problem]:
    """Check the proof of a repair: it may repeat a test that the way here has made, with that test's caution."""
    given = acknowledged | set(vocabulary.cautions_of_cause(leaf.cause.text))
    proof = vocabulary.proof_of_cause(leaf.cause.text)
    hint = "caution: [{}] here, or list it at the cause"
    yield from _unguarded(leaf.cause.place, proof, given, guards, hint, "the proof of its repair says ")


def _unguarded(
    place: Place, text: str, given: Iterable[str], guards: Guards, hint: str, lead: str = ""
) -> Iterator[Problem]:
    have = frozenset(given)
    seen: set[frozenset[str]] = set()
    for found in find(text, tuple(guards)):
        wanted = guards[found.phrase]
        if not wanted & have and not any(wanted >= other for other in seen):
            seen.add(wanted)
            names = " or ".join(sorted(wanted))
            said = shortened(" ".join(found.words.split()), 40)
            message = f'{lead}"{said}" asks for the caution {names}, which a way here has not acknowledged'
            yield Problem("tree-caution", place, message, f"write: {hint.format(names)}")
