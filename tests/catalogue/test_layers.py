"""A shop's own catalogue over another: what it adds, what it replaces, and what of it is left out."""

from collections.abc import Callable
from pathlib import Path

import pytest

from assistant.catalogue.catalogue import Catalogue
from assistant.catalogue.layers import Replaced, load_layers, notes_on_replaced, tell_replaced
from assistant.quantity import Kind
from assistant.source.problem import Problem
from assistant.source.shipped import shipped_folder

SHIPPED = shipped_folder("trees") / "catalogue"
BAND = """
superheat_band:
  value: 3 F
  kind: temperature_difference
  what: how far superheat may lie from its target on our sites
  source: common practice, no source
"""

Layered = tuple[Catalogue, list[Problem], tuple[Replaced, ...]]
Lay = Callable[..., Layered]


@pytest.fixture
def lay(tmp_path: Path) -> Lay:
    """Lays files, given as name and text, over the shipped catalogue."""

    def laid(**files: str) -> Layered:
        for name, text in files.items():
            (tmp_path / f"{name}.yaml").write_text(text, encoding="utf-8")
        return load_layers([SHIPPED, tmp_path])

    return laid


def test_an_entry_replaces_the_one_of_its_name(lay: Lay, catalogue: Catalogue) -> None:
    """The limit has the shop's value; everything else, and the order of names, stays as it was."""
    found, problems, replaced = lay(limits=BAND)
    assert problems == []
    assert found.limits["superheat_band"].quantity.text() == "3 F"
    assert list(found.limits) == list(catalogue.limits)
    assert found.causes == catalogue.causes
    assert [(item.name, item.what) for item in replaced] == [("superheat_band", "limit")]


def test_a_new_entry_is_added_behind(lay: Lay, catalogue: Catalogue) -> None:
    """A name that is not there yet adds to the others, and replaces nothing."""
    found, problems, replaced = lay(limits=BAND.replace("superheat_band", "our_band"))
    assert problems == []
    assert list(found.limits) == [*catalogue.limits, "our_band"]
    assert replaced == ()


def test_a_half_written_entry_is_left_out(lay: Lay, catalogue: Catalogue) -> None:
    """It is told, and the shipped one stands; what is whole beside it counts."""
    half = BAND.replace("  source: common practice, no source\n", "")
    found, problems, replaced = lay(limits=half + BAND.replace("superheat_band", "our_band").lstrip())
    assert [problem.code for problem in problems] == ["shape-missing-key"]
    assert found.limits["superheat_band"] == catalogue.limits["superheat_band"]
    assert "our_band" in found.limits
    assert replaced == ()


def test_a_file_that_cannot_be_read_is_left_out(lay: Lay, catalogue: Catalogue) -> None:
    """Of a file with an open bracket nothing counts, and nothing shipped is lost."""
    found, problems, _ = lay(limits="superheat_band: [3 F\n")
    assert problems
    assert found == catalogue


def test_a_limit_keeps_its_kind(lay: Lay, catalogue: Catalogue) -> None:
    """Trees compare with it, so a pressure cannot stand for a temperature difference."""
    wrong = BAND.replace("3 F", "3 psig").replace("temperature_difference", "pressure")
    found, problems, replaced = lay(limits=wrong)
    assert [problem.code for problem in problems] == ["catalogue-layer"]
    assert found.limits["superheat_band"].quantity.kind is Kind.TEMPERATURE_DIFFERENCE
    assert replaced == ()


FILTER = """
filter_condition:
  title: Air filter
  question: How is the filter?
  choices:
    clean: clean
    {}: not clean
"""


def test_an_observation_keeps_its_choices(lay: Lay, catalogue: Catalogue) -> None:
    """Trees decide by them: one that lacks some is left out, and the message names them."""
    found, problems, _ = lay(observations=FILTER.format("dirty"))
    lacking = set(catalogue.observations["filter_condition"].choices) - {"clean", "dirty"}
    assert [problem.code for problem in problems] == ["catalogue-layer"]
    assert all(choice in problems[0].message for choice in lacking)
    assert found.observations == catalogue.observations


def test_an_observation_may_have_more_choices(lay: Lay, catalogue: Catalogue) -> None:
    """With all the shipped ones and one more it replaces the other."""
    choices = [*catalogue.observations["filter_condition"].choices, "frozen"]
    lines = "".join(f"    {choice}: it is {choice}\n" for choice in choices)
    found, problems, replaced = lay(observations=FILTER.split("    clean")[0] + lines)
    assert problems == []
    assert list(found.observations["filter_condition"].choices) == choices
    assert [item.what for item in replaced] == ["observation"]


def test_a_name_keeps_its_sort(lay: Lay, catalogue: Catalogue) -> None:
    """An observation cannot be called like a shipped reading."""
    found, problems, _ = lay(observations=FILTER.format("dirty").replace("filter_condition", "suction_pressure"))
    assert [problem.code for problem in problems] == ["catalogue-layer"]
    assert found == catalogue


def test_an_entry_that_refers_to_nothing_is_left_out(lay: Lay, catalogue: Catalogue) -> None:
    """A caution that joins an unknown one is told and left out; one that joins a shipped one counts."""
    text = "cut_fins:\n  title: Sharp edges\n  text: Fins cut.\n  rule: common safety practice\n" \
           "  joins: [{}]\n  safety_groups: [A2L]\n"  # fmt: skip
    found, problems, _ = lay(cautions=text.format("moving_prats"))
    assert [problem.code for problem in problems] == ["name-unknown"]
    assert found == catalogue
    found, problems, _ = lay(cautions=text.format("moving_parts"))
    assert problems == []
    assert "cut_fins" in found.cautions


def test_the_highest_of_three_layers_counts(tmp_path: Path) -> None:
    """Each layer replaces what lies below it; what is told is the last step."""
    for name, value in (("low", "3 F"), ("high", "4 F")):
        (tmp_path / name).mkdir()
        (tmp_path / name / "limits.yaml").write_text(BAND.replace("3 F", value), encoding="utf-8")
    found, problems, replaced = load_layers([SHIPPED, tmp_path / "low", tmp_path / "high"])
    assert problems == []
    assert found.limits["superheat_band"].quantity.text() == "4 F"
    assert [Path(item.below.path).parent.name for item in replaced] == ["low"]


def test_what_is_replaced_is_noted_with_both_places(lay: Lay) -> None:
    """The note stands at the shop's entry and names the file and line of the other."""
    _, _, replaced = lay(limits=BAND)
    (note,) = notes_on_replaced(replaced)
    assert note.code == "note-replaced"
    assert note.message.startswith(f"superheat_band (limit) replaces the one at {SHIPPED / 'limits.yaml'}:")
    assert tell_replaced(replaced) == "Your shop's folder replaces: superheat_band (limit)."
    assert tell_replaced(replaced * 3, most=2).endswith("superheat_band (limit), superheat_band (limit), 1 more.")


CAUSE = """
worn_gasket:
  title: Worn gasket
  what: A gasket is worn.
  why: It lets air through.
  repair:
    - do: recover_charge
    - do: mend_leak
    - {{do: {}, say: {}}}
  prove:
    - {{do: check_draught, say: The draught is gone.}}
  licence: Electrical work as your local law requires.
  source: common practice, no source
"""


def test_a_shop_cause_without_its_cautions_never_goes_live(lay: Lay, catalogue: Catalogue) -> None:
    """What breaks a rule is left out whenever a folder is loaded, and the message says what to write."""
    found, problems, _ = lay(causes=CAUSE.format("set_thermostat", "Braze the new one in."))
    assert "worn_gasket" not in found.causes
    assert {problem.code for problem in problems} == {"catalogue-caution"}
    assert all("brazing" in (problem.hint or "") for problem in problems)
    found, problems, _ = lay(causes=CAUSE.format("braze_joint", "Braze the new one in."))
    assert problems == []
    assert "worn_gasket" in found.causes


def test_a_shop_cannot_tell_what_is_never_done(lay: Lay) -> None:
    """Under every caution a bridged safety switch is refused."""
    found, problems, _ = lay(causes=CAUSE.format("mend_wiring", "Bridge the float switch."))
    assert "worn_gasket" not in found.causes
    assert "catalogue-never" in {problem.code for problem in problems}


def test_a_folder_of_its_own_is_held_to_the_rules_too(tmp_path: Path) -> None:
    """A catalogue that stands instead of the shipped one: what breaks a rule is told and left out there as well."""
    (tmp_path / "causes.yaml").write_text(CAUSE.format("mend_wiring", "Bridge the float switch."), encoding="utf-8")
    found, problems, _ = load_layers([tmp_path])
    assert found.causes == {}
    assert "worn_gasket" in found.left_out
    assert "catalogue-never" in {problem.code for problem in problems}


OXYGEN = """
pressure_test:
  title: Pressure test
  text: {}
  rule: our own
  words: [{}]
"""


def test_a_caution_is_added_to_and_never_thinned(lay: Lay, catalogue: Catalogue) -> None:
    """Its text and words stay whole; a shop writes its own behind them."""
    shipped = catalogue.cautions["pressure_test"]
    found, problems, _ = lay(cautions=OXYGEN.format("Be careful.", "nitrogen"))
    assert found.cautions["pressure_test"] == shipped
    assert [problem.code for problem in problems] == ["catalogue-layer"] * 2
    more = OXYGEN.format(f'"{shipped.text} Two of us, always."', ", ".join([*shipped.words, "test gas"]))
    found, problems, _ = lay(cautions=more)
    assert problems == []
    assert found.cautions["pressure_test"].text.endswith("Two of us, always.")


LOCK_OUT = """
lock_out:
  title: Lock out
  how: "{how}"
  minutes: 5
  who: {who}
  needs: {{power: {power}}}
  cautions: [{cautions}]
  makes: {{power: locked{panel}}}
  undo: power_back
  source: our own
"""


@pytest.mark.parametrize(
    ("changed", "lost"),
    [
        ({}, ""),
        ({"how": "Switch it off."}, "how"),
        ({"who": "anyone"}, "live_work in who"),
        ({"cautions": "live_panels, moving_parts"}, "line_side_live in cautions"),
        ({"panel": ""}, "makes panel: open"),
        ({"power": "[running, stopped, locked]"}, "needs power: [running, stopped]"),
    ],
)
def test_an_act_keeps_what_guards(lay: Lay, catalogue: Catalogue, changed: dict[str, str], lost: str) -> None:
    """Words, needs, makes, cautions and who of the shipped one stay; the order of lockout is no shop's to shorten."""
    given = {
        "how": catalogue.acts["lock_out"].how,
        "who": "live_work",
        "power": "[running, stopped]",
        "cautions": "live_panels, line_side_live, moving_parts, sharp_edges",
        "panel": ", panel: open",
    }
    found, problems, _ = lay(acts=LOCK_OUT.format(**{**given, **changed}))
    told = [problem.message for problem in problems if problem.code == "catalogue-layer"]
    if not lost:
        assert problems == []
        assert "sharp_edges" in found.acts["lock_out"].cautions
    else:
        assert len(told) == 1
        assert lost in told[0]
        assert found.acts["lock_out"] == catalogue.acts["lock_out"]
