"""Facts about refrigerants, and how they are found."""

import contextlib
import subprocess
import sys

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.errors import UnknownNameError, UnmodelledRefrigerantError
from assistant.thermo import reference
from assistant.thermo.refrigerants import (
    all_refrigerants,
    blend_gwp,
    find_refrigerant,
    load_list,
    unmodelled_refrigerants,
)

EVERY = all_refrigerants()
NAMES = [r.designation for r in EVERY]


@pytest.mark.parametrize("typed", ["410a", "R410A", "r-410a", "R 410 A", " r410a ", "R-410A", "HFC-410A"])
def test_found_as_people_type_it(typed):
    """A refrigerant answers to every common way of writing its designation."""
    assert find_refrigerant(typed).designation == "R-410A"


@pytest.mark.parametrize(
    ("typed", "designation"),
    [("propane", "R-290"), ("CO2", "R-744"), ("hcfc22", "R-22"), ("1234yf", "R-1234yf"), ("r 600 a", "R-600a")],
)
def test_found_by_other_names(typed, designation):
    """Substances answer to their common names and class prefixes too."""
    assert find_refrigerant(typed).designation == designation


def test_near_miss_names_the_nearest():
    """A mistyped designation is not guessed: it is refused with the nearest ones."""
    with pytest.raises(UnknownNameError) as caught:
        find_refrigerant("R-454D")
    assert caught.value.what == "refrigerant"
    assert "R-454B" in caught.value.nearest


@pytest.mark.parametrize("typed", ["", "R", "-", "water", "R-9999", "410", "x" * 5000, "\x1b[31m", "４１０Ａ"])
def test_nonsense_is_refused(typed):
    """What names no refrigerant is refused as an unknown name, whatever it is."""
    with pytest.raises(UnknownNameError):
        find_refrigerant(typed)


@given(st.text(max_size=40))
@settings(deadline=None)
def test_any_text_is_found_or_refused(text):
    """Any text either finds a refrigerant or is refused in one of two ways."""
    with contextlib.suppress(UnknownNameError, UnmodelledRefrigerantError):
        assert find_refrigerant(text).designation in NAMES


@pytest.mark.parametrize("designation", list(unmodelled_refrigerants()))
def test_known_but_not_modelled_says_why(designation):
    """A refrigerant without an honest model is refused by name and reason, not approximated."""
    with pytest.raises(UnmodelledRefrigerantError) as caught:
        find_refrigerant(designation)
    assert caught.value.designation == designation
    assert caught.value.reason in str(caught.value)


@pytest.mark.parametrize("refrigerant", EVERY, ids=NAMES)
def test_composition_is_whole(refrigerant):
    """The mass fractions of a refrigerant add up to one."""
    assert sum(part.mass_fraction for part in refrigerant.composition) == pytest.approx(1.0, abs=1e-12)
    assert refrigerant.is_blend == (len(refrigerant.composition) > 1)


@pytest.mark.parametrize("refrigerant", [r for r in EVERY if r.is_blend], ids=str)
def test_composition_gives_the_molar_mass_of_the_model(refrigerant):
    """The composition by mass that we name is the one that the equation of state was made for.

    A wrong constituent or fraction shifts the molar mass; 0.1 % covers the rounding of published mole fractions.
    """
    library_names = {"R-744": "CarbonDioxide", "R-600a": "IsoButane"}
    moles = sum(
        part.mass_fraction
        / reference.constants(library_names.get(part.designation, part.designation.replace("-", ""))).molar_mass
        for part in refrigerant.composition
    )
    assert 1.0 / moles == pytest.approx(refrigerant.molar_mass, rel=1e-3)


@pytest.mark.parametrize(
    ("designation", "gwp", "tolerance"),
    [
        ("R-32", 675, 0), ("R-134a", 1430, 0),  # 40 CFR 98 Table A-1 (AR4 edition)
        ("R-410A", 2087.5, 1), ("R-407C", 1773.9, 1), ("R-404A", 3921.6, 1),  # by 40 CFR 84.64(b)
        ("R-454B", 465, 1.5),  # by 40 CFR 84.64(b), R-1234yf taken as 1
        ("R-22", 1810, 0),  # IPCC AR4, from memory
        ("R-290", 3.5, 0.5),  # IPCC AR4, from memory
    ],
)  # fmt: skip
def test_gwp(designation, gwp, tolerance):
    """GWP follows from the constituents by the federal blend rule."""
    assert find_refrigerant(designation).gwp == pytest.approx(gwp, abs=tolerance + 1e-9)
    assert find_refrigerant(designation).gwp == blend_gwp(find_refrigerant(designation).composition)


def test_gwp_limit_parts_old_from_new():
    """R-32 and R-454B are below GWP 700, R-410A is not (the limit of 40 CFR 84.54(a)(1))."""
    assert find_refrigerant("R-32").gwp < 700
    assert find_refrigerant("R-454B").gwp < 700
    assert find_refrigerant("R-410A").gwp > 700


@pytest.mark.parametrize(
    ("designation", "group"),
    [
        ("R-32", "A2L"), ("R-454B", "A2L"),  # trade report of the EPA SNAP proposal
        ("R-22", "A1"), ("R-410A", "A1"), ("R-407C", "A1"),  # Standard 34, from memory
        ("R-134a", "A1"), ("R-404A", "A1"),  # Standard 34, from memory
        ("R-290", "A3"), ("R-600a", "A3"), ("R-744", "A1"),  # Standard 34, from memory
    ],
)  # fmt: skip
def test_safety_group(designation, group):
    """Safety groups are those of ASHRAE Standard 34; all but A1 count as flammable."""
    assert find_refrigerant(designation).safety_group == group
    assert find_refrigerant(designation).is_flammable == (group != "A1")


def test_every_fact_has_a_source():
    """Composition, safety group and every constituent's GWP name where they come from."""
    data = load_list()
    assert all(r.composition_source and r.safety_group_source and r.gwp_basis and r.model_reason for r in EVERY)
    assert all(entry["source"] for entry in data["constituent_gwp"].values())


def test_finding_is_cheap():
    """Finding a refrigerant and reading its curves loads neither CoolProp nor numpy."""
    program = (
        "import sys; from assistant.thermo.curves import saturation;"
        "s = saturation('410a'); s.dew_temperature(s.dew_pressure(280.0)); s.liquid_enthalpy_slope(280.0);"
        "sys.exit(any(m in sys.modules for m in ('CoolProp', 'numpy', 'psychrolib', 'rapidfuzz', 'uncertainties')))"
    )
    assert subprocess.run([sys.executable, "-c", program], check=False).returncode == 0
