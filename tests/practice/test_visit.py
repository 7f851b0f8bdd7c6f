"""A visit to a practice site: what is done changes the circuit over minutes, and the same events give the same."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.errors import CoilsideError, FileError, InputError
from assistant.practice.training.history import apply_event
from assistant.practice.visit.acts import ACTS
from assistant.practice.visit.events import Event, read_events, write_events
from assistant.practice.visit.instruments import Kit, seating
from assistant.practice.visit.observing import answerable_observations
from assistant.practice.visit.scenario import Scenario, draw_scenario, plate_of
from assistant.practice.visit.visit import Visit, begin_visit, readings_here
from assistant.quantity import PSI
from assistant.simulator.faults import FAULTS, with_severity


def scenario(cause: str, seed: int = 3) -> Scenario:
    """A drawn call that hides a cause, on a system with an expansion valve where it can be."""
    return draw_scenario(seed, 1, cause=cause, device="txv" if "orifice" not in cause else None)


def suction_after(visit: Visit, minutes: float) -> float:
    """The true suction pressure [Pa] some minutes later."""
    return visit.wait(minutes).true("suction_pressure")


def test_a_bulb_in_ice_water_closes_the_valve_over_minutes() -> None:
    """The suction falls at once a little, and within five minutes by more than ten psi; put back, it comes up again."""
    visit = begin_visit(scenario("overcharge"))
    before = visit.true("suction_pressure")
    iced, did = visit.act("ice_bulb", acknowledged=("chilled_bulb",))
    assert not did.skipped
    fallen = [before - suction_after(iced, minutes) for minutes in (0.0, 1.0, 5.0)]
    assert fallen == sorted(fallen)
    assert fallen[-1] > 10.0 * PSI
    back, _ = iced.act("put_bulb_back")
    assert suction_after(back, 15.0) == pytest.approx(before, abs=0.5 * PSI)


def test_a_clogged_filter_shows_and_is_mended() -> None:
    """It is seen and felt at the vents, the suction is low, the air is cooled deeply; a new one sets it all right."""
    call = scenario("dirty_filter")
    visit = begin_visit(call)
    visit, choice = visit.look("filter_condition")
    visit, vents = visit.look("air_at_vents")
    assert (choice, vents) == ("clogged", "weak")
    drop = visit.true("return_air_dry_bulb") - visit.true("supply_air_dry_bulb")
    suction = visit.true("suction_pressure")
    mended, did = visit.act("change_filter", acknowledged=("live_panels", "moving_parts"))
    assert "new one" in did.seen
    mended = mended.wait(25.0)
    assert mended.true("suction_pressure") > suction + 3.0 * PSI
    assert mended.true("return_air_dry_bulb") - mended.true("supply_air_dry_bulb") < drop - 1.0
    assert mended.look("filter_condition")[1] == "clean"


def test_stopped_both_pressures_go_to_saturation_outdoors() -> None:
    """At rest the gauges meet at saturation for the outdoor air, which takes many minutes; only then it is read."""
    visit = begin_visit(scenario("dirty_outdoor_coil"))
    assert visit.take("standing_pressure")[1].value is None
    stopped, _ = visit.act("stop", acknowledged=("live_panels",))
    standing = visit.system.readings["standing_pressure"]
    assert abs(stopped.true("liquid_pressure") - standing) > 10.0 * PSI
    rested = stopped.wait(30.0)
    assert rested.true("standing_pressure") == pytest.approx(standing, abs=1.0 * PSI)
    assert rested.true("suction_pressure") == pytest.approx(standing, abs=1.0 * PSI)
    assert rested.true("compressor_current") == pytest.approx(0.0, abs=0.1)
    assert rested.minutes_running == 0.0
    for name in ("air_at_vents", "liquid_line_feel", "valve_cold", "current_draw", "coil_circuits"):
        assert rested.look(name)[1] is None
        assert visit.look(name)[1] is not None
    assert rested.look("gauges_at_rest")[1] == "equal"


def test_after_a_start_readings_settle_within_a_quarter_of_an_hour() -> None:
    """As common practice asks: 15 minutes after a start a reading is within a few percent of the change (no source)."""
    visit = begin_visit(scenario("undercharge"))
    goals = {name: visit.true(name) for name in ("suction_pressure", "liquid_pressure", "suction_line_temperature")}
    started = visit.act("stop")[0].wait(30.0).act("start")[0]
    for name, goal in goals.items():
        change = started.true(name) - goal
        assert abs(started.wait(3.0).true(name) - goal) > 0.05 * abs(change)
        assert abs(started.wait(15.0).true(name) - goal) < 0.05 * abs(change)


def test_a_probe_off_the_pipe_reads_between_pipe_and_air() -> None:
    """A clamp that sits badly feels some of the air; put on anew it reads the pipe."""
    call = scenario("undercharge")
    name = "suction_line_temperature"
    seed = next(n for n in range(2000) if seating(name, Kit(n), 1) > 0.3 and not seating(name, Kit(n), 2))
    visit, taken = begin_visit(replace(call, kit=Kit(seed, thermometers=0.1))).take(name)
    assert taken.off_pipe
    assert visit.looks_seated(name) is False
    pipe, air = visit.true(name), visit.true("outdoor_air_temperature")
    assert taken.value is not None
    assert min(pipe, air) + 1.0 < taken.value < max(pipe, air) - 1.0
    visit, anew = visit.reseat(name)
    assert anew.value == pytest.approx(pipe, abs=0.5)
    assert visit.looks_seated(name) is True


def test_a_clamp_that_is_read_at_once_still_shows_the_air() -> None:
    """A reading taken ten seconds after the clamp was put on lies nearer to the air than one after two minutes."""
    visit = begin_visit(scenario("undercharge"))
    name = "liquid_line_temperature"
    air = visit.true("outdoor_air_temperature")
    at_once, waited = visit.take(name, 0.15)[1].value, visit.take(name)[1].value
    assert at_once is not None
    assert waited is not None
    assert abs(at_once - air) < abs(waited - air)


def test_the_whole_way_of_a_repair_gives_a_sound_system() -> None:
    """Recovered, opened, evacuated and weighed in, with the tools set up, nothing is lost and nothing is left wrong."""
    visit = begin_visit(draw_scenario(5, 1, cause="liquid_line_restriction"))
    mend = "mend_liquid_line" if visit.site.look("liquid_line") else "change_drier"
    lost = 0.0
    for name in ("set_up_scale", "set_up_recovery", "stop", "recover_all", mend, "evacuate", "weigh_in"):
        visit, did = visit.act(name, acknowledged=ACTS[name].cautions)
        assert not did.skipped
        lost += did.lost
    assert lost == 0.0
    visit = visit.wait(40.0)
    assert visit.site.hidden == ()
    assert visit.system.truth.charge == pytest.approx(1.0, abs=0.01)
    assert visit.look("liquid_line_feel")[1] == "even"


def test_wrong_ways_cost_refrigerant_and_bring_air_in() -> None:
    """Opened under pressure the charge is lost; filled without a vacuum there is air in it; skipped cautions count."""
    visit = begin_visit(scenario("liquid_line_restriction"))
    visit, did = visit.act("change_drier")
    assert did.lost > 0.5
    assert "opening_circuit" in did.skipped
    with pytest.raises(InputError, match="vacuum"):
        visit.act("start")
    visit, _ = visit.act("weigh_in")
    assert visit.site.has("noncondensables")


def test_without_a_scale_nobody_knows_what_went_in() -> None:
    """A pound by the scale is a pound; by feel it is more or less, and the same again for the same visit."""
    visit = begin_visit(scenario("undercharge"))
    felt = visit.act("add_charge", 0.4)[0].site.added
    assert felt == visit.act("add_charge", 0.4)[0].site.added
    scaled = visit.act("set_up_scale")[0]
    one = scaled.act("add_charge", 0.4)[0].site.added
    two = scaled.wait(1.0).act("add_charge", 0.4)[0].site.added
    assert one == two != felt


@pytest.mark.parametrize("cause", ["undercharge", "dirty_outdoor_coil", "bulb_loose", "orifice_too_large"])
def test_the_same_seed_gives_the_same_visit(cause: str) -> None:
    """Drawn twice and played twice, a call shows the same to the last digit."""
    readings = []
    for _ in range(2):
        visit = begin_visit(scenario(cause))
        taken = []
        for name in readings_here():
            visit, one = visit.take(name)
            taken.append(one)
        readings.append(taken)
    assert readings[0] == readings[1]


_EVENTS = st.one_of(
    st.builds(Event, st.just("take"), st.sampled_from(readings_here()), st.none() | st.floats(0.0, 5.0)),
    st.builds(Event, st.just("look"), st.sampled_from(answerable_observations())),
    st.builds(Event, st.just("wait"), st.just(""), st.floats(0.0, 60.0)),
    st.builds(Event, st.just("act"), st.sampled_from(sorted(ACTS)), st.none() | st.floats(0.0, 1.0)),
)


@settings(max_examples=30, deadline=None)
@given(st.lists(_EVENTS, max_size=8), st.sampled_from(["undercharge", "bulb_loose", "orifice_too_small"]))
def test_events_written_and_read_again_give_the_same_visit(events: list[Event], cause: str) -> None:
    """Whatever is done, or refused, in a visit: its events in a file bring it back, clock, site and readings."""
    visit = begin_visit(scenario(cause))
    for event in events:
        try:
            visit = apply_event(visit, event).after
        except CoilsideError:
            continue
    back = begin_visit(visit.scenario)
    for event in read_events(write_events(visit.events)):
        back = apply_event(back, event).after
    assert back == visit
    assert (back.minute, back.site) == (visit.minute, visit.site)
    assert back.take("suction_pressure")[1] == visit.take("suction_pressure")[1]


@pytest.mark.parametrize(
    "lines",
    [
        {},
        ["take"],
        [{"take": "suction_pressure", "look": "sight_glass"}],
        [{"jump": ""}],
        [{"act": "add_charge", "amount": "much"}],
        [{"act": "add_charge", "amount": True}],
        [{"act": "stop", "acknowledged": "live_panels"}],
        [{"wait": "", "amount": float("nan")}],
    ],
)
def test_a_file_that_holds_no_events_is_refused(lines: object) -> None:
    """What was not written as events is refused as a file, before anything is played."""
    with pytest.raises(FileError):
        read_events(lines)


def test_what_this_system_has_no_place_for_cannot_be_taken() -> None:
    """A plain air conditioner has no reversing valve to measure at, and a heat pump that heats no warm air outdoors."""
    visit = begin_visit(draw_scenario(3, 1, cause="dirty_filter", mode="heating"))
    after, taken = visit.take("condenser_leaving_air_temperature")
    assert taken.value is None
    assert taken.text() == taken.said
    assert after.minute == visit.minute
    assert visit.take("reversing_valve_suction_in")[1].value is not None


def test_a_heat_pump_that_heats_sends_its_heat_indoors() -> None:
    """In heating the supply air is warm; at rest every pipe goes to the air about it, indoors or outdoors."""
    visit = begin_visit(draw_scenario(3, 1, cause="compressor_not_pumping", mode="heating"))
    assert visit.true("supply_air_dry_bulb") > visit.true("return_air_dry_bulb") + 5.0
    rested = visit.act("stop")[0].wait(90.0)
    assert rested.true("evaporator_outlet_temperature") == pytest.approx(
        rested.true("outdoor_air_temperature"), abs=0.5
    )
    assert rested.true("supply_air_dry_bulb") == pytest.approx(rested.true("return_air_dry_bulb"), abs=0.5)
    assert rested.look("heating_outdoor_unit")[1] == "compressor_off"


def test_a_coil_far_below_freezing_ices_and_thaws() -> None:
    """A coil with little, cool air ices; melted, it is clear for a while, and ices again (common practice)."""
    call = scenario("dirty_filter")
    air = replace(call.site.hidden[0], had=with_severity(FAULTS["low_airflow"], 0.62))
    cool = replace(call.site.wish, return_dry_bulb=292.0, return_wet_bulb=286.0, outdoor=296.0)
    visit = begin_visit(replace(call, site=replace(call.site, wish=cool, hidden=(air,))))
    assert visit.look("indoor_coil_face")[1] == "iced"
    thawed, did = visit.act("thaw")
    assert "melted" in did.seen
    assert thawed.look("indoor_coil_face")[1] == "clean"
    assert thawed.wait(60.0).look("indoor_coil_face")[1] == "iced"


def test_the_plate_tells_what_a_plate_tells() -> None:
    """Refrigerant and charge, size, rated load amps, and how it is charged stand on the data plate."""
    call = scenario("bulb_loose")
    lines = plate_of(call)
    assert lines[0].startswith(call.site.wish.refrigerant)
    assert "lb" in lines[0]
    assert "A rated load" in lines[2]
    assert lines[3] == "subcooling 10.0 °F"


def test_far_too_much_refrigerant_stops_it_until_some_is_recovered() -> None:
    """What no compressor would run with trips it, at every start; with the charge taken out again it runs."""
    visit, _ = begin_visit(scenario("undercharge")).act("set_up_scale")
    visit, did = visit.act("add_charge", 4.0)
    assert "does not stay on" in did.seen
    assert not visit.site.running
    visit, again_tried = visit.act("start")
    assert "does not stay on" in again_tried.seen
    visit, _ = visit.act("set_up_recovery")
    visit, recovered = visit.act("recover_charge", 4.0)
    assert recovered.lost == 0.0
    visit, started = visit.act("start")
    assert started.seen == "It starts and runs."
    assert visit.minutes_running == 1.0


def test_setting_up_a_tool_leaves_the_readings_alone() -> None:
    """A scale that is set up while it settles changes nothing of how it settles."""
    started = begin_visit(scenario("undercharge")).act("stop")[0].wait(30.0).act("start")[0].wait(2.0)
    with_scale = started.act("set_up_scale")[0]
    assert with_scale.true("liquid_pressure") == started.wait(3.0).true("liquid_pressure")
