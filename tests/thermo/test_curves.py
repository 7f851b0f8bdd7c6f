"""The saturation curves: their shape, their range, and what they refuse."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.errors import OutOfRangeError, UnknownNameError
from assistant.thermo.curves import saturation
from assistant.thermo.refrigerants import all_refrigerants
from tests.thermo.units import fahrenheit, psig, to_psig

EVERY = [saturation(r) for r in all_refrigerants()]
NAMES = [s.refrigerant.designation for s in EVERY]
each = pytest.mark.parametrize("curves", EVERY, ids=NAMES)
some_curves = st.sampled_from(EVERY)
share = st.floats(0.0, 1.0)
HOSTILE = [math.nan, math.inf, -math.inf, 1e308, -1e308, 0.0, -1.0, 5e-324]


def grid(curves, count=4001):
    return np.linspace(curves.minimum_temperature, curves.maximum_temperature, count)


def along(curve, temperatures):
    """What a curve gives at each of many temperatures."""
    return np.array([curve(float(t)) for t in temperatures])


@given(some_curves, share)
@settings(deadline=None)
def test_there_and_back_is_the_same_temperature(curves, at):
    """Pressure at a temperature and the temperature at that pressure are inverses, to 1e-9 K."""
    temperature = curves.minimum_temperature + at * (curves.maximum_temperature - curves.minimum_temperature)
    assert curves.dew_temperature(curves.dew_pressure(temperature)) == pytest.approx(temperature, abs=1e-9)
    assert curves.bubble_temperature(curves.bubble_pressure(temperature)) == pytest.approx(temperature, abs=1e-9)


@given(some_curves, share)
@settings(deadline=None)
def test_slopes_are_the_derivatives(curves, at):
    """Every slope agrees with a central difference of its own curve."""
    t = curves.minimum_temperature + 0.01 + at * (curves.maximum_temperature - curves.minimum_temperature - 0.02)
    difference = (curves.liquid_enthalpy(t + 1e-3) - curves.liquid_enthalpy(t - 1e-3)) / 2e-3
    assert curves.liquid_enthalpy_slope(t) == pytest.approx(difference, rel=1e-5, abs=0.05)
    for pressure, temperature, follow in (
        (curves.dew_pressure, curves.dew_temperature, curves.follow_dew),
        (curves.bubble_pressure, curves.bubble_temperature, curves.follow_bubble),
    ):
        p = pressure(t)
        found, slope = follow(p)
        assert found == temperature(p)
        assert slope * (pressure(t + 1e-3) - pressure(t - 1e-3)) / 2e-3 == pytest.approx(1.0, rel=1e-5)


@given(some_curves, share, share)
@settings(deadline=None)
def test_hotter_means_more_pressure(curves, one, other):
    """Of two temperatures the higher has the higher bubble and dew pressure."""
    low, high = sorted(
        curves.minimum_temperature + at * (curves.maximum_temperature - curves.minimum_temperature)
        for at in (one, other)
    )
    if high - low > 1e-6:
        assert curves.dew_pressure(low) < curves.dew_pressure(high)
        assert curves.bubble_pressure(low) < curves.bubble_pressure(high)


@each
def test_curves_are_monotonic_and_smooth(curves):
    """Pressure rises everywhere, bends evenly, liquid thins and vapour thickens: no fitted wiggle anywhere.

    Wiggles show first in ln p over 1/T, which is nearly straight: its slope changes by less than 1 % per step of
    a quarter of a per cent of the range, except in the last 15 K below the critical point.
    """
    t = grid(curves, 401)
    for pressure in (along(curves.dew_pressure, t), along(curves.bubble_pressure, t)):
        assert (np.diff(pressure) > 0).all()
        slope = np.diff(np.log(pressure)) / np.diff(1 / t)
        calm = t[1:-1] < curves.refrigerant.critical_temperature - 15
        assert (np.abs(np.diff(slope) / slope[1:])[calm] < 0.01).all()
    assert (np.diff(along(curves.liquid_density, t)) < 0).all()
    assert (np.diff(along(curves.vapour_density, t)) > 0).all()
    assert (np.diff(along(curves.liquid_enthalpy, t)) > 0).all()


@each
def test_slopes_have_no_ripple(curves):
    """The slope of every pressure curve itself rises steadily: no step where the equations are hard to solve."""
    t = grid(curves)
    for pressure, follow in (
        (curves.dew_pressure, curves.follow_dew),
        (curves.bubble_pressure, curves.follow_bubble),
    ):
        slope = np.array([1 / follow(pressure(float(x)))[1] for x in t])
        assert (slope > 0).all()
        assert (np.diff(slope)[t[1:] < curves.refrigerant.critical_temperature - 15] > 0).all()


@each
def test_bubble_lies_above_dew(curves):
    """At one temperature bubble pressure is not below dew pressure; for a single substance they are the same."""
    t = grid(curves, 401)
    bubble, dew = along(curves.bubble_pressure, t), along(curves.dew_pressure, t)
    if curves.refrigerant.is_blend:
        # An azeotrope touches: a hair of a hundredth of a per cent is the equations' own noise there.
        assert (bubble > dew * (1 - 1e-4)).all()
    else:
        assert (bubble == dew).all()
        assert curves.glide(curves.dew_pressure(280.0)) == 0.0


@each
def test_vapour_is_lighter_and_richer_than_liquid(curves):
    """Up to the top of the range vapour has less density and more enthalpy than liquid."""
    t = grid(curves, 401)
    assert (along(curves.vapour_density, t) < along(curves.liquid_density, t)).all()
    assert (along(curves.vapour_enthalpy, t) > along(curves.liquid_enthalpy, t)).all()


@each
def test_range_reaches_from_deep_cold_to_near_critical(curves):
    """Every curve runs from -80 °F (carbon dioxide: its triple point) to 1 K below critical, 3 K if pseudo-pure."""
    below = 3.0 if curves.refrigerant.model_kind == "pseudo-pure" else 1.0
    carbon_dioxide = curves.refrigerant.designation == "R-744"
    assert curves.minimum_temperature == pytest.approx(217.0 if carbon_dioxide else fahrenheit(-80))
    assert curves.refrigerant.critical_temperature - curves.maximum_temperature == pytest.approx(below, abs=0.01)


@each
def test_enthalpy_starts_from_one_reference_state(curves):
    """Bubble liquid at 0 °C has 200 kJ/kg."""
    assert curves.liquid_enthalpy(273.15) == pytest.approx(200e3, abs=1.0)


@pytest.mark.parametrize("curves", [s for s in EVERY if not s.refrigerant.is_blend], ids=lambda s: str(s.refrigerant))
def test_clausius_clapeyron(curves):
    """Slope, latent heat and volumes hang together: dp/dT = latent heat / (T · volume change).

    Exact in this form for a single substance, and an identity that no fitting error survives.
    """
    t = grid(curves, 201)[:-5]
    latent = along(curves.vapour_enthalpy, t) - along(curves.liquid_enthalpy, t)
    volume = 1 / along(curves.vapour_density, t) - 1 / along(curves.liquid_density, t)
    slope = np.array([1 / curves.follow_dew(curves.dew_pressure(float(x)))[1] for x in t])
    assert slope == pytest.approx(latent / (t * volume), rel=2e-4)


@each
def test_hostile_numbers_are_refused(curves):
    """No number from outside the range gets an answer: the refusal names quantity, value, unit, range and source."""
    for value in HOSTILE:
        for name in ("dew_temperature", "bubble_temperature", "glide", "follow_dew",
                     "follow_bubble"):  # fmt: skip
            with pytest.raises(OutOfRangeError) as caught:
                getattr(curves, name)(value)
            assert caught.value.unit == "Pa"
            assert "pressure" in caught.value.quantity
        for name in ("dew_pressure", "bubble_pressure", "liquid_density", "vapour_density", "liquid_enthalpy",
                     "vapour_enthalpy", "liquid_enthalpy_slope"):  # fmt: skip
            with pytest.raises(OutOfRangeError) as caught:
                getattr(curves, name)(value)
            assert caught.value.unit == "K"
            assert curves.refrigerant.designation in caught.value.quantity
            assert caught.value.source
            assert (caught.value.low, caught.value.high) == (curves.minimum_temperature, curves.maximum_temperature)


@given(some_curves, st.one_of(st.floats(), st.integers()))
@settings(max_examples=300, deadline=None)
def test_any_number_is_answered_in_range_or_refused(curves, value):
    """Whatever number comes, there is a temperature within the range or a refusal; nothing is extrapolated."""
    low, high = curves.dew_pressure_range
    try:
        answer = curves.dew_temperature(value)
    except OutOfRangeError:
        assert not low <= value <= high
    else:
        assert curves.minimum_temperature <= answer <= curves.maximum_temperature


def test_critical_and_beyond_is_refused():
    """There is no saturation at or above the critical point."""
    for curves in EVERY:
        with pytest.raises(OutOfRangeError):
            curves.dew_pressure(curves.refrigerant.critical_temperature)
        with pytest.raises(OutOfRangeError):
            curves.bubble_temperature(curves.refrigerant.critical_pressure)


def test_curves_are_found_by_any_name():
    """Curves come by refrigerant or by any name of it, and are made once."""
    assert saturation("410a") is saturation("R-410A")
    with pytest.raises(UnknownNameError):
        saturation("R-410Z")


@pytest.mark.parametrize("gauge", [*range(480, 506, 5), 550, 617])
def test_choked_condenser_on_r454b(gauge):
    """R-454B has bubble and dew temperatures at the pressures of a choked condenser, with an ordinary glide there."""
    curves = saturation("R-454B")
    assert 1.0 < curves.glide(psig(gauge - 14.696)) < 2.7
    assert to_psig(curves.bubble_pressure(curves.bubble_temperature(psig(gauge)))) == pytest.approx(gauge)
