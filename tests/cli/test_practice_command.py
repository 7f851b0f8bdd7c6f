"""`coilside practice`: readings of a simulated system as text, as JSON, and as a file of answers."""

import json
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from assistant.cli.main import cli
from assistant.cli.options import Folders, catalogue_from
from assistant.errors import CoilsideError
from assistant.simulator.faults import FAULTS
from assistant.simulator.readings import KINDS

ROOT = Path(__file__).parents[2]


def run(*arguments: str) -> Result:
    """The command as typed."""
    return CliRunner().invoke(cli, ["practice", *arguments])


def test_it_prints_readings_by_the_names_of_the_catalogue() -> None:
    """Each reading is one of the catalogue and of its kind; each observation one of its choices."""
    catalogue = catalogue_from(Folders())
    for device in ("txv", "fixed_orifice"):
        done = run("system", "--device", device, "--json")
        assert done.exit_code == 0, done.output
        told = json.loads(done.output)
        # Hot gas at the larger line and the idle device are read in heating alone.
        assert list(told["readings"]) == [name for name in list(KINDS)[:-4] if name != "hot_gas_pressure"]
        for name, value in told["readings"].items():
            assert catalogue.readings[name].kind is KINDS[name]
            assert value > 0.0
        for name, choice in told["observations"].items():
            assert choice in catalogue.observations[name].choices


def test_every_fault_is_a_cause_of_the_catalogue() -> None:
    """A fault tells the cause that a tree would end with."""
    assert {fault.cause for fault in FAULTS.values()} <= set(catalogue_from(Folders()).causes)


def test_a_file_of_answers_can_be_walked(tmp_path: Path) -> None:
    """What `--answers` prints is a file that `coilside walk` follows to the fault that was put in."""
    done = run("system", "--fault", "undercharge=35%", "--answers", "--altitude", "0 ft")
    file = tmp_path / "call.yaml"
    file.write_text(done.output, encoding="utf-8")
    walked = CliRunner().invoke(cli, ["walk", "--tree", "poor_cooling", "--answers", str(file), "--json"])
    assert walked.exit_code == 0, walked.output
    told = json.loads(walked.stdout)
    assert (told["outcome"], told["cause"]) == ("cause", "undercharge")


def test_it_says_what_is_chosen_and_what_is_left_out() -> None:
    """Below the readings stands what rests on choice, and what the system does not show."""
    done = run("system", "--units", "si")
    assert "Chosen, not measured:" in done.output
    assert "Left out:" in done.output
    assert "kPa" in done.output


def test_a_coil_below_freezing_is_told() -> None:
    """Where frost would grow the output says that it is left out."""
    assert "below freezing" in run("system", "--fault", "txv_starving=0.6").output
    assert "below freezing" not in run("system").output


def test_no_equation_of_state_is_loaded() -> None:
    """The command answers from its own tables: neither CoolProp nor numpy is loaded for it."""
    program = (
        "import sys; from assistant.cli.main import cli;"
        " cli.main(['practice', 'system'], standalone_mode=False);"
        " print(sorted({'CoolProp', 'numpy'} & set(sys.modules)), file=sys.stderr)"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True, cwd=ROOT)
    assert done.stderr.splitlines()[-1] == "[]"


def test_the_faults_are_listed() -> None:
    """Every fault is listed with what its severity means."""
    done = run("faults")
    told = json.loads(run("faults", "--json").output)
    assert all(name in done.output for name in FAULTS)
    assert list(told) == list(FAULTS)


def test_the_signs_of_every_fault_are_shown() -> None:
    """One line a fault of the device, with the signs that a shortage of refrigerant has at a fixed orifice."""
    done = run("signs", "--device", "fixed_orifice")
    told = json.loads(run("signs", "--device", "fixed_orifice", "--json").output)["changes"]
    mine = [name for name, fault in FAULTS.items() if fault.device != "txv"]
    assert list(told) == mine
    assert [line.split()[0] for line in done.output.splitlines()[1:]] == mine
    # Rossi, Braun 1997, HVAC&R Research 3(1), as in the Purdue report on rooftop units.
    assert [change > 0 for change in told["undercharge"].values()] == [False, True, False, False, True, False, False]


def test_a_sign_table_outside_the_weather_is_refused() -> None:
    """Weather that the system is not made for is refused here too."""
    done = run("signs", "--outdoor", "150F")
    assert isinstance(done.exception, CoilsideError)
    assert "outdoor air" in str(done.exception)


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (("--refrigerant", "R-290"), "R-410A"),
        (("--refrigerant", "water"), "no refrigerant called"),
        (("--tons", "7"), "size"),
        (("--tons", "nan"), "size in tons"),
        (("--tons", "9" * 400), "size in tons"),
        (("--outdoor", "200F"), "outdoor air"),
        (("--outdoor", "20F"), "outdoor air"),
        (("--outdoor", "warm"), "temperature"),
        (("--return", "120F"), "return air"),
        (("--wet-bulb", "85F"), "wet bulb"),
        (("--wet-bulb", "35F"), "wet bulb"),
        (("--altitude", "90000 ft"), "altitude"),
        (("--charge", "10%"), "charge"),
        (("--charge", "lots"), "charge"),
        (("--charge", "-5%"), "charge"),
        (("--fault", "undercharg"), "undercharge"),
        (("--fault", "undercharge=much"), "severity"),
        (("--fault", "undercharge=nan"), "severity"),
        (("--fault", "undercharge=5"), "severity"),
        (("--fault", "undercharge", "--fault", "undercharge"), "twice"),
        (("--fault", "orifice_too_small"), "fixed_orifice"),
        (("--fault", "bulb_loose", "--device", "fixed_orifice"), "txv"),
        (("--fault", "undercharge=0.6", "--charge", "40%"), "no refrigerant is left"),
        (("--fault", "bulb_charge_lost=1"), "No steady state"),
        (("--fault", "low_airflow=0.7", "--fault", "txv_starving=0.95"), "No steady state"),
    ],
    ids=lambda part: " ".join(part)[:40] if isinstance(part, tuple) else "",
)
def test_what_cannot_be_is_refused(arguments: tuple[str, ...], says: str) -> None:
    """A wrong name, a value outside what the system is made for, or an impossible state is refused in a sentence."""
    done = run("system", *arguments)
    assert isinstance(done.exception, CoilsideError)
    assert says in str(done.exception)
    assert len(str(done.exception)) < 500
