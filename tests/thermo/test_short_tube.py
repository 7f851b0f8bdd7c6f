"""The short-tube correlation: known bores, trends, and where it ends."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.errors import ImpossibleError, OutOfRangeError
from assistant.thermo import orifice
from assistant.thermo.curves import saturation
from assistant.thermo.short_tube import ShortTube, mass_flow
from tests.thermo.units import fahrenheit

R22 = saturation("R-22")
LOW = R22.dew_pressure(fahrenheit(45))
INCH = 0.0254
TON = 3516.85  # W

condensing = st.floats(102, 122)
subcoolings = st.floats(0.5, 22)
bores = st.floats(0.045, 0.065)


def flow(condensing_, subcooling, bore=0.059, length=0.5, low=LOW):
    """Flow [kg/s] at temperatures in F through a tube in inches."""
    tube = ShortTube(length * INCH, bore * INCH)
    return mass_flow(R22, tube, R22.bubble_pressure(fahrenheit(condensing_)), fahrenheit(condensing_ - subcooling), low)


@pytest.mark.parametrize(
    ("tons", "bore"), [(1.5, 0.053), (2.0, 0.061), (2.5, 0.067), (3.0, 0.073), (3.5, 0.078), (4.0, 0.084), (5.0, 0.093)]
)
def test_the_common_bore_carries_its_tons(tons, bore):
    """At 115 F condensing, 10 F subcooling and 45 F evaporating the usual R-22 bore feeds its tons within a tenth.

    Source: bores in inches per ton as the trade fits them with R-22; common practice, from memory.
    """
    cooling = R22.vapour_enthalpy(fahrenheit(45)) - R22.liquid_enthalpy(fahrenheit(105))
    assert flow(115, 10, bore) * cooling / TON == pytest.approx(tons, rel=0.10)


@given(condensing, st.floats(8, 22), bores)
@settings(deadline=None)
def test_within_a_quarter_of_the_equilibrium_model(condensing_, subcooling, bore):
    """A model without any fitted number gives the same flow within a quarter, from 8 F of subcooling on.

    Source: Leung, Grolmes 1988, omega method, from memory. Nearer to saturation it gives too little:
    real tubes flash late.
    """
    p, t = R22.bubble_pressure(fahrenheit(condensing_)), fahrenheit(condensing_ - subcooling)
    ideal = orifice.ideal_flux(R22, p, t, LOW) * math.pi / 4 * (bore * INCH) ** 2
    assert flow(condensing_, subcooling, bore) == pytest.approx(ideal, rel=0.25)


@given(condensing, subcoolings, bores, st.floats(0.2, 2))
@settings(deadline=None)
def test_what_feeds_more(condensing_, subcooling, bore, more):
    """More subcooling, more head pressure and a wider bore feed more; a longer tube feeds less."""
    base = flow(condensing_, subcooling, bore)
    assert flow(condensing_, subcooling + more / 2, bore) > base
    assert flow(condensing_ + more, subcooling, bore) > base
    assert flow(condensing_, subcooling, bore + more / 1000) > base
    assert flow(condensing_, subcooling, bore, length=0.5 + more / 20) < base


def test_the_evaporator_hardly_matters():
    """Ten degrees less evaporating temperature moves the flow of a choked tube by less than 2 percent."""
    lower = R22.dew_pressure(fahrenheit(35))
    assert 1.0 < flow(115, 10, low=lower) / flow(115, 10) < 1.02


@pytest.mark.parametrize(
    ("condensing_", "subcooling", "bore", "error"),
    [
        (80, 10, 0.059, OutOfRangeError),
        (150, 10, 0.059, OutOfRangeError),
        (115, 30, 0.059, OutOfRangeError),
        (115, math.nan, 0.059, OutOfRangeError),
        (115, -2, 0.059, ImpossibleError),
        (115, 10, 0.2, OutOfRangeError),
        (115, 10, 0.01, OutOfRangeError),
        (115, 10, 0.0, ImpossibleError),
    ],
)
def test_what_was_not_measured_is_refused(condensing_, subcooling, bore, error):
    """Outside the measured pressures, subcoolings and tubes there is no number."""
    with pytest.raises(error):
        flow(condensing_, subcooling, bore)


def test_other_refrigerants_are_refused():
    """The correlation was fitted to one refrigerant."""
    other = saturation("R-410A")
    with pytest.raises(ImpossibleError, match="R-22 alone"):
        mass_flow(other, ShortTube(0.0127, 0.0015), 1.8e6, 290.0, 6e5)


@pytest.mark.parametrize("low", [-1.0, 0.0, math.nan, 1.7e6])
def test_a_tube_that_does_not_choke_is_refused(low):
    """A pressure behind the tube that is no pressure, or too high to choke, gives no number."""
    with pytest.raises(ImpossibleError, match="choke"):
        flow(115, 10, low=low)
