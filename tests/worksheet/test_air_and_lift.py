"""Numbers of the air and of the liquid line's rise, against outside values."""

import pytest

from assistant.catalogue.catalogue import Catalogue
from tests.worksheet.test_numbers import number

AIR = {
    "return_air_dry_bulb": "80 F",
    "return_air_wet_bulb": "67 F",
    "supply_air_dry_bulb": "58 F",
    "supply_air_wet_bulb": "56.5 F",
    "indoor_airflow": "1200 cfm",
}


def test_dew_point_of_the_rating_point(catalogue: Catalogue) -> None:
    """80/67 °F at sea level: dew point 60.3 °F. Source: computed with CoolProp 8.0.0, humid air."""
    assert number(catalogue, "return_air_dew_point", **AIR) == pytest.approx(60.3, abs=0.3)


def test_cooling_measured_on_the_air(catalogue: Catalogue) -> None:
    """4.5 x cfm x enthalpy difference: 31.5 to 24.1 Btu/lb over 1,200 cfm is near 40,000 Btu/h.

    Source: the factor by arithmetic (60 x 0.075), the enthalpies from ASHRAE Fundamentals 2017 ch. 1; the supply air
    is a little denser than standard air, so the worked number lies above the factor's by up to 4 %.
    """
    by_factor = 4.5 * 1200 * (31.5 - 24.1)
    assert number(catalogue, "air_side_capacity", **AIR) == pytest.approx(by_factor, rel=0.05)


def test_airflow_is_counted_at_the_supply(catalogue: Catalogue) -> None:
    """1,200 cfm measured at 58/56.5 °F carry 40,039 Btu/h; the same volume of warm return air would carry 38,292.

    Source: computed with CoolProp 8.0.0, humid air: airflow over specific volume of the supply air, times enthalpies.
    """
    assert number(catalogue, "air_side_capacity", **AIR) == pytest.approx(40039, rel=0.01)


def test_airflow_per_ton(catalogue: Catalogue) -> None:
    """1,200 cfm over 40,000 Btu/h (3.3 tons) is near 360 cfm per ton; 350 to 450 is common practice, no source."""
    assert 330 <= number(catalogue, "airflow_per_ton", **AIR) <= 380


def test_thin_air_carries_less(catalogue: Catalogue) -> None:
    """At 5,000 ft the same airflow carries less dry air. Source: pressure ratio 12.23/14.696, ASHRAE ch. 1 Table 1."""
    sea, high = (number(catalogue, "air_side_capacity", **AIR, altitude=place) for place in ("0 ft", "5000 ft"))
    # The wet bulb rises with altitude's humidity, so the enthalpy difference grows while the dry air shrinks.
    assert high < sea


@pytest.mark.parametrize(("altitude", "cfm"), [("0 ft", 948.0), ("5000 ft", 948.0 / 0.832)])
def test_airflow_from_temperature_rise(catalogue: Catalogue, altitude: str, cfm: float) -> None:
    """9 kW over 30 °F: 9 x 3412 / (1.08 x 30) = 948 cfm at sea level, and more of thinner air for the same rise.

    Source: 60 x 0.075 x 0.24 = 1.08 by arithmetic; 0.832 is 12.23/14.696 psia, ASHRAE Fundamentals 2017 ch. 1 Table 1.
    """
    given = {"heater_power": "9 kW", "return_air_dry_bulb": "70 F", "supply_air_dry_bulb": "100 F"}
    worked = number(catalogue, "airflow_from_heat_rise", altitude=altitude, **given)
    assert worked == pytest.approx(cfm, rel=0.005)


def test_rise_of_thirty_feet(catalogue: Catalogue) -> None:
    """R-410A, 30 ft up, 105 °F condensing: 13.1 psi, about 2.8 °F of subcooling. Source: density and dp/dT."""
    line = {
        "refrigerant": "R-410A",
        "liquid_pressure": "341.6 psig",
        "liquid_line_temperature": "95 F",
        "liquid_line_lift": "30 ft",
    }
    assert number(catalogue, "liquid_lift_loss", **line) == pytest.approx(13.1, abs=0.3)
    lost = number(catalogue, "subcooling", **line) - number(catalogue, "flash_margin", **line)
    assert lost == pytest.approx(2.8, abs=0.3)


PER_FOOT = [("R-22", 0.49), ("R-410A", 0.43), ("R-32", 0.39), ("R-454B", 0.40), ("R-407C", 0.47), ("R-134a", 0.50)]


@pytest.mark.parametrize(("refrigerant", "psi"), [*PER_FOOT, ("R-404A", 0.42), ("R-290", 0.20)])
def test_psi_per_foot(catalogue: Catalogue, refrigerant: str, psi: float) -> None:
    """Saturated liquid at 100 °F. Source: density x g."""
    given = {"refrigerant": refrigerant, "liquid_line_temperature": "100 F", "liquid_line_lift": "1 ft"}
    assert number(catalogue, "liquid_lift_loss", **given) == pytest.approx(psi, abs=0.02)


def test_cooling_effect_and_flow(catalogue: Catalogue) -> None:
    """R-22, 100 °F liquid, 40 °F evaporating: about 69 Btu/lb. From memory (tables of R-22).

    The flow that carries the cooling is the cooling over the effect, by definition.
    """
    circuit = {"refrigerant": "R-22", "liquid_line_temperature": "100 F", "suction_pressure": "68.5 psig"}
    effect = number(catalogue, "cooling_effect", **circuit)
    assert effect == pytest.approx(69, abs=2)
    flow = number(catalogue, "refrigerant_flow", **circuit, **AIR)
    assert flow * effect == pytest.approx(number(catalogue, "air_side_capacity", **AIR), rel=1e-6)


def test_mean_temperatures_of_a_blend_with_glide(catalogue: Catalogue) -> None:
    """R-407C: the mean lies between bubble and dew; of R-22 all three are one. Source: definition."""
    given = {"liquid_pressure": "225.5 psig", "suction_pressure": "63.2 psig", "liquid_line_temperature": "90 F"}
    mean = number(catalogue, "condensing_midpoint", refrigerant="R-407C", **given)
    bubble = number(catalogue, "condensing_temperature", refrigerant="R-407C", **given)
    assert bubble == pytest.approx(100, abs=0.3)
    assert 103 < mean < 107
    assert number(catalogue, "evaporating_midpoint", refrigerant="R-407C", **given) < 39
    assert number(catalogue, "condensing_midpoint", refrigerant="R-22", **given) == pytest.approx(
        number(catalogue, "condensing_temperature", refrigerant="R-22", **given)
    )
