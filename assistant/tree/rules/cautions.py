"""What can hurt someone is guarded: words that ask for a caution stand only where it has been acknowledged.

An act that a node names brings its cautions along. Prose is looked at as the second net, for an act that hides in it.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence

from assistant.source.dangers import DANGERS
from assistant.source.deeds import HiddenDeed
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
    """Report texts that ask for a caution not acknowledged on every way to them, or for what is never done."""
    kept_by = guards({name: vocabulary.words_of_caution(name) for name in vocabulary.names("caution")})
    gives = {name: _given(node, vocabulary) for name, node in tree.nodes.items()}
    acknowledged = surely([tree.start.text] if tree.start.text in tree.nodes else [], links(tree), gives)
    for name, node in tree.nodes.items():
        # What stands in a used tree is told where that tree is checked.
        if name in acknowledged and is_own(name):
            given = acknowledged[name]
            for place, text in _reasons(node):
                yield from _hidden(place, node, DANGERS.find(text), given, vocabulary)
            for place, text in _texts(node):
                hidden = DANGERS.find(text)
                told = list(_hidden(place, node, hidden, given, vocabulary))
                yield from told
                if any(one.deed.never for one in hidden):
                    continue
                named = {caution for one in hidden for caution in one.deed.cautions} if told else set()
                yield from _unguarded(place, text, {*given, *named}, kept_by, "caution: [{}]")


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


def _reasons(node: Node) -> Iterator[tuple[Place, str]]:
    """Give what tells why, or what a node is called: no place for an act, though one may be written there."""
    texts = (node.why if isinstance(node, Step) else None, None if isinstance(node, CauseLeaf) else node.title)
    yield from ((node.place, text) for text in texts if text)


def _hidden(
    place: Place, node: Node, hidden: Sequence[HiddenDeed], given: frozenset[str], vocabulary: Vocabulary
) -> Iterator[Problem]:
    known = set(vocabulary.names("caution"))
    never = [one for one in hidden if one.deed.never]
    for one in never or hidden:
        words, deed = shorten(one.words, 40), one.deed
        if deed.never:
            yield Problem("tree-never", place, f'"{words}" is never done: {deed.never}', "take it out")
        elif known.intersection(deed.cautions) and not given.intersection(deed.cautions):
            message = f'"{words}" hides an act, and a way here has acknowledged none of its cautions'
            acts = " or ".join(f"do: {act}" for act in deed.acts)
            where = acts if isinstance(node, Step) else f"{acts} in a node before this end"
            cautions = " or ".join(name for name in deed.cautions if name in known)
            yield Problem("tree-caution", place, message, f"write: {where}; or caution: [{cautions}]")


def _unguarded(place: Place, text: str, given: Iterable[str], kept_by: Guards, hint: str) -> Iterator[Problem]:
    for words, wanted in find_unguarded(text, kept_by, frozenset(given)):
        names = " or ".join(sorted(wanted))
        message = f'"{shorten(words, 40)}" asks for the caution {names}, which a way here has not acknowledged'
        yield Problem("tree-caution", place, message, f"write: {hint.format(names)}")
