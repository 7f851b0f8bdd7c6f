"""The force balance of a thermostatic expansion valve."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.errors import ImpossibleError, OutOfRangeError, PhysicsError
from assistant.thermo import valve
from assistant.thermo.curves import saturation
from tests.thermo.units import PSI, SEA_LEVEL, fahrenheit, psig, to_psig

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
    assert (pressure - psig(evaporator_gauge)) / PSI == pytest.approx(spring, abs=0.4)
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
    assert valve.operating_superheat(curves, spring, t, 0.0) == static
    bulb = curves.dew_pressure(t + valve.operating_superheat(curves, spring, t, 0.6))
    assert bulb - curves.dew_pressure(t) == pytest.approx((20 + 0.6 * 16) * PSI)


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
    charge = valve.GasCharge(curves.dew_temperature(psig(90) + 18 * PSI))
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


@pytest.mark.parametrize("value", [math.nan, -0.1, math.inf, -math.inf])
def test_hostile_numbers_are_refused(value):
    """No valve opens by a share outside 0 to 1, no bulb has such a temperature."""
    curves, spring = saturation("R-22"), valve.Valve(1e5, 1e5)
    for call in (
        lambda: valve.operating_superheat(curves, spring, 280.0, value),
        lambda: valve.loose_bulb_temperature(280.0, 300.0, value),
        lambda: valve.bulb_pressure(curves, value),
    ):
        with pytest.raises(OutOfRangeError):
            call()
