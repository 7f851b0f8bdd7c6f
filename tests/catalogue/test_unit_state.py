"""The way from one state of the unit to another, over the shipped acts. Source: 29 CFR 1910.147(d) and (e)."""

from dataclasses import replace

from assistant.catalogue.catalogue import Catalogue
from assistant.catalogue.rules import check_catalogue
from assistant.catalogue.unit_state import FOUND, UnitState, plan


def after(catalogue: Catalogue, state: UnitState, names: tuple[str, ...]) -> UnitState:
    """The state after some acts."""
    for name in names:
        state = state.after(catalogue.acts[name])
    return state


def test_what_is_touched_comes_behind_the_lock(catalogue: Catalogue) -> None:
    """One act that stops, isolates, locks and proves it, in this order. Source: 29 CFR 1910.147(d)(2) to (6)."""
    assert plan(FOUND, catalogue.taking("capacitor_test").needs, catalogue.between) == ("lock_out",)
    how = catalogue.acts["lock_out"].how
    order = ["feeds the part", "Tell those", "stop it", "Open the disconnect", "Your lock", "stored energy", "prove it"]
    assert [how.index(words) for words in order] == sorted(how.index(words) for words in order)


def test_a_look_takes_the_power_off_and_no_meter(catalogue: Catalogue) -> None:
    """Nothing is touched, so anyone may. Source: 29 CFR 1910.333(b)(2), which speaks of work on parts or near them."""
    assert plan(FOUND, catalogue.taking("indoor_coil_face").needs, catalogue.between) == ("look_inside",)
    assert plan(FOUND, catalogue.taking("filter_condition").needs, catalogue.between) == ()


def test_power_comes_back_behind_closed_panels(catalogue: Catalogue) -> None:
    """Parts are whole, then people clear, then the lock comes off. Source: 29 CFR 1910.147(e)(1) to (3)."""
    inside = after(catalogue, FOUND, ("lock_out",))
    way = plan(inside, catalogue.taking("return_air_dry_bulb").needs, catalogue.between)
    assert way == ("power_back", "start_unit")
    how = catalogue.acts["power_back"].how
    assert how.index("All panels") < how.index("People") < how.index("takes it off")


def test_what_stood_still_running_is_lost_at_a_stop(catalogue: Catalogue) -> None:
    """Readings of a run need a new run of fifteen minutes. Source: California Title 24 RA3.2."""
    settled = FOUND.make({"settled": "running"})
    assert after(catalogue, settled, ("lock_out",)).settled == "no"


def test_many_states_are_led_to_what_is_needed_at_once(catalogue: Catalogue) -> None:
    """From each the acts that it lacks; what none leads out of is told."""
    states = {FOUND, after(catalogue, FOUND, ("lock_out",)), FOUND.make({"circuit": "opened"})}
    reached = catalogue.planner.reach(states, {"power": ("locked",), "circuit": ("hoses",)})
    assert {(one.power, one.circuit) for one in reached.states} == {("locked", "hoses")}
    assert sorted(reached.acts) == ["hoses_on", "lock_out"]
    assert [one.circuit for one in reached.stuck] == ["opened"]


def test_an_act_whose_state_holds_is_passed_over(catalogue: Catalogue) -> None:
    """Hoses that are on are not put on again; a bulb that was in the hand is."""
    with_hoses = after(catalogue, FOUND, ("hoses_on",))
    assert catalogue.planner.perform({with_hoses}, catalogue.acts["hoses_on"]).states == {with_hoses}
    ready = with_hoses.make({"settled": "running"})
    warmed = catalogue.planner.perform({ready}, catalogue.acts["warm_bulb"])
    assert [one.bulb for one in warmed.states] == ["held"]
    assert "strap_bulb" in catalogue.planner.perform(warmed.states, catalogue.acts["warm_bulb"]).acts


def test_what_is_left_stays_until_it_is_undone(catalogue: Catalogue) -> None:
    """A valve that a test has shut is left until it is opened."""
    state = after(catalogue, FOUND, ("hoses_on", "pump_down_test"))
    assert [one.what for one in state.left] == ["valve_shut"]
    assert after(catalogue, state, ("open_service_valves",)).left == ()


def test_no_chain_opens_a_circuit(catalogue: Catalogue) -> None:
    """What empties or opens the circuit is an author's word alone."""
    assert plan(FOUND, {"circuit": ("recovered",)}, catalogue.between) is None


def test_what_no_state_tells_changes_nothing(catalogue: Catalogue) -> None:
    """A shop's act may make, need or name anything: the check tells it and goes on, and so does a call."""
    made = replace(catalogue.acts["lock_out"], name="odd", makes={"title": "open", "power": "locked"})
    needs = replace(catalogue.acts["lock_out"], name="other", needs={"mood": ("good",)})
    odd = replace(catalogue, acts={**catalogue.acts, "odd": made, "other": needs})
    told = sorted((problem.message for problem in check_catalogue(odd)), reverse=True)
    assert told == ['"title" of odd is nothing that a state tells', '"mood" of other is nothing that a state tells']
    assert FOUND.make(made.makes) == FOUND.make({"power": "locked"})
    assert plan(FOUND, needs.needs, catalogue.between) is None
