"""What a catalogue may not hold, beside what its pages show."""

import shutil
from pathlib import Path

import pytest

from assistant.catalogue.catalogue import Catalogue
from assistant.catalogue.loading import load_catalogue
from assistant.catalogue.rules import check_catalogue
from assistant.source.shipped import shipped_folder
from assistant.worksheet.formulas import FORMULAS, all_inputs


def found_after(folder: Path, name: str, old: str, new: str) -> list[str]:
    """What is told of the shipped catalogue with one text replaced."""
    shutil.copytree(shipped_folder("trees") / "catalogue", folder, dirs_exist_ok=True)
    file = folder / f"{name}.yaml"
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new, 1), encoding="utf-8")
    catalogue, problems = load_catalogue(folder)
    return [f"{problem.code}: {problem.message}" for problem in [*problems, *check_catalogue(catalogue)]]


def test_the_shipped_catalogue_has_no_mistakes(catalogue: Catalogue) -> None:
    """Every repair has its cautions, every entry its source, every range its room."""
    assert check_catalogue(catalogue) == []


@pytest.mark.parametrize(
    ("name", "old", "new", "told"),
    [
        ("causes", "The size and the pressure drop", "Braze it in. The size and the pressure drop",
         'catalogue-caution: the repair of dirty_filter says "Braze" without the caution brazing'),
        ("causes", "source: common practice", "source: tbd",
         'catalogue-placeholder: source of dirty_filter is still to be written: "tbd"'),
        ("causes", "licence: No refrigerant work unless the unit is moved.", "licence: '???'",
         'catalogue-placeholder: licence of outdoor_recirculation is still to be written: "???"'),
        ("cautions", "safety_groups: [A3]", "safety_groups: [A4]",
         'catalogue-joins: "A4" is no safety group; the groups are A1, A2L, A2, A3, B1, B2L, B2, B3'),
        ("cautions", "\n  irreversible: yes", "\n  irreversible: true",
         'shape-value: "irreversible" is yes or no'),
        ("readings", "plausible: [0 psig, 700 psig]", "plausible: [700 psig, 700 psig]",
         "catalogue-range: plausible of liquid_pressure: nothing lies between 700 psig and 700 psig"),
        ("readings", "plausible: [0 psig, 700 psig]", "plausible: [-15 psig, 700 psig]",
         "catalogue-range: plausible of liquid_pressure: -15 psig is below a perfect vacuum; at this site a gauge "
         "cannot read less than -14.7 psig."),
        ("readings", "  accuracy: 7.0 psi\n", "", 'shape-missing-key: "accuracy" is missing from liquid_pressure'),
        ("limits", "source: California Title 24", "sauce: California Title 24",
         'shape-unknown-key: "sauce" is no key of settle_time; the keys are value, kind, what, source'),
    ],
)  # fmt: skip
def test_a_mistake_in_the_catalogue_is_told(tmp_path: Path, name: str, old: str, new: str, told: str) -> None:
    """One text replaced gives the problem that it is."""
    assert told in found_after(tmp_path, name, old, new)


def test_an_empty_repair_is_told(tmp_path: Path) -> None:
    """A cause whose repair is an empty list has none."""
    text = "orphan:\n  title: t\n  what: t\n  why: t\n  repair: []\n  prove: [{do: look}]\n  licence: t\n  source: t\n"
    (tmp_path / "causes.yaml").write_text(text, encoding="utf-8")
    _, problems = load_catalogue(tmp_path)
    assert [problem.code for problem in problems] == ["name-unknown", "shape-form"]


def test_every_number_knows_what_it_is_worked_from(catalogue: Catalogue) -> None:
    """What goes into a number, through others too, is all known to the catalogue."""
    inputs = all_inputs()
    assert set(inputs) == set(FORMULAS)
    assert inputs["superheat"] >= {"suction_line_temperature", "suction_pressure", "refrigerant"}
    # The rule of the fixed orifice and the plate both count, whichever a call then uses.
    assert inputs["superheat_target"] >= {"superheat_target", "return_air_wet_bulb", "metering_device"}
    assert all(catalogue.sort_of(name) is not None for names in inputs.values() for name in names)


CHOICES = """\
    clean: clean
    dirty: grey, but light comes through
    clogged: clogged, bowed or wet; hardly any light comes through
    missing: there is none
"""


@pytest.mark.parametrize(
    ("name", "old", "new", "hint"),
    [
        ("readings", "plausible: [0 psig, 700 psig]", "plausible: 0 psig to 700 psig", "[lowest, highest]"),
        ("observations", CHOICES, "    - clean\n    - dirty\n", "without a dash: clean"),
        ("causes", "    - do: wash_indoor_coil\n", "    - Wash the coil\n", "do: ACT"),
        ("limits", "kind: duration", "kind: dura", "write duration"),
    ],
)  # fmt: skip
def test_a_slip_of_form_is_told_once_with_what_to_write(
    tmp_path: Path, name: str, old: str, new: str, hint: str
) -> None:
    """A range without brackets, choices as a list, a step in prose, half a kind: one problem, on its line."""
    shutil.copytree(shipped_folder("trees") / "catalogue", tmp_path, dirs_exist_ok=True)
    file = tmp_path / f"{name}.yaml"
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new, 1), encoding="utf-8")
    _, problems = load_catalogue(tmp_path)
    told = [problem for problem in problems if problem.code in ("shape-form", "kind-unknown")]
    assert len(told) == 1
    assert hint in (told[0].hint or "")
    lines = text.replace(old, new, 1).splitlines()
    assert new.splitlines()[0] in lines[told[0].place.line - 1]
