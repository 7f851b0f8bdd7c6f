"""The command that holds a file of readings against all causes."""

import json
from pathlib import Path

from tests.cli.running import Run

STARVED = """\
facts: {refrigerant: R-410A, metering_device: txv, subcooling_target: 10 F}
answers:
  outdoor_air_temperature: 95 F
  return_air_dry_bulb: 78 F
  return_air_wet_bulb: 65 F
  suction_pressure: 104 psig
  liquid_pressure: 330 psig
  suction_line_temperature: 72 F
  liquid_line_temperature: 101 F
"""


def test_a_file_of_readings_gives_an_opinion(run: Run, tmp_path: Path) -> None:
    """The contract: causes by the catalogue's keys, probabilities that sum to 1, what each predicts, what is next."""
    file = tmp_path / "starved.yaml"
    file.write_text(STARVED, encoding="utf-8")
    ran = run("opinion", file, "--json")
    assert ran.code == 0, ran.err
    told = json.loads(ran.out)
    assert told["fits"] is True
    assert abs(told["sound"] + sum(one["probability"] for one in told["causes"]) - 1.0) < 1e-4
    first = told["causes"][0]
    # Low on both sides, starved and with little subcooling: common practice, no source.
    assert first["cause"] == "undercharge"
    assert first["severity"].keys() == {"value", "uncertainty"}
    assert first["predicted"]["suction_pressure"]["unit"] == "psig"
    assert abs(first["predicted"]["suction_pressure"]["value"] - 104.0) < 15.0
    assert {step["kind"] for step in told["next"]} <= {"reading", "observation", "test"}
    assert all(step["minutes"] > 0 and step["bits"] > 0 and len(step["parts"]) == 2 for step in told["next"])


def test_the_opinion_is_told_in_words(run: Run, tmp_path: Path) -> None:
    """How sure in words and a number, what was measured beside what each cause makes of it, what to do next."""
    file = tmp_path / "starved.yaml"
    file.write_text(STARVED + "  warm_bulb: stays\n", encoding="utf-8")
    ran = run("opinion", file)
    assert ran.code == 0, ran.err
    for words in ("Too little refrigerant", "in 100", "measured", "104.0 psig", "What to do next"):
        assert words in ran.out
    assert "probab" not in ran.out
    assert max(map(len, ran.out.splitlines())) <= 80


def test_what_an_opinion_lacks_is_said(run: Run, tmp_path: Path) -> None:
    """Without the weather nothing can be right or wrong; a test of the bulb has three ends."""
    file = tmp_path / "bare.yaml"
    file.write_text("facts: {refrigerant: R-410A, metering_device: txv}\nanswers: {suction_pressure: 104 psig}\n")
    ran = run("opinion", file)
    assert ran.code == 1
    assert "An opinion needs the outdoor air" in ran.err
    file.write_text(STARVED + "  warm_bulb: perhaps\n", encoding="utf-8")
    assert "rises, stays, falls" in run("opinion", file).err
