"""Calls on a tree that uses others: one conversation, with every answer where it belongs."""

from textwrap import dedent, indent

import pytest

from assistant.call.headless import walk_by_name
from assistant.call.library import Library
from assistant.call.prompts import CloseCall
from assistant.call.turns import CameBack, Concluded, NothingWrong, Told, Undecided
from assistant.call.walk import walk
from assistant.call.wording import conversation_lines, prompt_lines
from assistant.catalogue.catalogue import Catalogue
from assistant.tree.check import check_tree
from assistant.tree.linking import link
from assistant.tree.model import Tree
from assistant.tree.reader import read_tree_string
from tests.answering import answer

from .small import asked_next, at_sea_level, prompted, talk, way

BULB = """
begin:
  caution: [moving_parts]
  do: wait_settled
  measure_again: suction_pressure
  decide:
    - when: change(suction_pressure) > 3 psi
      go: answers
    - cannot_tell: still_open
    - otherwise: still_open
answers:
  no_fault: The valve answers.
still_open:
  undecided: The valve was not seen to answer.
"""
TWICE = """
first:
  say: The left circuit.
  use: bulb
  when_no_fault: right
  when_undecided: right
right:
  say: The right circuit.
  use: bulb
  when_no_fault: fine
fine:
  no_fault: Both answer.
"""
FILTERS = """
look:
  decide:
    - when: filter_condition is clogged
      go: choked
    - cannot_tell: left
    - otherwise: left
choked:
  cause: dirty_filter
left:
  undecided: It is not the filter.
"""
ASKS = """
first:
  use: filters
  when_undecided: open_end
open_end:
  undecided: Come back.
"""


def tree(name: str, nodes: str, facts: str = "") -> Tree:
    head = f"tree: {name}\nversion: 1\ntitle: {name.title()}\ncomplaints: [{name}]\n{facts}start: {{}}\nnodes:\n"
    text = dedent(nodes).strip()
    built, problems = read_tree_string(head.format(text.split(":")[0]) + indent(text, "  "), f"{name}.yaml")
    assert built is not None
    assert problems == []
    return built


@pytest.fixture
def twice(catalogue: Catalogue) -> Library:
    """A tree that uses another at two places."""
    return library_of(catalogue, tree("small", TWICE), tree("bulb", BULB))


def library_of(catalogue: Catalogue, *trees: Tree) -> Library:
    """A library of trees that pass every check, linked."""
    raw = {one.name: one for one in trees}
    for one in trees:
        assert check_tree(one, catalogue, raw) == []
    whole = {name: link(one, raw) for name, one in raw.items()}
    return Library(at_sea_level(catalogue), {name: one for name, one in whole.items() if one is not None})


def test_a_call_goes_through_the_used_tree_and_comes_back(twice: Library) -> None:
    """The texts of both trees come in order; the end of the used tree is said, and the call goes on behind it."""
    conversation = talk(twice, "ok", "118", "done", "125", "ok", "done", "131")
    assert [turn.text for turn in conversation.turns if isinstance(turn, Told)] == [
        "The left circuit.", "The valve answers.", "The right circuit.", "The valve answers.",
    ]  # fmt: skip
    assert [turn.text for turn in conversation.turns if isinstance(turn, NothingWrong)] == ["Both answer."]
    assert conversation.ended


def test_the_same_tree_at_two_places_has_answers_of_its_own(twice: Library) -> None:
    """Cautions and actions are asked at each place under a name of its own, readings by theirs."""
    conversation = talk(twice, "ok", "118", "done", "125", "ok", "cannot do")
    assert prompted(conversation) == [
        "caution moving_parts @ first/begin", "suction_pressure", "do wait_settled @ first/begin", "suction_pressure",
        "caution moving_parts @ right/begin", "do wait_settled @ right/begin",
    ]  # fmt: skip
    assert [turn.text for turn in conversation.turns if isinstance(turn, Undecided)] == [
        "The valve was not seen to answer."
    ]


def test_without_a_way_back_the_call_ends_where_the_used_tree_does(twice: Library) -> None:
    """The right circuit names no way on for "undecided"."""
    conversation = talk(twice, "ok", "118", "done", "118", "ok", "done", "118")
    assert conversation.outcome is not None
    assert conversation.outcome.kind == "undecided"
    assert way(conversation)[-1] == "right/still_open"


def test_a_cause_found_in_a_used_tree_ends_the_call(catalogue: Catalogue) -> None:
    """Whatever ways back there are, a cause is an end."""
    library = library_of(catalogue, tree("small", ASKS), tree("filters", FILTERS))
    conversation = walk_by_name(library, "small", {"filter_condition": "clogged"})
    assert conversation.outcome is not None
    assert conversation.outcome.cause == "dirty_filter"
    assert [turn.node for turn in conversation.turns if isinstance(turn, Concluded)] == ["first/choked"]
    other = walk_by_name(library, "small", {"filter_condition": "clean"})
    assert other.outcome is not None
    assert other.outcome.kind == "undecided"
    assert "Come back." in conversation_lines(other)


def test_actions_of_used_trees_are_answered_by_their_whole_names(twice: Library) -> None:
    """A file of answers says which of the two steps could not be done."""
    given = {"suction_pressure": ["118 psig", "125 psig", "131 psig"], "right/begin": "cannot do"}
    conversation = walk_by_name(twice, "small", given)
    assert [answer.text for answer in conversation.used if answer.name.startswith("do ")] == ["done", "cannot do"]
    assert [answer.name for answer in conversation.unused] == ["suction_pressure"]


def test_facts_of_both_trees_are_asked_first(catalogue: Catalogue) -> None:
    """Those of the used tree come behind the caller's, before anything else happens."""
    caller = tree("small", TWICE, "facts: [metering_device]\n")
    library = library_of(catalogue, caller, tree("bulb", BULB, "facts: [refrigerant, metering_device]\n"))
    conversation = talk(library, "txv", "22")
    assert prompted(conversation) == ["metering_device", "refrigerant"]
    assert asked_next(conversation) == "caution moving_parts @ first/begin"


CLOSE = """
begin:
  ask: suction_pressure
  decide:
    - when: suction_pressure > 120 psig
      go: high
    - cannot_tell: low
    - otherwise: low
high:
  no_fault: The suction pressure is high.
low:
  undecided: The suction pressure is low.
"""
BACK = """
first:
  use: pressure
  when_no_fault: filter
  when_undecided: open_end
filter:
  decide:
    - when: filter_condition is clogged
      go: choked
    - cannot_tell: open_end
    - otherwise: open_end
choked:
  cause: dirty_filter
open_end:
  undecided: Come back with gauges.
"""


@pytest.fixture
def close(catalogue: Catalogue) -> Library:
    """A tree whose used tree decides by a pressure."""
    return library_of(catalogue, tree("small", BACK), tree("pressure", CLOSE))


def test_a_close_call_in_a_used_tree_is_said_in_plain_names(close: Library) -> None:
    """The way that it leans to is said in words, and no name of a node."""
    conversation = talk(close, "120.5")
    assert isinstance(conversation.prompt, CloseCall)
    shown = "\n".join(prompt_lines(conversation.prompt))
    assert "It leans to: air filter." in shown
    assert "first/" not in shown


def test_a_call_comes_back_into_a_used_tree(close: Library) -> None:
    """When the end that it leant to does not hold up, the other way inside of the used tree is taken."""
    conversation = talk(close, "120.5", "go on", "clean", "no")
    assert [turn.node for turn in conversation.turns if isinstance(turn, CameBack)] == ["first/begin"]
    assert way(conversation)[-2:] == ["first/low", "open_end"]
    assert conversation.ended


def test_an_unlinked_tree_is_not_walked(catalogue: Catalogue) -> None:
    """A library holds linked trees; anything else is a mistake of the program, and says so."""
    library = Library(catalogue, {"small": tree("small", TWICE)})
    with pytest.raises(ValueError, match="only linked trees"):
        walk(library, (answer("complaint", "small"), answer("tree", "small")))
