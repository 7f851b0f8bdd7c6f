"""Moist air against the handbook's tables and worked examples."""

import math
import sys

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.errors import ImpossibleError, OutOfRangeError
from assistant.thermo import air
from assistant.thermo.air import standard_pressure
from tests.thermo.units import PSI, celsius, fahrenheit, to_fahrenheit

SEA_LEVEL = 14.696 * PSI
BTU_PER_POUND = 2326.0
CFM = 0.3048**3 / 60
BTU_PER_HOUR = 1055.05585262 / 3600


def trade_enthalpy(state):
    """[Btu/lb of dry air] from 0 °F; 0.240 Btu/lb·°F dry air, 0.444 vapour, 1061 Btu/lb at 0 °F (handbook eq. 30)."""
    f = to_fahrenheit(state.dry_bulb)
    return 0.240 * f + state.humidity_ratio * (1061 + 0.444 * f)


def test_worked_example_in_trade_units():
    """100 °F dry, 65 °F wet, 14.696 psia: ASHRAE Handbook-Fundamentals 2017 ch. 1 Example 1."""
    state = air.from_wet_bulb(fahrenheit(100), fahrenheit(65), SEA_LEVEL)
    assert state.humidity_ratio == pytest.approx(0.00523, abs=1e-4)
    assert to_fahrenheit(state.dew_point) == pytest.approx(40, abs=0.5)
    assert state.relative_humidity == pytest.approx(0.13, abs=0.01)
    assert trade_enthalpy(state) == pytest.approx(29.80, abs=0.1)
    assert state.specific_volume / 0.3048**3 * 0.45359237 == pytest.approx(14.22, rel=0.01)


def test_worked_example_in_si():
    """40 °C dry, 20 °C wet, 101.325 kPa: ASHRAE Handbook-Fundamentals 2017 ch. 1 Example 1 (SI)."""
    state = air.from_wet_bulb(celsius(40), celsius(20), 101325.0)
    assert state.humidity_ratio == pytest.approx(0.0065, abs=1e-4)
    assert state.dew_point - 273.15 == pytest.approx(7, abs=0.5)
    assert state.relative_humidity == pytest.approx(0.14, abs=0.01)
    assert state.enthalpy / 1000 == pytest.approx(56.7, abs=0.1)
    assert state.specific_volume == pytest.approx(0.896, rel=0.01)


def test_humidity_ratio_from_wet_bulb():
    """86 °F dry, 77 °F wet, 14.175 psia hold 0.018719 within 0.03 %. Source: psychrolib's own test suite."""
    state = air.from_wet_bulb(fahrenheit(86), fahrenheit(77), 14.175 * PSI)
    assert state.humidity_ratio == pytest.approx(0.018719, rel=3e-4)


def test_rating_point():
    """80 °F dry, 67 °F wet at sea level: 51.1 % humidity, 0.0112, 31.5 Btu/lb, dew point 60.3 °F (computed)."""
    state = air.from_wet_bulb(fahrenheit(80), fahrenheit(67), SEA_LEVEL)
    assert state.relative_humidity == pytest.approx(0.511, abs=0.005)
    assert state.humidity_ratio == pytest.approx(0.0112, abs=1e-4)
    assert trade_enthalpy(state) == pytest.approx(31.5, abs=0.1)
    assert to_fahrenheit(state.dew_point) == pytest.approx(60.3, abs=0.3)


def test_the_same_bulbs_mean_damper_air_at_altitude():
    """80/67 °F at 5,000 ft are 53.4 % humidity (computed), against 51.1 % at sea level."""
    state = air.from_wet_bulb(fahrenheit(80), fahrenheit(67), standard_pressure(5000 * 0.3048))
    assert state.relative_humidity == pytest.approx(0.534, abs=0.005)


@given(st.floats(-10, 45), st.floats(0.05, 1.0), st.floats(7e4, 1.05e5))
@settings(deadline=None)
def test_the_ways_to_name_a_state_agree(dry, humidity, pressure):
    """Humidity, humidity ratio and wet bulb lead to the same state, with dew point, wet and dry bulb in order."""
    state = air.from_relative_humidity(celsius(dry), humidity, pressure)
    assert state.dew_point <= state.wet_bulb + 0.01
    assert state.wet_bulb <= state.dry_bulb + 1e-6
    again = air.from_humidity_ratio(state.dry_bulb, state.humidity_ratio, pressure)
    assert again.relative_humidity == pytest.approx(humidity, abs=1e-3)
    # Around 0 °C water and ice on the wick give two wet bulbs for one air, so the way back is told apart there.
    if abs(state.wet_bulb - 273.15) > 1.0:
        wet = air.from_wet_bulb(state.dry_bulb, min(state.wet_bulb, state.dry_bulb), pressure)
        assert wet.humidity_ratio == pytest.approx(state.humidity_ratio, rel=5e-3, abs=2e-5)


def test_heat_factors_of_the_trade():
    """1.08 at sea level, 0.90 at 5,000 ft. Source: arithmetic, common practice."""
    trade = BTU_PER_HOUR / CFM * 1.8
    assert air.sensible_heat_factor() / trade == pytest.approx(1.08, abs=1e-3)
    high = standard_pressure(5000 * 0.3048)
    assert air.sensible_heat_factor(high) / trade == pytest.approx(0.90, abs=0.005)


def test_temperature_drop_in_energy_form():
    """36,000 Btu/h, sensible share 0.75, 1,200 cfm make 20.8 °F. Source: arithmetic."""
    drop = 20.8 / 1.8
    assert 1200 * CFM * drop * air.sensible_heat_factor() / BTU_PER_HOUR == pytest.approx(27000, rel=0.003)


def test_airflow_from_electric_heat():
    """10 kW that warm the air by 30 °F move 34,121 / (1.08 × 30) = 1,053 cfm. Source: arithmetic."""
    assert air.airflow_from_electric_heat(10e3, 30 / 1.8) / CFM == pytest.approx(1053, abs=2)
    for rise in (0.0, -5.0, math.nan):
        with pytest.raises(ImpossibleError):
            air.airflow_from_electric_heat(10e3, rise)


def test_density_falls_with_altitude_and_water():
    """Standard air weighs 0.075 lb/ft3 near 70 °F; damp or high air is lighter."""
    dry = air.density(fahrenheit(70), 0.0)
    assert dry * 0.3048**3 / 0.45359237 == pytest.approx(0.075, abs=2e-4)
    assert air.density(fahrenheit(70), 0.012) < dry
    assert air.density(fahrenheit(70), 0.0, standard_pressure(1500.0)) < 0.86 * dry


def test_wet_bulb_above_dry_bulb_is_impossible():
    """A wet bulb above the dry bulb, or below that of bone-dry air, is named as impossible."""
    with pytest.raises(ImpossibleError, match="above the dry bulb"):
        air.from_wet_bulb(fahrenheit(70), fahrenheit(75))
    with pytest.raises(ImpossibleError, match="perfectly dry"):
        air.from_wet_bulb(fahrenheit(100), fahrenheit(45))
    with pytest.raises(ImpossibleError):
        air.from_humidity_ratio(fahrenheit(70), 0.05)
    with pytest.raises(ImpossibleError):
        air.density(fahrenheit(70), -0.01)
    with pytest.raises(ImpossibleError, match="boils"):
        air.saturated_humidity_ratio(celsius(99.0), 8e4)


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf, 0.0, -300.0, 1e308])
def test_hostile_numbers_are_refused(value):
    """No air of an impossible temperature, pressure or humidity."""
    for call in (
        lambda: air.from_wet_bulb(value, 290.0),
        lambda: air.from_wet_bulb(300.0, value),
        lambda: air.from_wet_bulb(300.0, 290.0, value),
        lambda: air.from_relative_humidity(300.0, value - 1),
        lambda: air.sensible_heat_factor(value),
    ):
        with pytest.raises(OutOfRangeError):
            call()


def test_nobody_shares_our_unit_setting():
    """Another user of psychrolib in the same process may set it to inch-pound units; our numbers stay."""
    import psychrolib

    before = air.from_wet_bulb(celsius(40), celsius(20))
    psychrolib.SetUnitSystem(psychrolib.IP)
    assert air.from_wet_bulb(celsius(40), celsius(20)) == before
    assert psychrolib.GetUnitSystem() is psychrolib.IP
    assert sys.modules["psychrolib"] is psychrolib
