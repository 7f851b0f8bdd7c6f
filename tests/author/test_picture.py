"""What a drawing shows, whatever its form."""

from assistant.author.picture import Arrow, arrows_in_rows, picture, with_call, with_coverage
from assistant.catalogue.catalogue import Catalogue
from tests.author.conftest import TREE
from tests.author.drawings import HOSTILE, USING, picture_of, tree_of


def test_limits_stand_with_their_values(catalogue: Catalogue) -> None:
    """A condition stays as its author wrote it, and the values of its limits stand beside it.

    Source: the band of 5 F is that of California Title 24 RA3.2 (2008, page RA3-14), as the catalogue says.
    """
    text = TREE.replace("limits.high_superheat", "limits.superheat_band")
    arrow = picture_of(text, catalogue).boxes["feed"].arrows[0]
    assert (arrow.words, arrow.limits) == ("superheat > limits.superheat_band", ("limits.superheat_band = 5.0 °F",))
    si = picture(tree_of(text), catalogue, "si")
    assert si.boxes["feed"].arrows[0].limits == ("limits.superheat_band = 2.8 K",)


def test_a_step_shows_what_is_asked_without_being_written(catalogue: Catalogue) -> None:
    """What a condition needs is asked at its node, so it stands there: an observation with its question."""
    shown = picture_of(TREE.replace("    ask: filter_condition\n", ""), catalogue)
    assert ("ask", catalogue.observations["filter_condition"].question) in shown.boxes["air"].texts
    assert ("work out", catalogue.numbers["superheat"].title) in shown.boxes["feed"].texts


def test_a_cause_and_a_caution_are_shown_by_their_titles(catalogue: Catalogue) -> None:
    """The names of the catalogue give way to what a tech reads."""
    shown = picture_of(HOSTILE, catalogue)
    assert shown.boxes["cause_node"].title == catalogue.causes["dirty_filter"].title
    assert shown.boxes["first"].cautions == (catalogue.cautions["moving_parts"].title,)


def test_a_name_that_no_node_has_is_drawn_as_missing(catalogue: Catalogue) -> None:
    """A tree that is still being written can be drawn."""
    assert picture_of(HOSTILE, catalogue).boxes["nowhere"].sort == "missing"
    lost = picture_of(TREE.replace("start: air", "start: wind"), catalogue)
    assert lost.boxes["wind"].sort == "missing"


def test_boxes_come_as_a_call_comes_to_them(catalogue: Catalogue) -> None:
    """The first way of each node comes first; a node that nothing leads to comes last."""
    shown = picture_of(TREE + "  alone: {undecided: Nobody comes here.}\n", catalogue)
    assert list(shown.boxes) == ["air", "choked", "feed", "starved", "open_end", "all_well", "alone"]


def test_a_used_tree_is_shown_by_its_title_with_its_ways(catalogue: Catalogue) -> None:
    """The node that uses a tree says which, what ends the call there, and where it goes on."""
    box = picture(tree_of(USING), catalogue, titles={"inner": "The inner tree"}).boxes["bench"]
    assert (box.sort, box.title, box.used) == ("use", "The inner tree", "inner")
    assert ("ends the call", "a cause or undecided") in box.texts
    assert [(arrow.sort, arrow.target) for arrow in box.arrows] == [("no_fault", "again")]


def test_rows_join_neighbours_that_lead_to_one_node() -> None:
    """Only neighbours are joined, so that the order of the decision stays, and every condition has its own row."""
    arrows = (
        Arrow("a", "when", "x"),
        Arrow("b", "when", "x"),
        Arrow("b", "cannot_tell", "cannot tell"),
        Arrow("b", "otherwise", "otherwise"),
    )
    assert arrows_in_rows(arrows) == [(0,), (1,), (2, 3)]
    assert arrows_in_rows((arrows[2], arrows[0], arrows[3])) == [(0,), (1,), (2,)]
    assert arrows_in_rows(()) == []


def test_a_call_is_marked_with_the_order_of_its_steps(catalogue: Catalogue) -> None:
    """Arrows carry the steps at which they are taken, boxes their place in the order, the start being the first."""
    shown = with_call(picture_of(TREE, catalogue), "well fed", [("air", 2), ("feed", 2)])
    assert shown.boxes["air"].arrows[2].steps == (1,)
    assert shown.called == {"air": (1,), "feed": (2,), "all_well": (3,)}


def test_coverage_tells_zero_from_not_counted(catalogue: Catalogue) -> None:
    """Without counting nothing is said; once counted, a way that no call takes says 0."""
    plain = picture_of(TREE, catalogue)
    counted = with_coverage(plain, {("air", 0): 2}, {"choked": 2}, 2)
    assert plain.boxes["air"].arrows[0].calls is None
    assert [arrow.calls for arrow in counted.boxes["air"].arrows] == [2, 0, 0]
    assert (counted.boxes["choked"].calls, counted.boxes["all_well"].calls, counted.boxes["air"].calls) == (2, 0, None)
