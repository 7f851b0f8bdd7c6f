"""Which ways example calls take through a tree."""

import pytest

from assistant.author.ways import coverage, path_of
from assistant.call.headless import walk_by_name
from assistant.call.library import Library
from assistant.catalogue.catalogue import Catalogue
from assistant.tree.linking import link
from assistant.tree.model import CannotTell, Step
from tests.answering import answer
from tests.author.drawings import INNER, USING, tree_of


def test_branches_to_the_same_node_are_told_apart(catalogue: Catalogue) -> None:
    """Where several branches lead to one node, the way is the one that was taken."""
    nodes = """
  first:
    decide:
      - {when: filter_condition is clogged, go: end}
      - {when: filter_condition is missing, go: end}
      - {cannot_tell: end}
      - {otherwise: end}
  end: {undecided: It stays open., because: filter_condition}
"""
    tree = tree_of(f"tree: one\nversion: 1\ntitle: One\ncomplaints: [one]\nstart: first\nnodes:{nodes}")
    library = Library(catalogue, {"one": tree})
    for told, branch in (("clogged", 0), ("missing", 1), ("cannot tell", 2), ("clean", 3)):
        walked = walk_by_name(library, "one", {"filter_condition": told})
        assert path_of(walked, tree, {}) == ((("first", branch),), "end")


@pytest.fixture
def using(catalogue: Catalogue) -> tuple[Library, dict[str, object]]:
    """A tree that uses another, linked in a library and as it was read."""
    trees = {"using": tree_of(USING), "inner": tree_of(INNER)}
    whole = link(trees["using"], trees)
    assert whole is not None
    return Library(catalogue, {"using": whole}), dict(trees)


def test_what_happens_inside_a_used_tree_counts_as_its_node(using: tuple[Library, dict[str, object]]) -> None:
    """Drawn as one node, a used tree is entered, left by the way of its end, and may be where the call ends."""
    library, trees = using
    shown = trees["using"]
    through = walk_by_name(library, "using", {"indoor_coil_face": "clean", "filter_condition": "clogged"})
    inside = walk_by_name(library, "using", {"indoor_coil_face": "matted"})
    assert path_of(through, shown, trees) == ((("bench", 0), ("again", 0)), "choked")  # type: ignore[arg-type]
    assert path_of(inside, shown, trees) == ((), "bench")  # type: ignore[arg-type]


def test_drawn_with_its_inside_each_node_counts(using: tuple[Library, dict[str, object]]) -> None:
    """In the linked tree the same calls go through the nodes of the used tree."""
    library, trees = using
    shown = library.tree("using")
    through = walk_by_name(library, "using", {"indoor_coil_face": "clean", "filter_condition": "clogged"})
    ways, end = path_of(through, shown, trees)  # type: ignore[arg-type]
    assert [node for node, _ in ways] == ["bench", "bench/look", "bench/fine", "again"]
    assert end == "choked"


def test_a_call_counts_once_for_a_way(library: Library) -> None:
    """A call that takes a way several times is one call; each call ends at one node."""
    tree = library.tree("poor_cooling")
    waiting = walk_by_name(
        library,
        "poor_cooling",
        {"refrigerant": "R-410A", "minutes_running": ["3 min", "5 min", "20 min"]},
    )
    found = coverage([waiting, waiting], tree, {})
    settle = tree.nodes["settle"]
    assert isinstance(settle, Step)
    assert not isinstance(settle.branches[0], CannotTell)
    assert found.taken["settle", 0] == 2
    assert found.calls == sum(found.ends.values()) == 2


def test_a_call_that_stops_is_followed_as_far_as_it_goes(library: Library) -> None:
    """An answer that cannot be used ends the path where it is asked."""
    stopped = walk_by_name(library, "poor_cooling", {"refrigerant": "R-410A", "minutes_running": "blue"})
    assert stopped.prompt is not None
    ways, end = path_of(stopped, library.tree("poor_cooling"), {})
    assert [node for node, _ in ways] == ["look", "look/filter", "look/vents", "look/outdoor", "look/well"]
    assert end == "settle"
    assert answer("minutes_running", "blue") in stopped.unused
