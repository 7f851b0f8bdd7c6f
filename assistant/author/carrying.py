"""Carrying the answers of a call over to a tree whose nodes have other names."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from assistant.call.answers import Answer
from assistant.call.asking import node_at
from assistant.call.keys import NodeAt, PromptKey
from assistant.tree.linking import own_name
from assistant.tree.model import Tree, Use


def carry_over(answers: Iterable[Answer], tree: Tree, names: Mapping[str, str]) -> tuple[Answer, ...]:
    """Give the answers under the new names of the nodes of an old, linked tree that were answered."""
    places: dict[NodeAt, NodeAt] = {}
    for old, new in names.items():
        node = tree.nodes.get(old)
        if node is not None and not isinstance(node, Use):
            at = node_at(tree, node)
            places[at] = NodeAt(at.tree, own_name(new))
        places[NodeAt("", old)] = NodeAt("", new)
    return tuple(replace(answer, key=_moved(answer.key, places)) for answer in answers)


def _moved(key: PromptKey, places: Mapping[NodeAt, NodeAt]) -> PromptKey:
    place = places.get(key.place) if key.place else None
    return replace(key, place=place) if place else key


def carry_over_texts(given: Mapping[str, Sequence[str]], names: Mapping[str, str]) -> dict[str, Sequence[str]]:
    """Answers by name, as example calls have them: an action is answered by the name of its node."""
    return {names.get(name, name): texts for name, texts in given.items()}
