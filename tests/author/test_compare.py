"""Two states of a folder of trees: which calls end elsewhere, where they part, what was edited."""

from pathlib import Path

from assistant.author.compare import FolderComparison, GoneTree, StoredCall, TreeComparison, compare, load_edition
from assistant.author.comparison_text import comparison_lines
from assistant.author.edits import limits_of
from assistant.call.answers import Written
from tests.answering import written
from tests.author.conftest import LIMIT, edit

BEGUN = (written("complaint", "not cold"), written("tree", "small"), written("refrigerant", "R-22"))

BENCH = """\
tree: bench
version: 1
title: Bench
complaints: [bench]
start: look
nodes:
  look:
    ask: sight_glass
    decide:
      - when: sight_glass is clear
        go: fine
      - cannot_tell: open
      - otherwise: open
  fine: {no_fault: The glass is clear and nothing else is to be seen.}
  open: {undecided: Open.}
"""


def compared(old: Path, new: Path, *stored: StoredCall) -> FolderComparison:
    """The comparison of two folders that can both be walked."""
    editions = load_edition(old), load_edition(new)
    assert [edition.problems for edition in editions] == [(), ()]
    return compare(*editions, stored)


def small(comparison: FolderComparison) -> TreeComparison:
    """What became of the small tree."""
    (tree,) = comparison.trees
    return tree


def text(comparison: FolderComparison) -> str:
    """The comparison as it is read."""
    return "\n".join(comparison_lines(comparison))


def test_nothing_changed_says_so(old: Path, new: Path) -> None:
    """Two equal folders give one line, and the same ends."""
    comparison = compared(old, new)
    assert comparison.same_ends
    assert text(comparison) == "Nothing has changed: 1 tree, 3 example calls."


def test_an_edited_condition_sends_a_call_elsewhere(old: Path, new: Path) -> None:
    """The call is named with both ends, the node where it parts, and what was seen there before and after."""
    edit(new / "small.yaml", "superheat > 60 F", "superheat > 20 F")
    edit(new / "small.calls.yaml", "starved: cannot do", "starved: done")
    edit(old / "small.calls.yaml", "starved: cannot do", "starved: done")
    comparison = compared(old, new)
    (change,) = small(comparison).elsewhere
    assert change.call == "no bulb to be warmed"
    assert (change.old.words(), change.new.words()) == ("no_fault (all_well)", "undecided (open_end)")
    assert change.parting is not None
    assert (change.parting.node, change.parting.old.go, change.parting.new.go) == ("starved", "all_well", "open_end")
    assert "> 60 °F? no" in change.parting.old.reasons[0]
    assert "> 20 °F? yes" in change.parting.new.reasons[0]
    assert not comparison.same_ends
    shown = text(comparison)
    assert "At starved calls part:" in shown
    assert "now in undecided (open_end), as it must" in shown
    assert "~ - when: superheat > [-60-]{+20+} F" in shown


def test_another_way_to_the_same_end_is_no_other_end(old: Path, new: Path) -> None:
    """A call that takes another way is told apart from one that ends elsewhere."""
    edit(new / "small.yaml", "superheat > limits.high_superheat", "superheat > 5 F")
    comparison = compared(old, new)
    assert comparison.same_ends
    assert [change.call for change in small(comparison).other_way] == ["well fed"]
    assert 'example call "well fed", from feed on' in text(comparison)


def test_another_end_without_a_cause_is_another_end(old: Path, new: Path) -> None:
    """Nothing wrong twice, but with other words at another node: the tech is told something else."""
    for folder in (old, new):
        edit(folder / "small.yaml", "  all_well:", "  cold_out: {no_fault: Too cold to judge.}\n  all_well:")
        edit(
            folder / "small.yaml",
            "when: superheat > 60 F\n        go: open_end",
            "when: superheat > 60 F\n        go: cold_out",
        )
    edit(new / "small.yaml", "- otherwise: all_well\n\n  starved", "- otherwise: cold_out\n\n  starved")
    comparison = compared(old, new)
    (change,) = small(comparison).elsewhere
    assert (change.call, change.old.words(), change.new.words()) == (
        "well fed",
        "no_fault (all_well)",
        "no_fault (cold_out)",
    )
    assert change.parting is not None
    assert (change.parting.node, change.parting.new.go) == ("feed", "cold_out")


def test_another_cause_is_another_end(old: Path, new: Path) -> None:
    """The way is the same to the last node, and the tech is told to mend something else."""
    edit(new / "small.yaml", "cause: dirty_filter", "cause: dirty_indoor_coil")
    edit(new / "small.calls.yaml", "reaches: dirty_filter", "reaches: dirty_indoor_coil")
    (change,) = small(compared(old, new)).elsewhere
    assert (change.call, change.old.words(), change.new.words()) == (
        "a clogged filter",
        "dirty_filter",
        "dirty_indoor_coil",
    )


def test_a_changed_limit_is_told_with_what_it_does(old: Path, new: Path) -> None:
    """No line of the tree is edited; the catalogue's limit moves a call all the same."""
    edit(new / "catalogue" / "limits.yaml", "high_superheat:\n  value: 20 F", "high_superheat:\n  value: 40 F")
    comparison = compared(old, new)
    (change,) = small(comparison).elsewhere
    assert (change.call, change.old.name, change.new.name) == ("no bulb to be warmed", "undecided", "no_fault")
    assert change.dropped == ("do starved",)
    assert small(comparison).edits.nodes == ()
    assert "limits.high_superheat: 20 F -> 40 F" in text(comparison)


def test_a_renamed_node_is_no_other_way(old: Path, new: Path) -> None:
    """The node is found by its words, what leads to it has not changed, and its answers go along."""
    edit(new / "small.yaml", "starved", "hungry")
    edit(new / "small.calls.yaml", "starved", "hungry")
    comparison = compared(old, new, StoredCall(7, "not cold", (*BEGUN, *_readings("70 F"), _done("starved"))))
    assert [(edit.what, edit.name, edit.was) for edit in small(comparison).edits.nodes] == [
        ("renamed", "hungry", "starved")
    ]
    assert (small(comparison).elsewhere, small(comparison).other_way) == ((), ())


def test_nodes_that_came_and_went_are_told(old: Path, new: Path) -> None:
    """A new node and a lost one, with their lines."""
    edit(
        new / "small.yaml",
        "  open_end: {undecided: Come back with gauges.}\n",
        "  vague: {no_fault: Nothing at all.}\n",
    )
    edit(new / "small.yaml", "open_end", "vague")
    edits = small(compared(old, new)).edits.nodes
    assert {(edit.what, edit.name) for edit in edits} >= {("added", "vague"), ("removed", "open_end")}
    assert all(edit.place.line > 0 for edit in edits)


def test_the_head_of_a_tree_is_compared(old: Path, new: Path) -> None:
    """Another version and another start."""
    edit(new / "small.yaml", "version: 1", "version: 2")
    edit(new / "small.yaml", "start: air", "start: feed")
    comparison = compared(old, new)
    assert small(comparison).edits.head == ("version: 1 -> 2", "start: air -> feed")
    (change, *_) = small(comparison).elsewhere
    assert change.parting is not None
    assert (change.parting.node, change.parting.old.go, change.parting.new.go) == ("start", "air", "feed")


def test_a_stored_call_is_replayed(old: Path, new: Path) -> None:
    """An ended call that now asks for more, and an open one that still waits at the same question."""
    edit(new / "small.yaml", "superheat > limits.high_superheat", "superheat > 5 F")
    ended = StoredCall(7, "not cold", (*BEGUN, *_readings("50 F")))
    waiting = StoredCall(8, "not cold", BEGUN)
    comparison = compared(old, new, ended, waiting)
    (change,) = small(comparison).elsewhere
    assert (change.call, change.is_stored) == ("7: not cold", True)
    assert change.new.words() == "a question: do wait_settled @ starved"
    assert "1 of 2 stored calls end elsewhere" in text(comparison)


def test_a_call_with_other_answers_is_walked_with_both(old: Path, new: Path) -> None:
    """An edit of the calls' file alone sends nothing elsewhere."""
    edit(new / "small.calls.yaml", "filter_condition: clogged", "filter_condition: clean")
    edit(new / "small.calls.yaml", "reaches: dirty_filter", "reaches: undecided")
    comparison = compared(old, new)
    assert comparison.same_ends
    assert small(comparison).examples == 4


def test_an_edit_of_a_used_tree_is_seen_where_it_is_used(old: Path, new: Path) -> None:
    """The call parts inside the used tree, and new names there and of the node that uses it are no other way."""
    for folder in (old, new):
        (folder / "bench.yaml").write_text(BENCH, encoding="utf-8")
        edit(folder / "small.yaml", "open_end: {undecided: Come back with gauges.}", "open_end: {use: bench}")
        edit(folder / "small.calls.yaml", "starved: cannot do}", "starved: cannot do, sight_glass: clear}")
        edit(folder / "small.calls.yaml", "reaches: undecided", "reaches: no_fault")
    edit(new / "small.yaml", "open_end", "at_the_bench")
    edit(new / "bench.yaml", "fine", "all_clear")
    comparison = compared(old, new)
    assert [(tree.elsewhere, tree.other_way) for tree in comparison.trees] == [((), ()), ((), ())]
    edit(new / "bench.yaml", "sight_glass is clear", "sight_glass is bubbling")
    (change,) = next(tree for tree in compared(old, new).trees if tree.name == "small").elsewhere
    assert change.parting is not None
    assert (change.parting.node, change.parting.was) == ("at_the_bench/look", "open_end/look")


def test_a_shop_of_ones_own_is_laid_over_other_trees(old: Path, tmp_path: Path) -> None:
    """A limit in the shop's folder moves a call of a tree that lies below it."""
    for value in ("20 F", "40 F"):
        catalogue = tmp_path / value / "catalogue"
        catalogue.mkdir(parents=True)
        (catalogue / "limits.yaml").write_text(LIMIT.replace("20 F", value), encoding="utf-8")
    comparison = compare(load_edition(tmp_path / "20 F", [old]), load_edition(tmp_path / "40 F", [old]))
    assert [change.call for change in small(comparison).elsewhere] == ["no bulb to be warmed"]
    assert [(edit.name, edit.how) for edit in comparison.catalogue] == [("high_superheat", "20 F -> 40 F")]


def test_a_limit_touches_the_trees_that_name_it(old: Path) -> None:
    """What no decision of a tree names cannot move its calls."""
    assert limits_of(load_edition(old).library.trees["small"]) == {"high_superheat"}


def test_a_tree_that_cannot_be_walked_is_left_out(old: Path, new: Path) -> None:
    """A name that nothing answers to is reported with its place, and no call is walked into it."""
    edit(new / "small.yaml", "go: choked", "go: chocked")
    edition = load_edition(new)
    assert [problem.code for problem in edition.problems] == ["name-unknown"]
    comparison = compare(load_edition(old), edition)
    assert (comparison.trees, comparison.only_old) == ((), (GoneTree("small", 3, 0),))


def test_the_calls_of_a_tree_that_is_gone_end_nowhere(old: Path, new: Path) -> None:
    """A deleted tree takes its calls along, the stored ones too."""
    (new / "small.yaml").rename(new / "large.yaml")
    edit(new / "large.yaml", "tree: small", "tree: large")
    (new / "small.calls.yaml").unlink()
    comparison = compared(old, new, StoredCall(7, "not cold", BEGUN))
    assert not comparison.same_ends
    assert "The tree small is gone, and with it 3 example calls and 1 stored call." in text(comparison)
    assert "The tree large is new." in text(comparison)
    assert text(comparison).endswith("4 calls end nowhere: 0 trees, no calls.")


def _readings(temperature: str) -> tuple[Written, ...]:
    return (
        written("filter_condition", "clean"),
        written("altitude", "0 ft"),
        written("suction_pressure", "68.6 psig"),
        written("suction_line_temperature", temperature),
    )


def _done(node: str) -> Written:
    return written(f"do {node}", "done")
