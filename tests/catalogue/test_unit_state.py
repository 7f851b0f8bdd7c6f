"""The way from one state of the unit to another, over the shipped acts. Source: 29 CFR 1910.147(d) and (e)."""

from assistant.catalogue.catalogue import Catalogue
from assistant.catalogue.unit_state import FOUND, UnitState, plan


def after(catalogue: Catalogue, state: UnitState, names: tuple[str, ...]) -> UnitState:
    """The state after some acts."""
    for name in names:
        state = state.after(catalogue.acts[name])
    return state


def test_a_look_inside_comes_behind_the_lock(catalogue: Catalogue) -> None:
    """Stopped before it is isolated, locked before it is opened. Source: 29 CFR 1910.147(d)(2) to (4)."""
    assert plan(FOUND, catalogue.taking("indoor_coil_face").needs, catalogue.between) == ("stop_unit", "lock_out")


def test_power_comes_back_behind_closed_panels(catalogue: Catalogue) -> None:
    """All parts are whole before it is given back. Source: 29 CFR 1910.147(e)(1)."""
    inside = after(catalogue, FOUND, ("stop_unit", "lock_out"))
    way = plan(inside, catalogue.taking("return_air_dry_bulb").needs, catalogue.between)
    assert way == ("close_panel", "power_back", "start_unit")


def test_what_is_left_stays_until_it_is_undone(catalogue: Catalogue) -> None:
    """A valve that a test has shut is left until it is opened."""
    state = after(catalogue, FOUND, ("hoses_on", "pump_down_test"))
    assert [one.what for one in state.left] == ["valve_shut"]
    assert after(catalogue, state, ("open_service_valves",)).left == ()


def test_no_chain_opens_a_circuit(catalogue: Catalogue) -> None:
    """What empties or opens the circuit is an author's word alone."""
    assert plan(FOUND, {"circuit": ("recovered",)}, catalogue.between) is None
