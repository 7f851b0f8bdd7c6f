"""`coilside trees names`: an author finds what something is called without opening the catalogue."""

import json
from pathlib import Path

import pytest

from assistant.author.names import names_of
from assistant.catalogue.catalogue import Catalogue
from tests.cli.running import Run


def test_every_name_of_the_catalogue_is_listed(catalogue: Catalogue) -> None:
    """Without words all names come, limits as a tree writes them, and the fact that is never asked."""
    names = [name.name for name in names_of(catalogue)]
    for sort in ("fact", "reading", "observation", "number", "caution", "cause"):
        assert set(catalogue.names(sort)) <= set(names)
    assert {f"limits.{name}" for name in catalogue.limits} <= set(names)
    assert "safety_group" in names


def test_all_words_must_fit(catalogue: Catalogue) -> None:
    """Words are looked for in sort, name, title, choices and question, in any case, and each must be there."""
    found = [name.name for name in names_of(catalogue, "Limits superheat")]
    assert "limits.superheat_band" in found
    assert all(name.startswith("limits.") for name in found)
    assert names_of(catalogue, "rubbed dishwasher") == ()
    assert "metering_device" not in [name.name for name in names_of(catalogue, "ice")]
    assert "evaporator_outlet_temperature" in [name.name for name in names_of(catalogue, "readings bulb")]
    assert "filter_condition" in [name.name for name in names_of(catalogue, "clogged filter")]


def test_the_list_says_what_a_name_holds(run: Run) -> None:
    """A name stands on its own line, below it its title with kind, choices or value, within 80 columns."""
    ran = run("trees", "names", "settle")
    assert ran.out.startswith("limits:\n  limits.settle_time\n      running time before readings count")
    assert "(15 min)" in " ".join(ran.out.split())
    assert all(len(line) <= 80 for line in run("trees", "names").out.splitlines())


def test_a_number_says_which_readings_it_needs(catalogue: Catalogue) -> None:
    """An author sees what the tech will be asked for when a decision names a worked number."""
    found = {name.name: name.holds for name in names_of(catalogue, "numbers superheat")}
    assert found["superheat"] == "temperature difference; worked from suction_pressure, suction_line_temperature"


def test_nothing_found_is_said(run: Run) -> None:
    """No name gives a sentence and exit code 1."""
    ran = run("trees", "names", "dishwasher")
    assert (ran.code, ran.out) == (1, "")
    assert "Try one word" in ran.err


@pytest.mark.parametrize("words", [("subcooling", "target"), ("oily",)])
def test_json_holds_the_same(run: Run, words: tuple[str, ...], catalogue: Catalogue) -> None:
    """With --json each name is an object with its sort."""
    listed = json.loads(run("trees", "names", *words, "--json").out)
    assert [entry["name"] for entry in listed] == [name.name for name in names_of(catalogue, " ".join(words))]


def test_the_names_are_those_of_ones_own_catalogue(run: Run, tmp_path: Path) -> None:
    """With --trees the catalogue of that folder is listed."""
    (tmp_path / "catalogue").mkdir()
    text = "box_limit:\n  value: 41 F\n  kind: temperature\n  what: warmest box\n  source: none\n"
    (tmp_path / "catalogue" / "limits.yaml").write_text(text, encoding="utf-8")
    ran = run("trees", "names", "limits", "--trees", tmp_path)
    assert ran.out == "limits:\n  limits.box_limit\n      warmest box (41 F)\n"
