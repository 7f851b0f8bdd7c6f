"""What is hidden at a practice site, what eyes find of it, and what mends it, held to the catalogue's own names."""

import random
from dataclasses import replace
from functools import cache

import pytest

from assistant.catalogue.catalogue import Catalogue
from assistant.catalogue.loading import load_catalogue
from assistant.errors import InputError, UnknownNameError
from assistant.practice.visit import settling
from assistant.practice.visit.acts import ACTS, act_named, acts_for, effect, read_amount
from assistant.practice.visit.observing import answerable_observations, scene_of, see, see_all
from assistant.practice.visit.site import Guise, Hidden, Site, guises, steady
from assistant.quantity import PSI, fahrenheit
from assistant.simulator.faults import FAULTS, with_severity
from assistant.simulator.plant import DeviceKind
from assistant.simulator.system import Wish
from assistant.source.phrases import find_unguarded, guards
from assistant.source.shipped import shipped_folder


@cache
def catalogue() -> Catalogue:
    """The shipped catalogue."""
    return load_catalogue(shipped_folder("trees") / "catalogue")[0]


def sound(device: DeviceKind = "txv") -> Site:
    """A sound site in usual weather."""
    return Site(Wish("R-410A", 3.0, device, fahrenheit(92.0), fahrenheit(79.0), fahrenheit(66.0)))


def faulty(guise: Guise, look: str | None = None) -> Site:
    """A site with one fault at its usual severity."""
    fault = FAULTS[guise.fault]
    site = sound("fixed_orifice" if fault.device == "fixed_orifice" else "txv")
    severity = fault.usual if guise.sign >= 0 else fault.low / 2.0
    hidden = Hidden(guise.cause, with_severity(fault, severity), guise.place, guise.looks[0] if look is None else look)
    return Site(replace(site.wish, heat_pump=guise.heat_pump), (hidden,))


def by_cause(cause: str) -> Site:
    """A site with the first guise of a cause."""
    return faulty(next(one for one in guises() if one.cause == cause))


def test_all_that_is_hidden_is_a_cause_of_the_catalogue() -> None:
    """Whatever a practice call hides can be named as the catalogue names it."""
    assert {one.cause for one in guises()} <= set(catalogue().causes)


def test_every_sight_is_a_choice_of_its_observation() -> None:
    """What eyes find at any faulty site, in any of its looks, is a choice that the catalogue knows."""
    choices = {name: set(one.choices) for name, one in catalogue().observations.items()}
    assert set(answerable_observations()) <= set(choices)
    for guise in guises():
        for look in guise.looks:
            site = faulty(guise, look)
            assert all(choice in choices[name] for name, choice in see_all(site).items()), guise


def test_a_sound_site_shows_nothing_wrong() -> None:
    """Nothing that an eye finds at a sound site is a fault."""
    seen_there = see_all(sound())
    assert seen_there["filter_condition"] == "clean"
    assert seen_there["outdoor_unit"] == "all_well"
    assert seen_there["bulb_contact"] == "sound"
    assert seen_there["current_draw"] == "as_expected"
    assert "orifice_found" not in seen_there
    assert see_all(sound("fixed_orifice"))["orifice_found"] == "right"


@pytest.mark.parametrize(
    ("cause", "name", "choice"),
    [
        ("dirty_filter", "filter_condition", "clogged"),
        ("dirty_indoor_coil", "indoor_coil_face", "matted"),
        ("blower_fault", "blower_state", "slow"),
        ("duct_restriction", "ducts_seen", "choked"),
        ("dirty_outdoor_coil", "outdoor_unit", "coil_matted"),
        ("outdoor_fan_fault", "outdoor_unit", "fan_wrong"),
        ("liquid_line_restriction", "liquid_line_feel", "cold_spot"),
        ("bulb_loose", "bulb_contact", "loose"),
        ("equalizer_upstream", "equalizer_joint", "ahead_of_bulb"),
        ("internal_equalizer_misapplied", "equalizer_state", "no_line"),
        ("txv_starving", "valve_cold", "at_inlet"),
        ("orifice_too_small", "orifice_found", "too_small"),
        ("orifice_too_large", "orifice_found", "too_large"),
        ("compressor_not_pumping", "pump_down_result", "rises"),
        ("noncondensables", "identifier_result", "air"),
    ],
)
def test_a_fault_shows_where_one_looks(cause: str, name: str, choice: str) -> None:
    """Each fault that leaves a sign is seen where one looks for it, and not without it (common practice, no source)."""
    assert see_all(by_cause(cause))[name] == choice
    assert see_all(sound("fixed_orifice" if "orifice" in cause else "txv"))[name] != choice


def test_what_a_site_cannot_know_is_not_told() -> None:
    """Who worked there last and what a board shows cannot be told; a bulb cannot be judged where there is none."""
    scene = scene_of(sound("fixed_orifice"))
    assert see("charge_history", scene) is None
    assert see("board_code", scene) is None
    assert see("bulb_contact", scene) is None


def test_air_that_is_missing_shows_in_the_static_pressure_too() -> None:
    """Behind a blockage static pressure climbs, with a weak blower it falls (common practice, no source)."""
    usual, blocked, slow = (
        steady(site).readings["external_static_pressure"]
        for site in (sound(), by_cause("duct_restriction"), by_cause("blower_fault"))
    )
    assert slow < 0.8 * usual < usual < blocked


def test_a_compressor_that_leaks_draws_less() -> None:
    """Gas that goes round in a ring lowers the lift, and with it the current (common practice, no source)."""
    leaking = steady(by_cause("compressor_not_pumping")).readings["compressor_current"]
    assert leaking < steady(sound()).readings["compressor_current"]


def test_the_outdoor_coil_covered_loads_the_system() -> None:
    """Part of the outdoor coil covered lifts the head; uncovered it comes back."""
    site = sound()
    chance = random.Random(1)
    covered = effect(act_named("cover_outdoor_coil"), site, 0.4, chance).site
    lifted = steady(covered).readings["liquid_pressure"] - steady(site).readings["liquid_pressure"]
    assert lifted > 20.0 * PSI
    assert effect(act_named("uncover_outdoor_coil"), covered, None, chance).site == site


_WHOLE = ("set_up_scale", "set_up_recovery", "recover_all", "evacuate", "weigh_in")


@pytest.mark.parametrize("guise", guises(heat_pump=True), ids=lambda guise: f"{guise.cause}-{guise.place}")
def test_everything_that_is_hidden_can_be_mended(guise: Guise) -> None:
    """For each hidden fault there is something to do after which the system is a sound one."""
    site, chance = faulty(guise), random.Random(1)
    mending = [act for act in acts_for(site) if guise.place in act.mends]
    names = ["strap_bulb"] if guise.place == "bulb_strap" else [act.name for act in mending[:1]]
    if guise.place == "charge" or (mending and mending[0].opens):
        names = [*_WHOLE[:3], *names, *_WHOLE[3:]]
    for name in names:
        site = effect(act_named(name), site, None, chance).site
    assert names
    assert site.hidden == ()
    assert site.lost == 0.0
    assert steady(site).readings["suction_pressure"] == pytest.approx(
        steady(Site(site.wish)).readings["suction_pressure"], rel=1e-3
    )


def test_every_act_has_the_cautions_that_its_words_ask_for() -> None:
    """By the rule for trees and repairs: what is told to do holds a caution's words only behind that caution."""
    cautions = catalogue().cautions
    kept_by = guards({name: caution.words for name, caution in cautions.items()})
    for act in ACTS.values():
        assert set(act.cautions) <= set(cautions), act.name
        for text in (act.title, act.found, act.fine):
            assert not list(find_unguarded(text, kept_by, frozenset(act.cautions))), act.name
        if act.opens:
            assert {"opening_circuit", "refrigerant_release"} <= set(act.cautions)
    assert "floodback" in ACTS["warm_bulb"].cautions
    assert "chilled_bulb" in ACTS["ice_bulb"].cautions
    assert "washing" in ACTS["clean_outdoor_coil"].cautions
    assert "hoses_and_liquid" in ACTS["add_charge"].cautions


@pytest.mark.parametrize(
    ("name", "typed", "amount"),
    [
        ("add_charge", "8 oz", 0.226796),
        ("add_charge", "1 lb 4 oz", 0.566990),
        ("add_charge", "230g", 0.23),
        ("weigh_in", "", None),
        ("cover_outdoor_coil", "40%", 0.4),
        ("turn_spring", "-0.5 turns", -0.5),
    ],
)
def test_amounts_are_read_as_people_type_them(name: str, typed: str, amount: float | None) -> None:
    """Masses, shares and turns come out in kg, of one, and turns (NIST SP 811 for the pound)."""
    assert read_amount(act_named(name), typed) == (None if amount is None else pytest.approx(amount, rel=1e-5))


@pytest.mark.parametrize(("name", "typed"), [("add_charge", "8"), ("stop", "8 oz"), ("cover_outdoor_coil", "some")])
def test_amounts_that_make_no_sense_are_refused(name: str, typed: str) -> None:
    """A mass without a unit, an amount where none belongs, and words are refused with a sentence."""
    with pytest.raises(InputError):
        read_amount(act_named(name), typed)


def test_what_cannot_be_done_is_refused() -> None:
    """A bulb that is not there, a vacuum on a full system, more than there is, and an act that nobody knows."""
    chance = random.Random(1)
    with pytest.raises(InputError, match="expansion valve"):
        effect(act_named("strap_bulb"), sound("fixed_orifice"), None, chance)
    with pytest.raises(InputError, match="reversing valve"):
        effect(act_named("change_reversing_valve"), sound(), None, chance)
    with pytest.raises(InputError, match="recovered"):
        effect(act_named("evacuate"), sound(), None, chance)
    with pytest.raises(InputError, match="how much"):
        effect(act_named("add_charge"), sound(), None, chance)
    with pytest.raises(InputError, match="whole charge"):
        effect(act_named("recover_charge"), sound(), 9.0, chance)
    with pytest.raises(UnknownNameError, match="strap_bulb"):
        act_named("strap_bul")


def test_a_slack_compressor_draws_the_pressures_together_on_the_heating_chart() -> None:
    """Suction above and head below what the weather lets expect; a lack of charge lowers both."""
    wish = Wish("R-410A", 3.0, "fixed_orifice", fahrenheit(47.0), fahrenheit(70.0), fahrenheit(56.0), mode="heating")
    slack = Site(
        wish, (Hidden("compressor_not_pumping", with_severity(FAULTS["compressor_not_pumping"], 0.4), "", ""),)
    )
    short = Site(wish, (Hidden("undercharge", with_severity(FAULTS["undercharge"], 0.4), "", ""),))
    assert see("heating_chart", scene_of(slack)) == "drawn_together"
    assert see("heating_chart", scene_of(short)) == "below"
    assert see("heating_chart", scene_of(Site(wish, ()))) == "on_the_chart"


@pytest.mark.parametrize(("name", "least", "most"), [("suction_pressure", 0.11, 0.18), ("liquid_pressure", 0.15, 0.25)])
def test_a_stopped_system_equalizes_over_some_ten_minutes(name: str, least: float, most: float) -> None:
    """Five minutes after a stop the pressures have not met yet, and after fifteen all but a thirtieth is gone.

    Source: common practice waits about ten minutes for pressures to meet behind a valve that bleeds, from memory; the
    five minutes follow from the parts that `settling` tells (chosen).
    """
    resting = settling.turn_towards(settling.rest_at({name: 1.0}), {name: 0.0}, 0.0, "stop")[name]
    assert least < resting.at(5.0) < most
    assert resting.at(15.0) < 1 / 30
