"""Whatever becomes of a real tree gives problems or a tree, and a tree that passes the check ends on every call."""

import random
import re
import shutil
from collections.abc import Mapping
from types import MappingProxyType

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from assistant.call.answers import UNTOLD
from assistant.call.library import Library
from assistant.call.turns import Undecided
from assistant.call.walk import walk
from assistant.catalogue.catalogue import Catalogue
from assistant.catalogue.keys import FILES
from assistant.catalogue.loading import load_catalogue
from assistant.catalogue.rules import check_catalogue
from assistant.source.shipped import shipped_folder
from assistant.tree.check import check_tree, notes_on, review_file
from assistant.tree.codes import EXPLANATIONS
from assistant.tree.graph import ways
from assistant.tree.linking import link, uses_of
from assistant.tree.model import NoFaultLeaf, Tree, UndecidedLeaf
from assistant.tree.reader import read_tree_string
from tests.answering import answer
from tests.call.chance import typed_answer
from tests.soak.changing import changed

TREE = (shipped_folder("trees") / "poor_cooling.yaml").read_text(encoding="utf-8")


@given(seed=st.integers(0, 2**32), name=st.sampled_from(("poor_cooling", "starved_coil", "poor_heating")))
@settings(max_examples=25, deadline=None)
def test_a_changed_tree_gives_problems_or_a_tree(
    catalogue: Catalogue, tmp_path_factory: pytest.TempPathFactory, seed: int, name: str
) -> None:
    """A real tree with lines dropped, moved, doubled, cut and mistyped never raises, and every code is explained.

    Those that use other trees find these as they are shipped; each problem is told in the changed file.
    """
    shipped = shipped_folder("trees")
    text = changed((shipped / f"{name}.yaml").read_text(encoding="utf-8"), random.Random(seed))
    path = tmp_path_factory.getbasetemp() / "changed_trees" / f"{name}.yaml"
    path.parent.mkdir(exist_ok=True)
    path.write_bytes(text.encode("utf-8", "surrogatepass"))
    problems = review_file(path, catalogue, [shipped, path.parent]).problems
    assert {problem.place.path for problem in problems} <= {str(path)}
    assert {problem.code for problem in problems} <= set(EXPLANATIONS)
    lines = re.split("\r\n|\r|\n", text)
    for problem in problems:
        place = problem.place
        assert place.line == 0 or place.column <= len(lines[place.line - 1]) + 1


@given(seed=st.integers(0, 2**32), name=st.sampled_from(sorted(FILES)))
@settings(max_examples=25, deadline=None)
def test_a_changed_catalogue_gives_problems_or_a_catalogue(
    tmp_path_factory: pytest.TempPathFactory, seed: int, name: str
) -> None:
    """The same of every file of the catalogue, and of the tree over what is left of it."""
    folder = tmp_path_factory.getbasetemp() / "changed_catalogue"
    shutil.copytree(shipped_folder("trees") / "catalogue", folder, dirs_exist_ok=True)
    # A sort may be spread over the files of a folder.
    file = next(path for path in (folder / f"{name}.yaml", *sorted((folder / name).glob("*.yaml"))) if path.is_file())
    text = changed(file.read_text(encoding="utf-8"), random.Random(seed))
    file.write_bytes(text.encode("utf-8", "surrogatepass"))
    catalogue, problems = load_catalogue(folder)
    tree, _ = read_tree_string(TREE, "poor_cooling.yaml")
    assert tree is not None
    found = [*problems, *check_catalogue(catalogue), *check_tree(tree, catalogue), *notes_on(tree, catalogue)]
    assert {problem.code for problem in found} <= set(EXPLANATIONS)


TESTS = (
    "superheat > 12 F", "superheat < 5 F", "subcooling > 9 F", "subcooling < subcooling_target - 3 F",
    "filter_condition is clogged", "filter_condition is not clean", "change(suction_pressure) > 3 psi",
    "superheat > superheat_target + limits.superheat_band", "minutes_running < 15 min", "metering_device is txv",
    "not (superheat > 9 F or filter_condition is missing)", "suction_pressure < 60 psig and subcooling > 3 F",
    "safety_group is A2L", "air_at_vents is weak or superheat < 3 F", "refrigerant is R-410A",
)  # fmt: skip
FRESH = ("suction_pressure", "filter_condition", "suction_line_temperature", "minutes_running", "air_at_vents")
BACK = {"when_no_fault": NoFaultLeaf, "when_undecided": UndecidedLeaf}
ENDS = ("cause: dirty_filter", "cause: undercharge", "no_fault: All is well.", "undecided: Still open.")


def random_tree(chance: random.Random, name: str = "small", uses: Mapping[str, Tree] = MappingProxyType({})) -> str:
    """A small tree of steps and ends, of which every node leads somewhere; not all of them pass the check.

    Some of its nodes hand over to the trees that are given, and may come back from them.
    """
    names = [f"n{place}" for place in range(chance.randint(2, 8))]
    steps = names[: chance.randint(1, len(names) - 1)]
    lines = [f"tree: {name}", "version: 1", "title: Small", "complaints: [anything]", "start: n0", "nodes:"]
    for place, node in enumerate(names):
        lines.append(f"  {node}:")
        if node not in steps:
            lines.append(f"    {chance.choice(ENDS)}")
            continue
        used = chance.choice(list(uses)) if uses and chance.random() < 0.4 else ""
        ends = {type(end) for end in uses[used].nodes.values()} if used else set()
        back = [key for key, end in BACK.items() if end in ends]
        if back:
            lines += [f"    use: {used}", f"    {back[0]}: {names[place + 1]}"]
            lines += [f"    {key}: {chance.choice(names[place:])}" for key in back[1:]]
            continue
        if chance.random() < 0.2:
            lines.append("    do: wait_settled")
        if chance.random() < 0.6:
            lines.append(f"    {chance.choice(('ask', 'measure_again'))}: {chance.choice(FRESH)}")
        lines.append("    decide:")
        following = names[place + 1]

        def target(back: float = 0.15, place: int = place) -> str:
            return chance.choice(names) if chance.random() < back else chance.choice(names[place + 1 :])

        for test in chance.sample(TESTS, chance.randint(0, 3)):
            lines += [f"      - when: {test}", f"        go: {target()}"]
        lines += [f"      - cannot_tell: {target()}", f"      - otherwise: {following}"]
    return "\n".join(lines) + "\n"


@given(seed=st.integers(0, 2**32))
@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.filter_too_much, HealthCheck.too_slow])
def test_every_call_on_a_tree_that_passes_ends(catalogue: Catalogue, seed: int) -> None:
    """With any replies, and with "cannot tell" to everything, a call ends, and never for want of a way on."""
    chance = random.Random(seed)
    tree, problems = read_tree_string(random_tree(chance), "small.yaml")
    assert tree is not None
    assert problems == []
    assume(not check_tree(tree, catalogue))
    walk_to_the_end(Library(catalogue, {"small": tree}), chance)


def random_family(chance: random.Random, catalogue: Catalogue) -> dict[str, Tree]:
    """A tree called small and those it uses, directly and through others; all but small pass the check."""
    family: dict[str, Tree] = {}
    for name in ("part_a", "part_b", "small"):
        for _ in range(30):
            tree, problems = read_tree_string(random_tree(chance, name, family), f"{name}.yaml")
            assert tree is not None
            assert problems == []
            family[name] = tree
            if name == "small" or not check_tree(tree, catalogue, family):
                break
            del family[name]
    return family


@given(seed=st.integers(0, 2**32))
@settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.filter_too_much, HealthCheck.too_slow])
def test_every_call_on_trees_that_use_each_other_ends(catalogue: Catalogue, seed: int) -> None:
    """A tree that passes the check with all it uses, linked, is walked to an end by any replies."""
    chance = random.Random(seed)
    family = random_family(chance, catalogue)
    small = family["small"]
    assume(uses_of(small))
    assume(not check_tree(small, catalogue, family))
    whole = link(small, family)
    assert whole is not None
    assert all(go.text in whole.nodes for node in whole.nodes.values() for go in ways(node))
    walk_to_the_end(Library(catalogue, {"small": whole}), chance)


@given(seed=st.integers(0, 2**32))
@settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.filter_too_much, HealthCheck.too_slow])
def test_a_linked_tree_has_no_problem_that_its_parts_have_not(catalogue: Catalogue, seed: int) -> None:
    """What passes the check piece by piece passes every rule as the flat tree that calls walk."""
    family = random_family(random.Random(seed), catalogue)
    assume(not check_tree(family["small"], catalogue, family))
    whole = link(family["small"], family)
    assert whole is not None
    assert check_tree(whole, catalogue) == []


def walk_to_the_end(library: Library, chance: random.Random) -> None:
    """Walk the tree called small with replies of several sorts; every call must end, and well."""
    catalogue = library.catalogue
    start = (answer("complaint", "anything"), answer("tree", "small"))
    fills = [lambda prompt: UNTOLD if prompt.name in catalogue.taking_order else typed_answer(prompt, chance, {})]
    fills += [lambda prompt: typed_answer(prompt, chance, {})] * 3
    for fill in fills:
        conversation = walk(library, start, fill=fill)
        assert conversation.ended
        assert conversation.outcome is not None
        assert conversation.outcome.kind in ("cause", "no_fault", "undecided")
        said = [turn.text for turn in conversation.turns if isinstance(turn, Undecided)]
        assert not any("no way on" in text for text in said)


def test_enough_random_trees_pass() -> None:
    """The property above is not empty: of a hundred random trees at least a fifth pass the check."""
    catalogue, _ = load_catalogue(shipped_folder("trees") / "catalogue")
    passed = 0
    for seed in range(100):
        tree, _ = read_tree_string(random_tree(random.Random(seed)), "small.yaml")
        assert tree is not None
        passed += not check_tree(tree, catalogue)
    assert passed >= 20


def test_enough_random_families_pass(catalogue: Catalogue) -> None:
    """Nor are those of trees that use others: of a hundred families at least a tenth pass and use one."""
    passed = 0
    for seed in range(100):
        family = random_family(random.Random(seed), catalogue)
        passed += bool(uses_of(family["small"])) and not check_tree(family["small"], catalogue, family)
    assert passed >= 10
