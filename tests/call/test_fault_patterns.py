"""The shipped tree against published fault patterns and charge-test rules."""

from collections.abc import Mapping

import pytest

from assistant.call.headless import walk_by_name
from assistant.call.library import Library
from assistant.call.prompts import AskQuantity, CloseCall
from assistant.call.turns import Undecided
from assistant.call.walk import Conversation
from assistant.doubt import Uncertain
from assistant.quantity import Kind, parse
from assistant.tree.evaluation import evaluate
from assistant.tree.model import Step, When
from tests.call.chance import readings_of
from tests.call.small import way

# Fixed orifice, 95 F outdoors, return air 80 F with 67 F wet bulb. The healthy system: evaporating 45 F, superheat 13 F
# (the linear fit at 67/95 F), condensing 117 F, subcooling 10 F, condenser air rise 18 F, air drop 19 F (common
# practice, no source). No pattern makes the liquid colder than the outdoor air, which no condenser can. The signs below
# are those of evaporating temperature, superheat, condensing temperature, subcooling, condenser air rise and air drop
# against it.
# Source: Rossi & Braun 1997 (HVAC&R Research 3(1)), as Table 1-1 of the Purdue/CEC rooftop report.
HEALTHY = {"evaporating": 45, "superheat": 13, "condensing": 117, "subcooling": 10, "rise": 18, "drop": 19}
PATTERNS: dict[str, tuple[str, dict[str, float]]] = {
    "undercharge": ("-+----", {"evaporating": -11, "superheat": +18, "condensing": -9, "subcooling": -8, "rise": -6,
                               "drop": -6}),
    "compressor_not_pumping": ("+-----", {"evaporating": +11, "superheat": -7, "condensing": -15, "subcooling": -4,
                                          "rise": -8, "drop": -8}),
    "liquid_line_restriction": ("-+-+--", {"evaporating": -15, "superheat": +22, "condensing": -5, "subcooling": +6,
                                           "rise": -6, "drop": -8}),
    "dirty_outdoor_coil": ("+-+-+-", {"evaporating": +4, "superheat": -2, "condensing": +19, "subcooling": -3,
                                      "rise": +13, "drop": -2}),
    "low_airflow": ("-----+", {"evaporating": -13, "superheat": -10, "condensing": -6, "subcooling": -3, "rise": -4,
                               "drop": +7}),
}  # fmt: skip
# What no pattern tells and a tech sees: the compressor's current, and what reads like a compressor that moves little
# gas - the orifice, the reversing valve, a stage; no time for a rest, and no electric heat for the airflow.
SEEN = {
    "compressor_not_pumping": {
        "reversing_valve": "no_valve",
        "capacity_control": "none",
        "orifice_found": "right",
        "current_draw": "well_below",
        "flooded/slack_head/pumping/rest": "cannot do",
    },
    "low_airflow": {"air/heat_test": "cannot do"},
}


def pattern_call(library: Library, cause: str, refrigerant: str, without: tuple[str, ...] = ()) -> Conversation:
    """A call in which the instruments show one pattern, and everything that needs eyes or hands cannot be told."""
    _, moved = PATTERNS[cause]
    state = {name: HEALTHY[name] + moved[name] for name in HEALTHY}
    readings = readings_of(refrigerant, **state)
    told = {name: text for name, text in readings.items() if name not in without}
    facts = {"refrigerant": refrigerant, "metering_device": "fixed_orifice", "unit_efficiency": "ten_to_twelve",
             "minutes_running": "30 min", "subcooling_target": "10 F"}  # fmt: skip
    return walk_by_name(library, "poor_cooling", {**facts, **told, **SEEN.get(cause, {})})


def test_the_moves_have_the_signs_that_were_published() -> None:
    """The readings of this test are those of the published patterns, and no two patterns are alike."""
    for signs, moved in PATTERNS.values():
        assert "".join("+" if moved[name] > 0 else "-" for name in HEALTHY) == signs
    assert len({signs for signs, _ in PATTERNS.values()}) == len(PATTERNS)


@pytest.mark.parametrize("refrigerant", ["R-22", "R-410A", "R-32"])
@pytest.mark.parametrize("cause", PATTERNS)
def test_a_published_pattern_leads_to_its_cause(library: Library, cause: str, refrigerant: str) -> None:
    """Each of the five fault patterns of a fixed orifice leads to its own cause, whatever the refrigerant.

    Source: Rossi & Braun 1997 (HVAC&R Research 3(1)), as Table 1-1 of the Purdue/CEC rooftop report.
    """
    done = pattern_call(library, cause, refrigerant)
    assert done.outcome is not None
    assert done.outcome.cause == cause, way(done)


@pytest.mark.parametrize("cause", ["undercharge", "liquid_line_restriction"])
def test_without_subcooling_neither_charge_nor_restriction_is_named(library: Library, cause: str) -> None:
    """The two patterns differ in subcooling only, so without the liquid pressure the call ends undecided.

    Source: pattern arithmetic on Rossi & Braun 1997, as Table 1-1 of the Purdue/CEC rooftop report.
    """
    done = pattern_call(library, cause, "R-22", without=("liquid_pressure",))
    assert done.outcome is not None
    assert done.outcome.kind == "undecided"


def test_a_worn_compressor_and_weak_air_differ_in_two_numbers(library: Library) -> None:
    """Without evaporating temperature and air drop, neither of the two is named.

    Source: pattern arithmetic on Rossi & Braun 1997: valve leakage and evaporator fouling differ in these two only.
    """
    for cause in ("compressor_not_pumping", "low_airflow"):
        without = ("suction_pressure", "supply_air_dry_bulb", "return_air_dry_bulb")
        done = pattern_call(library, cause, "R-22", without)
        assert done.outcome is not None
        assert done.outcome.kind == "undecided", way(done)


def test_the_healthy_system_is_called_healthy(library: Library) -> None:
    """The state that the patterns start from has no fault."""
    facts = {"refrigerant": "R-22", "metering_device": "fixed_orifice", "unit_efficiency": "ten_to_twelve",
             "minutes_running": "30 min", "filter_condition": "clean", "air_at_vents": "normal",
             "outdoor_unit": "all_well"}  # fmt: skip
    done = walk_by_name(library, "poor_cooling", {**facts, **readings_of("R-22", **HEALTHY)})
    assert done.outcome is not None
    assert done.outcome.kind == "no_fault", way(done)


class Exact:
    """Exact values for a condition: numbers in F or F of difference, and choices."""

    def __init__(self, library: Library, numbers: Mapping[str, float], choices: Mapping[str, str]) -> None:
        self.limits = library.catalogue.limits
        self.numbers = numbers
        self.choices = choices
        self.atmosphere = 101325.0

    def quantity(self, name: str) -> Uncertain | None:
        text = f"{self.numbers[name]} F"
        kind = Kind.TEMPERATURE if name.endswith("air_temperature") else Kind.TEMPERATURE_DIFFERENCE
        return parse(text, kind).value

    def choice(self, name: str) -> str | None:
        return self.choices.get(name)

    def change(self, name: str) -> Uncertain | None:
        return None


def first_branch(library: Library, node: str, numbers: Mapping[str, float], **choices: str) -> str | None:
    """Where the first branch that holds leads to, for exact values; `None` when none holds."""
    step = library.tree("poor_cooling").nodes[node]
    assert isinstance(step, Step)
    for branch in step.branches:
        if isinstance(branch, When):
            found = evaluate(branch.condition.meaning(library.catalogue), Exact(library, numbers, choices))
            assert found.truth is not None
            if found.truth:
                return branch.go.text
    return None


@pytest.mark.parametrize(
    ("node", "over", "goes"),
    [
        ("orifice_superheat", +5.0, None),
        ("orifice_superheat", +5.1, "starved"),
        ("orifice_overfeed", -5.0, None),
        ("orifice_overfeed", -5.1, "flooded"),
    ],
)
def test_orifice_superheat_passes_within_five(library: Library, node: str, over: float, goes: str | None) -> None:
    """Superheat within 5 F of its target passes, the edges included, where a sound unit would have the target's.

    Source: California Title 24 (2008) Residential Appendix RA3.2, page RA3-14, item 5.
    """
    numbers = {"superheat": 13 + over, "superheat_target": 13, "expected(superheat)": 13}
    assert first_branch(library, node, numbers) == goes


@pytest.mark.parametrize(
    ("node", "superheat", "goes"),
    [
        ("feed", 25.0, None),
        ("feed", 25.1, "starved"),
        ("overfeed", 4.0, None),
        ("overfeed", 3.9, "flooded"),
    ],
)
def test_valve_superheat_passes_from_four_to_twenty_five(
    library: Library, node: str, superheat: float, goes: str | None
) -> None:
    """With an expansion valve 4 F to 25 F passes, the edges included.

    Source: California Title 24 (2008) Residential Appendix RA3.2, page RA3-15, item 9.
    """
    assert first_branch(library, node, {"superheat": superheat}, metering_device="txv") == goes


@pytest.mark.parametrize(
    ("node", "over", "goes"),
    [
        ("starved/liquid_plate", -3.0, None),
        ("starved/liquid_plate", -3.1, "starved/valves_open"),
        ("fed", -3.0, None),
        ("fed", -3.1, "low_subcooling"),
    ],
)
def test_subcooling_passes_down_to_three_below(library: Library, node: str, over: float, goes: str | None) -> None:
    """Subcooling 3 F below its target passes, more fails.

    Source: California Title 24 (2008) Residential Appendix RA3.2, page RA3-15, item 6.
    """
    numbers = {"subcooling": 10 + over, "subcooling_target": 10}
    assert first_branch(library, node, numbers, metering_device="txv") == goes


@pytest.mark.parametrize(("outdoor", "goes"), [(54.9, "too_cold"), (55.0, None)])
def test_below_fifty_five_outdoors_is_refused(library: Library, outdoor: float, goes: str | None) -> None:
    """Below 55 F outdoors charge is not judged by pressures; 55 F itself is warm enough.

    Source: California Title 24 (2008) Residential Appendix RA3.2, page RA3-9; 2013, RA3.2.1.1(d).
    """
    assert first_branch(library, "weather", {"outdoor_air_temperature": outdoor}) == goes


def test_too_cold_ends_in_weighing(library: Library) -> None:
    """At 54.9 F outdoors the call stops before any gauge and offers to weigh the charge in.

    Source: California Title 24 (2008) Residential Appendix RA3.2, pages RA3-9 and RA3-16.
    """
    facts = {"refrigerant": "R-22", "metering_device": "fixed_orifice"}
    done = walk_by_name(library, "poor_cooling", {**facts, "outdoor_air_temperature": "54.9 F"})
    assert way(done)[-1] == "too_cold"
    assert "suction_pressure" not in done.asked
    end = next(turn for turn in done.turns if isinstance(turn, Undecided))
    assert "weigh in" in end.text


@pytest.mark.parametrize(("minutes", "settled"), [("15 min", True), ("14.9 min", False), ("0.25 h", True)])
def test_fifteen_minutes_settle_a_system(library: Library, minutes: str, settled: bool) -> None:
    """Readings count from 15 minutes of running on. Source: Title 24 (2008) RA3.2, pages RA3-13 and RA3-14."""
    done = walk_by_name(library, "poor_cooling", {"refrigerant": "R-22", "minutes_running": minutes})
    after_settle = way(done)[way(done).index("settle") + 1]
    assert after_settle == ("load" if settled else "settle")


def test_the_gauges_doubt_at_forty_degrees(library: Library) -> None:
    """3.5 psi on R-410A at 40 F is 1.5 F of evaporating temperature: 27.2 F against 25 F is a close call, 27.5 F none.

    The expanded uncertainty is 2 sqrt(1.5^2 + 1.36^2)/sqrt(3) = 2.34 F. Source: slope of the R-410A dew line with the
    accuracies of Title 24 RA3.2.2.2 (2013) and 2008, page RA3-10; JCGM 100:2008, 5.1.2.
    """
    catalogue = library.catalogue
    assert catalogue.readings["suction_pressure"].accuracy.text == "3.5 psi"
    assert catalogue.readings["liquid_pressure"].accuracy.text == "7.0 psi"
    for name in ("suction_line_temperature", "outdoor_air_temperature", "return_air_wet_bulb"):
        assert catalogue.readings[name].accuracy.text == "0.1 % + 1.3 F"
    close = {27.2: True, 27.5: False}
    for superheat, expected in close.items():
        readings = readings_of("R-410A", 40, superheat, 115, 10)
        facts = {"refrigerant": "R-410A", "metering_device": "txv", "subcooling_target": "10 F"}
        done = walk_by_name(library, "poor_cooling", {**facts, **readings})
        assert any(kept.node == "feed" for kept in done.close_calls) is expected


def test_prompts_tell_their_unit_and_their_reach(library: Library) -> None:
    """A reading is asked with its unit, its reach and how it is taken; the close call lists what can be read again."""
    facts = {"refrigerant": "R-410A", "metering_device": "txv", "subcooling_target": "10 F"}
    done = walk_by_name(library, "poor_cooling", {**facts, **readings_of("R-410A", 40, 25.5, 115, 10)})
    asked = {turn.prompt.name: turn.prompt for turn in done.turns if hasattr(turn, "prompt")}
    suction = asked["suction_pressure"]
    assert isinstance(suction, AskQuantity)
    assert suction.unit.symbol == "psig"
    assert suction.low is not None
    assert suction.help
    close = asked["close feed"]
    assert isinstance(close, CloseCall)
    assert [choice.name for choice in close.readings] == ["suction_pressure", "suction_line_temperature"]
