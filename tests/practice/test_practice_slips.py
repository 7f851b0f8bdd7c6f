"""What a trainee types by habit or by mistake on a practice call, and what the review makes of it."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from assistant.call.library import Library
from assistant.call.prompts import Acknowledge
from assistant.plain import run_plain
from assistant.practice.session.practice_call import PracticeCall
from assistant.practice.session.practice_keeping import store_path
from assistant.practice.session.practice_prompts import VERDICT
from assistant.practice.training.kept import SetCall
from assistant.practice.training.meanings import IN_HEATING, MEANINGS, meaning
from assistant.practice.training.review import saying_lines, score_lines, way_lines
from assistant.practice.visit.scenario import plate_of
from assistant.quantity import fahrenheit
from assistant.session.responses import Accepted, Information, Rejected
from assistant.store.store import Store
from tests.practice.site import call_with, go_on, said


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with Store(store_path(tmp_path / "calls.db")) as opened:
        yield opened


def begun(library: Library, store: Store, call: SetCall) -> PracticeCall:
    session = PracticeCall.start_of(library, store, call)
    said(session, "")
    return session


def in_heating(call: SetCall) -> SetCall:
    """The same fault on a heat pump on a mild winter day."""
    scenario = call.scenario
    air = {"outdoor": fahrenheit(45.0), "return_dry_bulb": fahrenheit(68.0), "return_wet_bulb": fahrenheit(55.0)}
    wish = replace(scenario.site.wish, mode="heating", heat_pump=True, **air)
    return SetCall(replace(scenario, site=replace(scenario.site, wish=wish), tree="poor_heating", heat_pump=True))


def acknowledged(session: PracticeCall) -> None:
    """Acknowledge what stands before something that is to be done."""
    while session.first is not None:
        prompt = session.prompt
        assert isinstance(prompt, Acknowledge)
        assert isinstance(session.say(str(prompt.place) if prompt.is_listed else "ok"), Accepted)


def taken(session: PracticeCall, *names: str) -> None:
    """Take readings unasked, and acknowledge what stands before them."""
    for name in names:
        session.say(f"take {name}")
        acknowledged(session)


def test_a_slip_of_the_keyboard_does_not_leave_what_was_begun(library: Library, store: Store) -> None:
    """The caution that stands there is still the one that is skipped or acknowledged."""
    session = begun(library, store, call_with("txv_stuck_open"))
    session.say("do ice bulb")
    waiting = session.prompt
    assert isinstance(session.say("do reseat bulb"), Rejected)
    assert isinstance(session.say("visit"), Information)
    assert session.prompt == waiting
    assert isinstance(session.say("skip"), Accepted)
    assert session.moments[-1].event.name == "ice_bulb"


def test_something_else_that_can_be_done_takes_the_place_of_what_was_begun(library: Library, store: Store) -> None:
    """Who waits instead has not held the bulb in ice."""
    session = begun(library, store, call_with("txv_stuck_open"))
    assert isinstance(said(session, "do ice bulb", "wait 5"), Accepted)
    assert session.first is None
    assert [one.event.kind for one in session.moments] == ["wait"]


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("look at outdoor unit", "outdoor_unit"),
        ("look at the outdoor unit", "outdoor_unit"),
        ("take the outdoor air", "outdoor_air_temperature"),
        ("take current", "compressor_current"),
        ("take static", "external_static_pressure"),
    ],
)
def test_what_is_meant_may_be_said_as_on_the_job(library: Library, store: Store, typed: str, name: str) -> None:
    """Little words in front do not count, and a word that stands in one name only is enough."""
    session = begun(library, store, call_with("undercharge"))
    assert isinstance(session.say(typed), Accepted)
    event = session.first.event if session.first else session.moments[-1].event
    assert event.name == name


def test_a_cause_is_not_taken_by_a_word_within_it(library: Library, store: Store) -> None:
    """Naming ends the call, so what is meant is shown first."""
    session = begun(library, store, call_with("txv_stuck_open"))
    response = session.say("cause stuck open")
    assert isinstance(response, Rejected)
    assert "txv_stuck_open" in response.message
    assert not session.is_over


def test_an_act_is_not_taken_by_a_word_within_it(library: Library, store: Store) -> None:
    """It changes the system, so what is meant is shown first."""
    session = begun(library, store, call_with("undercharge"))
    response = session.say("do compressor")
    assert isinstance(response, Rejected)
    assert response.message.endswith("Did you mean change_compressor?")
    assert session.first is None


def test_an_amount_goes_with_the_beginning_of_an_act(library: Library, store: Store) -> None:
    """Eight ounces are added where somebody says to add them."""
    session = begun(library, store, call_with("undercharge"))
    session.say("do add 8 oz")
    acknowledged(session)
    event = session.moments[-1].event
    assert event.name == "add_charge"
    assert event.amount == pytest.approx(0.2268, abs=1e-4)


def test_a_worked_number_is_not_taken_off_the_system(library: Library, store: Store) -> None:
    """Who asks for the superheat is told which readings it comes from."""
    response = begun(library, store, call_with("undercharge")).say("take superheat")
    assert isinstance(response, Rejected)
    assert "suction pressure" in response.message
    assert "suction line temperature" in response.message


def test_the_charge_of_the_plate_can_be_asked_for_by_name(library: Library, store: Store) -> None:
    """The list of acts says plate, so plate is taken."""
    session = begun(library, store, call_with("undercharge"))
    session.say("do weigh in plate")
    event = session.first.event if session.first else session.moments[-1].event
    assert (event.name, event.amount) == ("weigh_in", None)


def test_while_an_answer_is_changed_enter_leaves_it_and_take_takes_it(library: Library, store: Store) -> None:
    """The hint says so, and so it is."""
    session = begun(library, store, call_with("undercharge"))
    go_on(session, "liquid_pressure")
    before = len(session.moments)
    session.command("change", "suction_pressure")
    assert session.hint == "take takes it anew; Enter leaves it as it was"
    assert isinstance(session.say(""), Accepted)
    assert len(session.moments) == before
    session.command("change", "suction_pressure")
    assert isinstance(session.say("take"), Accepted)
    assert [one.event.name for one in session.moments[before:]] == ["suction_pressure"]


def test_minute_and_wait_add_up(library: Library, store: Store) -> None:
    """Three minutes after minute 1, by the clock 0.5, it is minute 4: halves always go up."""
    session = begun(library, store, call_with("undercharge"))
    minutes = [said(session, f"wait {wait}") for wait in ("0.5", "3")]
    assert [one.notices[-1] for one in minutes if isinstance(one, Accepted)] == ["Minute 1.", "Minute 4."]


def test_the_static_pressure_is_held_against_that_of_a_sound_system(library: Library, store: Store) -> None:
    """0.5 in wc at the right airflow, which a clogged filter takes out of range and a leak does not."""
    for cause, standing in (("dirty_filter", "high"), ("undercharge", "in range")):
        session = begun(library, store, call_with(cause))
        taken(session, "external static")
        session.say("give up")
        (static,) = (one for one in session.review.sayings if one.name == "external_static_pressure")
        assert (static.sound, static.standing) == ("0.50 in wc", standing)


def test_a_cool_liquid_line_says_nothing_of_the_drier(library: Library, store: Store) -> None:
    """What lies behind the drier is judged by the drop across it alone: a cool line is as cool in front of it."""
    session = begun(library, store, call_with("overcharge"))
    taken(session, "drier inlet", "drier outlet")
    session.say("give up")
    assert [one.name for one in session.review.sayings] == ["drier_temperature_drop"]
    assert session.review.sayings[0].standing == "in range"


def test_in_heating_the_air_is_warmed_and_the_indoor_coil_condenses(library: Library, store: Store) -> None:
    """A weak compressor warms it little; nothing is said of cooling, nor of condensing over outdoor air."""
    session = begun(library, store, in_heating(call_with(compressor_not_pumping=0.35)))
    taken(session, "outdoor air", "return air dry", "supply air dry", "suction pressure", "liquid pressure")
    session.say("give up")
    said_of = {one.name: one.means for one in session.review.sayings}
    assert said_of["supply_air_dry_bulb"] == "little heat comes to the air"
    assert said_of["air_temperature_drop"] == "the air is warmed little"
    assert not said_of.keys() & {"condensing_over_ambient", "evaporator_difference"}
    assert not any("cooled" in line for line in saying_lines(session.review))


def test_what_is_said_otherwise_in_heating_is_said_in_cooling(library: Library) -> None:
    """Each of the names is one that cooling knows, so none of them was misspelt."""
    for name in IN_HEATING:
        assert name in MEANINGS
        assert meaning(name, heating=False) == MEANINGS[name] != meaning(name, heating=True)


def test_the_circuits_of_the_indoor_coil_are_not_felt_in_heating(library: Library, store: Store) -> None:
    """It is warm then, and feeds no circuit from a distributor."""
    assert isinstance(begun(library, store, in_heating(call_with("undercharge"))).say("look coil circuits"), Rejected)
    assert isinstance(begun(library, store, call_with("undercharge")).say("look coil circuits"), Accepted)


def test_trees_that_do_not_find_it_are_no_measure(library: Library, store: Store) -> None:
    """Their minutes and steps are told, and that they lead elsewhere."""
    session = begun(library, store, in_heating(call_with(compressor_not_pumping=0.1)))
    session.say("cause compressor not pumping")
    assert session.review.trees_verdict != "right"
    assert any("no measure" in line for line in score_lines(session.review))
    other = begun(library, store, call_with("dirty_filter"))
    other.say("give up")
    assert other.review.trees_verdict == "right"
    assert not any("no measure" in line for line in score_lines(other.review))


def test_the_time_of_repair_and_proof_stands_apart(library: Library, store: Store) -> None:
    """The trees' way repairs nothing, so only the minutes before the first repair compare with it."""
    session = begun(library, store, call_with("dirty_filter"))
    said(session, "wait 7", "do change filter", "1", "2", "wait 15", "cause clogged air filter")
    assert session.review.before_repair == 7.0
    assert any("27 minutes, 7 before the first repair" in line for line in score_lines(session.review))


def test_skipped_cautions_are_said_in_words(library: Library, store: Store) -> None:
    """In the score and in the way, no name with underscores."""
    session = begun(library, store, call_with("txv_stuck_open"))
    said(session, "do ice bulb", "skip", "give up")
    lines = [*score_lines(session.review), *way_lines(session.review.own)]
    assert sum("chilled bulb" in line for line in lines) == 2
    assert not any("_" in line for line in lines)


def test_of_a_reading_taken_again_and_again_the_last_line_stands(library: Library, store: Store) -> None:
    """Four times is two needless steps, said once."""
    session = begun(library, store, call_with("undercharge"))
    said(session, "wait 20")
    taken(session, *("outdoor air",) * 4)
    session.say("give up")
    lines = list(score_lines(session.review))
    assert "Needless steps: 2" in lines
    assert [line for line in lines if "taken" in line] == [
        "  Outdoor air temperature: taken 4 times, and nothing had changed"
    ]


@pytest.mark.parametrize(
    ("cause", "shown"),
    [
        ("undercharge", "less by more than a tenth"),
        ("overcharge", "more by more than a tenth"),
        ("dirty_filter", "within a tenth"),
    ],
)
def test_what_was_recovered_over_the_scale_is_held_against_the_plate(
    library: Library, store: Store, cause: str, shown: str
) -> None:
    """As weighed; unweighed, nobody knows."""
    session = begun(library, store, call_with(cause))
    assert isinstance(session.say("look weight recovered"), Rejected)
    for act in ("set up scale", "set up recovery", "recover all"):
        session.say(f"do {act}")
        acknowledged(session)
    response = session.say("look weight recovered")
    assert isinstance(response, Accepted)
    assert response.notices[0] == f"Weight recovered: {shown}."


def test_the_step_that_weighs_the_charge_in_heating_weighs_it(library: Library, store: Store) -> None:
    """So the tree for the charge in heating comes to a charge that is wrong."""
    session = begun(library, store, in_heating(call_with(overcharge=0.3)))
    session.say("tree heating charge")
    go_on(session, "do recover_charge @ weigh")
    session.say("")
    assert [one.event.name for one in session.moments[-3:]] == ["set_up_scale", "set_up_recovery", "recover_all"]
    go_on(session, VERDICT)
    assert session.visit.site.lost == 0.0
    assert isinstance(session.say("agree"), Accepted)
    assert session.named == ("overcharge",)


def test_line_by_line_what_was_done_is_said_once(library: Library, store: Store) -> None:
    """The record of the call says it, so it is not said in front of it as well."""
    replies, written = iter(["", "wait 5", "quit"]), list[str]()
    run_plain(PracticeCall.start_of(library, store, call_with("undercharge")), lambda: next(replies), written.append)
    assert [line for line in written if "Wait 5 minutes" in line] == ["* minute 5  Wait 5 minutes"]


def test_the_data_plate_can_be_read_at_any_time(library: Library, store: Store) -> None:
    """Its charge is what weighing compares with; reading it takes no time."""
    session = begun(library, store, call_with("undercharge"))
    for typed in ("look data plate", "look at the data plate"):
        response = session.say(typed)
        assert isinstance(response, Information)
        assert response.lines == plate_of(session.call.scenario)
    assert session.visit.minute == 0.0
