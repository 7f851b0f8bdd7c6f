"""What example calls show of a tree: what fails and where, what is covered, how much is asked."""

from pathlib import Path

from assistant.author.summary import Summary, count_asked, summary
from assistant.author.summary_text import FEW, summary_values, table_lines, tree_lines
from assistant.call.headless import walk_by_name
from assistant.call.library import Library
from assistant.call.loading import load_library
from assistant.catalogue.catalogue import Catalogue
from assistant.tree.examples import read_calls
from assistant.tree.linking import link
from assistant.tree.shelf import Shelf
from tests.author.conftest import edit
from tests.author.drawings import INNER, USING, tree_of


def summed(folder: Path) -> Summary:
    """The summary of the small tree of a folder."""
    library, problems = load_library(folder)
    assert problems == []
    calls, problems = read_calls(folder / "small.calls.yaml")
    assert problems == []
    return summary(library, Shelf([folder]), "small", calls)


def lines(one: Summary, *, all_ways: bool = False) -> str:
    return "\n".join(tree_lines(one, all_ways=all_ways))


def test_a_sound_tree_is_summed_up(new: Path) -> None:
    """Calls, causes and ways are counted against what there is, and the ways that no call takes are named."""
    one = summed(new)
    assert (one.calls, one.passed, one.failures) == (3, 3, ())
    assert (one.causes, one.causes_missed) == (("dirty_filter",), ())
    # Nine branches: three in each of three steps.
    assert one.ways == 9
    assert [(way.node, way.words, way.go) for way in one.untaken] == [
        ("air", "cannot tell", "feed"),
        ("feed", "cannot tell", "open_end"),
        ("starved", "superheat > 60 F", "open_end"),
        ("starved", "otherwise", "all_well"),
    ]
    assert "small: 3 of 3 calls end where they must" in lines(one)
    assert "causes reached: 1 of 1; ways taken: 5 of 9" in lines(one)
    assert "    starved: superheat > 60 F -> open_end" in lines(one)


def test_questions_and_steps_are_counted_to_the_end_and_cautions_apart(new: Path, library: Library) -> None:
    """Facts, observations, readings and actions count; complaint and choice of the tree do not; cautions apart."""
    one = summed(new)
    # Refrigerant and filter; these and two readings; these and the action.
    assert [(call.questions, call.cautions) for call in one.asked] == [(2, 0), (5, 0), (6, 0)]
    assert one.median_questions == 5
    assert one.longest is not None
    assert one.longest.call == "no bulb to be warmed"
    known = {"refrigerant": "R-410A", "filter_condition": "clogged"}
    short = count_asked(walk_by_name(library, "poor_cooling", known), "a clogged filter")
    # A fact and the filter, and the two cautions of the first node.
    assert (short.questions, short.cautions) == (2, 2)


def test_a_failing_call_is_named_with_its_place_and_where_it_parted(new: Path) -> None:
    """The line in the file, what was reached, and the decision behind which the right end was out of reach."""
    edit(new / "small.yaml", "superheat > limits.high_superheat", "superheat > 60 F")
    one = summed(new)
    (failure,) = one.failures
    assert failure.parted is not None
    assert (failure.parted.node, failure.parted.go) == ("feed", "all_well")
    text = lines(one)
    place = f"{new / 'small.calls.yaml'}:{failure.call.place.line}"
    assert f"FAILS {place}: no bulb to be warmed: reaches no_fault instead of undecided" in text
    assert "it left the way to undecided at feed, which led to all_well" in text
    assert "because superheat at the outdoor unit > 60 °f? no (30.0 ± " in text.lower()


def test_an_unused_answer_fails_without_a_parting(new: Path) -> None:
    """A call that ends where it must and still has an answer left fails, and nothing parted."""
    edit(
        new / "small.calls.yaml",
        "answers: {filter_condition: clogged}",
        "answers: {filter_condition: clogged, suction_pressure: 70 psig}",
    )
    (failure,) = summed(new).failures
    assert failure.faults == ("never uses the answer to suction_pressure",)
    assert failure.parted is None


def test_what_a_call_takes_over_from_another_may_stay_unused(new: Path) -> None:
    """Only an answer of its own that is never asked for fails a call that is like another."""
    like = "{name: clogged too, like: well fed, answers: {filter_condition: clogged}, reaches: dirty_filter}"
    with (new / "small.calls.yaml").open("a", encoding="utf-8") as file:
        file.write(f"  - {like}")
    assert summed(new).failures == ()
    edit(
        new / "small.calls.yaml",
        "answers: {filter_condition: clogged}, r",
        "answers: {filter_condition: clogged, starved: done}, r",
    )
    assert [failure.faults for failure in summed(new).failures] == [("never uses the answer to do starved",)]


def test_the_right_end_at_another_node_fails(new: Path) -> None:
    """Where several nodes end alike, `at` tells which of them a call must come to."""
    edit(new / "small.calls.yaml", "    reaches: undecided", "    reaches: undecided\n    at: open_end")
    assert summed(new).failures == ()
    edit(new / "small.yaml", "  all_well:", "  no_hand: {undecided: Come back with another hand.}\n  all_well:")
    edit(
        new / "small.yaml",
        "      - cannot_tell: open_end\n      - otherwise: all_well\n\n  choked",
        "      - cannot_tell: no_hand\n      - otherwise: all_well\n\n  choked",
    )
    (failure,) = summed(new).failures
    assert failure.faults == ("reaches undecided at no_hand instead of open_end",)


def test_a_cause_that_no_call_reaches_is_named(new: Path) -> None:
    """Causes of the tree without an example are listed."""
    edit(new / "small.yaml", "  open_end: {undecided: Come back with gauges.}", "  open_end: {cause: undercharge}")
    edit(new / "small.calls.yaml", "    reaches: undecided", "    reaches: no_fault")
    one = summed(new)
    assert one.causes_missed == ()
    edit(new / "small.calls.yaml", "starved: cannot do", "starved: done")
    assert summed(new).causes_missed == ("undercharge",)
    assert "no call reaches: undercharge" in lines(summed(new))


def test_many_ways_are_listed_when_asked_for(library: Library) -> None:
    """A long list is cut short and says how to see all of it."""
    one = summary(library, library.trees, "poor_cooling", ())
    assert lines(one) == "poor_cooling: there are no example calls beside it"
    calls = read_calls(Path(library.tree("poor_cooling").path).with_name("poor_cooling.calls.yaml"))[0][:5]
    one = summary(library, library.trees, "poor_cooling", calls)
    assert len(one.untaken) > FEW
    assert f"and {len(one.untaken) - FEW + 1} more: --ways lists them all" in lines(one)
    assert sum(" -> " in line for line in lines(one, all_ways=True).splitlines()) == len(one.untaken)


def test_only_the_ways_of_the_tree_itself_count(catalogue: Catalogue) -> None:
    """What lies inside of a used tree is that tree's to cover; leaving it is a way."""
    trees = {"using": tree_of(USING), "inner": tree_of(INNER)}
    whole = link(trees["using"], trees)
    assert whole is not None
    one = summary(Library(catalogue, {"using": whole}), trees, "using", ())
    assert [way.node for way in one.untaken] == ["bench", "again", "again", "again"]
    assert one.causes == ("dirty_filter",)


def test_the_table_has_a_line_for_each_tree_and_their_sum(new: Path) -> None:
    """Names and numbers stand in columns, at most 80 wide."""
    table = list(table_lines([summed(new), summed(new)]))
    assert table[1].split() == ["small", "3/3", "1/1", "5/9", "5", "6", "0"]
    assert table[3].split() == ["all", "6/6"]
    assert max(map(len, table[:-1])) <= 80


def test_values_hold_what_the_lines_say(new: Path) -> None:
    """For other programs the same as plain values."""
    values = summary_values(summed(new))
    assert (values["calls"], values["passed"], values["failures"]) == (3, 3, [])
    assert values["questions"] == {"median": 5, "longest": 6, "longest_call": "no bulb to be warmed"}
    assert len(values["ways_not_taken"]) == 4
