"""Which example calls hold a limit: those that end elsewhere when it moves by a step."""

from pathlib import Path

import pytest

from assistant.author.edges import Edge, find_edges, step_of
from assistant.author.summary import summary
from assistant.author.summary_text import summary_values, tree_lines
from assistant.call.examples import run_example
from assistant.call.library import Library
from assistant.call.loading import load_library
from assistant.quantity import KELVIN_PER_FAHRENHEIT, PSI
from assistant.tree.examples import read_calls
from assistant.tree.shelf import Shelf
from tests.author.conftest import edit

# The small tree asks for more than 20 F of superheat; 68.6 psig is 40 F for R-22, so that the clamp reads 60 F there.
NEAR = """\
  - {{name: {name}, like: no bulb to be warmed, answers: {{suction_line_temperature: {reading}}}, reaches: {end}}}
"""


def edges_of(folder: Path) -> list[Edge]:
    """The edges of the small tree of a folder."""
    library, problems = load_library(folder)
    assert problems == []
    calls, problems = read_calls(folder / "small.calls.yaml")
    assert problems == []
    results = [run_example(library, "small", call) for call in calls]
    assert [result.faults for result in results if result.faults] == []
    return list(find_edges(library, Shelf([folder])["small"], results))


def add(folder: Path, name: str, reading: str, end: str) -> None:
    """One more example call, with another suction line."""
    with (folder / "small.calls.yaml").open("a", encoding="utf-8") as file:
        file.write(NEAR.format(name=name, reading=reading, end=end))


def test_a_limit_with_no_call_near_it_is_held_by_nobody(new: Path) -> None:
    """Calls 10 F away on either side tell nothing of where it lies."""
    assert edges_of(new) == [
        Edge("high_superheat", is_raised=True, turned=None, is_held=False),
        Edge("high_superheat", is_raised=False, turned=None, is_held=False),
    ]


@pytest.mark.parametrize(("reading", "is_held"), [("60.6 F", True), ("61.6 F", False)])
def test_a_call_just_over_a_limit_holds_it_from_being_raised(new: Path, reading: str, is_held: bool) -> None:
    """A call within 1 F of it ends elsewhere when the limit rises by 1 F; one that is further off does not."""
    add(new, "just over", reading, "undecided")
    raised, lowered = edges_of(new)
    assert raised == Edge("high_superheat", is_raised=True, turned="just over" if is_held else None, is_held=is_held)
    assert lowered.turned is None


def test_a_call_just_under_a_limit_holds_it_from_being_lowered(new: Path) -> None:
    """The other side needs a call of its own."""
    add(new, "just under", "59.4 F", "no_fault")
    raised, lowered = edges_of(new)
    assert raised.turned is None
    assert lowered == Edge("high_superheat", is_raised=False, turned="just under", is_held=True)


def test_where_ways_come_together_a_call_turns_and_fails_not(new: Path) -> None:
    """The limit sends the call another way, and both ways lead to one end: it is told, but holds nothing."""
    add(new, "just over", "60.6 F", "undecided")
    edit(new / "small.yaml", "- otherwise: all_well\n\n  starved", "- otherwise: open_end\n\n  starved")
    edit(new / "small.calls.yaml", "reaches: no_fault", "reaches: undecided")
    raised, _ = edges_of(new)
    assert raised == Edge("high_superheat", is_raised=True, turned="just over", is_held=False)


def test_how_far_a_limit_is_moved(library: Library) -> None:
    """Temperatures and their differences by what a clamp shows for sure, 1 F; all else by a tenth."""
    limits = library.catalogue.limits
    assert step_of(limits["superheat_band"]) == pytest.approx(1 * KELVIN_PER_FAHRENHEIT)
    assert step_of(limits["outdoor_minimum"]) == pytest.approx(1 * KELVIN_PER_FAHRENHEIT)
    assert step_of(limits["bulb_response_cold"]) == pytest.approx(0.3 * PSI)
    assert step_of(limits["compression_ratio_low"]) == pytest.approx(0.23)


def test_an_author_is_told_which_sides_no_call_holds(new: Path) -> None:
    """`coilside trees examples` counts the sides and names those without a call near them."""
    add(new, "just over", "60.6 F", "undecided")
    library, _ = load_library(new)
    one = summary(library, Shelf([new]), "small", read_calls(new / "small.calls.yaml")[0])
    text = "\n".join(tree_lines(one, all_ways=False))
    assert "  limits with a call just either side: 1 of 2 sides" in text
    assert "    no call turns with: high_superheat lowered" in text
    values = summary_values(one)
    assert values["limit_sides"] == 2
    assert values["limit_sides_loose"] == [{"limit": "high_superheat", "raised": False}]
