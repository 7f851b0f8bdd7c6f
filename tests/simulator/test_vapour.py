"""The tables of superheated vapour against the equation of state, and how a pipe's filling is counted."""

import json
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.errors import OutOfRangeError, UnknownNameError
from assistant.simulator import fit
from assistant.simulator.refrigerant import density, held_density, saturation_ends, temperature
from assistant.simulator.vapour import DATA, modelled_designations, vapour
from assistant.thermo import reference
from assistant.thermo.curves import saturation
from tests.thermo.units import fahrenheit, to_fahrenheit

# Largest differences that the tables show against the equation of state, rounded up: [J/kg], [J/(kg·K)], a share.
ENTHALPY, ENTROPY, DENSITY = 600.0, 1.3, 0.003


@pytest.mark.parametrize("name", modelled_designations())
@pytest.mark.parametrize("share", [0.03, 0.25, 0.5, 0.75, 0.97])
@pytest.mark.parametrize("above", [0.5, 5.0, 25.0, 60.0, 120.0])
def test_the_tables_follow_the_equation_of_state(name: str, share: float, above: float) -> None:
    """Enthalpy, entropy and density lie close to CoolProp's over the whole table, also between its nodes."""
    fluid = vapour(name)
    pressure = math.exp(math.log(fluid.low) + share * math.log(fluid.high / fluid.low))
    at = fluid.curves.dew_temperature(pressure) + above
    told = reference.vapour_state(fluid.curves.refrigerant.model_name, pressure, at)
    assert fluid.enthalpy(pressure, at) == pytest.approx(told.enthalpy, abs=ENTHALPY)
    assert fluid.entropy(pressure, at) == pytest.approx(told.entropy, abs=ENTROPY)
    assert fluid.density(pressure, at) == pytest.approx(told.density, rel=DENSITY)


@pytest.mark.parametrize("name", modelled_designations())
def test_ideal_compression_follows_the_equation_of_state(name: str) -> None:
    """Work of lossless compression from 45 °F dew and 15 °F superheat to 120 °F is CoolProp's within 2 %."""
    fluid = vapour(name)
    model = fluid.curves.refrigerant.model_name
    low, high = fluid.curves.dew_pressure(280.37), fluid.curves.bubble_pressure(322.04)
    start = fluid.at(low)
    end = fluid.at(high)
    entropy = start.entropy(288.71)
    ours = end.enthalpy(end.temperature_at_entropy(entropy)) - start.enthalpy(288.71)
    suction = reference.vapour_state(model, low, 288.71)
    coldest, hottest = fluid.curves.dew_temperature(high) + 0.01, 420.0
    while hottest - coldest > 1e-6:
        middle = (coldest + hottest) / 2
        told = reference.vapour_state(model, high, middle)
        coldest, hottest = (coldest, middle) if told.entropy > suction.entropy else (middle, hottest)
    assert ours == pytest.approx(told.enthalpy - suction.enthalpy, rel=0.02)


@pytest.mark.parametrize(("name", "low", "high"), [("R-22", 150, 165), ("R-410A", 150, 165), ("R-32", 175, 190)])
def test_discharge_temperature_of_lossless_compression(name: str, low: float, high: float) -> None:
    """40 °F evaporating, 10 °F superheat, 115 °F condensing: R-32 runs much hotter than the others.

    Source: the three ranges computed with CoolProp 8.0.0. Of R-22 70 % efficiency ends 25 °F hotter, by hand:
    11.5 Btu/lb of ideal work x (1/0.7 - 1) over a heat capacity near 0.2 Btu/(lb °F), both from memory.
    """
    fluid = vapour(name)
    start, end = (fluid.at(fluid.curves.dew_pressure(fahrenheit(degrees))) for degrees in (40.0, 115.0))
    ideal = end.temperature_at_entropy(start.entropy(fahrenheit(50.0)))
    assert low < to_fahrenheit(ideal) < high
    if name == "R-22":
        work = end.enthalpy(ideal) - start.enthalpy(fahrenheit(50.0))
        poorer = end.temperature(start.enthalpy(fahrenheit(50.0)) + work / 0.7)
        assert (poorer - ideal) * 1.8 == pytest.approx(11.5 * (1 / 0.7 - 1) / 0.2, abs=3)


@settings(max_examples=60, deadline=None)
@given(st.sampled_from(modelled_designations()), st.floats(0.0, 1.0), st.floats(0.0, 135.0))
def test_temperature_and_enthalpy_are_each_others_inverse(name: str, share: float, above: float) -> None:
    """A temperature comes back from the enthalpy and from the entropy that it gave."""
    fluid = vapour(name)
    isobar = fluid.at(fluid.low + share * (fluid.high - fluid.low))
    at = isobar.dew + above
    assert isobar.temperature(isobar.enthalpy(at)) == pytest.approx(at, abs=1e-6)
    assert isobar.temperature_at_entropy(isobar.entropy(at)) == pytest.approx(at, abs=1e-6)


def test_outside_the_table_is_refused() -> None:
    """A pressure too close to the critical one, too much superheat and wet gas are refused by name and range."""
    fluid = vapour("R-410A")
    with pytest.raises(OutOfRangeError, match="vapour pressure"):
        fluid.at(4.8e6)
    with pytest.raises(OutOfRangeError, match="superheat"):
        fluid.enthalpy(1e6, 500.0)
    with pytest.raises(OutOfRangeError, match="superheat"):
        fluid.enthalpy(1e6, 250.0)
    with pytest.raises(OutOfRangeError, match="superheat"):
        fluid.temperature(1e6, 9e5)


def test_a_refrigerant_without_a_table_is_refused() -> None:
    """A refrigerant that is known, but not to practise on, is refused with those that are."""
    with pytest.raises(UnknownNameError, match="R-410A"):
        vapour("R-290")


@pytest.mark.parametrize("name", modelled_designations())
def test_a_temperature_follows_the_enthalpy_from_liquid_to_gas(name: str) -> None:
    """Along a pressure, temperature never falls and density never rises with the enthalpy."""
    fluid = vapour(name)
    at = saturation_ends(fluid, 1.2e6)
    enthalpies = [at.liquid_enthalpy + part * at.latent for part in (-0.3, -0.1, 0.0, 0.2, 0.6, 1.0, 1.2, 1.5)]
    warm = [temperature(fluid, 1.2e6, enthalpy) for enthalpy in enthalpies]
    dense = [density(fluid, 1.2e6, enthalpy) for enthalpy in enthalpies]
    assert warm == sorted(warm)
    assert dense == sorted(dense, reverse=True)


def test_what_a_pipe_holds_lies_between_liquid_and_gas() -> None:
    """The mean density of a boiling pipe agrees with a sum over many short pieces, and ends at liquid and at gas."""
    at = saturation_ends(vapour("R-22"), 6e5)
    pieces = [held_density(at, k / 4000, k / 4000) for k in range(4001)]
    assert held_density(at, 0.0, 1.0) == pytest.approx(sum(pieces) / len(pieces), rel=2e-3)
    assert pieces[0] == pytest.approx(at.liquid_density)
    assert pieces[-1] == pytest.approx(at.vapour_density)


@pytest.mark.parametrize("name", ["R-22", "R-410A"])
def test_the_shipped_table_is_what_the_fit_derives(name: str) -> None:
    """Derived again from the equation of state, the table is the shipped one."""
    shipped = json.loads(DATA.read_text(encoding="utf-8"))["refrigerants"][name]
    assert fit.largest_difference(fit.fit_refrigerant(saturation(name)), shipped) <= fit.TOLERANCE


def test_a_changed_table_is_noticed() -> None:
    """A single coefficient that is off by a thousandth shows in the comparison."""
    shipped = json.loads(DATA.read_text(encoding="utf-8"))["refrigerants"]["R-32"]
    changed = json.loads(json.dumps(shipped))
    changed["heat"][0][0] *= 1.001
    assert fit.largest_difference(shipped, shipped) == 0.0
    assert fit.largest_difference(changed, shipped) > fit.TOLERANCE
