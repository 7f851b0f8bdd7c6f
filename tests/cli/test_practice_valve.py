"""`coilside practice valve` without a screen."""

import io
import json

import pytest

from tests.cli.running import Run


def test_once_prints_what_follows_from_the_options(run: Run) -> None:
    """The knobs, the balance, and the orifices under the same pressures."""
    ran = run("practice", "valve", "--once", "--bulb", "40F", "--spring", "15")
    assert (ran.code, ran.err) == (0, "")
    for words in ("bulb temperature 40.0 °F", "CLOSES spring at the seat -   15.0 psi", "SHUT", "large orifice"):
        assert words in ran.out


def test_the_coil_and_a_sweep_are_options(run: Run) -> None:
    """A sweep is on the coil by itself."""
    assert "The TXV holds" in run("practice", "valve", "--once", "--coil", "--refrigerant", "r22").out
    swept = run("practice", "valve", "--once", "--sweep", "wet bulb", "--units", "si").out
    assert "over return wet bulb" in swept
    assert "°C" in swept


def test_json_is_in_si_and_says_so(run: Run) -> None:
    """Everything that the text tells, for other programs."""
    ran = run("practice", "valve", "--json", "--head", "350 psig", "--sweep", "load")
    assert (ran.code, ran.err) == (0, "")
    told = json.loads(ran.out)
    assert list(told) == ["turned", "rated_flow", "held_by_hand", "on_the_coil", "units", "chosen", "sweep"]
    assert told["turned"]["head"] == pytest.approx(350 * 6894.757 + 101325, rel=1e-6)
    by_hand = told["held_by_hand"]["valve"]
    assert by_hand["left"] == pytest.approx(by_hand["bulb_pressure"] - by_hand["equalizer"] - by_hand["spring"])
    assert by_hand["pin"] == "between"
    assert set(told["on_the_coil"]) == {"TXV", "small orifice", "right orifice", "large orifice"}
    rows = told["sweep"]["rows"]
    assert [row["load"] for row in rows] == sorted(row["load"] for row in rows)
    assert rows[0]["TXV"]["balance"]["opening"] < rows[-1]["TXV"]["balance"]["opening"]


def test_line_by_line_it_answers_until_the_input_ends(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    """What is typed is shown, as nobody sees it in a pipe; a slip changes nothing."""
    monkeypatch.setattr("sys.stdin", io.StringIO("bulb 90F\nbulb hot\nsweep head\nhelp\n\x1b[31m\nquit\nbulb 32F\n"))
    ran = run("practice", "valve", "--plain")
    assert (ran.code, ran.err) == (0, "")
    for words in ("74 % OPEN", "> bulb 90F", "WIDE OPEN", "I cannot read 'hot'", "over head pressure", "head up 20"):
        assert words in ran.out
    assert "SHUT" not in ran.out
    assert "\x1b" not in ran.out
    assert max(map(len, ran.out.splitlines())) <= 80


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("--bulb", "hot"), "I cannot read 'hot'"),
        (("--bulb", "500F"), "Bulb temperature goes from"),
        (("--refrigerant", "R-999"), "no refrigerant called"),
        (("--refrigerant", "R-134a"), "no refrigerant to practise on"),
        (("--sweep", "bulb"), "A sweep goes over load"),
        (("--head", "50 F"), "unit of temperature"),
    ],
)
def test_what_no_knob_can_take_ends_with_a_sentence(run: Run, arguments: tuple[str, ...], words: str) -> None:
    """Exit code 1, nothing on standard output."""
    ran = run("practice", "valve", "--once", *arguments)
    assert (ran.code, ran.out) == (1, "")
    assert words in ran.err
