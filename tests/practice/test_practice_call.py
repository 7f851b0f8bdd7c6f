"""A practice call, as a trainee works it: the same walk over a simulated system, with a clock and a score."""

import random
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from assistant.call.answers import Written
from assistant.call.library import Library
from assistant.call.turns import Coached, Told
from assistant.errors import NoCallError, StoreError
from assistant.practice.session.practice_call import PracticeCall
from assistant.practice.session.practice_keeping import CALL, STORE_NAME, store_path
from assistant.practice.session.practice_prompts import VERDICT
from assistant.practice.session.practice_results import COLUMNS, FILE_NAME, read_results
from assistant.practice.training.review import review_values
from assistant.practice.training.scoring import SOUND
from assistant.practice.training.steps import cautions_of
from assistant.practice.visit.acts import ACTS
from assistant.practice.visit.events import Event
from assistant.practice.visit.visit import readings_here
from assistant.session.responses import Accepted, Anew, Information, Rejected
from assistant.store.store import Store
from tests.practice.site import COMPLAINT, call_with, go_on, reply_to, said

TO_THE_GAUGES = "suction_pressure"


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with Store(store_path(tmp_path / "calls.db")) as opened:
        yield opened


def begun(library: Library, store: Store, *causes: str, minutes: float | None = None) -> PracticeCall:
    session = PracticeCall.start_of(library, store, call_with(*causes, minutes=minutes))
    said(session, "")
    return session


def again(session: PracticeCall) -> PracticeCall:
    assert session.store is not None
    assert session.number is not None
    return PracticeCall.picked_up(session.library, session.store, session.number)


def answered(session: PracticeCall, name: str) -> str:
    return next(one.text for one in session.answers if one.name == name)


def test_enter_takes_what_the_trees_ask_and_the_clock_runs(library: Library, store: Store) -> None:
    """The answer is what the instrument shows of the simulated circuit, and taking it costs its minutes."""
    session = begun(library, store, "undercharge")
    go_on(session, TO_THE_GAUGES)
    before = session.visit.minute
    response = session.say("")
    assert isinstance(response, Accepted)
    taken = session.moments[-1].taken
    assert taken is not None
    assert taken.true is not None
    assert taken.value == pytest.approx(taken.true, abs=4.0 * 6895.0)
    assert answered(session, "suction_pressure") == taken.text()
    assert session.visit.minute == before + 3.0
    assert response.notices[0] == f"Suction pressure: {taken.text()}."


def test_the_circuit_gives_the_number_and_not_the_trainee(library: Library, store: Store) -> None:
    """A typed number or choice is refused; cannot tell is an answer as on any call."""
    session = begun(library, store, "undercharge")
    go_on(session, "filter_condition")
    assert isinstance(session.say("clogged"), Rejected)
    assert isinstance(session.say("cannot tell"), Accepted)
    assert answered(session, "filter_condition") == "cannot tell"
    assert session.visit.minute == 0.0


def test_the_complaint_the_tree_and_the_data_plate_are_known_at_the_door(library: Library, store: Store) -> None:
    """They are told in a line each, where a real call would ask."""
    session = begun(library, store, "undercharge")
    go_on(session, TO_THE_GAUGES)
    told = [turn.text for turn in session.shown.turns if isinstance(turn, Told)]
    assert f'The customer: "{COMPLAINT}"' in told
    assert any("refrigerant, R-410A" in text for text in told)
    assert isinstance(session.command("change", "refrigerant"), Rejected)


def test_an_act_waits_for_its_cautions_and_what_is_skipped_is_scored(library: Library, store: Store) -> None:
    """Acknowledged, skipped or left: each caution by itself, and none twice on one call."""
    session = begun(library, store, "dirty_filter")
    assert isinstance(said(session, "do change filter"), Accepted)
    assert session.moments == ()
    assert isinstance(session.say("back"), Accepted)
    assert session.moments == ()
    assert isinstance(said(session, "do change filter", "1", "skip"), Accepted)
    assert session.moments[-1].skipped == ("moving_parts",)
    assert session.acknowledged == ("live_panels",)
    session.say("cause clogged air filter")
    assert session.review.score.skipped == ("moving_parts",)
    assert session.review.score.needless == ()


def test_a_part_changed_on_a_guess_is_needless_and_venting_is_weighed(library: Library, store: Store) -> None:
    """Opened under pressure, the whole charge goes into the air."""
    session = begun(library, store, "dirty_filter")
    response = said(session, "do change drier", "skip", "skip", "skip", "skip")
    assert isinstance(response, Accepted)
    said(session, "give up")
    assert session.review.score.needless == ("Change the filter drier: nothing was wrong there",)
    assert session.review.score.lost > 1.0
    assert session.review.score.verdict == "not named"


def test_a_reading_can_be_taken_unasked_and_its_probe_looked_at(library: Library, store: Store) -> None:
    """By the beginning of its name or title; words that mean several, or nothing, are asked back."""
    session = begun(library, store, "undercharge")
    assert isinstance(session.say("take liq"), Rejected)
    assert isinstance(session.say("take nonsense"), Rejected)
    said(session, "take liquid line temperature", "ok")
    assert session.moments[-1].event.name == "liquid_line_temperature"
    seen = session.say("look liquid line temperature")
    assert isinstance(seen, Information)
    assert seen.lines[0].startswith(("It sits well", "It hangs askew"))
    assert isinstance(session.say("reseat liquid line temperature"), Accepted)
    listed = session.say("do")
    assert isinstance(listed, Information)
    assert any(line.startswith("change_filter") for line in listed.lines)
    assert any(isinstance(turn, Coached) and "Liquid line" in turn.title for turn in session.shown.turns)


@pytest.mark.parametrize("name", ["suction_pressure", "compressor_current", "indoor_coil_face"])
def test_what_is_taken_unasked_has_the_cautions_of_its_state(library: Library, name: str) -> None:
    """The catalogue's own: those of the hoses, of the open panel, of the look inside; a filter wants none.

    Source: 29 CFR 1910.147(d), 1910.333(c) for what lies behind a panel; 40 CFR 82.154(a) for the hoses.
    """
    wanted = {
        "suction_pressure": {"hoses_and_liquid", "refrigerant_release"},
        "compressor_current": {"live_panels", "live_measurement", "line_side_live", "moving_parts"},
        "indoor_coil_face": {"live_panels", "line_side_live", "moving_parts", "sharp_edges"},
    }
    assert wanted[name] <= set(cautions_of(Event("take", name), library.catalogue))
    assert cautions_of(Event("look", "filter_condition"), library.catalogue) == ()


def test_the_bulb_goes_back_on_its_line_after_the_gauge_was_read(library: Library, store: Store) -> None:
    """A step of the trees is done by Enter, and ends as it says."""
    session = begun(library, store, "txv_stuck_open")
    go_on(session, VERDICT)
    done = [one.event.name for one in session.moments if one.event.kind == "act"]
    assert done == ["ice_bulb", "put_bulb_back"]
    assert session.visit.site.bulb_held is None


def test_agree_names_what_the_trees_named(library: Library, store: Store) -> None:
    """At their end or as soon as they have; Enter alone names nothing. Then the call is over, and only told."""
    session = begun(library, store, "undercharge")
    go_on(session, VERDICT)
    assert isinstance(session.say(""), Rejected)
    go_on(session)
    assert session.is_over
    assert session.review.score.verdict == "right"
    assert session.prompt is None
    for text in ("", "take liq", "cause undercharge", "anything"):
        assert isinstance(session.say(text), Rejected), text
    assert isinstance(session.command("back"), Rejected)
    other = begun(library, store, "dirty_filter")
    assert isinstance(other.say("agree"), Rejected)
    go_on(other, "check look/dirty_filter")
    assert isinstance(other.say("agree"), Accepted)
    assert other.review.score.verdict == "right"


def test_the_second_opinion_comes_when_the_call_is_over(library: Library, store: Store) -> None:
    """Before, it would give away what is hidden."""
    session = begun(library, store, "undercharge")
    go_on(session, TO_THE_GAUGES)
    assert not session.gives_opinion
    refused = session.say("opinion")
    assert isinstance(refused, Rejected)
    assert "give it away" in refused.message
    go_on(session)
    assert session.gives_opinion
    told = session.say("opinion")
    assert isinstance(told, Information)
    assert any("Too little refrigerant" in line for line in told.lines)


@pytest.mark.parametrize(
    ("typed", "named"),
    [
        ("cause undercharge, dirty_filter", ("undercharge", "dirty_filter")),
        ("cause Too little refrigerant", ("undercharge",)),
        ("cause no fault", (SOUND,)),
        ("give up", None),
    ],
)
def test_a_cause_can_be_named_at_any_time(
    library: Library, store: Store, typed: str, named: tuple[str, ...] | None
) -> None:
    """By its name or its title, alone or with others."""
    session = begun(library, store, "undercharge")
    assert isinstance(session.say("cause undercharged system"), Rejected)
    assert isinstance(session.say("cause no fault, undercharge"), Rejected)
    assert isinstance(session.say(typed), Accepted)
    assert session.named == named
    assert session.is_over


def test_whatever_was_acknowledged_is_there_after_a_cut(library: Library, store: Store) -> None:
    """Picked up at any point, the call stands where it stood: turns, prompt, clock and what was done."""
    session = begun(library, store, "bulb_loose")
    said(session, "take discharge", "1", "2")
    while session.prompt is not None:
        found = again(session)
        assert found.shown.turns == session.shown.turns
        assert found.prompt == session.prompt
        assert found.visit == session.visit
        assert found.acknowledged == session.acknowledged
        for _ in range(8):
            if session.prompt is not None:
                assert isinstance(session.say(reply_to(session)), Accepted)
    assert again(session).shown.turns == session.shown.turns
    assert again(session).review == session.review


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_whatever_is_typed_the_call_goes_on_and_is_kept(library: Library, store: Store, seed: int) -> None:
    """Acts in any order, sense or nonsense: nothing breaks, and picked up it is the same call."""
    chance = random.Random(seed)
    session = begun(library, store, "bulb_loose", "undercharge")
    for _ in range(60):
        if session.prompt is None:
            break
        act = f"do {chance.choice(list(ACTS))}{chance.choice(['', ' 0.5 lb', ' 30%', ' -2', ' 9 kg'])}"
        own = [act, f"take {chance.choice(readings_here())}", "wait 7", "skip", "back", "reseat suction", "nonsense"]
        session.say(chance.choice(own) if chance.random() < 0.5 else reply_to(session))
    session.say("back")
    session.say("give up")
    assert session.is_over
    assert again(session).visit == session.visit
    assert again(session).shown.turns == session.shown.turns


def test_back_takes_the_answer_and_not_the_time(library: Library, store: Store) -> None:
    """What was done at the site was done."""
    session = begun(library, store, "undercharge")
    go_on(session, "air_at_vents")
    minute = session.visit.minute
    assert isinstance(session.command("back"), Accepted)
    assert session.prompt is not None
    assert session.prompt.name == "filter_condition"
    assert session.visit.minute == minute
    session.say("")
    assert session.visit.minute > minute


def test_another_tree_can_be_followed_and_what_was_done_stays_done(library: Library, store: Store) -> None:
    """Its questions come from the start, and its readings anew; a second fault is found so."""
    session = PracticeCall.start_of(library, store, call_with("dirty_filter", "undercharge"))
    said(session, "")
    go_on(session, "check look/dirty_filter")
    said(session, "do change filter")
    minute = session.visit.minute
    assert isinstance(session.say("tree poor_cooling"), Accepted)
    assert session.visit.minute == minute
    go_on(session, VERDICT)
    assert session.conversation.outcome is not None
    assert session.conversation.outcome.cause == "undercharge"
    assert again(session).shown.turns == session.shown.turns
    said(session, "cause undercharge, dirty_filter")
    assert session.review.score.verdict == "right"


def test_alone_the_trees_are_silent(library: Library, store: Store) -> None:
    """No question, no worked number, no cause of theirs: only what the trainee does, and the same review at the end."""
    call = replace(call_with("undercharge"), alone=True)
    session = PracticeCall.start_of(library, store, call)
    said(session, "")
    for text in ("", "why", "work", "agree", "tree poor_cooling", "118 psig"):
        assert isinstance(session.say(text), Rejected), text
    said(session, "take liquid pressure", "1", "2", "take liquid line temperature", "ok")
    assert again(session).shown.turns == session.shown.turns
    said(session, "cause undercharge")
    assert session.review.score.verdict == "right"
    assert {one.name for one in session.review.sayings} >= {"subcooling", "liquid_pressure"}


def test_what_was_put_right_is_told_though_it_was_not_named(library: Library, store: Store) -> None:
    """The verdict is about what was named; the repair is told beside it."""
    session = begun(library, store, "dirty_filter")
    said(session, "do change filter", "1", "2", "give up")
    assert session.review.mended == ("Clogged air filter",)


def test_practice_calls_lie_apart_from_real_ones(library: Library, store: Store, tmp_path: Path) -> None:
    """In a file of their own, in the same folder; nothing that belongs to a real call is made of them."""
    session = begun(library, store, "undercharge")
    go_on(session, "air_at_vents")
    assert [path.name for path in tmp_path.glob("*.db")] == [STORE_NAME]
    for word in ("sheet", "same", "note", "instruments"):
        assert isinstance(session.say(word), Rejected), word


def test_nothing_is_kept_of_a_call_that_was_only_looked_at(library: Library, store: Store) -> None:
    """The record begins with the first thing that is done."""
    session = begun(library, store, "undercharge")
    assert session.number is None
    assert store.entries() == []


def test_a_result_is_one_line_that_a_spreadsheet_reads(library: Library, store: Store, tmp_path: Path) -> None:
    """Written once, when the call is over, with all five parts of the score."""
    session = begun(library, store, "undercharge", minutes=10.0)
    go_on(session)
    again(session)
    rows = list(read_results(tmp_path))
    assert [tuple(row) for row in rows] == [tuple(COLUMNS)]
    row = rows[0]
    assert (row["truth"], row["named"], row["verdict"]) == ("undercharge", "undercharge", "right")
    assert (row["minutes_allowed"], row["needless"], row["cautions_skipped"]) == ("10", "0", "0")
    assert float(row["minutes"]) > 10.0
    assert not session.review.score.in_time
    assert (tmp_path / FILE_NAME).read_text(encoding="utf-8").count("\n") == 2


def test_the_review_says_what_each_reading_was_saying(library: Library, store: Store) -> None:
    """Against the sound system in the same weather: a short charge shows in the subcooling, not in the weather."""
    session = begun(library, store, "undercharge")
    go_on(session)
    standing = {one.name: one.standing for one in session.review.sayings}
    assert standing["subcooling"] == "low"
    assert "outdoor_air_temperature" not in standing
    assert all(bool(one.means) == (one.standing != "in range") for one in session.review.sayings)
    values = review_values(session.review)
    assert values["verdict"] == "right"
    assert values["own_way"] == values["trees_way"]


def test_on_a_sound_system_nothing_stands_out_far(library: Library, store: Store) -> None:
    """Of all that the trees ask, no reading is called low or high by more than chance."""
    session = PracticeCall.start_of(library, store, call_with())
    said(session, "")
    go_on(session)
    off = [one.name for one in session.review.sayings if one.standing != "in range"]
    assert len(off) <= 1
    assert session.review.score.truth == ()


def test_the_next_exercise_of_a_list_comes_after_this_one(library: Library, store: Store) -> None:
    """New begins it once this call is over, and not before."""
    calls = (call_with("dirty_filter"), call_with("overcharge"))
    session = PracticeCall.start_of(library, store, calls[0], following=calls[1:])
    said(session, "")
    assert isinstance(session.say("new"), Rejected)
    session.say("cause dirty_filter")
    assert isinstance(session.say("new"), Anew)
    second = session.anew()
    assert second.call == calls[1]
    said(second, "", "give up")
    assert isinstance(second.command("new"), Rejected)


def test_two_windows_on_one_practice_call_do_not_mix(library: Library, store: Store) -> None:
    """The second one shows what the first did, and its reply is not taken."""
    first = begun(library, store, "undercharge")
    go_on(first, "filter_condition")
    second = again(first)
    first.say("")
    response = second.say("")
    assert isinstance(response, Accepted)
    assert "another window" in response.notices[0]
    assert second.shown.turns == first.shown.turns
    assert second.visit == first.visit


@pytest.mark.parametrize("text", ["", "{}", "[1, 2]", '{"seed": 1}', "nonsense"])
def test_what_is_no_practice_call_is_refused(library: Library, store: Store, text: str) -> None:
    """A damaged line is told as such, and a number that is not there too."""

    number = store.new_call()
    store.record(number, "set", Written(CALL, text))
    with pytest.raises(StoreError):
        PracticeCall.picked_up(library, store, number)
    with pytest.raises(NoCallError):
        PracticeCall.picked_up(library, store, number + 1)
