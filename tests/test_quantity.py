"""Quantities as people type them."""

import math
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.errors import QuantityError
from assistant.quantity import (
    PSI,
    SEA_LEVEL,
    Kind,
    Unit,
    accepted_forms,
    in_unit,
    kinds_of_unit,
    parse,
    preferred_unit,
    show,
    show_with_doubt,
    unit_named,
    unit_names,
)

if TYPE_CHECKING:
    import pint

# Every row: what is typed, its kind, the unit of the question, the SI value by hand. Gauge pressures stay gauge.
TYPED = [
    ("118", Kind.PRESSURE, "psig", 118 * PSI),
    ("118 psig", Kind.PRESSURE, None, 118 * PSI),
    ("118PSI", Kind.PRESSURE, None, 118 * PSI),
    ("814 kPa", Kind.PRESSURE, None, 814e3),
    ("8.1 bar", Kind.PRESSURE, None, 8.1e5),
    ("132.7 psia", Kind.PRESSURE, None, 132.7 * PSI),
    ("54F", Kind.TEMPERATURE, None, 285.372),
    ("54 °F", Kind.TEMPERATURE, None, 285.372),
    ("54 deg F", Kind.TEMPERATURE, None, 285.372),
    ("12.2 C", Kind.TEMPERATURE, None, 285.35),
    ("12,5 psi", Kind.PRESSURE, None, 12.5 * PSI),
    ("5000 ft", Kind.LENGTH, None, 1524.0),
    ("5,000 ft", Kind.LENGTH, None, 1524.0),
    ("15 min", Kind.DURATION, None, 900.0),
    ("10 inHg vac", Kind.PRESSURE, None, -33863.89),
    ("-3.5", Kind.TEMPERATURE, "F", 253.428),
    ("\N{MINUS SIGN}3.5 F", Kind.TEMPERATURE, None, 253.428),
    ("12 F", Kind.TEMPERATURE_DIFFERENCE, None, 6.6667),
    ("about 20", Kind.FRACTION, "%", 0.2),
    ("2.7:1", Kind.RATIO, None, 2.7),
]


@pytest.mark.parametrize(("text", "kind", "unit", "value"), TYPED)
def test_typed_forms(text: str, kind: Kind, unit: str | None, value: float) -> None:
    """Each accepted form gives its SI value and keeps what was typed."""
    quantity = parse(text, kind, unit)
    assert quantity.value == pytest.approx(value, rel=1e-5)
    assert quantity.typed == text
    assert quantity.kind is kind


@pytest.mark.parametrize(
    ("text", "kind", "words"),
    [
        ("abc", Kind.PRESSURE, "a pressure such as 118, 118 psig"),
        ("", Kind.TEMPERATURE, "a temperature such as 54, 54 F"),
        ("54F", Kind.PRESSURE, "F is a unit of temperature"),
        ("12 furlongs", Kind.LENGTH, "I do not know the unit 'furlongs'"),
        ("12", Kind.TEMPERATURE, "12 has no unit: write 12 F"),
        ("nan", Kind.PRESSURE, "cannot read 'nan'"),
        ("inf psi", Kind.PRESSURE, "cannot read 'inf psi'"),
        ("1e308 psi", Kind.PRESSURE, "cannot read '1e308 psi'"),
        ("1.2.3 F", Kind.TEMPERATURE, "cannot read"),
        ("-500 F", Kind.TEMPERATURE, "below absolute zero"),
        ("-2 psia", Kind.PRESSURE, "below a perfect vacuum"),
        ("9" * 100, Kind.PRESSURE, "100 characters long"),
        ("١١٨ psig", Kind.PRESSURE, "cannot read"),
    ],
)
def test_nonsense_gets_a_sentence(text: str, kind: Kind, words: str) -> None:
    """What cannot be read is answered with what can."""
    with pytest.raises(QuantityError, match=r".") as caught:
        parse(text, kind)
    assert words in str(caught.value)


def test_gauge_needs_the_site() -> None:
    """A gauge pressure becomes absolute with the atmosphere of the site, and never goes below a vacuum."""
    quantity = parse("57.5 psig", Kind.PRESSURE)
    assert quantity.absolute(SEA_LEVEL) == pytest.approx(498.0e3, rel=1e-3)
    with pytest.raises(QuantityError, match="altitude"):
        quantity.absolute(None)
    with pytest.raises(QuantityError, match="perfect vacuum"):
        parse("-13 psig", Kind.PRESSURE).absolute(84300.0)


def test_temperature_and_difference_are_two_kinds() -> None:
    """10 F outdoors and 10 F of superheat are different quantities."""
    assert parse("10 F", Kind.TEMPERATURE).value == pytest.approx(260.928, rel=1e-5)
    assert parse("10 F", Kind.TEMPERATURE_DIFFERENCE).value == pytest.approx(5.5556, rel=1e-4)
    assert set(kinds_of_unit("F")) == {Kind.TEMPERATURE, Kind.TEMPERATURE_DIFFERENCE}


_IN_PINT = {
    "F": "degF", "C": "degC", "K": "kelvin", "psig": "psi", "psia": "psi", "psi": "psi", "kPa": "kPa", "kPa abs": "kPa",
    "bar": "bar", "bar abs": "bar", "MPa": "MPa", "MPa abs": "MPa", "Pa": "Pa", "inHg vac": "inch_Hg_32F",
    "in wc": "inH2O", "micron": "millitorr",
    "ft": "foot", "m": "meter", "in": "inch", "mm": "mm", "min": "minute", "s": "second",
    "h": "hour", "A": "ampere", "%": "percent", "": "dimensionless", "cfm": "foot**3 / minute", "L/s": "liter / second",
    "m3/h": "meter**3 / hour", "Btu/h": "Btu / hour", "kW": "kW", "W": "W", "ton": "ton_of_refrigeration",
    "cfm/ton": "foot**3 / minute / ton_of_refrigeration", "L/s/kW": "liter / second / kW", "Btu/lb": "Btu / pound",
    "kJ/kg": "kJ / kg", "lb/h": "pound / hour", "kg/h": "kg / hour",
}  # fmt: skip
_SI = {
    Kind.TEMPERATURE: "kelvin", Kind.TEMPERATURE_DIFFERENCE: "delta_degC", Kind.PRESSURE: "Pa",
    Kind.PRESSURE_DIFFERENCE: "Pa", Kind.LENGTH: "meter", Kind.DURATION: "second", Kind.CURRENT: "ampere",
    Kind.RATIO: "dimensionless", Kind.FRACTION: "dimensionless", Kind.AIRFLOW: "meter**3 / second", Kind.POWER: "W",
    Kind.SPECIFIC_AIRFLOW: "meter**3 / second / W", Kind.SPECIFIC_ENERGY: "J / kg", Kind.MASS_FLOW: "kg / second",
}  # fmt: skip


@pytest.fixture(scope="module")
def registry() -> "pint.UnitRegistry":
    # It takes half a second to load, which who only collects tests need not wait for.
    import pint

    return pint.UnitRegistry()


@pytest.mark.parametrize(("kind", "name"), [(kind, name) for kind in Kind for name in unit_names(kind)])
def test_every_unit_agrees_with_pint(kind: Kind, name: str, registry: "pint.UnitRegistry") -> None:
    """Every factor and offset is that of the units library; inches of water differ by their reference by 3e-5."""
    unit = unit_named(name, kind)
    assert unit is not None
    theirs = _IN_PINT[name]
    if kind is Kind.TEMPERATURE_DIFFERENCE:
        theirs = {"degF": "delta_degF", "degC": "delta_degC", "kelvin": "delta_degC"}[theirs]
    expected = registry.Quantity(37.5, theirs).to(_SI[kind]).magnitude
    assert abs(unit.to_si(37.5)) == pytest.approx(expected, rel=4e-5)


@given(st.floats(-1e5, 1e5), st.sampled_from([unit_named(name, kind) for kind in Kind for name in unit_names(kind)]))
def test_round_trip(number: float, unit: Unit) -> None:
    """To SI and back gives the number again."""
    back = in_unit(unit.to_si(number) + (SEA_LEVEL if unit.gauge else 0), unit)
    assert math.isclose(back, number, rel_tol=1e-9, abs_tol=1e-6)


@given(st.decimals(-400, 4000, places=2), st.sampled_from(["psig", "psia", "F", "C", "kPa abs", "ft"]))
def test_text_is_read_again(number: object, symbol: str) -> None:
    """The canonical text of a quantity gives the same quantity again."""
    kind = next(kind for kind in Kind if unit_named(symbol, kind))
    try:
        quantity = parse(f"{number} {symbol}", kind)
    except QuantityError:
        return
    again = parse(quantity.text(), kind)
    assert again.value == pytest.approx(quantity.value, rel=1e-12, abs=1e-6)


@given(st.text(max_size=80), st.sampled_from(list(Kind)))
def test_any_text_is_read_or_refused(text: str, kind: Kind) -> None:
    """Whatever is typed gives a finite quantity or a sentence, never another exception."""
    try:
        quantity = parse(text, kind, unit_names(kind)[0])
    except QuantityError:
        return
    assert math.isfinite(quantity.value)


def test_shown_values() -> None:
    """Values are shown with the decimals of their unit, doubt without sign or offset, and zero without a minus."""
    fahrenheit = preferred_unit(Kind.TEMPERATURE, "us")
    difference = preferred_unit(Kind.TEMPERATURE_DIFFERENCE, "us")
    assert show(parse("56 F", Kind.TEMPERATURE).value, fahrenheit) == "56.0 °F"
    assert show_with_doubt(14 / 1.8, 2.3 / 1.8, difference) == "14.0 ± 2.3 °F"
    assert show(-0.001, difference) == "0.0 °F"


def test_a_number_without_a_unit_is_an_example_in_the_unit_that_it_takes() -> None:
    """On a screen in SI the bare number comes from the form in kPa; 118 psi are 814 kPa (6.894757 kPa each, NIST)."""
    assert accepted_forms(Kind.PRESSURE, "psig").startswith("a pressure such as 118, 118 psig, 814 kPa")
    assert accepted_forms(Kind.PRESSURE, "kPa").startswith("a pressure such as 814, 814 kPa, 118 psig")
    assert accepted_forms(Kind.LENGTH, "m") == accepted_forms(Kind.LENGTH)
    assert accepted_forms(Kind.RATIO) == "a plain number such as 2.7"
