"""Readings that contradict physics are told, with the slip that is likely."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant import doubt
from assistant.call.headless import state_by_name, walk_by_name
from assistant.call.library import Library
from assistant.call.turns import Contradicted
from assistant.catalogue.catalogue import Catalogue
from assistant.thermo.curves import saturation
from assistant.worksheet.plausibility import RULES, Contradiction, find_contradictions

SOUND = {
    "refrigerant": "R-410A",
    "metering_device": "txv",
    "suction_pressure": "122.8 psig",
    "suction_line_temperature": "54 F",
    "evaporator_outlet_temperature": "52 F",
    "liquid_pressure": "365 psig",
    "liquid_line_temperature": "100 F",
    "discharge_line_temperature": "170 F",
    "outdoor_air_temperature": "95 F",
    "condenser_leaving_air_temperature": "112 F",
    "return_air_dry_bulb": "78 F",
    "return_air_wet_bulb": "65 F",
    "supply_air_dry_bulb": "58 F",
    "supply_air_wet_bulb": "56 F",
}


def found(catalogue: Catalogue, **changed: str) -> tuple[Contradiction, ...]:
    """The contradictions of a sound set of readings with some of them changed."""
    return find_contradictions(state_by_name(catalogue, SOUND | changed).sheet)


def test_sound_readings_contradict_nothing(catalogue: Catalogue) -> None:
    """A healthy unit at 95 °F sets no rule off."""
    assert found(catalogue) == ()


SLIPS = [
    ({"suction_pressure": "260 psig", "liquid_pressure": "122.8 psig"}, "the hoses are swapped"),
    ({"return_air_dry_bulb": "65 F", "return_air_wet_bulb": "78 F"}, "the two readings are swapped"),
    ({"supply_air_wet_bulb": "66 F"}, "the two readings are swapped"),
    ({"liquid_line_temperature": "125 F"}, "the clamp does not touch clean copper, or sits in sun or moving air"),
    ({"suction_line_temperature": "30 F"}, "the clamp does not touch clean copper, or sits in sun or moving air"),
    ({"evaporator_outlet_temperature": "30 F"}, "the gauge was not zeroed, or its hose valve is closed"),
    ({"outdoor_air_temperature": "125 F"}, "the air was taken in the sun or above the fan"),
    ({"discharge_line_temperature": "90 F"}, "liquid is coming back to the compressor"),
    ({"supply_air_dry_bulb": "90 F"}, "the system is heating, or a heater is on"),
    ({"condenser_leaving_air_temperature": "80 F"}, "the two readings are swapped"),
]


@pytest.mark.parametrize(("changed", "slip"), SLIPS)
def test_each_contradiction_names_its_slip(catalogue: Catalogue, changed: dict[str, str], slip: str) -> None:
    """The readings that were changed are among those named, and the slip among the likely ones."""
    broken = found(catalogue, **changed)
    assert any(slip in item.rule.slips and set(changed) & set(item.readings) for item in broken)


def test_every_rule_is_tried(catalogue: Catalogue) -> None:
    """No rule stands there untested."""
    tried = {item.rule for changed, _ in SLIPS for item in found(catalogue, **changed)}
    assert tried == set(RULES)


def test_a_slip_within_doubt_is_none(catalogue: Catalogue) -> None:
    """A suction line 1 °F below the dew temperature is within the accuracy of gauge and thermometer."""
    assert found(catalogue, suction_line_temperature="41 F", evaporator_outlet_temperature="41 F") == ()


def test_the_refrigerant_that_would_agree_is_named(catalogue: Catalogue) -> None:
    """Readings of an R-22 system given as R-410A agree with R-22 again, and not with R-410A."""
    r22 = {
        "refrigerant": "R-410A",
        "suction_pressure": "70 psig",
        "suction_line_temperature": "52 F",
        "evaporator_outlet_temperature": "50 F",
        "liquid_pressure": "243 psig",
        "liquid_line_temperature": "104 F",
    }
    broken = found(catalogue, **r22)
    assert broken
    for item in broken:
        assert "R-22" in item.refrigerants
        assert "R-410A" not in item.refrigerants
        assert "R-134a" not in item.refrigerants


def test_heating_turns_the_air_around(catalogue: Catalogue) -> None:
    """In heating the supply air is warmer than the return air, and that contradicts nothing."""
    assert all(
        item.rule.lower != "supply_air_dry_bulb"
        for item in found(catalogue, supply_air_dry_bulb="90 F", mode="heating")
    )


@pytest.mark.parametrize(("over", "contradicts"), [(3.0, False), (20.0, True)])
def test_vapour_travels_with_the_liquid_of_a_blend(catalogue: Catalogue, over: float, contradicts: bool) -> None:
    """R-407C glides by about 9 F: some degrees over bubble are vapour in the line, 20 F are a slip of the clamp."""
    bubble = 115.0
    pressure = (saturation("R-407C").bubble_pressure((bubble + 459.67) / 1.8) - 101325) / 6894.757
    line = {"liquid_pressure": f"{pressure:.1f} psig", "liquid_line_temperature": f"{bubble + over:.1f} F"}
    told = found(catalogue, refrigerant="R-407C", suction_pressure="68 psig", **line)
    assert any("glide" in item.rule.law for item in told) is contradicts


def test_an_electric_heater_warms_the_air(catalogue: Catalogue) -> None:
    """While airflow is measured by an electric heater the supply air is the warmer one."""
    warm = {"supply_air_dry_bulb": "90 F"}
    assert any(item.rule.lower == "supply_air_dry_bulb" for item in found(catalogue, **warm))
    heated = found(catalogue, **warm, heater_power="9.6 kW")
    assert all(item.rule.lower != "supply_air_dry_bulb" for item in heated)


def test_the_walk_says_it_once(library: Library) -> None:
    """Swapped hoses are told when the second pressure is given, with both values, and not again."""
    answers = {
        "refrigerant": "R-22",
        "metering_device": "fixed_orifice",
        "minutes_running": "20 min",
        "filter_condition": "clean",
        "air_at_vents": "normal",
        "outdoor_unit": "all_well",
        "outdoor_air_temperature": "95 F",
        "suction_pressure": "215 psig",
        "liquid_pressure": "70 psig",
        "suction_line_temperature": "55 F",
        "liquid_line_temperature": "100 F",
    }
    turns = walk_by_name(library, "poor_cooling", answers).turns
    swapped = [turn for turn in turns if isinstance(turn, Contradicted) and "high side" in turn.law]
    assert len(swapped) == 1
    assert [line.partition(":")[0] for line in swapped[0].readings] == ["Liquid pressure", "Suction pressure"]
    assert "hoses are swapped" in swapped[0].advice[0]


@given(st.floats(20, 80), st.floats(0.5, 20), st.floats(40, 150), st.floats(1, 20))
def test_superheat_rises_with_the_line_and_falls_with_pressure(
    catalogue: Catalogue, line: float, warmer: float, pressure: float, higher: float
) -> None:
    """A warmer line means more superheat; a higher suction pressure means less."""

    def superheat(temperature: float, psig: float) -> float:
        known = {"refrigerant": "R-22", "metering_device": "txv"}
        readings = {"suction_pressure": f"{psig:.3f} psig", "suction_line_temperature": f"{temperature:.3f} F"}
        return float(doubt.nominal(state_by_name(catalogue, known | readings).sheet.value("superheat")))

    base = superheat(line, pressure)
    assert superheat(line + warmer, pressure) > base
    assert superheat(line, pressure + higher) < base


def test_no_refrigerant_is_offered_that_means_an_absurd_superheat(catalogue: Catalogue) -> None:
    """20 psig with a line at 70 °F is 75 °F of superheat with R-22, which no working system has, and 48 with R-134a.

    Source: saturation at 20 psig near -5 °F (R-22) and 22 °F (R-134a), from memory; 60 °F as the most superheat is
    common practice, no source.
    """
    given = {
        "refrigerant": "R-410A",
        "suction_pressure": "20 psig",
        "suction_line_temperature": "70 F",
        "liquid_pressure": "180 psig",
        "liquid_line_temperature": "85 F",
        "outdoor_air_temperature": "90 F",
    }
    broken = find_contradictions(state_by_name(catalogue, given).sheet)
    offered = {name for contradiction in broken for name in contradiction.refrigerants}
    assert "R-134a" in offered
    assert "R-22" not in offered
