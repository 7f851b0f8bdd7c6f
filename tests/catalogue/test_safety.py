"""What the cautions and texts say about safety, against the rules that they name."""

import re
from collections.abc import Iterator

import pytest

from assistant.call.library import Library
from assistant.catalogue.catalogue import Catalogue
from assistant.tree.model import CauseLeaf, NoFaultLeaf, Step, UndecidedLeaf


def said(catalogue: Catalogue, caution: str) -> str:
    """The text of a caution in small letters."""
    return catalogue.cautions[caution].text.casefold()


def in_order(text: str, *words: str) -> bool:
    """Whether the words all stand in a text, one behind the other."""
    at = 0
    for word in words:
        at = text.find(word, at) + 1
        if not at:
            return False
    return True


@pytest.fixture(scope="module")
def texts(library: Library) -> list[str]:
    """Everything that a tech is told by a tree, a repair, a proof, or how to take a reading."""
    return [" ".join(text.split()) for text in _texts(library)]


def _texts(library: Library) -> Iterator[str]:
    for tree in library.trees.values():
        for node in tree.nodes.values():
            match node:
                case Step():
                    yield from (text for text in (node.say, node.why) if text)
                    yield from (branch.say for branch in node.branches if branch.say)
                case NoFaultLeaf() | UndecidedLeaf():
                    yield node.text
                case CauseLeaf():
                    yield node.say or ""
    catalogue = library.catalogue
    for cause in catalogue.causes.values():
        yield from (cause.what, cause.why, *(step.say for step in (*cause.repair, *cause.prove)))
    yield from (text for act in catalogue.acts.values() for text in (act.title, act.how))
    for entry in (*catalogue.readings.values(), *catalogue.observations.values(), *catalogue.facts.values()):
        yield from (entry.question, entry.how)
    yield from (caution.text for caution in catalogue.cautions.values())


def test_lockout_comes_in_the_order_of_the_rule(catalogue: Catalogue) -> None:
    """Know the energy, shut down, isolate, lock, relieve what is stored, verify. Source: 29 CFR 1910.147(d)(1)-(6)."""
    steps = ("know all that feeds it", "shut it down", "open the disconnect", "lock and tag it", "discharge", "prove")
    assert in_order(said(catalogue, "live_panels"), *steps)
    assert "1910.147(d)" in catalogue.cautions["live_panels"].rule
    assert "1910.333" in catalogue.cautions["live_panels"].rule


def test_absence_of_voltage_is_proved_with_a_proved_meter(catalogue: Catalogue) -> None:
    """The meter on a live source, every part, the meter again. Source: NFPA 70E article 120.5, as quoted elsewhere."""
    text = said(catalogue, "live_panels")
    assert in_order(text, "the meter on a known live source", "every part", "the meter again")
    assert "50 v can kill" in text


def test_a_control_is_no_disconnect(catalogue: Catalogue, texts: list[str]) -> None:
    """Nobody is told to isolate by a thermostat. Source: 29 CFR 1910.333(b)(2) and the state rules that mirror it."""
    assert re.search(r"a thermostat\b.* is no disconnect", said(catalogue, "live_panels"))
    isolating = re.compile(
        r"thermostat (?:is |set )?(?:to )?off\b[^.]*\b(?:before|and) (?:you )?(?:open|reach|touch)", re.I
    )
    assert [text for text in texts if isolating.search(text)] == []


def test_a_capacitor_is_discharged_before_it_is_touched(catalogue: Catalogue) -> None:
    """Discharge first, treated as live, and zero volts proved. Source: 29 CFR 1910.333(b)(2)."""
    steps = ("locked out", "treat it as live", "discharge", "zero volts", "before you touch")
    assert in_order(said(catalogue, "capacitor"), *steps)


def test_nobody_is_told_to_vent(catalogue: Catalogue, texts: list[str]) -> None:
    """Refrigerant is recovered and never let out. Source: 40 CFR 82.154(a)."""
    assert "never let out" in said(catalogue, "refrigerant_release")
    out = re.compile(r"\b(?:vent|bleed|blow|let) (?:off |out )?(?:some |the |any )?(?:refrigerant|charge)\b", re.I)
    for text in texts:
        for found in out.finditer(text):
            assert re.search(r"\b(?:never|not|no|do not)\b", text[: found.start()][-40:], re.I), text


def test_oxygen_is_named_only_to_be_forbidden(texts: list[str]) -> None:
    """Pressure tests use dry nitrogen through a regulator. Source: common safety practice, from memory."""
    for text in texts:
        for found in re.finditer(r"\boxygen\b", text, re.I):
            around = text[max(0, found.start() - 30) : found.end() + 30]
            assert re.search(r"\b(?:never|not|no)\b|monitor|breathe|displac|push", around, re.I), text


def test_pressure_tests_use_nitrogen_through_a_regulator(catalogue: Catalogue) -> None:
    """Dry nitrogen, a regulator with a relief valve, the plate's limit. Source: ASHRAE Standard 15, from memory."""
    text = said(catalogue, "pressure_test")
    assert in_order(text, "dry nitrogen only", "regulator with a relief valve", "data plate", "never oxygen")


def test_opening_asks_for_a_certified_technician_and_the_level(catalogue: Catalogue) -> None:
    """0 in Hg for high-pressure refrigerants below 200 lb, 10 for medium ones. Source: 40 CFR 82.156 Table 1."""
    text = said(catalogue, "opening_circuit")
    assert in_order(text, "certified technician", "recover", "verify", "0 psig", "10 inches of mercury")
    assert catalogue.cautions["opening_circuit"].irreversible


def test_flame_comes_last(catalogue: Catalogue) -> None:
    """Recover before a flame, nitrogen through the joint. Source: US Army TM 5-4120-312-14 for the nitrogen."""
    assert in_order(said(catalogue, "brazing"), "never a flame", "recover first", "dry nitrogen", "regulator")


@pytest.mark.parametrize("caution", ["flammable_mild", "flammable_high"])
def test_flammable_refrigerant_is_cleared_before_work(catalogue: Catalogue, caution: str) -> None:
    """Ventilate, detect, recover, purge, check again; only in equipment made for it. Source: EPA SNAP, from memory."""
    text = said(catalogue, caution)
    assert in_order(text, "ventilate", "recover", "purge with nitrogen", "check the air")
    assert "data plate" in text.split("check the air")[-1]


def test_glasses_and_gloves_come_before_hoses(catalogue: Catalogue) -> None:
    """Liquid freezes, a discharge line burns above 200 F. Source: a trade text; the rest common practice."""
    assert in_order(said(catalogue, "hoses_and_liquid"), "safety glasses and gloves before the hoses", "freezes skin")
    assert in_order(said(catalogue, "hot_surfaces"), "200 f", "gloves")


def test_no_protector_is_bridged(texts: list[str]) -> None:
    """A safety switch or protector is never bypassed to make a unit run. Source: common safety practice."""
    over = re.compile(
        r"\b(?:bridge|bypass|jumper|jump out)\w*\b[^.;]{0,40}\b(?:protector|switch|safety|overload|control)", re.I
    )
    for text in texts:
        for found in over.finditer(text):
            assert re.search(r"\b(?:never|none|not|no|nor|without)\b", text[: found.start()][-60:], re.I), text
