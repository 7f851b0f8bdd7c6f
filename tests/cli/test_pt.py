"""`coilside pt`: pressure to saturation temperatures and back."""

import json

import pytest

from tests.cli.running import Run


def values(run: Run, *arguments: str) -> dict[str, object]:
    """What `pt --json` prints."""
    ran = run("pt", "--json", *arguments)
    assert (ran.code, ran.err) == (0, "")
    found = json.loads(ran.out)
    assert isinstance(found, dict)
    return found


def dew(run: Run, *arguments: str) -> float:
    """The dew value that `pt --json` prints."""
    found = values(run, *arguments)["dew"]
    assert isinstance(found, dict)
    return float(found["value"])


def test_json_has_the_promised_keys(run: Run) -> None:
    """The refrigerant, what was given, and dew and bubble with their unit."""
    found = values(run, "R-410A", "122.8psig")
    assert list(found) == ["refrigerant", "given", "dew", "bubble"]
    assert found["refrigerant"] == "R-410A"
    assert found["given"] == {"value": 122.8, "unit": "psig"}
    assert found["dew"] == {"value": pytest.approx(42.0, abs=0.2), "unit": "F"}
    assert found["bubble"] == {"value": pytest.approx(41.8, abs=0.2), "unit": "F"}


# Common practice, no source: pressures that a technician knows by heart, at sea level.
@pytest.mark.parametrize(
    ("arguments", "value", "tolerance"),
    [
        (("R-410A", "122.8psig"), 42.0, 0.2),
        (("R-410A", "101 psig"), 32.0, 0.3),
        (("R-22", "73psig"), 43.0, 0.3),
        (("R-22", "57.5 psi"), 32.0, 0.3),
        (("R-22", "40F"), 68.5, 0.3),
        (("R-410A", "42 F"), 122.8, 0.4),
    ],
    ids=str,
)
def test_values_known_by_heart(run: Run, arguments: tuple[str, ...], value: float, tolerance: float) -> None:
    """A pressure gives the temperature that goes with it, and back. Common practice, no source."""
    assert dew(run, *arguments) == pytest.approx(value, abs=tolerance)


@pytest.mark.parametrize("name", ["R-410A", "r410a", "410A", "R 410 A", "410a"])
def test_any_spelling_of_the_refrigerant(run: Run, name: str) -> None:
    """However the refrigerant is typed, its designation is printed."""
    assert values(run, name, "122.8psig")["refrigerant"] == "R-410A"


@pytest.mark.parametrize(
    "value", ["122.8psig", "122.8 psig", "122.8psi", "137.496psia", "846.676 kPa", "948.001kPaa", "8.46676 bar"]
)
def test_any_unit_of_pressure(run: Run, value: str) -> None:
    """The same pressure in any unit gives the same temperature. Source of the factors: NIST SP 811 (2008), B.8."""
    assert dew(run, "R-410A", value) == pytest.approx(dew(run, "R-410A", "122.8psig"), abs=0.01)


@pytest.mark.parametrize("value", ["-20F", "-20 F", "−20F", "-28.8889C", "244.261 K"])
def test_a_negative_temperature_is_a_value_and_no_option(run: Run, value: str) -> None:
    """A temperature below zero can be typed as it is."""
    assert dew(run, "R-410A", value) == pytest.approx(dew(run, "R-410A", "--", "-20F"), abs=0.01)
    assert dew(run, "R-22", "-40F") == pytest.approx(0.5, abs=0.2)  # common practice, no source: near 0 psig


def test_a_vacuum_can_be_typed(run: Run) -> None:
    """Ten inches of mercury below the air is about -4.9 psig. Source of the factors: NIST SP 811 (2008), B.8."""
    assert dew(run, "R-22", "10 inHg vac") == pytest.approx(dew(run, "R-22", "-4.912psig"), abs=0.02)


def test_altitude_moves_a_gauge(run: Run) -> None:
    """R-22 at 32 °F reads 60.0 psig at 5,000 ft. Source: ASHRAE Fundamentals 2017 ch. 1 Table 1 and the R-22 rows."""
    assert dew(run, "R-22", "60.0psig", "--altitude", "5000ft") == pytest.approx(32.0, abs=0.2)
    assert dew(run, "R-22", "32F", "--altitude", "5000 ft") == pytest.approx(60.0, abs=0.2)
    assert dew(run, "R-22", "74.7psia", "--altitude", "5000 ft") == pytest.approx(dew(run, "R-22", "74.7psia"))


def test_si_units(run: Run) -> None:
    """With --units si temperatures are in °C and pressures in kPa absolute."""
    found = values(run, "R-22", "0C", "--units", "si")
    # Source: R-22 at 0 °C is 498 kPa; tables of refrigerant makers agree within 0.5 kPa (from memory).
    assert found["dew"] == {"value": pytest.approx(498.0, abs=1.0), "unit": "kPa abs"}
    back = values(run, "R-22", "498 kPa abs", "--units", "si")
    assert back["dew"] == {"value": pytest.approx(0.0, abs=0.1), "unit": "C"}


def test_glide_is_told_apart(run: Run) -> None:
    """On R-407C dew and bubble lie some 10 F apart; on a pure refrigerant they are one. Source: ASHRAE 34 glide."""
    wide, none = values(run, "R-407C", "63.2psig"), values(run, "R-32", "100psig")
    assert wide["dew"]["value"] - wide["bubble"]["value"] == pytest.approx(11, abs=2)  # type: ignore[index]
    assert none["dew"] == none["bubble"]


def test_the_text_says_what_each_is_for(run: Run) -> None:
    """Without --json the lines say which value superheat and subcooling use."""
    ran = run("pt", "R-410A", "122.8psig")
    assert ran.code == 0
    assert ran.out.splitlines() == [
        "R-410A at 122.8 psig",
        "  dew          41.9 °F   for superheat",
        "  bubble       41.7 °F   for subcooling",
    ]


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("R-999", "70F"), "no refrigerant called 'R-999'"),
        (("R-411A", "70F"), "Did you mean"),
        (("", "70F"), "no refrigerant called"),
        (("R-22", "70"), "write 70psig or 70F"),
        (("R-22", "warm"), "a pressure such as 118"),
        (("R-22", " "), "a pressure such as 118"),
        (("R-22", "70 ft"), "a pressure such as 118"),
        (("R-22", "9999psig"), "outside the range"),
        (("R-22", "-500F"), "below absolute zero"),
        (("R-22", "-15psig"), "below a perfect vacuum"),
        (("R-22", "300F"), "outside the range"),
        (("R-22", "70F", "--altitude", "high"), "a length such as"),
        (("R-22", "70F", "--altitude", "200000 ft"), "outside the range"),
        (("R-22", "\x1b[31m70\u202eF"), "a pressure such as 118"),
    ],
    ids=str,
)
def test_what_cannot_be_worked_is_said(run: Run, arguments: tuple[str, ...], words: str) -> None:
    """A refrigerant or value that cannot be used ends with 1 and one sentence on standard error."""
    for more in ((), ("--json",)):
        ran = run("pt", *arguments, *more)
        assert (ran.code, ran.out) == (1, "")
        assert words in ran.err
        assert ran.err.rstrip("\n").isprintable()
