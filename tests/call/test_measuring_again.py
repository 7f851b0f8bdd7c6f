"""Steps that change something, what a reading changed by, and corrections of earlier answers."""

import pytest

from assistant.call.answers import with_answer
from assistant.call.headless import walk_by_name
from assistant.call.library import Library
from assistant.call.prompts import AskQuantity, CloseCall, DoStep
from assistant.call.turns import Answered, NumberMissing, NumberShown, Told
from assistant.call.walk import Conversation, walk
from assistant.catalogue.catalogue import Catalogue
from tests.answering import answer
from tests.call.small import START, asked_next, prompted, small_library, talk, way

WARM_BULB = """
first:
  do: wait_settled
  measure_again: suction_pressure
  decide:
    - when: change(suction_pressure) > 3 psi
      go: answers
    - cannot_tell: open_end
    - otherwise: silent
answers: {undecided: The valve answers.}
silent: {undecided: The valve is silent.}
open_end: {undecided: It cannot be told.}
"""


def test_a_reading_never_taken_is_taken_before_the_step(catalogue: Catalogue) -> None:
    """`measure_again` takes the reading once before its step, to have something to compare with, and again after."""
    library = small_library(catalogue, WARM_BULB)
    before = walk(library, START)
    assert isinstance(before.prompt, AskQuantity)
    assert not before.prompt.again
    doing = talk(library, "70 psig")
    assert isinstance(doing.prompt, DoStep)
    after = talk(library, "70 psig", "done")
    assert isinstance(after.prompt, AskQuantity)
    assert after.prompt.again
    assert prompted(talk(library, "70 psig", "done", "80 psig")) == [
        "suction_pressure",
        "do wait_settled @ first",
        "suction_pressure",
    ]


def test_a_reading_on_record_is_the_one_to_compare_with(catalogue: Catalogue) -> None:
    """When the reading was taken before, the step follows at once and the earlier value is the first of the two."""
    nodes = """
first:
  decide:
    - when: suction_pressure < 5 psig
      go: open_end
    - cannot_tell: open_end
    - otherwise: second
"""
    library = small_library(catalogue, nodes + WARM_BULB.replace("first:", "second:"))
    done = talk(library, "70 psig", "done", "80 psig")
    assert prompted(done) == ["suction_pressure", "do wait_settled @ second", "suction_pressure"]
    assert way(done) == ["second", "answers"]


def test_a_change_has_the_doubt_of_the_repeatability_only(catalogue: Catalogue) -> None:
    """A rise of 4.5 psi decides against 3 psi: the gauge's 3.5 psi drops out, two times 0.5 psi remains.

    Two readings each within 0.5 psi: standard uncertainty 0.5 sqrt(2/3) = 0.41 psi, expanded 0.82 psi.
    Source: JCGM 100:2008, 4.3.7 and 5.1.2; the repeatability is common practice, no source.
    """
    library = small_library(catalogue, WARM_BULB)
    assert way(talk(library, "70 psig", "done", "74.5 psig")) == ["answers"]
    assert way(talk(library, "70 psig", "done", "73.83 psig")) == ["answers"]
    close = talk(library, "70 psig", "done", "73.8 psig").prompt
    assert isinstance(close, CloseCall)
    assert close.leanings[0].measured == "3.8 ± 0.8 psi"


def test_a_fall_is_no_rise(catalogue: Catalogue) -> None:
    """A change has its sign: after minus before."""
    assert way(talk(small_library(catalogue, WARM_BULB), "80 psig", "done", "70 psig")) == ["silent"]


@pytest.mark.parametrize(
    "replies", [("cannot tell", "done", "80 psig"), ("70 psig", "done", "cannot tell"), ("70 psig", "cannot do")]
)
def test_without_both_readings_there_is_no_change(catalogue: Catalogue, replies: tuple[str, ...]) -> None:
    """A change is unknown when either reading is missing, or when the step could not be done."""
    done = talk(small_library(catalogue, WARM_BULB), *replies)
    assert way(done) == ["open_end"]


def test_a_step_that_cannot_be_done_is_not_measured(catalogue: Catalogue) -> None:
    """When the step could not be done, nothing is measured again and the way for "cannot tell" is taken."""
    done = talk(small_library(catalogue, WARM_BULB), "70 psig", "no")
    assert prompted(done) == ["suction_pressure", "do wait_settled @ first"]


TARGET = """
first:
  decide:
    - when: superheat > superheat_target + 5 F
      go: starved
    - cannot_tell: open_end
    - otherwise: fed
starved: {undecided: Starved.}
fed: {undecided: Fed.}
open_end: {undecided: It cannot be told.}
"""
HOT_AND_DRY = {
    "refrigerant": "R-22",
    "metering_device": "fixed_orifice",
    "suction_pressure": "73 psig",
    "suction_line_temperature": "70 F",
    "return_air_wet_bulb": "60 F",
    "outdoor_air_temperature": "95 F",
}


def test_a_number_that_is_refused_is_said_and_not_guessed(catalogue: Catalogue) -> None:
    """60 F wet bulb at 95 F outdoors has no target: that is said, and the decision cannot be told.

    Source: California Title 24 (2008) Residential Appendix RA3.2, page RA3-14: below 5 F there is no target.
    """
    done = walk_by_name(small_library(catalogue, TARGET), "small", HOT_AND_DRY)
    assert way(done) == ["open_end"]
    (missing,) = (turn for turn in done.turns if isinstance(turn, NumberMissing))
    assert missing.line.startswith("Superheat target cannot be worked: ")
    assert "5" in missing.line


def test_with_a_target_off_the_data_plate_nothing_is_refused(catalogue: Catalogue) -> None:
    """The maker's own target is asked for before the rule, and replaces it, so the same weather is judged.

    Source: California Title 24 (2008) Residential Appendix RA3.2, page RA3-15, items 8-9.
    """
    done = walk_by_name(small_library(catalogue, TARGET), "small", {**HOT_AND_DRY, "superheat_target": "8 F"})
    assert way(done) == ["starved"]
    assert not any(isinstance(turn, NumberMissing) for turn in done.turns)


def test_a_number_is_shown_when_first_used_and_when_it_changes(catalogue: Catalogue) -> None:
    """A worked number appears before the decision that uses it, and again only when it has another value."""
    nodes = """
first:
  decide:
    - when: superheat > 30 F
      go: high
    - cannot_tell: high
    - otherwise: second
second:
  measure_again: suction_line_temperature
  decide:
    - when: superheat > 30 F
      go: high
    - cannot_tell: high
    - otherwise: low
high: {undecided: High.}
low: {undecided: Low.}
"""
    library = small_library(catalogue, nodes, facts="refrigerant")
    same = talk(library, "R-22", "73 psig", "54 F", "54 F")
    changed = talk(library, "R-22", "73 psig", "54 F", "60 F")
    lines = [turn.line for turn in same.turns if isinstance(turn, NumberShown)]
    # R-22 at 73 psig boils at 43 F: 54 F is 11 F of superheat. Common practice, no source.
    assert len(lines) == 1
    assert lines[0].startswith("Superheat at the outdoor unit: 11.0 ±")
    assert len([turn for turn in changed.turns if isinstance(turn, NumberShown)]) == 2


CHAIN = """
first:
  decide:
    - when: filter_condition is clogged
      go: second
    - cannot_tell: third
    - otherwise: third
second:
  decide:
    - when: air_at_vents is weak
      go: weak_end
    - cannot_tell: third
    - otherwise: third
third:
  decide:
    - when: outdoor_air_temperature > 90 F
      go: hot_end
    - cannot_tell: cool_end
    - otherwise: cool_end
weak_end: {undecided: Weak.}
hot_end: {undecided: Hot.}
cool_end: {undecided: Cool.}
"""


def corrected(library: Library, before: Conversation, name: str, text: str, nth: int = 1) -> Conversation:
    """The conversation with one earlier answer replaced."""
    return walk(library, with_answer((*before.used, *before.unused), answer(name, text, nth)))


def test_a_correction_works_all_that_follows_again(catalogue: Catalogue) -> None:
    """A corrected answer sends the call another way, and what it now needs is asked."""
    library = small_library(catalogue, CHAIN)
    before = talk(library, "clogged", "weak")
    assert way(before) == ["second", "weak_end"]
    after = corrected(library, before, "filter_condition", "clean")
    assert way(after) == ["third"]
    assert asked_next(after) == "outdoor_air_temperature"


def test_a_correction_keeps_what_still_applies(catalogue: Catalogue) -> None:
    """Answers that the new way needs too are not asked again; the rest is put aside, and is back when it fits again."""
    library = small_library(catalogue, CHAIN)
    before = talk(library, "clogged", "normal", "95 F")
    after = corrected(library, before, "filter_condition", "clean")
    assert after.ended
    assert way(after) == ["third", "hot_end"]
    assert [answer.name for answer in after.unused] == ["air_at_vents"]
    back = corrected(library, after, "filter_condition", "clogged")
    assert back.turns == before.turns


def test_a_corrected_altitude_moves_every_gauge_reading(catalogue: Catalogue) -> None:
    """Superheat is worked again with the air of the new altitude. Source: common practice, R-22 at 5,000 ft."""
    nodes = TARGET.replace("superheat_target + 5 F", "20 F")
    library = small_library(catalogue, nodes, facts="altitude, refrigerant")
    before = talk(library, "0 ft", "R-22", "60 psig", "52 F")
    after = corrected(library, before, "altitude", "5000 ft")
    lines = [[turn.line for turn in now.turns if isinstance(turn, NumberShown)] for now in (before, after)]
    # 60.0 psig is 34.1 F at sea level and 32 F at 5,000 ft (ASHRAE Fundamentals 2017 ch. 1 Table 1, R-22 rows).
    assert lines[0][0].startswith("Superheat at the outdoor unit: 18.")
    assert lines[1][0].startswith("Superheat at the outdoor unit: 20.0")


def test_an_answer_that_fits_no_more_is_asked_again(catalogue: Catalogue) -> None:
    """-12 psig can be read at sea level, but not at 10,000 ft, where a perfect vacuum reads -10.1 psig.

    Source: ASHRAE Fundamentals 2017, ch. 1, Table 1: 10.106 psia at 10,000 ft.
    """
    nodes = WARM_BULB.replace("  do: wait_settled\n  measure_again", "  ask").replace(
        "change(suction_pressure) > 3 psi", "suction_pressure > 3 psig"
    )
    library = small_library(catalogue, nodes, facts="altitude")
    before = talk(library, "0 ft", "-12 psig")
    assert before.ended
    after = corrected(library, before, "altitude", "10000 ft")
    assert asked_next(after) == "suction_pressure"
    assert after.unfit is not None
    assert "below a perfect vacuum" in after.unfit
    assert "-10.1 psig" in after.unfit


def test_a_choice_that_a_new_catalogue_lacks_is_asked_again(catalogue: Catalogue) -> None:
    """A stored answer that is no choice any more stops the call there, with the reason, and later answers wait."""
    library = small_library(catalogue, CHAIN)
    stored = (*START, answer("filter_condition", "fluffy"), answer("outdoor_air_temperature", "95 F"))
    now = walk(library, stored)
    assert asked_next(now) == "filter_condition"
    assert now.unfit is not None
    assert now.unused[-1] == answer("outdoor_air_temperature", "95 F")
    assert way(corrected(library, now, "filter_condition", "clean")) == ["third", "hot_end"]


def test_a_tree_that_is_gone_is_asked_for_again(catalogue: Catalogue) -> None:
    """A call stored with a tree of another name asks which tree to follow."""
    library = small_library(catalogue, CHAIN)
    now = walk(library, (answer("complaint", "anything"), answer("tree", "older"), answer("filter_condition", "clean")))
    assert asked_next(now) == "tree"
    assert now.unfit is not None


def test_each_measurement_is_corrected_by_its_own_number(catalogue: Catalogue) -> None:
    """The first and the second reading of one name are two answers; correcting one leaves the other."""
    library = small_library(catalogue, WARM_BULB)
    before = talk(library, "70 psig", "done", "71 psig")
    assert way(before) == ["silent"]
    assert way(corrected(library, before, "suction_pressure", "60 psig", nth=1)) == ["answers"]
    assert way(corrected(library, before, "suction_pressure", "80 psig", nth=2)) == ["answers"]
    values = [
        turn.answer.text
        for turn in before.turns
        if isinstance(turn, Answered) and turn.prompt.name == "suction_pressure"
    ]
    assert values == ["70 psig", "71 psig"]


def test_what_cannot_be_measured_after_a_step_counts_no_more_and_that_is_said(catalogue: Catalogue) -> None:
    """A reading from before the step says nothing of what is there now, so no verdict may rest on it."""
    nodes = """
first:
  decide:
    - when: suction_pressure < 5 psig
      go: open_end
    - cannot_tell: open_end
    - otherwise: second
second:
  do: wait_settled
  measure_again: suction_pressure
  decide:
    - when: change(suction_pressure) > 3 psi
      go: open_end
    - cannot_tell: third
    - otherwise: open_end
third:
  decide:
    - when: superheat > 10 F
      go: high
    - cannot_tell: open_end
    - otherwise: open_end
high: {undecided: High.}
open_end: {undecided: It cannot be told.}
"""
    library = small_library(catalogue, nodes, facts="refrigerant")
    done = talk(library, "R-22", "73 psig", "done", "cannot tell")
    assert way(done) == ["second", "third", "open_end"]
    (said,) = (turn.text for turn in done.turns if isinstance(turn, Told))
    assert (
        said
        == "Suction pressure: the earlier answer, 73.0 ± 4.0 psig, no longer counts, as things may have changed since."
    )


def test_a_close_call_that_cannot_be_measured_again_stands_as_it_was(catalogue: Catalogue) -> None:
    """The offer to measure again, taken and not fulfilled, loses no reading: the same close call stands again."""
    library = small_library(catalogue, TARGET.replace("superheat_target + 5 F", "20 F"), facts="refrigerant")
    close = talk(library, "R-22", "73 psig", "64 F")
    assert isinstance(close.prompt, CloseCall)
    again = talk(library, "2", "cannot tell", begin=close.used)
    assert isinstance(again.prompt, CloseCall)
    assert again.prompt.leanings == close.prompt.leanings


def test_what_a_step_asks_anew_counts_no_more_and_that_is_said(catalogue: Catalogue) -> None:
    """A step that is come to again asks because things have moved on: "cannot tell" is its answer then."""
    nodes = """
first:
  ask: minutes_running
  decide:
    - when: minutes_running < 15 min
      go: first
    - cannot_tell: open_end
    - otherwise: fine
fine: {no_fault: Settled.}
open_end: {undecided: It cannot be told.}
"""
    done = talk(small_library(catalogue, nodes), "5 min", "cannot tell")
    assert way(done) == ["first", "open_end"]
    (said,) = (turn.text for turn in done.turns if isinstance(turn, Told))
    assert said.endswith("5 min, no longer counts, as things may have changed since.")
