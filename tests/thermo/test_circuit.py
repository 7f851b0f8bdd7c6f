"""The arithmetic of the circuit, against worked examples and its own limits."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.doubt import standard, within
from assistant.errors import ImpossibleError, NoTargetError, OutOfRangeError
from assistant.thermo import circuit
from assistant.thermo.air import standard_pressure
from assistant.thermo.curves import saturation
from tests.thermo.units import PSI, fahrenheit

FOOT = 0.3048


@pytest.mark.parametrize("altitude", [math.nan, math.inf, -math.inf, -501.0, 11001.0, 1e308])
def test_no_atmosphere_outside_its_range(altitude):
    """The formula is not used below -500 m or above 11000 m."""
    with pytest.raises(OutOfRangeError) as caught:
        standard_pressure(altitude)
    assert (caught.value.quantity, caught.value.low, caught.value.high) == ("altitude", -500.0, 11000.0)


def test_gauges_read_higher_at_altitude():
    """R-22 at 32 °F is 60.0 psig at 5,000 ft and 57.5 psig at sea level: absolute is gauge plus local atmosphere."""
    absolute = saturation("R-22").dew_pressure(fahrenheit(32))
    assert (absolute - standard_pressure(5000 * FOOT)) / PSI == pytest.approx(60.0, abs=0.2)
    assert (absolute - standard_pressure(0.0)) / PSI == pytest.approx(57.5, abs=0.2)


def test_compression_ratio_uses_absolute_pressures():
    """R-410A, 40 °F evaporating and 105 °F condensing: 2.67, not the 2.88 of gauge pressures (DOE reference data)."""
    curves = saturation("R-410A")
    high, low = curves.dew_pressure(fahrenheit(105)), curves.dew_pressure(fahrenheit(40))
    assert circuit.compression_ratio(high, low) == pytest.approx(2.67, abs=0.03)


@pytest.mark.parametrize(("high", "low"), [(1e6, 0.0), (1e6, -1.0), (-1.0, 1e5), (math.nan, 1e5), (1e6, math.nan)])
def test_compression_ratio_refuses_gauge_vacuum(high, low):
    """A pressure at or below absolute zero gives no ratio."""
    with pytest.raises(ImpossibleError):
        circuit.compression_ratio(high, low)


@pytest.mark.parametrize(
    ("wet", "dry", "target"),
    [(67, 95, 13.0), (63, 80, 14.5), (70, 90, 20.0), (60, 90, 5.0)],
)
def test_superheat_target_of_a_fixed_orifice(wet, dry, target):
    """(3 · wet bulb - 80 - dry bulb) / 2 in degrees Fahrenheit. Source: common practice."""
    ours = circuit.fixed_orifice_superheat_target(fahrenheit(wet), fahrenheit(dry))
    assert ours * 1.8 == pytest.approx(target, abs=1e-9)


@pytest.mark.parametrize(("wet", "dry"), [(60, 91), (55, 115), (math.nan, 90)])
def test_no_superheat_target_below_five_degrees(wet, dry):
    """Below 5 °F there is no target, because liquid might reach the compressor."""
    with pytest.raises(NoTargetError):
        circuit.fixed_orifice_superheat_target(fahrenheit(wet), fahrenheit(dry))


def test_superheat_target_follows_its_two_temperatures():
    """A degree of wet bulb moves the target up by 1.5, a degree outdoors down by 0.5, with their uncertainty."""
    target = circuit.fixed_orifice_superheat_target(
        within(fahrenheit(67), math.sqrt(3)), within(fahrenheit(95), math.sqrt(3))
    )
    assert standard(target) == pytest.approx(math.hypot(1.5, 0.5))


def test_glide_midpoints():
    """A condenser's mean lies half way; an evaporator's lies higher, as flash gas has used up part of the glide."""
    assert circuit.glide_midpoint(280.0, 286.0) == 283.0
    assert circuit.evaporator_midpoint(280.0, 286.0, 0.0) == 283.0
    assert circuit.evaporator_midpoint(280.0, 286.0, 0.2) == pytest.approx(283.6)


def test_flash_gas_of_r22():
    """About 20 % of R-22 flashes between liquid at 100 °F and evaporating at 43 °F. Source: common practice."""
    curves = saturation("R-22")
    fraction = circuit.flash_gas_fraction(curves, fahrenheit(100), curves.dew_pressure(fahrenheit(43)))
    assert fraction == pytest.approx(0.20, abs=0.01)


@given(st.sampled_from(["R-22", "R-410A", "R-32", "R-407C", "R-454B"]), st.floats(60, 115), st.floats(1, 15))
@settings(deadline=None)
def test_subcooling_saves_flash_gas(name, liquid, less):
    """The colder the liquid, the less of it flashes and the more heat a kilogram takes up."""
    curves = saturation(name)
    p = curves.dew_pressure(fahrenheit(42))
    warm, cool = fahrenheit(liquid), fahrenheit(liquid - less)
    assert circuit.flash_gas_fraction(curves, cool, p) < circuit.flash_gas_fraction(curves, warm, p)
    assert circuit.cooling_effect(curves, cool, p) > circuit.cooling_effect(curves, warm, p)


def test_liquid_colder_than_the_evaporator_does_not_flash():
    """Liquid below the evaporating temperature is refused: the readings contradict each other."""
    curves = saturation("R-22")
    with pytest.raises(ImpossibleError):
        circuit.flash_gas_fraction(curves, fahrenheit(20), curves.dew_pressure(fahrenheit(43)))


def test_mass_flow_of_a_three_ton_system():
    """Three tons on R-22 need about 9 lb/min: 36,000 Btu/h over some 69 Btu/lb. Source: arithmetic on the curves."""
    curves = saturation("R-22")
    effect = circuit.cooling_effect(curves, fahrenheit(100), curves.dew_pressure(fahrenheit(43)))
    flow = circuit.mass_flow(3 * 3516.85, effect)
    assert flow / 0.45359237 * 60 == pytest.approx(36000 / 60 / (effect / 2326.0), rel=1e-4)
    assert 8.0 < flow / 0.45359237 * 60 < 10.0


@pytest.mark.parametrize("nothing", [0.0, -1.0, math.nan])
def test_division_by_nothing_is_refused(nothing):
    """No flow from no cooling effect, no airflow per no capacity."""
    with pytest.raises(ImpossibleError):
        circuit.mass_flow(1e4, nothing)
    with pytest.raises(ImpossibleError):
        circuit.airflow_per_capacity(0.5, nothing)


def test_airflow_per_ton():
    """1,200 cfm on 36,000 Btu/h are 400 cfm per ton. Source: arithmetic."""
    cfm, ton = FOOT**3 / 60, 12000 * 1055.056 / 3600
    assert circuit.airflow_per_capacity(1200 * cfm, 3 * ton) / (cfm / ton) == pytest.approx(400)


def test_air_side_capacity():
    """4,500 lb/h of dry air over 8 Btu/lb give 36,000 Btu/h. Source: arithmetic."""
    pound, btu = 0.45359237, 1055.056
    watts = circuit.air_side_capacity(4500 * pound / 3600, 31.5 * btu / pound, 23.5 * btu / pound)
    assert watts / btu * 3600 == pytest.approx(36000)


def test_thirty_feet_of_lift_cost_subcooling():
    """R-410A condensing at 105 °F, liquid at 95 °F, lifted 30 ft: 13.1 psi, about 2.8 °F. Source: density, dp/dT."""
    curves = saturation("R-410A")
    loss = circuit.liquid_lift_loss(curves.liquid_density(fahrenheit(95)), 30 * FOOT)
    assert loss / PSI == pytest.approx(13.1, abs=0.2)
    p = curves.bubble_pressure(fahrenheit(105))
    margin = circuit.flash_margin(curves, p, fahrenheit(105 - 10), loss)
    assert margin * 1.8 == pytest.approx(10 - 2.8, abs=0.3)
    assert circuit.flash_margin(curves, p, fahrenheit(104), loss) < 0


def test_noncondensables_show_as_pressure_over_saturation():
    """A system at rest at 75 °F holds saturation; what is above comes from air. A blend counts from bubble."""
    curves = saturation("R-407C")
    rest = curves.bubble_pressure(fahrenheit(75))
    assert circuit.noncondensable_excess(curves, rest + 10 * PSI, fahrenheit(75)) == pytest.approx(10 * PSI)
    assert circuit.noncondensable_excess(curves, curves.dew_pressure(fahrenheit(75)), fahrenheit(75)) < 0


def test_arithmetic_keeps_correlation():
    """The same dew temperature in two numbers cancels: its uncertainty does not count twice."""
    dew = within(280.0, 0.5)
    assert standard(circuit.glide_midpoint(dew, 290.0 - dew)) == pytest.approx(0.0, abs=1e-12)
    assert standard(circuit.compression_ratio(within(2.4e6, 1e4), within(9e5, 1e4))) > 0
