"""Worked numbers against values from outside the project."""

import pytest

from assistant import doubt
from assistant.call.answers import EntryValue
from assistant.call.asking import ask_for
from assistant.call.headless import state_by_name
from assistant.call.replies import value_for
from assistant.catalogue.catalogue import Catalogue
from assistant.errors import NoTargetError, OutOfRangeError
from assistant.expecting import read_expected_name
from assistant.quantity import in_unit, preferred_unit, spread_in_unit
from assistant.worksheet.expected_formulas import EXPECTED
from assistant.worksheet.formulas import FORMULAS
from assistant.worksheet.sheet import Refused, Sheet, Worked
from assistant.worksheet.showing import display_for, line_of, refusal, tell_work, work_lines


def sheet_of(catalogue: Catalogue, **given: str) -> Sheet:
    """The sheet for facts and readings by name, sea level and a TXV unless said otherwise."""
    return state_by_name(catalogue, {"metering_device": "txv", **given}).sheet


def number(catalogue: Catalogue, name: str, **given: str) -> float:
    """A worked number in the units of a US screen."""
    sheet = sheet_of(catalogue, **given)
    worked = sheet.number(name)
    assert isinstance(worked, Worked), worked
    unit = catalogue.unit_of(name, "us")
    return in_unit(doubt.nominal(worked.value), unit, sheet.known.atmosphere)


def test_every_number_of_the_catalogue_has_a_formula(catalogue: Catalogue) -> None:
    """What the catalogue names and what the worksheet works are the same; what is expected has names of its own."""
    assert set(FORMULAS) - set(EXPECTED) == set(catalogue.numbers)
    assert {read_expected_name(name) for name in EXPECTED} <= {*catalogue.numbers, *catalogue.readings}


def test_every_input_is_in_the_catalogue(catalogue: Catalogue) -> None:
    """A formula asks for nothing that nobody can be asked."""
    known = {*catalogue.readings, *catalogue.facts, *FORMULAS}
    wanted = {name for formulas in FORMULAS.values() for formula in formulas for name in formula.inputs}
    assert wanted <= known


# Common practice, no source: the pressures and temperatures that a technician knows by heart.
BY_HEART = [
    ("evaporating_temperature", {"refrigerant": "R-22", "suction_pressure": "73 psig"}, 43.0, 0.3),
    ("evaporating_temperature", {"refrigerant": "R-22", "suction_pressure": "57.5 psig"}, 32.0, 0.3),
    ("evaporating_temperature", {"refrigerant": "R-22", "suction_pressure": "87.3 psig"}, 52.0, 0.3),
    ("evaporating_temperature", {"refrigerant": "R-410A", "suction_pressure": "101 psig"}, 32.0, 0.3),
    ("evaporating_temperature", {"refrigerant": "R-410A", "suction_pressure": "122.8 psig"}, 42.0, 0.3),
    ("evaporating_temperature", {"refrigerant": "R-410A", "suction_pressure": "148 psig"}, 52.0, 0.3),
    ("bulb_pressure", {"refrigerant": "R-22", "evaporator_outlet_temperature": "54 F"}, 90.8, 0.3),
    ("bulb_pressure", {"refrigerant": "R-410A", "evaporator_outlet_temperature": "56 F"}, 158.8, 0.3),
    (
        "spring_pressure",
        {"refrigerant": "R-22", "suction_pressure": "73 psig", "evaporator_outlet_temperature": "54 F"},
        18.0,
        0.3,
    ),
    (
        "evaporator_superheat",
        {"refrigerant": "R-22", "suction_pressure": "73 psig", "evaporator_outlet_temperature": "54 F"},
        11.0,
        0.3,
    ),
    (
        "spring_pressure",
        {"refrigerant": "R-410A", "suction_pressure": "122.8 psig", "evaporator_outlet_temperature": "56 F"},
        36.0,
        0.3,
    ),
    (
        "evaporator_superheat",
        {"refrigerant": "R-410A", "suction_pressure": "122.8 psig", "evaporator_outlet_temperature": "56 F"},
        14.0,
        0.3,
    ),
]


@pytest.mark.parametrize(("name", "given", "value", "tolerance"), BY_HEART)
def test_values_known_by_heart(
    catalogue: Catalogue, name: str, given: dict[str, str], value: float, tolerance: float
) -> None:
    """Common practice, no source."""
    assert number(catalogue, name, **given) == pytest.approx(value, abs=tolerance)


def test_a_fifth_flashes(catalogue: Catalogue) -> None:
    """R-22 from 100 °F liquid to 43 °F: roughly 20 % flash gas. Common practice, no source."""
    given = {"refrigerant": "R-22", "liquid_line_temperature": "100 F", "suction_pressure": "73 psig"}
    assert number(catalogue, "flash_gas_fraction", **given) == pytest.approx(20, abs=3)


def test_ratio_is_of_absolute_pressures(catalogue: Catalogue) -> None:
    """340.8 over 118.4 psig is 2.67, not 2.88. Source: arithmetic on READ saturation pressures."""
    given = {"suction_pressure": "118.4 psig", "liquid_pressure": "340.8 psig"}
    assert number(catalogue, "compression_ratio", **given) == pytest.approx(2.67, abs=0.01)


def test_altitude_moves_the_gauge(catalogue: Catalogue) -> None:
    """R-22 at 32 °F reads 60.0 psig at 5,000 ft. Source: ASHRAE Fundamentals 2017 ch. 1 Table 1 and the R-22 rows."""
    given = {"refrigerant": "R-22", "suction_pressure": "60.0 psig", "altitude": "5000 ft"}
    assert number(catalogue, "evaporating_temperature", **given) == pytest.approx(32.0, abs=0.2)


def test_superheat_uses_dew_and_subcooling_bubble(catalogue: Catalogue) -> None:
    """R-407C at 63.2 psig: dew 40 °F, so 50 °F is 10 °F of superheat. Source: definition; pressure computed."""
    given = {"refrigerant": "R-407C", "suction_pressure": "63.2 psig", "suction_line_temperature": "50 F"}
    assert number(catalogue, "superheat", **given) == pytest.approx(10.0, abs=0.3)
    given = {"refrigerant": "R-407C", "liquid_pressure": "225.5 psig", "liquid_line_temperature": "90 F"}
    assert number(catalogue, "subcooling", **given) == pytest.approx(10.0, abs=0.3)


def test_discharge_superheat_counts_from_dew(catalogue: Catalogue) -> None:
    """R-407C at 229.0 psig: dew 110 °F, so 180 °F is 70 °F above it; bubble lies some 9 °F lower.

    Source: definition; pressure computed with CoolProp 8.0.0.
    """
    given = {"refrigerant": "R-407C", "liquid_pressure": "229.0 psig", "discharge_line_temperature": "180 F"}
    assert number(catalogue, "discharge_superheat", **given) == pytest.approx(70.0, abs=0.5)


@pytest.mark.parametrize(("wet", "dry", "target"), [(67, 95, 13.0), (65, 95, 10.0), (64, 96, 8.0), (62, 85, 10.5)])
def test_orifice_target(catalogue: Catalogue, wet: int, dry: int, target: float) -> None:
    """(3 WB - 80 - DB) / 2. Source: common practice, no primary publication; worked rows by arithmetic."""
    given = {"return_air_wet_bulb": f"{wet} F", "outdoor_air_temperature": f"{dry} F"}
    assert number(catalogue, "superheat_target", metering_device="fixed_orifice", **given) == pytest.approx(target)


def test_no_target_below_five(catalogue: Catalogue) -> None:
    """60/95 °F gives 2.5 °F, which is no target. Source: Title 24 2008 Residential Appendix RA3.2, p. RA3-14."""
    given = {"return_air_wet_bulb": "60 F", "outdoor_air_temperature": "95 F", "metering_device": "fixed_orifice"}
    found = sheet_of(catalogue, **given).number("superheat_target")
    assert isinstance(found, Refused)
    assert isinstance(found.error, NoTargetError)


def test_data_plate_wins(catalogue: Catalogue) -> None:
    """A target off the data plate replaces the usual one, on either device. Source: Title 24 RA3.2, items 8-9."""
    assert number(catalogue, "superheat_target", superheat_target="9 F") == pytest.approx(9.0)
    assert number(
        catalogue, "superheat_target", superheat_target="9 F", metering_device="fixed_orifice"
    ) == pytest.approx(9)
    usual = sheet_of(catalogue).number("superheat_target")
    assert isinstance(usual, Worked)
    # Common practice, no source: a TXV holds 8 to 14 °F.
    low, high = (11 - 3, 11 + 3)
    assert low <= in_unit(doubt.nominal(usual.value), catalogue.unit_of("superheat_target", "us")) <= high
    assert doubt.expanded(usual.value) > 0


def test_doubt_of_superheat_by_hand(catalogue: Catalogue) -> None:
    """±3.5 psi at 42 °F of R-410A is ±1.5 °F; ±1.36 °F of the clamp on top: 2.3 °F expanded.

    Source: accuracies of Title 24 RA3.2.2.2 (2013) and 2008 p. RA3-10; combined after JCGM 100:2008, 5.1.2.
    """
    sheet = sheet_of(
        catalogue, refrigerant="R-410A", suction_pressure="122.8 psig", evaporator_outlet_temperature="56 F"
    )
    worked = sheet.number("evaporator_superheat")
    assert isinstance(worked, Worked)
    shown = spread_in_unit(doubt.expanded(worked.value), catalogue.unit_of("evaporator_superheat", "us"))
    by_hand = 2 * ((1.5**2 + 1.356**2) / 3) ** 0.5
    assert shown == pytest.approx(by_hand, abs=0.1)


def test_correlations_between_numbers_are_kept(catalogue: Catalogue) -> None:
    """Superheat at two places shares the gauge: their difference has the doubt of the two clamps only."""
    sheet = sheet_of(
        catalogue,
        refrigerant="R-410A",
        suction_pressure="122.8 psig",
        evaporator_outlet_temperature="50 F",
        suction_line_temperature="56 F",
    )
    inner, outer = sheet.value("evaporator_superheat"), sheet.value("superheat")
    assert doubt.standard(outer - inner) == pytest.approx(doubt.standard(sheet.value("suction_line_gain")))


def test_lacking_is_just_what_is_missing(catalogue: Catalogue) -> None:
    """Superheat lacks the pressure and the clamp; once the pressure is known, the clamp alone."""
    assert set(sheet_of(catalogue, refrigerant="R-22").lacking("superheat")) == {
        "suction_pressure",
        "suction_line_temperature",
    }
    sheet = sheet_of(catalogue, refrigerant="R-22", suction_pressure="70 psig")
    assert sheet.lacking("superheat") == ("suction_line_temperature",)


def test_nothing_is_asked_for_a_number_out_of_reach(catalogue: Catalogue) -> None:
    """When the pressure cannot be told, the clamp is not worth asking for."""
    sheet = sheet_of(catalogue, refrigerant="R-22", suction_pressure="cannot tell")
    assert sheet.lacking("superheat") == ()
    assert sheet.number("superheat") is None


def test_out_of_range_is_refused_in_the_units_of_the_screen(catalogue: Catalogue) -> None:
    """Below the end of a curve there is a refusal with the range in psig, and what rests on it is refused too."""
    given = {"refrigerant": "R-410A", "liquid_pressure": "690 psig", "liquid_line_temperature": "90 F"}
    sheet = sheet_of(catalogue, **given)
    for name in ("condensing_temperature", "subcooling"):
        found = sheet.number(name)
        assert isinstance(found, Refused)
        assert isinstance(found.error, OutOfRangeError)
        text = refusal(found, display_for(catalogue, "us", sheet.known))
        assert "690.0 psig" in text
        assert " Pa" not in text


def test_work_is_shown_in_words_and_values(catalogue: Catalogue) -> None:
    """The work names the inputs, puts their values in place, and tells where the doubt comes from."""
    sheet = sheet_of(catalogue, refrigerant="R-410A", suction_pressure="122.8 psig", suction_line_temperature="56 F")
    worked = sheet.number("superheat")
    assert isinstance(worked, Worked)
    lines = work_lines(tell_work(worked, display_for(catalogue, "us", sheet.known)))
    assert "56.0 °F - 41.9 °F" in lines[1]
    assert "± 2.3 °F" in lines[2]
    assert lines[3].startswith("  The doubt comes from: suction pressure 5")
    si = work_lines(tell_work(worked, display_for(catalogue, "si", sheet.known)))
    assert "13.3 °C - 5.5 °C" in si[1]


def test_pressures_in_si_are_absolute(catalogue: Catalogue) -> None:
    """On an SI screen a worked pressure is in kPa absolute."""
    assert preferred_unit(catalogue.numbers["bulb_pressure"].kind, "si").symbol == "kPa abs"


def test_own_instruments_replace_the_usual_accuracy(catalogue: Catalogue) -> None:
    """A gauge good to 1 psi and a clamp good to 0.9 °F: 2 x sqrt((0.42^2 + 0.9^2) / 3) °F of superheat. By hand."""
    given = {"refrigerant": "R-410A", "suction_pressure": "122.8 psig", "suction_line_temperature": "56 F"}
    own = {"pressure_accuracy": "1 psi", "temperature_accuracy": "0.9 F"}
    worked = sheet_of(catalogue, **given, **own).number("superheat")
    assert isinstance(worked, Worked)
    shown = spread_in_unit(doubt.expanded(worked.value), catalogue.unit_of("superheat", "us"))
    assert shown == pytest.approx(2 * ((0.428**2 + 0.9**2) / 3) ** 0.5, abs=0.02)


@pytest.mark.parametrize(("line", "wet"), [("43 F", True), ("40 F", True), ("56 F", False)])
def test_superheat_near_zero_says_that_it_may_be_wet(catalogue: Catalogue, line: str, wet: bool) -> None:
    """Within its doubt of saturation the vapour may be wet; the number alone would not say so."""
    given = {"refrigerant": "R-410A", "suction_pressure": "122.8 psig", "suction_line_temperature": line}
    sheet = sheet_of(catalogue, **given)
    worked = sheet.number("superheat")
    assert isinstance(worked, Worked)
    display = display_for(catalogue, "us", sheet.known)
    assert ("(may be wet)" in line_of(worked, display)) is wet
    assert any("may be wet" in text for text in work_lines(tell_work(worked, display))) is wet


FULL = {
    "refrigerant": "R-407C",
    "suction_pressure": "63.2 psig",
    "liquid_pressure": "225.5 psig",
    "suction_line_temperature": "50 F",
    "liquid_line_temperature": "90 F",
    "outdoor_air_temperature": "95 F",
    "return_air_dry_bulb": "80 F",
    "return_air_wet_bulb": "67 F",
}


@pytest.mark.parametrize(
    ("changed", "stay"),
    [
        (
            {"outdoor_air_temperature": "85 F"},
            {"superheat", "subcooling", "flash_gas_fraction", "return_air_dew_point"},
        ),
        ({"suction_pressure": "70 psig"}, {"subcooling", "condensing_temperature", "return_air_dew_point"}),
        ({"refrigerant": "R-22"}, set()),
        ({"altitude": "5000 ft"}, set()),
    ],
)
def test_an_answer_leaves_alone_what_does_not_hang_on_it(
    catalogue: Catalogue, changed: dict[str, str], stay: set[str]
) -> None:
    """Numbers whose inputs did not change are not worked again; all have the values of a sheet worked from nothing."""
    state = state_by_name(catalogue, {"metering_device": "txv", **FULL})
    before = {worked.name: worked for worked in state.sheet.all_numbers()}
    for name, text in changed.items():
        value = value_for(ask_for(name, catalogue, "us", ()), text)
        assert isinstance(value, EntryValue)
        state.take(name, value)
    after = {worked.name: worked for worked in state.sheet.all_numbers()}
    assert stay <= {name for name in after if after[name] is before[name]}
    fresh = {worked.name: worked for worked in Sheet(state.sheet.known).all_numbers()}
    assert after.keys() == fresh.keys()
    for name, worked in fresh.items():
        carried = after[name]
        assert isinstance(worked, Worked)
        assert isinstance(carried, Worked)
        assert doubt.nominal(carried.value) == doubt.nominal(worked.value)
        assert doubt.standard(carried.value) == pytest.approx(doubt.standard(worked.value))
    if not stay:
        changed_at_site = {name for name in after if after[name] is before[name]}
        assert changed_at_site == set()
