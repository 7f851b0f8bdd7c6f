"""The pressure-enthalpy chart: its states against the equation of state, and what is left out."""

import itertools

import pytest

from assistant.catalogue.catalogue import Catalogue
from assistant.pictures.cycle import DISCHARGE, EXPANDED, LIQUID, SUCTION, CycleChart, cycle_chart, cycle_words
from assistant.pictures.vapour import work_here
from assistant.thermo import reference
from assistant.thermo.curves import saturation
from assistant.thermo.refrigerants import all_refrigerants
from tests.pictures.sheets import FULL, display, finished, sheet_of
from tests.thermo import coolprop

ATMOSPHERE = 101325.0
PSI = 6894.757293168


def kelvin(fahrenheit: float) -> float:
    return (fahrenheit + 459.67) / 1.8


def chart_of(catalogue: Catalogue, refrigerant: str = "R-410A", **readings: str) -> CycleChart:
    chart = finished(catalogue, sheet_of(catalogue, refrigerant, **readings))[0]
    assert isinstance(chart, CycleChart)
    return chart


def straight(fluid: str, pressure: float, temperature: float) -> float:
    """Enthalpy [J/kg] asked of CoolProp itself, on the scale on which liquid at 0 °C has 200 kJ/kg.

    Source: CoolProp 8.0.0, high-level interface.
    """
    zero = coolprop.PropsSI("Hmass", "T", 273.15, "Q", 0, fluid)
    return float(coolprop.PropsSI("Hmass", "T", temperature, "P", pressure, fluid)) - zero + 200e3


@pytest.mark.parametrize(("refrigerant", "fluid"), [("R-410A", "R410A"), ("R-32", "R32"), ("R-290", "n-Propane")])
def test_the_states_are_those_of_the_equation_of_state(catalogue: Catalogue, refrigerant: str, fluid: str) -> None:
    """Vapour within rounding; liquid within 0.5 Btu/lb, as the chart says of it.

    Source: CoolProp 8.0.0.
    """
    pressures = {"R-290": ("60 psig", "190 psig")}.get(refrigerant, ("118 psig", "340 psig"))
    chart = chart_of(
        catalogue, refrigerant, **{**FULL, "suction_pressure": pressures[0], "liquid_pressure": pressures[1]}
    )
    low, high = (float(text.split()[0]) * PSI + ATMOSPHERE for text in pressures)
    marks = {mark.title: mark for mark in chart.marks}
    assert marks[SUCTION].enthalpy == pytest.approx(straight(fluid, low, kelvin(62)), abs=1)
    assert marks[DISCHARGE].enthalpy == pytest.approx(straight(fluid, high, kelvin(165)), abs=1)
    assert marks[LIQUID].enthalpy == pytest.approx(straight(fluid, high, kelvin(92)), abs=0.5 * 2326)
    assert marks[SUCTION].pressure == pytest.approx(low)
    assert marks[DISCHARGE].pressure == marks[LIQUID].pressure == pytest.approx(high)


def test_what_the_chart_says_of_liquid_holds_for_every_refrigerant() -> None:
    """Saturated liquid at the same temperature is less than 0.5 Btu/lb from liquid up to 15 K subcooled at 45 °C.

    Carbon dioxide is left out, as it does not condense at such temperatures.

    Source: CoolProp 8.0.0.
    """
    for refrigerant, subcooling in itertools.product(all_refrigerants(), (1.0, 5.0, 15.0)):
        if refrigerant.designation == "R-744":
            continue
        curves = saturation(refrigerant)
        pressure = curves.bubble_pressure(318.15)
        exact = reference.liquid_state(refrigerant.model_name, pressure, 318.15 - subcooling).enthalpy
        assert abs(curves.liquid_enthalpy(318.15 - subcooling) - exact) < 0.5 * 2326, refrigerant


def test_the_curves_are_those_of_saturation(catalogue: Catalogue) -> None:
    """Enthalpy of saturated liquid and vapour at 1 MPa.

    Source: CoolProp 8.0.0.
    """
    chart = chart_of(catalogue, "R-32", **FULL)
    zero = coolprop.PropsSI("Hmass", "T", 273.15, "Q", 0, "R32")
    for curve, quality in ((chart.bubble, 0), (chart.dew, 1)):
        (h0, p0), (h1, p1) = next(pair for pair in itertools.pairwise(curve) if pair[0][1] <= 1e6 < pair[1][1])
        between = h0 + (h1 - h0) * (1e6 - p0) / (p1 - p0)
        straight_away = coolprop.PropsSI("Hmass", "P", 1e6, "Q", quality, "R32") - zero + 200e3
        assert between == pytest.approx(straight_away, abs=200)


def test_expansion_goes_straight_down(catalogue: Catalogue) -> None:
    """The metering device does no work and takes up no heat, so the enthalpy stays; the vapour share is that of R-32.

    Source: CoolProp 8.0.0 for the quality at the suction pressure and that enthalpy.
    """
    chart = chart_of(catalogue, "R-32", **FULL)
    liquid, expanded = chart.mark(LIQUID), chart.mark(EXPANDED)
    assert liquid is not None
    assert expanded is not None
    assert expanded.enthalpy == liquid.enthalpy
    zero = coolprop.PropsSI("Hmass", "T", 273.15, "Q", 0, "R32")
    quality = coolprop.PropsSI("Q", "P", 118 * PSI + ATMOSPHERE, "Hmass", expanded.enthalpy - 200e3 + zero, "R32")
    assert f"{quality:.0%} vapour" in expanded.shown


def test_the_cycle_closes_when_all_is_read(catalogue: Catalogue) -> None:
    """Four sides, and what the compressor adds is what the condenser gives off beyond the coil."""
    chart = chart_of(catalogue, **FULL)
    assert [f"{one.sign}{other.sign}" for one, other in chart.legs] == ["12", "23", "34", "41"]
    marks = {mark.sign: mark.enthalpy for mark in chart.marks}
    added, taken, given = marks["2"] - marks["1"], marks["1"] - marks["4"], marks["2"] - marks["3"]
    assert added + taken == pytest.approx(given)
    assert chart.missing == ()


@pytest.mark.parametrize(
    ("left_out", "signs", "legs"),
    [
        ("discharge_line_temperature", "134", ["34", "41"]),
        ("suction_line_temperature", "234", ["23", "34"]),
        ("liquid_line_temperature", "12", ["12"]),
        ("suction_pressure", "23", ["23"]),
        ("liquid_pressure", "1", []),
    ],
)
def test_what_was_not_measured_is_not_drawn_and_said(
    catalogue: Catalogue, left_out: str, signs: str, legs: list[str]
) -> None:
    """Each missing reading takes its states and their sides away, and the chart names it."""
    chart = chart_of(catalogue, **{name: text for name, text in FULL.items() if name != left_out})
    assert "".join(mark.sign for mark in chart.marks) == signs
    assert [f"{one.sign}{other.sign}" for one, other in chart.legs] == legs
    for sign in set("1234") - set(signs):
        assert any(line.startswith(f"{sign} ") and "is not drawn" in line for line in chart.missing)
    assert any(catalogue.title_of(left_out).lower() in line for line in chart.missing)


def test_wet_vapour_is_not_placed(catalogue: Catalogue) -> None:
    """At or below dew, pressure and temperature do not tell the enthalpy."""
    chart = chart_of(catalogue, **{**FULL, "suction_line_temperature": "38 F"})
    assert chart.mark(SUCTION) is None
    assert any(line.startswith("1 suction line is not drawn") and "may be wet" in line for line in chart.missing)


def test_liquid_with_bubbles_is_not_placed(catalogue: Catalogue) -> None:
    """Above bubble it may hold vapour, so that neither it nor what leaves the metering device has a place."""
    chart = chart_of(catalogue, **{**FULL, "liquid_line_temperature": "112 F"})
    assert chart.mark(LIQUID) is None
    assert chart.mark(EXPANDED) is None
    assert any("may hold bubbles" in line for line in chart.missing)


def test_a_state_within_its_doubt_of_saturation_is_drawn_with_a_word(catalogue: Catalogue) -> None:
    """One degree of superheat is less than the thermometer and gauge can tell."""
    chart = chart_of(catalogue, **{**FULL, "suction_line_temperature": "42 F"})
    assert chart.mark(SUCTION) is not None
    assert any("within its doubt of zero. It may be wet" in note for note in chart.notes)


def test_carbon_dioxide_above_its_critical_point_is_said_not_drawn(catalogue: Catalogue) -> None:
    """A gas cooler has no bubble temperature; the reason is given, nothing is made up."""
    chart = chart_of(catalogue, "R-744", **{**FULL, "suction_pressure": "450 psig", "liquid_pressure": "1300 psig"})
    assert chart.mark(LIQUID) is None
    assert any(line.startswith("3 liquid line is not drawn") and "outside the range" in line for line in chart.missing)


def test_superheated_states_are_wanted_until_they_are_worked(catalogue: Catalogue) -> None:
    """What needs the equation of state is asked for, and nothing stands in for it meanwhile."""
    sheet = sheet_of(catalogue, **FULL)
    chart = cycle_chart(sheet, display(catalogue, sheet), {})
    assert [mark.sign for mark in chart.marks] == ["3", "4"]
    assert len(chart.wanted) == 2
    assert "Superheated states are still being worked; they come in a moment." in cycle_words(chart)
    later = cycle_chart(sheet, display(catalogue, sheet), work_here(chart.wanted))
    assert [mark.sign for mark in later.marks] == ["1", "2", "3", "4"]
    assert later.wanted == ()


def test_a_state_that_cannot_be_worked_is_said(catalogue: Catalogue) -> None:
    """The sentence of the equation of state stands where the state would."""
    sheet = sheet_of(catalogue, **FULL)
    wanted = cycle_chart(sheet, display(catalogue, sheet), {}).wanted
    chart = cycle_chart(sheet, display(catalogue, sheet), dict.fromkeys(wanted, "The equation has no answer."))
    assert "1 suction line is not drawn: The equation has no answer." in chart.missing


def test_the_words_give_the_heat_of_each_side(catalogue: Catalogue) -> None:
    """A screen reader gets what the eye would take from the chart."""
    words = cycle_words(chart_of(catalogue, **FULL))
    assert "1 suction line: 118.0 psig and 62.0 °F, 187.5 Btu/lb." in words
    assert "From 4 to 1 coil and suction line take up 78.2 Btu/lb." in words
    assert "From 1 to 2 the compressor adds 15.5 Btu/lb." in words


def test_units_follow_the_screen(catalogue: Catalogue) -> None:
    """In SI units the same chart has kPa and kJ/kg."""
    sheet = sheet_of(catalogue, **FULL)
    chart = cycle_chart(sheet, display(catalogue, sheet, "si"), {})
    assert (chart.pressure_unit.symbol, chart.enthalpy_unit.symbol) == ("kPa", "kJ/kg")
    liquid = chart.mark(LIQUID)
    assert liquid is not None
    assert liquid.shown == "2344 kPa and 33.3 °C, 254.2 kJ/kg"
