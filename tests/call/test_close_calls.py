"""Close calls: where a measurement cannot really decide, the way it leans, and the other way that is kept."""

import pytest

from assistant.call.answers import Answer, with_answer
from assistant.call.library import Library
from assistant.call.prompts import AskRefrigerant, CheckOut, CloseCall
from assistant.call.turns import CameBack, Concluded, Undecided
from assistant.call.walk import Conversation, walk
from assistant.catalogue.catalogue import Catalogue
from tests.call.small import asked_next, prompted, small_library, talk, way

# A thermometer is within 0.1 % + 1.3 F. At 51 F that is 1.351 F, so the standard uncertainty is 1.351/sqrt(3) = 0.780 F
# and the expanded one 1.560 F. Sources: California Title 24 RA3.2 (2008, page RA3-10); JCGM 100:2008, 4.3.7 and 6.2.
ONE_LIMIT = """
first:
  decide:
    - when: suction_line_temperature > 50 F
      go: warm
    - cannot_tell: open_end
    - otherwise: cool
warm: {cause: undercharge}
cool: {cause: overcharge}
open_end: {undecided: It cannot be told.}
"""


@pytest.fixture
def one_limit(catalogue: Catalogue) -> Library:
    return small_library(catalogue, ONE_LIMIT)


def close_call(conversation: Conversation) -> CloseCall:
    """The close call that is asked now."""
    assert isinstance(conversation.prompt, CloseCall), conversation.prompt
    return conversation.prompt


def to_the_check(conversation: Conversation, library: Library) -> Conversation:
    """The same call with R-410A and every caution acknowledged, up to the question whether the end holds."""
    while conversation.prompt is not None and not isinstance(conversation.prompt, CheckOut):
        reply = "R-410A" if isinstance(conversation.prompt, AskRefrigerant) else "understood"
        conversation = talk(library, reply, begin=conversation.used)
    return conversation


def test_within_the_doubt_it_is_asked(one_limit: Library) -> None:
    """51 F against 50 F lies within 1.56 F of doubt: the tech is told, before any branch is taken."""
    now = talk(one_limit, "51 F")
    prompt = close_call(now)
    assert prompt.leans_to == "too little refrigerant"
    assert way(now) == []
    assert prompt.leanings[0].other_way == "too much refrigerant"
    assert prompt.leanings[0].measured == "51.0 ± 1.6 °F"
    assert prompt.leanings[0].limit == "50.0 °F"


@pytest.mark.parametrize(
    ("reading", "likelihood"),
    # z = 1.282 and 0.642 and 0: from the table of the standard normal distribution, 0.9000, 0.7396 and 0.5.
    [("51 F", 0.900), ("50.5 F", 0.740), ("49.5 F", 0.740), ("50 F", 0.5)],
)
def test_likelihood_is_that_of_a_normal_distribution(one_limit: Library, reading: str, likelihood: float) -> None:
    """How likely the reading lies on its side of the limit. Source: table of the standard normal distribution."""
    leaning = close_call(talk(one_limit, reading)).leanings[0]
    assert leaning.likelihood == pytest.approx(likelihood, abs=0.001)


@pytest.mark.parametrize(("reading", "end"), [("51.6 F", "warm"), ("48.4 F", "cool"), ("90 F", "warm")])
def test_beyond_the_doubt_nothing_is_asked(one_limit: Library, reading: str, end: str) -> None:
    """1.6 F from the limit is more than the expanded uncertainty of 1.56 F: no close call, nothing kept."""
    done = talk(one_limit, reading)
    assert way(done) == [end]
    assert done.close_calls == ()
    assert done.kept == ()


def test_going_on_keeps_the_other_way(one_limit: Library) -> None:
    """Enter goes the way it leans; the other way is kept with what is left of the likelihood."""
    done = talk(one_limit, "51 F", "")
    assert way(done) == ["warm"]
    (kept,) = done.kept
    assert kept.node == "first"
    assert kept.likelihood == pytest.approx(0.100, abs=0.001)
    assert done.close_calls == (kept,)


def test_a_cause_beside_a_close_call_shows_what_was_not_sure(one_limit: Library) -> None:
    """The conclusion lists the close call as what speaks against it."""
    done = talk(one_limit, "51 F", "")
    concluded = next(turn for turn in done.turns if isinstance(turn, Concluded))
    assert concluded.against == ("suction line temperature (outdoor unit) > 50 °F: 51.0 ± 1.6 °F against 50.0 °F",)


def test_when_the_repair_is_not_proven_the_kept_way_is_taken(one_limit: Library) -> None:
    """ "No" at the end leads back to the decision and down the other way, and says so."""
    check = to_the_check(talk(one_limit, "51 F", ""), one_limit)
    assert isinstance(check.prompt, CheckOut)
    assert check.prompt.kept == 1
    after = talk(one_limit, "no", begin=check.used)
    assert way(after) == ["warm", "cool"]
    assert [turn.node for turn in after.turns if isinstance(turn, CameBack)] == ["first"]
    assert after.kept == ()
    end = talk(one_limit, "yes", begin=to_the_check(after, one_limit).used)
    assert end.outcome is not None
    assert (end.outcome.kind, end.outcome.cause, end.outcome.proven) == ("cause", "overcharge", True)


def test_when_no_way_is_left_the_call_says_so(one_limit: Library) -> None:
    """After the last kept way has failed too, the call ends undecided and names what looks alike."""
    check = to_the_check(talk(one_limit, "51 F", ""), one_limit)
    second = to_the_check(talk(one_limit, "no", begin=check.used), one_limit)
    end = talk(one_limit, "no", begin=second.used)
    assert end.ended
    assert end.outcome is not None
    assert end.outcome.kind == "undecided"
    assert isinstance(end.turns[-1], Undecided)
    assert "no other way was kept open" in end.turns[-1].text


@pytest.mark.parametrize("reply", ["yes", "cannot tell"])
def test_an_end_that_holds_or_is_not_known_yet_stands(one_limit: Library, reply: str) -> None:
    """ "Yes" and "cannot tell" end the call at its cause; only "no" follows the kept way."""
    check = to_the_check(talk(one_limit, "51 F", ""), one_limit)
    end = talk(one_limit, reply, begin=check.used)
    assert end.ended
    assert end.outcome is not None
    assert end.outcome.cause == "undercharge"
    assert end.outcome.proven is (True if reply == "yes" else None)


@pytest.mark.parametrize("reply", ["2", "suction line temperature", "measure again", "again suction_line_temperature"])
def test_measuring_again_can_settle_it(one_limit: Library, reply: str) -> None:
    """A better reading away from the limit decides without a close call, and nothing is kept."""
    asked = talk(one_limit, "51 F", reply)
    assert asked_next(asked) == "suction_line_temperature"
    done = talk(one_limit, "53 F", begin=asked.used)
    assert way(done) == ["warm"]
    assert done.close_calls == ()
    assert prompted(done)[:3] == ["suction_line_temperature", "close first", "suction_line_temperature"]


def test_measuring_again_can_change_the_way(one_limit: Library) -> None:
    """The new reading decides, not the first one."""
    assert way(talk(one_limit, "51 F", "2", "40 F")) == ["cool"]


def test_measuring_again_can_stay_close(one_limit: Library) -> None:
    """A second reading as near to the limit is a close call again, now leaning by the second reading."""
    now = talk(one_limit, "51 F", "2", "49.5 F")
    assert close_call(now).leans_to == "too much refrigerant"
    assert now.prompt is not None
    assert now.prompt.key.nth == 2


def test_no_close_call_when_both_ways_lead_to_the_same_place(catalogue: Catalogue) -> None:
    """A comparison whose other outcome would change nothing is not put before the tech."""
    nodes = """
first:
  decide:
    - when: filter_condition is clogged and suction_line_temperature > 50 F
      go: warm
    - when: suction_line_temperature > 50 F
      go: cool
    - cannot_tell: open_end
    - otherwise: cool
warm: {undecided: Warm.}
cool: {undecided: Cool.}
open_end: {undecided: It cannot be told.}
"""
    assert way(talk(small_library(catalogue, nodes), "clean", "50.1 F")) == ["cool"]
    assert isinstance(talk(small_library(catalogue, nodes), "clogged", "50.1 F").prompt, CloseCall)


def test_a_limit_without_doubt_is_no_close_call(catalogue: Catalogue) -> None:
    """Counted minutes have no doubt: 15 min against 15 min decides."""
    nodes = """
first:
  decide:
    - when: minutes_running < 15 min
      go: early
    - cannot_tell: early
    - otherwise: settled
early: {undecided: Early.}
settled: {undecided: Settled.}
"""
    assert way(talk(small_library(catalogue, nodes), "15 min")) == ["settled"]
    assert way(talk(small_library(catalogue, nodes), "14.9 min")) == ["early"]


TWO_LIMITS = """
first:
  decide:
    - when: suction_line_temperature > 50 F
      go: second
    - cannot_tell: open_end
    - otherwise: third
second:
  decide:
    - when: liquid_line_temperature > 90 F
      go: end_one
    - cannot_tell: open_end
    - otherwise: end_two
third: {undecided: Third.}
end_one: {undecided: One.}
end_two: {undecided: Two.}
open_end: {undecided: It cannot be told.}
"""


def test_the_likeliest_kept_way_is_tried_first(catalogue: Catalogue) -> None:
    """Of two kept ways the one that the readings make likelier is taken first, wherever it was kept."""
    library = small_library(catalogue, TWO_LIMITS)
    # 50.1 F is all but even, 91 F against 90 F leans clearly.
    after = talk(library, "50.1 F", "", "91 F", "", "no")
    assert way(after)[-1] == "third"
    other = talk(library, "51 F", "", "90.1 F", "", "no")
    assert way(other)[-1] == "end_two"


def test_every_kept_way_is_followed_in_turn(catalogue: Catalogue) -> None:
    """As long as an end does not hold and a way is kept, the call goes on; then it ends."""
    end = talk(small_library(catalogue, TWO_LIMITS), "51 F", "", "90.1 F", "", "no", "no")
    assert way(end) == ["second", "end_one", "end_two", "third"]
    assert end.ended


def test_the_same_way_is_kept_once(catalogue: Catalogue) -> None:
    """A node passed twice with a close call keeps its other way once, as it read last."""
    nodes = """
first:
  ask: suction_line_temperature
  decide:
    - when: suction_line_temperature > 50 F
      go: first
    - cannot_tell: cool
    - otherwise: cool
cool: {undecided: Cool.}
"""
    now = talk(small_library(catalogue, nodes), "51 F", "", "50.5 F", "")
    assert len(now.close_calls) == 2
    (kept,) = now.kept
    assert kept.likelihood == pytest.approx(0.260, abs=0.001)


def test_a_stored_choice_to_measure_again_is_read_back(one_limit: Library) -> None:
    """A call that is picked up again goes the same way through a close call."""
    live = talk(one_limit, "51 F", "2", "53 F")
    answers: tuple[Answer, ...] = ()
    for answer in live.used:
        answers = with_answer(answers, answer)
    assert walk(one_limit, answers).turns == live.turns
