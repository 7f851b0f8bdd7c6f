"""After a repair: the readings again, before and after side by side, and whether the tree still comes to the cause."""

import pytest

from assistant.call.answers import CANNOT_TELL, MeasureFirst, with_answer
from assistant.call.headless import walk_by_name
from assistant.call.library import Library
from assistant.call.prompts import Acknowledge, AskQuantity, CheckOut, DoStep
from assistant.call.replies import Given
from assistant.call.turns import CameBack, Concluded, Told, Undecided, Verified
from assistant.call.walk import Conversation, accept, walk
from assistant.call.wording import turn_lines
from assistant.catalogue.catalogue import Catalogue
from tests.answering import answer
from tests.call.small import asked_next, small_library, talk

STARVED = """
first:
  decide:
    - when: superheat > 25 F
      go: charge
    - cannot_tell: open_end
    - otherwise: fed
charge:
  decide:
    - when: subcooling < 5 F
      go: leak
    - cannot_tell: open_end
    - otherwise: narrow
leak:
  cause: undercharge
  because: [superheat, subcooling]
narrow:
  cause: liquid_line_restriction
  because: [superheat, subcooling]
fed: {no_fault: The coil is fed.}
open_end: {undecided: It cannot be told.}
"""
# R-22 at 60 psig boils near 34 F and at 226 psig condenses at 110 F at sea level (ASHRAE Fundamentals 2017, ch. 30).
LOW = ("22", "0 ft", "60 psig", "70 F", "226 psig", "109 F")


@pytest.fixture
def small(catalogue: Catalogue) -> Library:
    return small_library(catalogue, STARVED, facts="refrigerant, altitude")


def repaired(library: Library, *replies: str) -> Conversation:
    """The call at the question whether its repair is proven: 36 F of superheat and 1 F of subcooling before it."""
    return past_cautions(library, talk(library, *(replies or LOW)))


def past_cautions(library: Library, conversation: Conversation) -> Conversation:
    """The call behind the cautions that stand in the way."""
    while isinstance(conversation.prompt, Acknowledge):
        conversation = talk(library, "understood", begin=conversation.used)
    return conversation


def measured_again(library: Library, *replies: str, begin: Conversation | None = None) -> Conversation:
    """The call after its readings were taken again: suction and liquid pressure, suction and liquid line."""
    asked = talk(library, "3", begin=(begin or repaired(library)).used)
    return talk(library, "1", *replies, begin=past_cautions(library, asked).used)


def verdict(conversation: Conversation) -> Verified:
    """The last verdict."""
    return [turn for turn in conversation.turns if isinstance(turn, Verified)][-1]


def test_measuring_again_is_offered_and_not_forced(small: Library) -> None:
    """The end asks as ever; yes, no and "cannot tell" go on without another reading."""
    now = repaired(small)
    assert isinstance(now.prompt, CheckOut)
    assert now.prompt.measurable == (
        "Suction pressure", "Liquid pressure", "Suction line temperature (outdoor unit)",
        "Liquid line temperature (outdoor unit)",
    )  # fmt: skip
    for reply in ("yes", "1", "2", "0", "not now"):
        assert talk(small, reply, begin=now.used).ended


def test_it_settles_first_and_asks_what_the_evidence_rests_on(small: Library) -> None:
    """First the wait, then each reading behind the evidence, in the order in which a tech takes them."""
    now = talk(small, "measure again", begin=repaired(small).used)
    assert isinstance(now.prompt, DoStep)
    assert now.prompt.name == "settle leak"
    asked = []
    for reply in ("done", "70 psig", "226 psig", "52 F", "100 F"):
        now = talk(small, reply, begin=now.used)
        asked.append(now.prompt)
    assert [prompt.name for prompt in asked if isinstance(prompt, AskQuantity)] == [
        "suction_pressure", "liquid_pressure", "suction_line_temperature", "liquid_line_temperature",
    ]  # fmt: skip
    assert all(prompt.again for prompt in asked if isinstance(prompt, AskQuantity))
    assert asked_next(now) == "check leak"


def test_a_repair_that_helped_checks_out(small: Library) -> None:
    """The tree comes to another end with the new readings: both values stand side by side, each with its doubt."""
    # R-22 at 76 psig boils at 45 F: 10 F of superheat; 226 psig is 110 F: 10 F of subcooling.
    found = verdict(measured_again(small, "76 psig", "226 psig", "55 F", "100 F"))
    assert found.checks_out is True
    assert (found.gone, found.word) == (True, "Checks out")
    assert found.beyond == "The tree finds no fault now."
    rows = {row.title: row for row in found.readings}
    assert rows["Suction pressure"].before.startswith("60.0 ±")
    assert rows["Suction pressure"].after.startswith("76.0 ±")
    assert rows["Superheat at the outdoor unit"].before.startswith("36.")
    assert rows["Superheat at the outdoor unit"].after.startswith("10.")
    (first, second) = found.conditions
    assert first.before.startswith("yes (36.")
    assert first.after.startswith("no (10.")
    assert (first.was, first.now) == ("subcooling", "nothing wrong found")
    assert second.was == "too little refrigerant"


def test_a_repair_that_changed_nothing_is_not_proven(small: Library) -> None:
    """The same readings lead to the same cause, and the verdict says so before it is asked."""
    now = measured_again(small, "60 psig", "226 psig", "70 F", "109 F")
    assert verdict(now).checks_out is False
    assert "it still is" in verdict(now).verdict
    assert asked_next(now) == "check leak"


def test_readings_that_lead_to_another_cause_say_which(small: Library) -> None:
    """Enough liquid now, and still starved: that is the other cause of the tree, and the repair is not proven."""
    found = verdict(measured_again(small, "60 psig", "226 psig", "70 F", "95 F"))
    assert (found.gone, found.checks_out) == (True, False)
    assert small.catalogue.causes["liquid_line_restriction"].title in found.beyond


def test_a_cause_that_is_gone_is_told_apart_from_what_is_close(small: Library) -> None:
    """Enough liquid now: not this cause. Whether there is another hangs on 25.4 F of superheat against 25 F."""
    found = verdict(measured_again(small, "76 psig", "226 psig", "70 F", "100 F"))
    assert (found.gone, found.checks_out) == (True, None)
    assert found.beyond.endswith("That is a close call: let it run on and measure again before you act on it.")


def test_a_doubt_that_leads_back_to_the_cause_proves_nothing(small: Library) -> None:
    """Within its doubt of the only limit that parts them, neither verdict stands."""
    # 226 psig condenses at 110 F: 5.2 F of subcooling against 5 F, and 36 F of superheat.
    found = verdict(measured_again(small, "60 psig", "226 psig", "70 F", "104.8 F"))
    assert (found.gone, found.checks_out) == (None, None)
    assert "close call" in found.verdict


def test_a_doubt_that_leads_elsewhere_takes_nothing_away(catalogue: Catalogue) -> None:
    """Subcooling from 1 to 12 F is no lack of refrigerant; that 12 F is near a limit of too much is said apart."""
    between = """
first:
  decide:
    - when: subcooling < 5 F and superheat > 20 F
      go: leak
    - when: subcooling > 13 F and superheat < 20 F
      go: much
    - cannot_tell: open_end
    - otherwise: right
leak: {cause: bulb_loose, because: [subcooling, superheat]}
much: {cause: dirty_outdoor_coil, because: [subcooling, superheat]}
right: {no_fault: The charge is right.}
open_end: {undecided: It cannot be told.}
"""
    library = small_library(catalogue, between, facts="refrigerant, altitude")
    call = repaired(library, "22", "0 ft", "60 psig", "226 psig", "70 F", "109 F")
    # R-22 at 76 psig boils at 45 F: 10 F of superheat.
    found = verdict(measured_again(library, "76 psig", "226 psig", "55 F", "98 F", begin=call))
    assert (found.gone, found.checks_out) == (True, True)
    assert found.conditions[-1].is_close


def test_what_cannot_be_measured_again_is_not_taken_from_before(small: Library) -> None:
    """A reading from before the repair proves nothing of it: it counts no more, and that is said."""
    now = measured_again(small, "76 psig", "226 psig", "cannot tell", "100 F")
    found = verdict(now)
    assert found.checks_out is None
    assert "Suction line temperature" in found.beyond
    assert {row.title: row.after for row in found.readings}["Superheat at the outdoor unit"] == CANNOT_TELL
    assert "suction_line_temperature" not in now.readings
    assert any(isinstance(turn, Told) and "no longer counts" in turn.text for turn in now.turns)


def test_nothing_measured_proves_nothing(small: Library) -> None:
    """When no reading could be taken, there is no verdict."""
    found = verdict(measured_again(small, *["cannot tell"] * 4))
    assert found.checks_out is None
    assert found.conditions == ()


def test_what_has_not_settled_is_not_measured(small: Library) -> None:
    """ "Cannot do" at the wait goes back to the question."""
    asked = past_cautions(small, talk(small, "3", begin=repaired(small).used))
    back = talk(small, "cannot do", begin=asked.used)
    assert asked_next(back) == "check leak"
    assert not any(isinstance(turn, Verified) for turn in back.turns)


def test_it_can_be_measured_again_as_often_as_wanted(small: Library) -> None:
    """Each time beside what was read before the repair."""
    first = measured_again(small, "60 psig", "226 psig", "70 F", "109 F")
    second = measured_again(small, "76 psig", "226 psig", "55 F", "100 F", begin=first)
    assert [turn.checks_out for turn in second.turns if isinstance(turn, Verified)] == [False, True]
    assert {row.title: row.before for row in verdict(second).readings}["Suction pressure"].startswith("60.0 ±")


def test_a_no_without_a_kept_way_ends_undecided(small: Library) -> None:
    """Not proven and nothing kept: an honest end that names what looks alike."""
    now = talk(small, "no", begin=measured_again(small, "60 psig", "226 psig", "70 F", "109 F").used)
    assert now.ended
    assert isinstance(now.turns[-1], Undecided)


def test_a_kept_way_is_taken_as_it_was_kept(small: Library) -> None:
    """After a repair that moved the reading to the other side of the limit, the kept way is still the other one."""
    # 4.6 F of subcooling against 5 F is a close call; the repair brings 8 F, so nothing needs to be turned round.
    close = talk(small, "22", "0 ft", "60 psig", "70 F", "226 psig", "105.5 F", "")
    at_end = past_cautions(small, close)
    after = measured_again(small, "60 psig", "226 psig", "70 F", "101 F", begin=at_end)
    back = talk(small, "no", begin=after.used)
    assert any(isinstance(turn, CameBack) for turn in back.turns)
    causes = [turn.cause.name for turn in back.turns if isinstance(turn, Concluded)]
    assert causes == ["undercharge", "liquid_line_restriction"]


def test_a_call_without_anybody_to_ask_measures_nothing_again(small: Library) -> None:
    """Example calls go as they did: without an answer there the end is left open."""
    names = (
        "refrigerant",
        "altitude",
        "suction_pressure",
        "suction_line_temperature",
        "liquid_pressure",
        "liquid_line_temperature",
    )
    done = walk_by_name(small, "small", dict(zip(names, ("R-22", *LOW[1:]), strict=True)))
    assert done.outcome is not None
    assert done.outcome.cause == "undercharge"
    assert not any(isinstance(turn, Verified) for turn in done.turns)


def test_the_verdict_is_said_in_plain_lines(small: Library) -> None:
    """For those who read line by line: each reading before and after, each condition, the verdict."""
    lines = turn_lines(verdict(measured_again(small, "76 psig", "226 psig", "55 F", "100 F")))
    assert lines[0] == "MEASURED AGAIN"
    assert any(line.startswith("  Suction pressure: 60.0 ±") and line.endswith("after") for line in lines)
    assert any("-> nothing wrong found, not subcooling" in line for line in lines)


def test_a_cause_seen_and_not_measured_is_looked_at_again(catalogue: Catalogue) -> None:
    """Where the evidence is what was seen, that is asked again."""
    nodes = """
first:
  decide:
    - when: filter_condition is clogged
      go: choked
    - cannot_tell: fine
    - otherwise: fine
choked:
  cause: dirty_filter
  because: [filter_condition]
fine: {no_fault: The filter is fine.}
"""
    library = small_library(catalogue, nodes, facts="refrigerant")
    found = verdict(measured_again(library, "clean", begin=repaired(library, "22", "clogged")))
    assert found.checks_out is True
    assert found.readings[0].after == "clean"


def test_a_correction_before_the_repair_is_worked_through(small: Library) -> None:
    """The verdict follows from the answers like all else: another first reading is another row."""
    now = measured_again(small, "76 psig", "226 psig", "55 F", "100 F")
    changed = walk(small, with_answer(now.used, answer("suction_pressure", "58 psig")))
    assert {row.title: row.before for row in verdict(changed).readings}["Suction pressure"].startswith("58.0 ±")


def test_measuring_again_is_understood_in_words(small: Library) -> None:
    """The number of the choice, or words for it."""
    now = repaired(small)
    for typed in ("3", "measure", "measure again now", "again"):
        assert accept(now, typed) == Given(MeasureFirst())


def test_what_stands_in_one_number_is_measured_again_together(catalogue: Catalogue) -> None:
    """A superheat from a pressure after the repair and a pipe before it would be a number of no system at all."""
    tree = STARVED.replace("because: [superheat, subcooling]", "because: [evaporating_temperature]", 1)
    library = small_library(catalogue, tree, facts="refrigerant, altitude")
    prompt = repaired(library).prompt
    assert isinstance(prompt, CheckOut)
    title = catalogue.title_of
    assert prompt.measurable == (title("suction_pressure"), title("suction_line_temperature"))
