"""Practice calls that are drawn: the same for a seed, and never one in which nothing is wrong."""

from dataclasses import replace

import pytest

from assistant.errors import InputError, OutOfRangeError
from assistant.practice.visit.scenario import DIFFICULTIES, draw_scenario
from assistant.practice.visit.site import guises, solve_wish, steady


@pytest.mark.parametrize("difficulty", DIFFICULTIES)
def test_a_drawn_call_is_the_same_for_its_seed_and_has_something_to_find(difficulty: int) -> None:
    """As many faults as the difficulty says, each of which alone moves something by more than instruments err."""
    for seed in range(3):
        call = draw_scenario(seed, difficulty)
        assert call == draw_scenario(seed, difficulty)
        assert len(call.causes) == (1 if difficulty < 3 else 2)
        sound = solve_wish(call.site.wish).truth
        for one in call.site.hidden:
            found = steady(replace(call.site, hidden=(one,))).system.truth
            moved = max(abs(found.superheat - sound.superheat), abs(found.subcooling - sound.subcooling))
            moved = max(moved, abs(found.condensing_temperature - sound.condensing_temperature))
            assert moved > 4.0 / 1.8 or found.net_cooling < 0.97 * sound.net_cooling
        assert call.complaint
        assert set(call.facts) >= {"refrigerant", "metering_device", "mode"}


def test_two_seeds_are_two_calls() -> None:
    """Seeds differ in system, weather or fault."""
    assert len({draw_scenario(seed, 1).site for seed in range(5)}) == 5


def test_a_wished_cause_is_the_one_that_is_hidden() -> None:
    """A trainer can ask for a cause, and it is hidden on a system that can have it."""
    call = draw_scenario(4, 1, cause="orifice_too_large")
    assert call.causes == ("orifice_too_large",)
    assert call.site.wish.device == "fixed_orifice"


def test_a_call_that_cannot_be_is_refused() -> None:
    """A cause that there is not, one that the device cannot have, and a difficulty beyond four."""
    with pytest.raises(InputError, match="hides"):
        draw_scenario(1, 1, cause="gremlins")
    with pytest.raises(InputError, match="cannot have"):
        draw_scenario(1, 1, cause="bulb_loose", device="fixed_orifice")
    with pytest.raises(OutOfRangeError, match="difficulty"):
        draw_scenario(1, 5)


def test_what_the_customer_says_of_the_air_is_true() -> None:
    """Hardly any air is only said where air is missing."""
    airy = {one.cause for one in guises() if one.fault == "low_airflow"}
    for seed in range(6):
        call = draw_scenario(seed, 1)
        if "any air" in call.complaint or "feel it" in call.complaint:
            assert set(call.causes) <= airy


@pytest.mark.parametrize("cause", [None, "reversing_valve_leaking", "dirty_filter"])
def test_a_call_in_heating_is_a_heat_pump_that_heats_too_little(cause: str | None) -> None:
    """In heating it is cold outdoors, the tree for poor heating fits, and the metering device indoors hides nothing."""
    call = draw_scenario(3, 1, cause=cause, mode="heating")
    assert call.heat_pump
    assert call.tree == "poor_heating"
    assert call.facts["mode"] == "heating"
    assert call.facts["outdoor_metering_device"] == call.site.wish.device
    assert call.site.wish.outdoor < call.site.wish.return_dry_bulb
    assert cause in (None, *call.causes)
    assert not any(one.had.fault.device for one in call.site.hidden)


def test_only_a_heat_pump_hides_what_only_a_heat_pump_has() -> None:
    """A reversing valve that leaks in cooling is one of a heat pump."""
    assert draw_scenario(2, 1, cause="reversing_valve_leaking").site.wish.is_heat_pump
