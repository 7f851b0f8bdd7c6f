"""What can hurt someone is guarded: words that ask for a caution stand only where it has been acknowledged."""

from collections.abc import Iterable, Iterator, Mapping

from assistant.source.phrases import find_unguarded, guards
from assistant.source.problem import Place, Problem, shorten
from assistant.tree.flow import surely
from assistant.tree.graph import links
from assistant.tree.linking import is_own
from assistant.tree.model import CauseLeaf, Node, NoFaultLeaf, Step, Tree, UndecidedLeaf, Use
from assistant.tree.vocabulary import Vocabulary

Guards = Mapping[str, frozenset[str]]
"""Phrases with the cautions of which any one answers for them."""


def check(tree: Tree, vocabulary: Vocabulary) -> Iterator[Problem]:
    """Report every text that asks for a caution which is not acknowledged on every way to it."""
    kept_by = guards({name: vocabulary.words_of_caution(name) for name in vocabulary.names("caution")})
    gives = {name: _given(node, vocabulary) for name, node in tree.nodes.items()}
    acknowledged = surely([tree.start.text] if tree.start.text in tree.nodes else [], links(tree), gives)
    for name, node in tree.nodes.items():
        # What stands in a used tree is told where that tree is checked.
        if name in acknowledged and is_own(name):
            for place, text in _texts(node):
                yield from _unguarded(place, text, acknowledged[name], kept_by, "caution: [{}]")
            if isinstance(node, CauseLeaf):
                yield from _of_cause(node, acknowledged[name], kept_by, vocabulary)


def _given(node: Node, vocabulary: Vocabulary) -> list[str]:
    """Give the cautions of a node: its own, and those of what is done there."""
    acts = node.do if isinstance(node, Step) else ()
    own = [caution.text for caution in node.cautions]
    return [*own, *(caution for act in acts for caution in vocabulary.cautions_of_act(act.text))]


def _texts(node: Node) -> Iterator[tuple[Place, str]]:
    match node:
        case Step():
            yield from ((node.place, text) for text in (node.say,) if text)
            yield from ((branch.place, branch.say) for branch in node.branches if branch.say)
        case CauseLeaf() | Use():
            yield from ((node.place, text) for text in (node.say,) if text)
        case NoFaultLeaf() | UndecidedLeaf():
            yield node.place, node.text


def _of_cause(
    leaf: CauseLeaf, acknowledged: frozenset[str], kept_by: Guards, vocabulary: Vocabulary
) -> Iterator[Problem]:
    """Check the proof of a repair: it may repeat a test that the way here has made, with that test's caution."""
    given = acknowledged | set(vocabulary.cautions_of_cause(leaf.cause.text))
    proof = vocabulary.proof_of_cause(leaf.cause.text)
    hint = "caution: [{}] here, or list it at the cause"
    yield from _unguarded(leaf.cause.place, proof, given, kept_by, hint, "in the proof of its repair, ")


def _unguarded(
    place: Place, text: str, given: Iterable[str], kept_by: Guards, hint: str, lead: str = ""
) -> Iterator[Problem]:
    for words, wanted in find_unguarded(text, kept_by, frozenset(given)):
        names = " or ".join(sorted(wanted))
        message = f'{lead}"{shorten(words, 40)}" asks for the caution {names}, which a way here has not acknowledged'
        yield Problem("tree-caution", place, message, f"write: {hint.format(names)}")
