"""Every way through every shipped tree, whatever the answers: what can hurt stands behind its caution.

The check proves the same by what surely happened before a node. Here each pair of a node and the cautions met so far
is walked to, through the trees as a call walks them, with the trees they use.
"""

from collections import deque
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import cache

import pytest

from assistant.call.library import Library
from assistant.catalogue.repairs import RepairPlan, plan_repair
from assistant.source.phrases import find_unguarded, guards
from assistant.tree.model import CauseLeaf, Node, Step, Tree

Met = frozenset[str]


def texts_of(node: Node) -> Iterator[str]:
    """What a tech is told to do or is told at a node, the causes' repairs apart."""
    if isinstance(node, Step):
        yield from (text for text in (node.say, *(branch.say for branch in node.branches)) if text)
    elif isinstance(node, CauseLeaf):
        yield node.say or ""
    else:
        yield node.text


def states(tree: Tree, library: Library, group: str) -> Iterator[tuple[Node, Met]]:
    """Every node with each least set of cautions that a call can have met there, those of the node included.

    Who has met more is not told less: a set that holds another one of its node is left out.
    """
    waiting: deque[tuple[str, Met]] = deque([(tree.start.text, frozenset())])
    least: dict[str, list[Met]] = {}
    while waiting:
        name, before = waiting.popleft()
        node = tree.nodes[name]
        acts = node.do if isinstance(node, Step) else ()
        own = [*map(str, node.cautions), *(one for act in acts for one in library.catalogue.acts[act.text].cautions)]
        met = before | set(library.catalogue.with_joined(own, group))
        others = least.setdefault(name, [])
        if any(other <= met for other in others):
            continue
        others[:] = [*(other for other in others if not met <= other), met]
        yield node, met
        if isinstance(node, Step):
            waiting.extend((branch.go.text, met) for branch in node.branches)


Asking = Callable[[str], tuple[tuple[str, frozenset[str]], ...]]


Planned = Callable[[str, str], RepairPlan]


@pytest.fixture(scope="module")
def planned(library: Library) -> Planned:
    """The repair of a cause with what a refrigerant adds, planned once."""
    causes = library.catalogue.causes
    return cache(lambda cause, group: plan_repair(library.catalogue, causes[cause], safety_group=group))


@pytest.fixture(scope="module")
def asking(library: Library) -> Asking:
    """The words of a text that ask for a caution, with the cautions that answer for them."""
    kept_by = guards({name: caution.words for name, caution in library.catalogue.cautions.items()})
    return cache(lambda text: tuple(find_unguarded(text, kept_by, frozenset())))


def past_cautions(tree: Tree, library: Library, group: str, asking: Asking, planned: Planned) -> set[str]:
    """Every place that a call can come to without a caution which its words, or its refrigerant, ask for."""
    catalogue = library.catalogue
    flammable = {name: caution for name, caution in catalogue.cautions.items() if group in caution.safety_groups}
    past: set[str] = set()
    for node, met in states(tree, library, group):
        told = [(text, met) for text in texts_of(node)]
        after = met
        if isinstance(node, CauseLeaf):
            plan = planned(node.cause.text, group)
            after = met | {caution.name for caution in plan.cautions}
            told.extend((step.say, after) for step in (*plan.repair, *plan.proof))
        past.update(f"{node.place}: {words}" for text, have in told for words, want in asking(text) if not want & have)
        past.update(
            f"{node.place}: {', '.join(sorted(after & set(caution.joins)))} without {name}"
            for name, caution in flammable.items()
            if name not in after and after & set(caution.joins)
        )
    return past


@pytest.mark.parametrize("group", ["A1", "A2L", "A3"])
def test_no_way_leads_past_a_caution(library: Library, asking: Asking, planned: Planned, group: str) -> None:
    """On every way to every step, end and repair, whoever is told a dangerous thing has acknowledged its caution.

    With a flammable refrigerant its own caution has been met wherever the circuit is touched, opened or brazed.
    Source: the dangers and rules are those of `trees/catalogue/cautions.yaml`.
    """
    assert group == "A1" or any(group in caution.safety_groups for caution in library.catalogue.cautions.values())
    past = set().union(*(past_cautions(tree, library, group, asking, planned) for tree in library.trees.values()))
    assert not past, "\n".join(sorted(past))


def test_a_way_past_a_caution_would_be_found(library: Library, asking: Asking, planned: Planned) -> None:
    """The walk above does find a step whose caution was taken away."""
    tree = library.tree("poor_cooling")
    bare = replace(tree, nodes={name: replace(node, cautions=()) for name, node in tree.nodes.items()})
    assert past_cautions(bare, library, "A1", asking, planned)
