"""The example calls beside the trees, and what they cover."""

from collections.abc import Callable
from functools import cache

import pytest

from assistant.author.edges import find_edges
from assistant.call.examples import ExampleResult, run_example
from assistant.call.library import Library
from assistant.source.shipped import shipped_folder
from assistant.tree.examples import ENDING, read_calls
from assistant.tree.linking import is_own
from assistant.tree.model import CauseLeaf
from assistant.tree.shelf import Shelf

TREES = shipped_folder("trees")
FILES = sorted(TREES.glob(f"*{ENDING}"))
CALLS = [(file.name.removesuffix(ENDING), call) for file in FILES for call in read_calls(file)[0]]


# Where both ways from a limit lead to one end, a call that turns does not fail. Most of these are held in other trees.
COME_TOGETHER = {
    "compressor_pumping": {"settle_time raised"},
    "outdoor_coil": {"settle_time raised"},
    "overfed_coil": {"ratio_short raised"},
    "poor_cooling": {
        "ratio_parted lowered",
        "condensing_below_ambient lowered",
        "condensing_low_thirteen raised",
        "condensing_low_thirteen lowered",
        "condensing_high_sixteen lowered",
        "bulb_superheat_little raised",
        "air_drop_over_sound raised",
        "ratio_short raised",
        "ratio_short lowered",
    },
    "poor_heating": {
        "settle_time raised",
        "heating_cold raised",
        "heating_rise_middle lowered",
        "heating_rise_cold lowered",
    },
    "reversing_valve": {"settle_time raised"},
    "superheat_hunting": {"settle_time raised"},
    "valve_bench": {"settle_time raised", "ice_water_useful lowered"},
}

Walked = Callable[[int], ExampleResult]


@pytest.fixture(scope="module")
def walked(library: Library) -> Walked:
    """An example call by its number, walked once."""
    return cache(lambda number: run_example(library, *CALLS[number]))


@pytest.fixture(scope="module")
def results(walked: Walked) -> list[ExampleResult]:
    """Every example call, walked."""
    return [walked(number) for number in range(len(CALLS))]


@pytest.mark.parametrize("tree", sorted({tree for tree, _ in CALLS}))
def test_examples_end_as_they_must(walked: Walked, tree: str) -> None:
    """Each call beside a tree ends where it must, and uses every answer that it gives."""
    own = ((number, call) for number, (name, call) in enumerate(CALLS) if name == tree)
    faults = [f"{call.place}: {call.name}: {fault}" for number, call in own for fault in walked(number).faults]
    assert not faults, "\n".join(faults)


def test_every_tree_has_example_calls(library: Library) -> None:
    """Beside each tree stands a file of example calls that reads without a mistake."""
    assert [str(problem) for file in FILES for problem in read_calls(file)[1]] == []
    assert {tree for tree, _ in CALLS} == set(library.trees)


def test_every_node_is_reached(library: Library, results: list[ExampleResult]) -> None:
    """Every step and every end of each tree is come to by some example call of its own."""
    for tree in library.trees.values():
        own = [result for result in results if result.conversation.tree is tree]
        reached = {node for result in own for way in result.ways for node in way}
        missing = [node for node in tree.nodes if is_own(node) and node not in reached]
        assert not missing, f"{tree.name}: no example comes to {', '.join(missing)}"


def test_every_cause_is_reached(library: Library, results: list[ExampleResult]) -> None:
    """Every cause of the catalogue is where some example call ends, and every one is an end of some tree."""
    ends = {node.cause.text for tree in library.trees.values() for node in tree.nodes.values()
            if isinstance(node, CauseLeaf)}  # fmt: skip
    assert set(library.catalogue.causes) == ends
    assert {result.reached for result in results} >= ends


@pytest.mark.parametrize("tree", sorted({tree for tree, _ in CALLS}))
def test_each_limit_has_a_call_just_either_side(library: Library, walked: Walked, tree: str) -> None:
    """Moved by 1 F, or by a tenth of itself, each limit of a tree sends one of its calls to another end."""
    results = [walked(number) for number, (own, _) in enumerate(CALLS) if own == tree]
    found = list(find_edges(library, Shelf([TREES])[tree], results))
    assert [edge.words for edge in found if edge.turned is None] == []
    assert {edge.words for edge in found if not edge.is_held} == COME_TOGETHER.get(tree, set())


def test_readings_belong_together(results: list[ExampleResult]) -> None:
    """What instruments show on a call with a verdict obeys physics: no law is broken beyond doubt at its end.

    A reading that was taken again after a step stands beside some that were not, so those calls are left out.
    """
    checked = 0
    for result in results:
        taken = [answer for answer in result.conversation.used if answer.key.nth > 1]
        if result.reached != "undecided" and not taken:
            broken = [item.rule.law for item in result.conversation.state.contradicted]
            assert not broken, f"{result.call.place}: {result.call.name}: {broken}"
            checked += 1
    assert checked > 400


def test_the_examples_hold_every_sort_of_end(results: list[ExampleResult]) -> None:
    """Among the examples are calls without a fault and honest calls without a verdict."""
    assert {"no_fault", "undecided"} <= {result.reached for result in results}
