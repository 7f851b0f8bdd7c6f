"""Which ways example calls take through a tree."""

from collections.abc import Iterator

import pytest

from assistant.author.ways import coverage, path_of
from assistant.call.answers import CANNOT_DO, Answer
from assistant.call.decision import Picked, pick
from assistant.call.examples import run_example
from assistant.call.headless import walk_by_name
from assistant.call.library import Library
from assistant.call.script import Script
from assistant.call.turns import CameBack, Decided, Turn
from assistant.call.walk import Conversation
from assistant.catalogue.catalogue import Catalogue
from assistant.source.shipped import shipped_folder
from assistant.tree.examples import ENDING, read_calls
from assistant.tree.linking import link
from assistant.tree.model import CannotTell, Step
from tests.author.drawings import INNER, USING, tree_of

TREES = shipped_folder("trees")
FILES = sorted(TREES.glob(f"*{ENDING}"))


def picked_again(library: Library, conversation: Conversation) -> Iterator[tuple[str, int] | None]:
    """The branches that the decisions of a call picked, asked of the decision itself; `None` where that cannot be."""
    book = {answer.key: answer.text for answer in conversation.used}
    script = Script(library, "us")
    play = script.play()
    counts: dict[str, int] = {}
    undone = came_back = False
    item = next(play)
    try:
        while True:
            text = ""
            if isinstance(item, Decided):
                step = library.tree(str(book["tree", 1])).nodes[item.node]
                assert isinstance(step, Step)
                picked = pick(step, script.state, skip_to_unknown=undone)
                assert isinstance(picked, Picked)
                yield None if came_back else (item.node, picked.index)
                undone = came_back = False
            elif isinstance(item, CameBack):
                came_back = True
            elif not isinstance(item, Turn):
                counts[item.name] = counts.get(item.name, 0) + 1
                text = book[item.name, counts[item.name]]
                undone = undone or text == CANNOT_DO
            item = play.send(text)
    except StopIteration:
        return


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.name)
def test_the_branch_of_a_decision_is_told_apart(library: Library, file: object) -> None:
    """Where several branches lead to one node, the one that was taken is found, as the decision itself says."""
    name = file.name.removesuffix(ENDING)  # type: ignore[attr-defined]
    compared = 0
    for call in read_calls(file)[0]:  # type: ignore[arg-type]
        conversation = run_example(library, name, call).conversation
        ways, _ = path_of(conversation, library.tree(name), {})
        wanted = list(picked_again(library, conversation))
        assert len(ways) == len(wanted)
        for way, one in zip(ways, wanted, strict=True):
            if one is not None:
                assert way == one, call.name
                compared += 1
    assert compared > len(read_calls(file)[0])  # type: ignore[arg-type]


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
        {"refrigerant": "R-410A", "minutes_running": ["3 min", "20 min"], "filter_condition": "clogged"},
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
    assert [node for node, _ in ways] == ["which_mode"]
    assert end == "settle"
    assert Answer("minutes_running", "blue") in stopped.unused
