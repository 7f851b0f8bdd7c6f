"""Settings: what comes before what, and what a bad file does."""

from pathlib import Path

import pytest

from assistant.settings import SETTINGS, read_settings, template
from assistant.store.store import Store
from tests.answering import written
from tests.cli.running import Run


@pytest.fixture
def file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, run: Run) -> Path:
    """A settings file of this test; `run` comes first, as it names another."""
    path = tmp_path / "settings.toml"
    monkeypatch.setenv("COILSIDE_SETTINGS", str(path))
    monkeypatch.setenv("COILSIDE_HOME", str(tmp_path / "home"))
    read_settings.cache_clear()
    return path


def shown(out: str, name: str) -> str:
    """The line of a setting, its spaces as one."""
    return next(" ".join(line.split()) for line in out.splitlines() if line.startswith(f"{name} "))


def test_without_a_file_everything_is_usual(run: Run, file: Path) -> None:
    """The page names the file that could be written."""
    ran = run("settings")
    assert ran.code == 0
    assert ran.out.startswith(f"Settings file: {file} (not there)\n")
    assert shown(ran.out, "units") == "units us usual"
    assert shown(ran.out, "theme") == "theme dark usual"
    assert shown(ran.out, "trees") == "trees the shipped ones usual"


def test_an_option_comes_before_the_environment_and_that_before_the_file(
    run: Run, file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """And the file before what is usual."""
    file.write_text('units = "si"\ntheme = "light"\n', encoding="utf-8")
    assert shown(run("settings").out, "units") == "units si settings file"
    assert "kPa" in run("pt", "R-410A", "42F").out
    monkeypatch.setenv("COILSIDE_UNITS", "us")
    monkeypatch.setenv("COILSIDE_THEME", "sun")
    found = run("settings").out
    assert shown(found, "units") == "units us environment, COILSIDE_UNITS"
    assert shown(found, "theme") == "theme sun environment, COILSIDE_THEME"
    assert "psig" in run("pt", "R-410A", "42F").out
    found = run("settings", "--units", "si", "--theme", "dark").out
    assert shown(found, "units") == "units si option --units"
    assert shown(found, "theme") == "theme dark option --theme"


def test_no_color_is_an_environment_and_an_option(run: Run, file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Set to anything but nothing, as no-color.org has it; an option that asks for colours comes before it."""
    monkeypatch.setenv("NO_COLOR", "")
    assert shown(run("settings").out, "theme") == "theme dark usual"
    monkeypatch.setenv("NO_COLOR", "1")
    assert shown(run("settings").out, "theme") == "theme none environment, NO_COLOR"
    assert shown(run("settings", "--theme", "sun").out, "theme") == "theme sun option --theme"
    monkeypatch.delenv("NO_COLOR")
    assert shown(run("settings", "--no-color").out, "theme") == "theme none option --no-color"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("units = si\n", "line 1: Invalid value: 'units = si'. Write each setting as a line such as units = \"us\""),
        ('# ours\n\nunits = "metric"\n', "line 3: 'metric' is not one of these: us or si. The usual value is taken."),
        ('unit = "si"\n', "line 1: There is no setting 'unit'. Did you mean units? It is left out."),
        ("zzz = 1\n", "line 1: There is no setting 'zzz'. There are units, theme,"),
        ("gauges = 3\n", 'line 1: gauges must be a text in quotation marks, such as gauges = "1 psi".'),
        ('gauges = "0 psi"\n', "line 1: No instrument is exact"),
        ('altitude = "3 psi"\n', "line 1: "),
        ("[units]\nx = 1\n", "line 1: units must be a text"),
        ('units = "us"\nunits = "si"\n', "line 2: Cannot overwrite a value"),
        ('trees = ""\n', "line 1: Write the name of a folder."),
    ],
    ids=lambda text: text.splitlines()[-1][:20],
)
def test_a_bad_file_is_told_with_its_line_and_the_program_goes_on(run: Run, file: Path, text: str, said: str) -> None:
    """One message on standard error for each mistake; the result is the usual one."""
    usual = run("pt", "R-410A", "42F").out
    read_settings.cache_clear()
    file.write_text(text, encoding="utf-8")
    ran = run("pt", "R-410A", "42F")
    assert (ran.code, ran.out) == (0, usual)
    assert said in ran.err
    assert ran.err.startswith(f"coilside: settings: {file}, line ")
    assert ran.err.count("\n") == 1


@pytest.mark.parametrize("data", [b"\xff\xfe", b"units = \x00", b"a" * 200_000, b"[" * 50_000, b"\x1b[31m = 1"])
def test_no_file_is_too_odd(run: Run, file: Path, data: bytes) -> None:
    """No traceback, and no control character reaches the terminal."""
    file.write_bytes(data)
    ran = run("pt", "R-410A", "42F")
    assert ran.code == 0
    assert ran.err.startswith("coilside: settings: ")
    assert "\x1b" not in ran.err


def test_a_folder_in_the_place_of_the_file_is_told(run: Run, file: Path) -> None:
    """As is what cannot be read."""
    file.mkdir()
    ran = run("settings")
    assert ran.code == 0
    assert f"{file} cannot be read" in ran.err


def test_what_is_right_beside_a_mistake_holds(run: Run, file: Path) -> None:
    """Each setting stands for itself."""
    file.write_text('theme = "pink"\nunits = "si"\n', encoding="utf-8")
    assert shown(run("settings").out, "units") == "units si settings file"


def test_a_folder_is_found_beside_the_file(run: Run, file: Path) -> None:
    """So that both can be carried to another machine; it is used."""
    file.write_text('trees = "mine"\nhome = "kept"\n', encoding="utf-8")
    assert shown(run("settings").out, "trees") == f"trees {file.parent / 'mine'} settings file"
    ran = run("walk", "--tree", "x", "--answers", file)
    assert f"{file.parent / 'mine'} is not a folder of trees" in ran.err


def test_the_file_to_begin_with_changes_nothing_and_every_sample_in_it_is_right(run: Run, file: Path) -> None:
    """It is written once and never over another."""
    assert run("settings", "--write").code == 0
    text = file.read_text(encoding="utf-8")
    assert text == template()
    read_settings.cache_clear()
    assert (read_settings(file).values, read_settings(file).problems) == ({}, ())
    assert run("settings", "--write").code == 1
    samples = file.with_name("samples.toml")
    samples.write_text("\n".join(each.sample for each in SETTINGS.values()), encoding="utf-8")
    assert read_settings(samples).problems == ()
    assert list(read_settings(samples).values) == list(SETTINGS)


def test_the_altitude_of_the_site_is_offered_and_used(run: Run, file: Path) -> None:
    """By Enter on a call; a saturation value names it, as it stands for no other site.

    122.8 psig at 5280 ft is 134.9 psia (US standard atmosphere 12.1 psia there), which is 120.2 psig at sea level.
    """
    file.write_text('altitude = "5280 ft"\n', encoding="utf-8")
    high = run("pt", "R-410A", "122.8psig").out
    assert "site at 5280 ft" in high
    low = run("pt", "R-410A", "120.2psig", "--altitude", "0 ft").out
    assert "site" not in low
    assert [line.split()[:2] for line in high.splitlines()[1:]] == [line.split()[:2] for line in low.splitlines()[1:]]


def test_own_instruments_come_from_the_file_until_told_on_a_call(run: Run, file: Path, tmp_path: Path) -> None:
    """What was told last is meant; so the page says where it comes from."""
    file.write_text('gauges = "0.5 psi"\n', encoding="utf-8")
    assert shown(run("settings").out, "gauges") == "gauges 0.5 psi settings file"
    with Store(tmp_path / "home" / "calls.db") as store:
        store.record(store.new_call(), "set", written("pressure_accuracy", "2 psi"))
    assert shown(run("settings").out, "gauges") == "gauges 2 psi told on a call"
