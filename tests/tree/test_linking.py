"""Trees that use other trees: what linking makes of them, and what is only wrong once they are linked."""

from pathlib import Path
from textwrap import dedent, indent

import pytest

from assistant.catalogue.catalogue import Catalogue
from assistant.source.problem import Problem
from assistant.tree.check import check_file, check_tree
from assistant.tree.linking import MOST_NODES, is_own, link, ring_behind, size_of
from assistant.tree.model import CauseLeaf, NoFaultLeaf, Otherwise, Step, Tree, UndecidedLeaf, Use
from assistant.tree.reader import read_tree_string

from .words import WORDS

BENCH = """
begin:
  caution: [floodback]
  do: wait_settled
  measure_again: suction_pressure
  decide:
    - when: change(suction_pressure) > 3 psi
      go: answers
    - cannot_tell: still_open
    - otherwise: lost
answers:
  no_fault: The bulb answers.
lost:
  cause: bulb_loose
  because: [change(suction_pressure)]
still_open:
  undecided: The bulb could not be reached.
"""
LOOK_FIRST = """
look:
  decide:
    - when: frost_line is none
      go: begin
    - cannot_tell: still_open
    - otherwise: still_open
"""
CALLER = """
first:
  ask: filter_condition
  decide:
    - when: filter_condition is clogged
      go: choked
    - cannot_tell: bench
    - otherwise: bench
bench:
  say: Now the valve.
  use: bulb
  when_no_fault: by_charge
  when_undecided: by_charge
by_charge:
  decide:
    - when: superheat > 12 F
      go: low
    - cannot_tell: open_end
    - otherwise: open_end
low:
  cause: low_charge
  because: [superheat]
choked:
  cause: low_airflow
  because: [filter_condition]
open_end:
  undecided: Come back with gauges.
"""


def tree(name: str, nodes: str, facts: str = "refrigerant", version: int = 1) -> Tree:
    """A tree that reads without a mistake."""
    start = nodes.split(":", 1)[0].strip()
    head = f"tree: {name}\nversion: {version}\ntitle: {name}\ncomplaints: [warm]\nfacts: [{facts}]\nstart: {start}\n"
    built, problems = read_tree_string(f"{head}nodes:\n{indent(dedent(nodes).strip(), '  ')}\n", f"{name}.yaml")
    assert built is not None
    assert problems == []
    return built


def by_name(*trees: Tree) -> dict[str, Tree]:
    return {tree.name: tree for tree in trees}


def linked(one: Tree, *others: Tree) -> Tree:
    whole = link(one, by_name(one, *others))
    assert whole is not None
    return whole


def codes(problems: list[Problem]) -> list[str]:
    return [problem.code for problem in problems]


def test_a_tree_that_uses_none_stays_as_it_is() -> None:
    """Linking gives such a tree back itself."""
    bench = tree("bulb", BENCH)
    assert link(bench, {}) is bench


def test_used_nodes_come_in_under_the_name_of_the_node_that_uses_them() -> None:
    """All nodes of both trees are there, in order, those of the used tree behind; no node uses a tree any more."""
    whole = linked(tree("caller", CALLER), tree("bulb", BENCH))
    own = ["first", "bench", "by_charge", "low", "choked", "open_end"]
    assert list(whole.nodes) == [*own, "bench/begin", "bench/answers", "bench/lost", "bench/still_open"]
    assert all(node.name == name for name, node in whole.nodes.items())
    assert not any(isinstance(node, Use) for node in whole.nodes.values())


def test_the_use_becomes_a_step_into_the_other_tree() -> None:
    """It says its words and goes to the start of the used tree."""
    step = linked(tree("caller", CALLER), tree("bulb", BENCH)).nodes["bench"]
    assert isinstance(step, Step)
    assert (step.say, [branch.go.text for branch in step.branches]) == ("Now the valve.", ["bench/begin"])


def test_ways_inside_stay_inside() -> None:
    """Every branch of a used tree leads to the node of the same copy."""
    step = linked(tree("caller", CALLER), tree("bulb", BENCH)).nodes["bench/begin"]
    assert isinstance(step, Step)
    assert [branch.go.text for branch in step.branches] == ["bench/answers", "bench/still_open", "bench/lost"]


def test_an_end_that_leads_back_says_its_text_and_goes_on() -> None:
    """A no_fault or undecided end of the used tree becomes a step; a cause stays an end."""
    nodes = linked(tree("caller", CALLER), tree("bulb", BENCH)).nodes
    for name, text in (("answers", "The bulb answers."), ("still_open", "The bulb could not be reached.")):
        step = nodes[f"bench/{name}"]
        assert isinstance(step, Step)
        assert step.say == text
        assert [type(branch) for branch in step.branches] == [Otherwise]
        assert step.branches[0].go.text == "by_charge"
    assert isinstance(nodes["bench/lost"], CauseLeaf)


def test_without_a_way_back_the_call_ends_there() -> None:
    """Where the caller says nothing of an end, it stays one."""
    only = CALLER.replace("  when_no_fault: by_charge\n", "")
    nodes = linked(tree("caller", only), tree("bulb", BENCH)).nodes
    assert isinstance(nodes["bench/answers"], NoFaultLeaf)
    assert isinstance(nodes["bench/still_open"], Step)
    assert not any(isinstance(node, UndecidedLeaf) for name, node in nodes.items() if "/" in name)


def test_nodes_keep_the_file_in_which_they_were_written() -> None:
    """Places tell the used tree's own file and line; a way back stands where the caller wrote it."""
    nodes = linked(tree("caller", CALLER), tree("bulb", BENCH)).nodes
    assert nodes["bench/begin"].place.path == "bulb.yaml"
    back = nodes["bench/answers"]
    assert isinstance(back, Step)
    assert back.place.path == "bulb.yaml"
    assert back.branches[0].go.place.path == "caller.yaml"


def test_facts_of_a_used_tree_are_asked_where_it_is_come_to() -> None:
    """The caller's facts come first; the used tree's others only on the ways that need them."""
    caller = tree("caller", CALLER, facts="metering_device, refrigerant")
    whole = linked(caller, tree("bulb", BENCH, facts="altitude, refrigerant"))
    assert [fact.text for fact in whole.facts] == ["metering_device", "refrigerant"]
    steps = (node for node in whole.nodes.values() if isinstance(node, Step) and is_own(node.name))
    assert [fact.text for step in steps for fact in step.ask if fact.text == "altitude"] == ["altitude"]


def test_a_changed_used_tree_is_another_edition() -> None:
    """The version of every tree that is used, however deep, is part of what the linked tree says it is."""
    middle = tree("middle", "go_on:\n  use: bulb", version=4)
    top = tree("top", "begin:\n  use: middle", version=2)
    assert linked(top, middle, tree("bulb", BENCH, version=7)).edition == "top 2, middle 4, bulb 7"
    assert linked(top, middle, tree("bulb", BENCH, version=8)).edition != "top 2, middle 4, bulb 7"


def test_uses_inside_uses_get_longer_names() -> None:
    """A tree used by a used tree stands under both names, and leads back to the middle one."""
    middle = tree("middle", "inner:\n  use: bulb\n  when_no_fault: fine\nfine:\n  no_fault: All is well.")
    whole = linked(tree("top", "outer:\n  use: middle"), middle, tree("bulb", BENCH))
    deep = whole.nodes["outer/inner/answers"]
    assert isinstance(deep, Step)
    assert deep.branches[0].go.text == "outer/fine"
    assert isinstance(whole.nodes["outer/fine"], NoFaultLeaf)


def test_a_tree_used_twice_is_there_twice() -> None:
    """Each use has a copy of its own, so answers to one are not answers to the other."""
    twice = "one:\n  use: bulb\n  when_undecided: two\ntwo:\n  use: bulb"
    nodes = linked(tree("top", twice), tree("bulb", BENCH)).nodes
    assert {"one/begin", "two/begin"} <= set(nodes)


@pytest.mark.parametrize(
    ("uses", "ring"),
    [
        ({"a": ["a"]}, ("a",)),
        ({"a": ["b"], "b": ["a"]}, ("a", "b")),
        ({"a": ["b"], "b": ["c"], "c": ["b"]}, ("b", "c")),
        ({"a": ["b", "c"], "b": ["c"]}, ()),
    ],
)
def test_rings_are_found(uses: dict[str, list[str]], ring: tuple[str, ...]) -> None:
    """A tree that uses itself, directly or through others, cannot be linked; one used twice can."""
    trees = {
        name: tree(name, "\n".join(f"n{place}:\n  use: {used}" for place, used in enumerate([*uses.get(name, [])]))
                   or "fine:\n  no_fault: All is well.")
        for name in ("a", "b", "c")
    }  # fmt: skip
    assert ring_behind("a", trees) == ring
    assert (link(trees["a"], trees) is None) is bool(ring)


def test_what_grows_beyond_bounds_is_not_linked() -> None:
    """Trees that use the next one twice double with each: counted at once, and reported instead of built."""
    trees = {"t0": tree("t0", "fine:\n  no_fault: All is well.\nother:\n  undecided: Open.")}
    for depth in range(1, 60):
        below = f"t{depth - 1}"
        nodes = f"one:\n  use: {below}\n  when_no_fault: two\ntwo:\n  use: {below}"
        trees[f"t{depth}"] = tree(f"t{depth}", nodes)
    assert size_of(trees["t59"], trees) > 2**59
    assert link(trees["t59"], trees) is None
    assert "tree-use-large" in codes(check_tree(trees["t59"], WORDS, trees))
    small = link(trees["t8"], trees)
    assert small is not None
    assert len(small.nodes) == size_of(trees["t8"], trees) <= MOST_NODES


def test_a_long_chain_of_trees_is_linked() -> None:
    """Three hundred trees, each using the next, need no deep stack."""
    trees = {"t0": tree("t0", "fine:\n  no_fault: All is well.")}
    for depth in range(1, 300):
        trees[f"t{depth}"] = tree(f"t{depth}", f"n:\n  use: t{depth - 1}")
    whole = link(trees["t299"], trees)
    assert whole is not None
    assert len(whole.nodes) == 300


def test_both_trees_pass_the_check() -> None:
    """The caller and the used tree of these tests have nothing wrong, by themselves and together."""
    caller, bench = tree("caller", CALLER), tree("bulb", BENCH)
    assert check_tree(caller, WORDS, by_name(caller, bench)) == []
    assert check_tree(bench, WORDS) == []


def test_what_a_used_tree_uses_is_used() -> None:
    """A reading asked by the caller for a decision of the used tree is of use, and its change is measured there."""
    asks = CALLER.replace("ask: filter_condition", "ask: [filter_condition, suction_pressure, minutes_running]")
    caller = tree("caller", asks.replace("because: [superheat]", "because: [superheat, change(suction_pressure)]"))
    found = check_tree(caller, WORDS, by_name(tree("bulb", BENCH)))
    assert [(problem.code, "minutes_running" in problem.message) for problem in found] == [("tree-unused", True)]


def test_what_is_acknowledged_in_a_used_tree_counts_behind_it() -> None:
    """A caution on every way through the used tree guards what comes behind, and none that stands on some only."""
    warm = CALLER.replace("by_charge:\n", "by_charge:\n  say: Warm the bulb again.\n")
    sure = check_tree(tree("caller", warm), WORDS, by_name(tree("bulb", BENCH)))
    assert sure == []
    found = check_tree(tree("caller", warm), WORDS, by_name(tree("bulb", LOOK_FIRST + BENCH)))
    assert codes(found) == ["tree-caution"]


IDLE = """
only:
  decide:
    - when: superheat > 12 F
      go: hot
    - cannot_tell: hot
    - otherwise: cold
hot:
  undecided: Hot.
cold:
  no_fault: Cold.
"""


def test_a_loop_through_a_use_needs_a_fresh_answer() -> None:
    """Coming back to the use when nothing new was asked would go round for ever; it is told at the caller."""
    caller = tree("caller", "again:\n  use: idle\n  when_undecided: again")
    found = check_tree(caller, WORDS, by_name(tree("idle", IDLE)))
    assert codes(found) == ["tree-endless"]
    assert found[0].place.path == "caller.yaml"
    fresh = IDLE.replace("only:", "only:\n  ask: [suction_pressure]")
    assert check_tree(caller, WORDS, by_name(tree("idle", fresh))) == []


def test_a_use_that_can_never_end_is_told() -> None:
    """Where the used tree comes back to its caller in every way, and the caller to it, no way leads to an end."""
    caller = tree("caller", "again:\n  use: idle\n  when_undecided: again\n  when_no_fault: again")
    fresh = IDLE.replace("only:", "only:\n  ask: [suction_pressure]")
    assert codes(check_tree(caller, WORDS, by_name(tree("idle", fresh)))) == ["tree-no-end"]


def test_a_close_call_that_only_the_use_makes_is_told_at_the_use() -> None:
    """One number parts the ends of the used tree, and the caller makes of these "all is well" and an open circuit."""
    nodes = "bench:\n  use: idle\n  when_undecided: lost\n  when_no_fault: fine\nlost:\n  cause: bulb_charge_lost\n" \
            "fine:\n  no_fault: All is well."  # fmt: skip
    caller = tree("caller", nodes)
    problems = check_tree(caller, WORDS, by_name(tree("idle", IDLE)))
    assert codes(problems) == ["tree-close-call"]
    assert problems[0].place.path == "caller.yaml"
    assert "the tree used here" in problems[0].message


def test_mistakes_inside_a_used_tree_are_told_there_alone() -> None:
    """The caller of a tree with a mistake has none itself."""
    broken = BENCH.replace(
        "  caution: [floodback]\n  do: wait_settled", "  say: Warm the bulb in a bare hand.\n  do: wait_settled"
    )
    assert set(codes(check_tree(tree("bulb", broken), WORDS))) == {"tree-caution"}
    assert check_tree(tree("caller", CALLER), WORDS, by_name(tree("bulb", broken))) == []


@pytest.mark.parametrize(
    ("caller", "asked", "told"),
    [
        ("mode: heating", "", []),
        ("mode: cooling", "", ["tree-use-mode"]),
        ("", "", ["tree-use-mode"]),
        ("", "facts: [mode]", []),
    ],
)
def test_a_tree_for_one_mode_is_used_in_that_mode(
    catalogue: Catalogue, caller: str, asked: str, told: list[str]
) -> None:
    """A tree for heating is used by one for heating, or by one that asks how the system runs."""
    head = "tree: {}\nversion: 1\ntitle: T\ncomplaints: [warm]\n{}\n{}\nstart: a\nnodes:\n  a:\n    {}\n"
    user, _ = read_tree_string(head.format("user", caller, asked, "use: part"), "user.yaml")
    part, _ = read_tree_string(head.format("part", "mode: heating", "", "no_fault: Fine."), "part.yaml")
    assert user is not None
    assert part is not None
    assert codes(check_tree(user, catalogue, by_name(part))) == told


def test_a_used_tree_that_cannot_be_read_is_told(tmp_path: Path) -> None:
    """Whoever checks the caller alone learns that it cannot be walked, and for want of what."""
    (tmp_path / "bulb.yaml").write_text("tree: [bulb\n", encoding="utf-8")
    head = "tree: caller\nversion: 1\ntitle: T\ncomplaints: [warm]\nstart: a\nnodes:\n  a:\n    use: bulb\n"
    (tmp_path / "caller.yaml").write_text(head, encoding="utf-8")
    problems = check_file(tmp_path / "caller.yaml", WORDS)
    assert [(problem.code, '"bulb" cannot be read' in problem.message) for problem in problems] == [
        ("name-unknown", True)
    ]
