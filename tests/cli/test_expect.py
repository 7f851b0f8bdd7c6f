"""The command that tells what a sound unit would read."""

import json
from pathlib import Path

from tests.cli.running import Run

WEATHER = """\
facts: {refrigerant: R-410A, metering_device: txv, subcooling_target: 10 F}
answers:
  outdoor_air_temperature: 95 F
  return_air_dry_bulb: 80 F
  return_air_wet_bulb: 67 F
"""


def test_weather_and_facts_give_what_is_expected(run: Run, tmp_path: Path) -> None:
    """The contract: readings and worked numbers with unit and expanded doubt, and what is refused with its reason.

    The ranges hold the middle of practice at the rating point: 118 psig and 340 to 420 psig, 10 F of subcooling.
    """
    file = tmp_path / "hot.yaml"
    file.write_text(WEATHER, encoding="utf-8")
    ran = run("expect", file, "--json")
    assert ran.code == 0, ran.err
    told = json.loads(ran.out)
    assert told["refused"] == {}
    expected = told["expected"]
    assert expected["suction_pressure"]["unit"] == "psig"
    for name, value in (("suction_pressure", 118.0), ("subcooling", 10.0), ("evaporator_difference", 35.0)):
        assert abs(expected[name]["value"] - value) < expected[name]["uncertainty"]
    assert 340.0 < expected["liquid_pressure"]["value"] < 420.0
    assert 0.5 < expected["compressor_current"]["value"] < 1.0


def test_it_is_told_as_ranges(run: Run, tmp_path: Path) -> None:
    """A line for each value, from and to, in the units of the screen."""
    file = tmp_path / "hot.yaml"
    file.write_text(WEATHER, encoding="utf-8")
    us, si = run("expect", file), run("expect", file, "--units", "si")
    assert "Suction pressure" in us.out
    assert " psig" in us.out
    assert "% of the rated load" in us.out
    assert " kPa" in si.out


def test_what_cannot_be_expected_has_its_reason(run: Run, tmp_path: Path) -> None:
    """No weather, another refrigerant, or cold outdoors: each said once, nothing made up."""
    file = tmp_path / "bare.yaml"
    file.write_text("facts: {refrigerant: R-410A, metering_device: txv}\nanswers: {suction_pressure: 104 psig}\n")
    assert "not told: outdoor air temperature" in run("expect", file).out.lower()
    file.write_text(WEATHER.replace("R-410A", "R-134a"), encoding="utf-8")
    told = json.loads(run("expect", file, "--json").out)
    assert told["expected"] == {}
    assert "R-134a" in told["refused"]["superheat"]
    file.write_text(WEATHER.replace("95 F", "40 F"), encoding="utf-8")
    assert "40" in run("expect", file).out
