"""The force balance of a thermostatic expansion valve, and the trend of a fixed orifice."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.errors import ImpossibleError, OutOfRangeError, PhysicsError
from assistant.thermo import orifice, valve
from assistant.thermo.curves import saturation
from tests.thermo.units import PSI, SEA_LEVEL, celsius, fahrenheit, psig, to_psig

NAMES = ["R-22", "R-410A", "R-32", "R-407C", "R-454B", "R-134a"]
names = st.sampled_from(NAMES)


@pytest.mark.parametrize(
    ("name", "bulb", "bulb_gauge", "evaporator_gauge", "spring", "superheat"),
    [("R-22", 54, 90.8, 73.0, 18, 11), ("R-410A", 56, 158.8, 122.8, 36, 14)],
)
def test_force_balance(name, bulb, bulb_gauge, evaporator_gauge, spring, superheat):
    """Bulb pressure less evaporator pressure is the spring; the same spring leads back to the superheat.

    Source: common practice, no source.
    """
    curves = saturation(name)
    pressure = valve.bulb_pressure(curves, fahrenheit(bulb))
    assert to_psig(pressure) == pytest.approx(bulb_gauge, abs=0.3)
    assert valve.spring_pressure(pressure, psig(evaporator_gauge)) / PSI == pytest.approx(spring, abs=0.4)
    evaporating = curves.dew_temperature(psig(evaporator_gauge))
    back = valve.superheat_from_spring(curves, pressure - psig(evaporator_gauge), evaporating)
    assert evaporating + back == pytest.approx(fahrenheit(bulb), abs=1e-9)
    assert back * 1.8 == pytest.approx(superheat, abs=0.2)


@given(names, st.floats(20, 50), st.floats(5, 40))
@settings(deadline=None)
def test_more_spring_means_more_superheat(name, evaporating, spring):
    """Turning the spring in raises superheat; a colder evaporator asks for more with the same spring."""
    curves = saturation(name)
    t = fahrenheit(evaporating)
    superheat = valve.superheat_from_spring(curves, spring * PSI, t)
    assert superheat > 0
    assert valve.superheat_from_spring(curves, (spring + 1) * PSI, t) > superheat
    assert valve.superheat_from_spring(curves, spring * PSI, t - 5) > superheat


def test_operating_superheat_is_static_plus_opening():
    """Static superheat lifts the pin, opening superheat holds it open, operating superheat is both."""
    curves, spring = saturation("R-410A"), valve.Valve(20 * PSI, 16 * PSI)
    t = fahrenheit(42)
    static = valve.static_superheat(curves, spring, t)
    more = valve.opening_superheat(curves, spring, t, 0.6)
    assert valve.operating_superheat(curves, spring, t, 0.6) == pytest.approx(static + more, abs=1e-12)
    assert valve.operating_superheat(curves, spring, t, 0.0) == static
    assert more > 0


@given(st.floats(0, 1))
@settings(deadline=None)
def test_opening_balances_the_operating_superheat(share):
    """A valve at its operating superheat stands open just as far as was asked."""
    curves, spring = saturation("R-410A"), valve.Valve(20 * PSI, 16 * PSI)
    t = fahrenheit(42)
    bulb = valve.bulb_pressure(curves, t + valve.operating_superheat(curves, spring, t, share))
    assert valve.opening(spring, bulb, curves.dew_pressure(t)) == pytest.approx(share, abs=1e-9)


def test_a_valve_opens_no_wider_than_wide():
    """A cold bulb shuts the valve, as in the ice-water test; a hand-warm bulb opens it fully."""
    curves, spring = saturation("R-410A"), valve.Valve(20 * PSI, 16 * PSI)
    equalizer = curves.dew_pressure(fahrenheit(42))
    assert valve.opening(spring, valve.bulb_pressure(curves, fahrenheit(32)), equalizer) == 0.0
    assert valve.opening(spring, valve.bulb_pressure(curves, fahrenheit(85)), equalizer) == 1.0
    with pytest.raises(ImpossibleError):
        valve.opening(valve.Valve(20 * PSI, 0.0), 1e6, 8e5)


def test_lost_charge_shuts_the_valve():
    """With nothing in the bulb but air's pressure the valve closes: a starved evaporator."""
    curves, spring = saturation("R-410A"), valve.Valve(20 * PSI, 16 * PSI)
    bulb = valve.bulb_pressure_of(valve.LostCharge(SEA_LEVEL), curves, fahrenheit(60))
    assert valve.opening(spring, bulb, curves.dew_pressure(fahrenheit(42))) == 0.0


def test_loose_bulb_opens_the_valve():
    """A bulb that feels the warm air more than the cold line reads too warm and opens the valve: flooding."""
    curves, spring = saturation("R-410A"), valve.Valve(20 * PSI, 16 * PSI)
    line, air = fahrenheit(52), fahrenheit(90)
    tight, loose = (valve.loose_bulb_temperature(line, air, contact) for contact in (1.0, 0.6))
    assert tight == line
    assert line < loose < air
    equalizer = curves.dew_pressure(fahrenheit(42))
    wide = valve.opening(spring, valve.bulb_pressure(curves, loose), equalizer)
    assert wide > valve.opening(spring, valve.bulb_pressure(curves, tight), equalizer)


def test_gas_charge_bounds_the_evaporator_pressure():
    """Past dry-out a gas charge hardly gains pressure: the valve stops opening near its maximum operating pressure."""
    curves = saturation("R-22")
    spring = valve.Valve(18 * PSI, 10 * PSI)
    charge = valve.gas_charge_for(curves, psig(90), 18 * PSI)
    dry = charge.dry_out_temperature
    below, at, above = (valve.bulb_pressure_of(charge, curves, dry + step) for step in (-5.0, 0.0, 20.0))
    assert below == pytest.approx(valve.bulb_pressure(curves, dry - 5.0))
    assert at == pytest.approx(psig(90) + 18 * PSI)
    assert above / at == pytest.approx((dry + 20.0) / dry)
    assert above < valve.bulb_pressure_of(valve.LiquidCharge(), curves, dry + 20.0)
    assert valve.opening(spring, at, psig(91)) == 0.0
    assert valve.opening(spring, at, psig(88)) > 0.0


def test_cross_charge_is_not_invented():
    """The pressure of a parallel (cross) charge is refused with the reason."""
    with pytest.raises(PhysicsError, match="cross"):
        valve.bulb_pressure_of(valve.CrossCharge(), saturation("R-22"), 285.0)


def test_external_equalizer():
    """A large drop or a pressure-drop distributor needs an external equalizer, a small drop does not."""
    curves, t = saturation("R-134a"), celsius(5)
    assert not valve.external_equalizer_needed(curves, t, 5e3)
    assert valve.external_equalizer_needed(curves, t, 2e4)
    assert valve.external_equalizer_needed(curves, t, 5e3, distributor=True)


@given(names, st.floats(0, 20))
@settings(deadline=None)
def test_internal_equalizer_costs_superheat(name, drop):
    """A coil's pressure drop raises the superheat of a valve with an internal equalizer, more for a larger drop."""
    curves = saturation(name)
    one = valve.internal_equalizer_penalty(curves, fahrenheit(42), drop * PSI, 20 * PSI)
    two = valve.internal_equalizer_penalty(curves, fahrenheit(42), (drop + 1) * PSI, 20 * PSI)
    assert 0 <= one < two


def test_penalty_is_the_difference_of_two_balances():
    """It is what the bulb must make over the outlet when the inlet pressure closes, less the same for the outlet's."""
    curves, t, drop, spring = saturation("R-410A"), fahrenheit(42), 6 * PSI, 30 * PSI
    outlet = curves.dew_pressure(t)
    internal = curves.dew_temperature(outlet + drop + spring) - t
    external = valve.superheat_from_spring(curves, spring, t)
    assert valve.internal_equalizer_penalty(curves, t, drop, spring) == pytest.approx(internal - external, abs=1e-9)


@pytest.mark.parametrize("value", [math.nan, -0.1, math.inf, -math.inf])
def test_hostile_numbers_are_refused(value):
    """No valve opens by a share outside 0 to 1, no coil has a negative or nameless drop."""
    curves, spring = saturation("R-22"), valve.Valve(1e5, 1e5)
    for call in (
        lambda: valve.operating_superheat(curves, spring, 280.0, value),
        lambda: valve.loose_bulb_temperature(280.0, 300.0, value),
        lambda: valve.internal_equalizer_penalty(curves, 280.0, value, 1e5),
        lambda: valve.bulb_pressure(curves, value),
    ):
        with pytest.raises(OutOfRangeError):
            call()


def test_bore_area():
    """A 0.084 in orifice has twice the area of a 0.059 in one. Source: common practice."""
    assert orifice.area_ratio(0.084 * 0.0254, 0.059 * 0.0254) == pytest.approx(2.0, abs=0.03)
    for bore in (0.0, -1.0, math.nan):
        with pytest.raises(ImpossibleError):
            orifice.area_ratio(bore, 0.001)


@given(names, st.floats(90, 125), st.floats(0, 25), st.floats(1, 5))
@settings(deadline=None)
def test_orifice_feeds_more_with_subcooling_and_head(name, condensing, subcooling, more):
    """Flow rises with subcooling at one head pressure and with head pressure at one subcooling."""
    curves = saturation(name)
    low = curves.dew_pressure(fahrenheit(42))

    def flux(condensing_, subcooling_):
        p = curves.bubble_pressure(fahrenheit(condensing_))
        return orifice.ideal_flux(curves, p, fahrenheit(condensing_ - subcooling_), low)

    assert flux(condensing, subcooling + more) > flux(condensing, subcooling)
    assert flux(condensing + more, subcooling) > flux(condensing, subcooling)


@given(names, st.floats(0, 25), st.floats(0, 1))
@settings(deadline=None)
def test_choked_flow_ignores_the_evaporator(name, subcooling, share):
    """Once choked, a lower evaporator pressure feeds no more; short of it, it does."""
    curves = saturation(name)
    head, t = curves.bubble_pressure(fahrenheit(110)), fahrenheit(110 - subcooling)
    normal, lower = curves.dew_pressure(fahrenheit(42)), curves.dew_pressure(fahrenheit(42 - 40 * share))
    assert orifice.is_choked(curves, head, t, normal)
    assert orifice.ideal_flux(curves, head, t, lower) == pytest.approx(orifice.ideal_flux(curves, head, t, normal))
    assert not orifice.is_choked(curves, head, t, 0.99 * head)
    assert orifice.ideal_flux(curves, head, t, 0.99 * head) < orifice.ideal_flux(curves, head, t, normal)


@pytest.mark.parametrize("name", NAMES)
def test_critical_pressure_ratio_of_saturated_liquid(name):
    """Saturated liquid chokes at the ratio of Leung's fit to his own omega equation, within 0.01.

    Source: Leung 1986, 0.55 + 0.217 ln w - 0.046 (ln w)^2 + 0.004 (ln w)^3, from memory.
    """
    curves = saturation(name)
    t = fahrenheit(105)
    head = curves.bubble_pressure(t)
    log = math.log(orifice._omega(curves, t))
    published = 0.55 + 0.217 * log - 0.046 * log**2 + 0.004 * log**3
    assert orifice.is_choked(curves, head, t, (published - 0.01) * head)
    assert not orifice.is_choked(curves, head, t, (published + 0.01) * head)


def test_flashing_flow_is_the_integral_of_its_volume():
    """Flow per area is speed over volume, the speed that of the work done while the mixture swells step by step."""
    curves = saturation("R-410A")
    t, throat = fahrenheit(100), 0.97 * curves.bubble_pressure(fahrenheit(100))
    head, flashing, omega = (
        curves.bubble_pressure(fahrenheit(103)),
        curves.bubble_pressure(t),
        orifice._omega(curves, t),
    )
    liquid = 1 / curves.liquid_density(t)
    steps = 2000
    work = liquid * (head - flashing)
    for k in range(steps):
        p = throat + (flashing - throat) * (k + 0.5) / steps
        work += liquid * (omega * (flashing / p - 1) + 1) * (flashing - throat) / steps
    volume = liquid * (omega * (flashing / throat - 1) + 1)
    assert orifice.ideal_flux(curves, head, t, throat) == pytest.approx(math.sqrt(2 * work) / volume, rel=1e-6)


def test_orifice_ratio_starts_at_one():
    """The same condition gives the ratio one; a starved head pressure gives less."""
    curves = saturation("R-410A")
    base = (curves.bubble_pressure(fahrenheit(110)), fahrenheit(100))
    weak = (curves.bubble_pressure(fahrenheit(85)), fahrenheit(80))
    low = curves.dew_pressure(fahrenheit(42))
    assert orifice.relative_flow(curves, base, low, base, low) == pytest.approx(1.0)
    assert 0.3 < orifice.relative_flow(curves, weak, low, base, low) < 0.95


def test_orifice_refuses_what_it_cannot_tell():
    """No liquid, no fall of pressure, or more subcooling than was ever measured: no answer."""
    curves = saturation("R-410A")
    head = curves.bubble_pressure(fahrenheit(110))
    with pytest.raises(ImpossibleError, match="liquid"):
        orifice.ideal_flux(curves, head, fahrenheit(112), 9e5)
    with pytest.raises(ImpossibleError, match="lower pressure"):
        orifice.ideal_flux(curves, head, fahrenheit(100), head)
    with pytest.raises(ImpossibleError):
        orifice.ideal_flux(curves, head, fahrenheit(100), math.nan)
    with pytest.raises(OutOfRangeError):
        orifice.ideal_flux(curves, head, fahrenheit(20), 9e5)
