"""What a call asks, when, and how often."""

from dataclasses import replace

import pytest

from assistant.call.headless import walk_by_name
from assistant.call.keys import TREE
from assistant.call.library import Library
from assistant.call.prompts import AskChoice, AskQuantity, AskText, Choice
from assistant.call.turns import Answered, Decided
from assistant.call.walk import walk
from assistant.catalogue.catalogue import Catalogue
from assistant.quantity import Kind
from tests.call.small import asked_next, at_sea_level, prompt_called, prompted, small_library, talk, way

ENDS = """
yes_end: {undecided: It holds.}
no_end: {undecided: It does not hold.}
open_end: {undecided: It cannot be told.}
"""

SUPERHEAT = """
first:
  decide:
    - when: superheat > 30 F
      go: yes_end
    - cannot_tell: open_end
    - otherwise: no_end
"""


def one_decision(catalogue: Catalogue, condition: str) -> str:
    """The nodes of a tree with one decision and three ends."""
    branches = f"[{{when: {condition!r}, go: yes_end}}, {{cannot_tell: open_end}}, {{otherwise: no_end}}]"
    return f"first:\n  decide: {branches}\n{ENDS}"


def test_first_the_complaint_then_the_tree(catalogue: Catalogue) -> None:
    """A call begins with the complaint in the tech's own words, then with which tree fits it."""
    library = small_library(catalogue, SUPERHEAT + ENDS)
    empty = walk(library, ())
    assert isinstance(empty.prompt, AskText)
    assert asked_next(empty) == "complaint"
    after = talk(library, "anything at all", begin=())
    assert isinstance(after.prompt, AskChoice)
    assert after.prompt.default == "small"
    assert after.prompt.choices == (Choice("small", 'Small  (matches "anything")'),)


def test_only_trees_that_match_are_listed(library: Library) -> None:
    """The rest can be named, or asked for as a whole; nobody reads through thirty titles to find the one that fits."""
    listed = talk(library, "freezing up", begin=())
    assert isinstance(listed.prompt, AskChoice)
    names = [choice.name for choice in listed.prompt.choices]
    assert names[0] == "iced_coil"
    assert names[-1] == "all trees"
    assert len(names) <= 7
    assert {*names[:-1], *(choice.name for choice in listed.prompt.unlisted)} == set(library.trees)
    named = talk(library, "freezing up", "reversing_valve", begin=())
    assert named.tree is not None
    assert named.tree.name == "reversing_valve"
    everything = talk(library, "freezing up", str(len(names)), begin=())
    assert isinstance(everything.prompt, AskChoice)
    assert everything.prompt.key == TREE.numbered(2)
    offered = {name for name, tree in library.trees.items() if tree.complaints}
    assert {choice.name for choice in everything.prompt.choices} == offered
    assert {choice.name for choice in everything.prompt.unlisted} == set(library.trees) - offered != set()
    chosen = talk(library, "freezing up", str(len(names)), "defrost", begin=())
    assert chosen.tree is not None
    assert chosen.tree.name == "defrost"


def test_words_that_match_nothing_are_said_to(catalogue: Catalogue) -> None:
    """A complaint that no tree knows is answered with all trees, and says that nothing matched."""
    library = small_library(catalogue, SUPERHEAT + ENDS)
    after = talk(library, "qqqq zzzz", begin=())
    assert after.prompt is not None
    assert after.prompt.question.startswith("Nothing matches those words.")
    assert isinstance(after.prompt, AskChoice)
    assert [choice.name for choice in after.prompt.choices] == ["small"]


@pytest.mark.parametrize(("mode", "end"), [("heating", "yes_end"), ("cooling", "no_end")])
def test_a_tree_for_one_mode_does_not_ask_for_it(catalogue: Catalogue, mode: str, end: str) -> None:
    """What the head of the tree says of the mode is known; a tree that says nothing asks."""
    nodes = one_decision(catalogue, "mode is heating")
    assert way(talk(small_library(catalogue, nodes, mode=mode))) == [end]
    assert asked_next(talk(small_library(catalogue, nodes))) == "mode"


def test_a_condition_shows_the_unit_of_what_it_compares(catalogue: Catalogue) -> None:
    """Static pressure is read in inches of water, so that is how its decision speaks, and not in psi."""
    done = talk(small_library(catalogue, one_decision(catalogue, "external_static_pressure > 0.5 in wc")), "0.8 in wc")
    reasons = [line for turn in done.turns if isinstance(turn, Decided) for line in turn.reasons]
    assert "0.80 ± 0.03 in wc against 0.50 in wc" in reasons[0]


def test_the_site_is_asked_before_the_first_gauge(catalogue: Catalogue) -> None:
    """A gauge reads against the air around it: whatever a tree asks first, its altitude is known before a pressure."""
    done = talk(small_library(catalogue, SUPERHEAT + "# altitude" + ENDS), "R-22", "5000 ft", "73 psig", "90 F")
    assert prompted(done) == ["refrigerant", "altitude", "suction_pressure", "suction_line_temperature"]
    assert done.state.atmosphere == pytest.approx(84300, rel=0.002)  # ASHRAE Fundamentals: 12.228 psia at 5,000 ft


def test_a_pressure_off_a_plate_is_a_gauge_pressure(catalogue: Catalogue) -> None:
    """A fact typed in psig is compared as the gauges are: 610 psig less 40 psi is 570 psig."""
    base = at_sea_level(catalogue)
    setting = replace(
        base.facts["superheat_target"], name="setting", kind=Kind.PRESSURE, units=base.readings["liquid_pressure"].units
    )
    with_fact = replace(base, facts={**base.facts, "setting": setting})
    library = small_library(with_fact, one_decision(with_fact, "liquid_pressure > setting - 40 psi"))
    assert way(talk(library, "610 psig", "590 psig")) == ["yes_end"]
    assert way(talk(library, "610 psig", "560 psig"))[:1] != ["yes_end"]


def test_a_fact_is_asked_once(catalogue: Catalogue) -> None:
    """A node that is come to again asks its readings anew, and not what stays the same for the whole call."""
    nodes = """
first:
  ask: [refrigerant, minutes_running]
  decide:
    - when: minutes_running < 15 min
      go: first
    - cannot_tell: open_end
    - otherwise: open_end
open_end: {undecided: It cannot be told.}
"""
    done = talk(small_library(catalogue, nodes), "R-22", "5 min", "20 min")
    assert prompted(done) == ["refrigerant", "minutes_running", "minutes_running"]


def test_a_decision_asks_just_what_its_number_lacks(catalogue: Catalogue) -> None:
    """Superheat needs the refrigerant, the suction pressure and the clamp: nothing else is asked, each once."""
    library = small_library(catalogue, SUPERHEAT + ENDS)
    done = talk(library, "R-22", "73 psig", "90 F")
    assert prompted(done) == ["refrigerant", "suction_pressure", "suction_line_temperature"]
    assert way(done) == ["yes_end"]


def test_hoses_come_before_clamps(catalogue: Catalogue) -> None:
    """What one condition needs is asked in the order a tech takes it, whatever order the author wrote."""
    condition = "outdoor_air_temperature > 90 F and suction_line_temperature > 60 F and suction_pressure > 50 psig"
    library = small_library(catalogue, one_decision(catalogue, condition))
    done = talk(library, "73 psig", "70 F", "95 F")
    assert prompted(done) == ["suction_pressure", "suction_line_temperature", "outdoor_air_temperature"]
    assert way(done) == ["yes_end"]


def test_what_was_told_is_not_asked_again(catalogue: Catalogue) -> None:
    """A later decision uses the readings of an earlier one without asking."""
    nodes = """
    first:
      decide:
        - when: suction_pressure > 50 psig
          go: second
        - cannot_tell: open_end
        - otherwise: no_end
    second:
      decide:
        - when: superheat > 30 F
          go: yes_end
        - cannot_tell: open_end
        - otherwise: no_end
    """
    library = small_library(catalogue, nodes.replace("\n    ", "\n") + ENDS)
    done = talk(library, "73 psig", "R-22", "90 F")
    assert prompted(done) == ["suction_pressure", "refrigerant", "suction_line_temperature"]


TWO_BRANCHES = """
first:
  decide:
    - when: filter_condition is clogged
      go: yes_end
    - when: outdoor_air_temperature > 90 F
      go: no_end
    - cannot_tell: open_end
    - otherwise: third_end
third_end: {undecided: Neither.}
"""


def test_a_later_branch_asks_only_when_it_is_come_to(catalogue: Catalogue) -> None:
    """When the first branch holds, what the second would need is never asked."""
    library = small_library(catalogue, TWO_BRANCHES + ENDS)
    assert prompted(talk(library, "clogged")) == ["filter_condition"]
    assert prompted(talk(library, "clean", "80 F")) == ["filter_condition", "outdoor_air_temperature"]


@pytest.mark.parametrize(
    ("condition", "reply", "end"),
    [
        ("filter_condition is clogged or outdoor_air_temperature > 90 F", "clogged", "yes_end"),
        ("filter_condition is clogged and outdoor_air_temperature > 90 F", "clean", "no_end"),
        ("not (filter_condition is clean and outdoor_air_temperature > 90 F)", "clogged", "yes_end"),
    ],
)
def test_a_settled_condition_asks_no_more(catalogue: Catalogue, condition: str, reply: str, end: str) -> None:
    """As soon as one part settles a condition, its other parts are not asked."""
    done = talk(small_library(catalogue, one_decision(catalogue, condition)), reply)
    assert prompted(done) == ["filter_condition"]
    assert way(done) == [end]


def test_facts_come_first_in_the_order_of_the_tree(catalogue: Catalogue) -> None:
    """The facts that a tree names are asked at the start, in its order, once."""
    library = small_library(catalogue, SUPERHEAT + ENDS, facts="altitude, refrigerant")
    done = talk(library, "", "R-22", "73 psig", "90 F")
    assert prompted(done) == ["altitude", "refrigerant", "suction_pressure", "suction_line_temperature"]


def test_a_fact_nobody_named_is_asked_when_it_decides(catalogue: Catalogue) -> None:
    """A fact that the tree does not ask at the start is asked by the decision that needs it."""
    nodes = one_decision(catalogue, "metering_device is txv and superheat > 25 F")
    library = small_library(catalogue, nodes, facts="altitude")
    done = talk(library, "", "R-22", "fixed_orifice")
    assert prompted(done) == ["altitude", "refrigerant", "metering_device"]
    assert way(done) == ["no_end"]


def test_an_asked_name_is_asked_again_on_the_next_time_round(catalogue: Catalogue) -> None:
    """`ask` takes a fresh answer each time its node is entered; the first is not kept for the second."""
    nodes = """
first:
  ask: minutes_running
  decide:
    - when: minutes_running < 15 min
      go: first
    - cannot_tell: open_end
    - otherwise: yes_end
"""
    library = small_library(catalogue, nodes + ENDS.replace("no_end: {undecided: It does not hold.}\n", ""))
    done = talk(library, "5 min", "10", "20 min")
    assert prompted(done) == ["minutes_running"] * 3
    assert [turn.prompt.key.nth for turn in done.turns if isinstance(turn, Answered)][2:] == [1, 2, 3]
    again = prompt_called(talk(library, "5 min"), "minutes_running")
    assert isinstance(again, AskQuantity)
    assert way(done) == ["first", "first", "yes_end"]


def test_a_measurement_asked_again_says_so(catalogue: Catalogue) -> None:
    """The second time a reading is asked for, its question says that it is measured again."""
    nodes = """
first:
  ask: suction_pressure
  decide:
    - when: suction_pressure < 20 psig
      go: first
    - cannot_tell: open_end
    - otherwise: yes_end
"""
    library = small_library(catalogue, nodes + ENDS.replace("no_end: {undecided: It does not hold.}\n", ""))
    second = talk(library, "5 psig").prompt
    assert isinstance(second, AskQuantity)
    assert second.again
    assert second.question.startswith("Measure again.")


def test_what_cannot_be_told_takes_its_own_way(catalogue: Catalogue) -> None:
    """ "Cannot tell" leads to the branch for it, never to "otherwise"."""
    library = small_library(catalogue, SUPERHEAT + ENDS)
    assert way(talk(library, "R-22", "73 psig", "cannot tell")) == ["open_end"]


def test_nothing_more_is_asked_for_a_number_out_of_reach(catalogue: Catalogue) -> None:
    """When the suction pressure cannot be told, the clamp is not asked for: superheat is lost anyway."""
    library = small_library(catalogue, SUPERHEAT + ENDS)
    done = talk(library, "R-22", "can't get at it")
    assert prompted(done) == ["refrigerant", "suction_pressure"]
    assert way(done) == ["open_end"]


def test_an_unknown_part_does_not_matter_when_another_settles(catalogue: Catalogue) -> None:
    """`a or b` holds when b holds, though a cannot be told."""
    condition = "filter_condition is clogged or outdoor_air_temperature > 90 F"
    library = small_library(catalogue, one_decision(catalogue, condition))
    assert way(talk(library, "cannot tell", "99 F")) == ["yes_end"]
    assert way(talk(library, "cannot tell", "70 F")) == ["open_end"]


def test_no_branch_behind_an_unknown_one_is_taken(catalogue: Catalogue) -> None:
    """When the first branch cannot be told, a second that would hold is not taken in its place."""
    library = small_library(catalogue, TWO_BRANCHES + ENDS)
    done = talk(library, "cannot tell")
    assert way(done) == ["open_end"]


def test_the_usual_value_of_a_fact_is_only_offered(catalogue: Catalogue) -> None:
    """A fact with a usual value is still asked; Enter takes the usual one."""
    library = small_library(catalogue, SUPERHEAT + ENDS, facts="altitude")
    before = talk(library)
    assert isinstance(before.prompt, AskQuantity)
    assert before.prompt.default == "0 ft"
    after = talk(library, "")
    assert after.used[-1].text == "0 ft"


def test_headless_answers_by_name_and_cannot_tell_for_the_rest(catalogue: Catalogue) -> None:
    """Without anybody to ask, what is not given counts as "cannot tell", and what can be done is done."""
    library = small_library(catalogue, SUPERHEAT + ENDS)
    done = walk_by_name(library, "small", {"refrigerant": "R-22", "suction_pressure": "73 psig"})
    assert done.ended
    assert way(done) == ["open_end"]
    assert done.asked == ("refrigerant", "suction_pressure", "suction_line_temperature")


def test_answers_that_no_question_asks_for_are_told(catalogue: Catalogue) -> None:
    """An answer that the way taken never needs is on the list of unused ones."""
    library = small_library(catalogue, TWO_BRANCHES + ENDS)
    done = walk_by_name(library, "small", {"filter_condition": "clogged", "outdoor_air_temperature": "90 F"})
    assert [answer.name for answer in done.unused] == ["outdoor_air_temperature"]
