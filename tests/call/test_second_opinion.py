"""The second opinion inside a call: what counts, what it says of the end, and that it waits for nobody."""

from collections.abc import Mapping, Sequence

import pytest

from assistant.call.headless import walk_by_name
from assistant.call.library import Library
from assistant.call.second_opinion import Weighing, situation_in
from assistant.call.walk import Conversation
from assistant.errors import InputError
from assistant.opinion.ahead import Ahead, prepare_apart

# R-410A at 95 F outdoors: 104 psig boil at 33 F, 330 psig condense at 102 F, so the line is starved and hardly
# subcooled. Common practice, no source.
STARVED: Mapping[str, str | Sequence[str]] = {
    "refrigerant": "R-410A",
    "metering_device": "txv",
    "mode": "cooling",
    "subcooling_target": "10 F",
    "minutes_running": "30 min",
    "filter_condition": "clean",
    "air_at_vents": "normal",
    "indoor_coil_face": "clean",
    "outdoor_air_temperature": ["95 F", "95 F"],
    "suction_pressure": ["104 psig", "104 psig"],
    "liquid_pressure": ["330 psig", "330 psig"],
    "suction_line_temperature": ["72 F", "72 F"],
    "liquid_line_temperature": ["101 F", "101 F"],
}


@pytest.fixture(scope="module")
def ahead() -> Ahead:
    """What is worked ahead, once for all of these."""
    return Ahead()


def walked(library: Library, tree: str, **more: str | Sequence[str]) -> Conversation:
    return walk_by_name(library, tree, {**STARVED, **more})


def test_it_agrees_with_the_cause_that_the_tree_came_to(library: Library, ahead: Ahead) -> None:
    """At a cause it says whether it is of the same mind, and how sure."""
    conversation = walked(library, "poor_cooling")
    assert conversation.outcome is not None
    assert conversation.outcome.cause == "undercharge"
    weighing = Weighing(ahead, conversation)
    assert weighing.end_lines()[0].startswith("The second opinion agrees: Too little refrigerant is")
    assert weighing.short().startswith("Too little refrigerant:")
    assert weighing.is_measured


def test_it_goes_by_the_same_answers_and_no_others(library: Library, ahead: Ahead) -> None:
    """The same call gives the same opinion, word for word."""
    first, second = (tuple(Weighing(ahead, walked(library, "poor_cooling")).lines()) for _ in range(2))
    assert first == second
    # Little subcooling is what tells missing charge from a starving valve: common practice, no source.
    said = next(line for line in first if line.startswith("  Liquid pressure: for Too little refrigerant"))
    assert "without it" in said


def test_an_undecided_end_is_left_with_something_to_do(library: Library, ahead: Ahead) -> None:
    """Where the tree has no end, what fits best is ranked and the next step named."""
    conversation = walked(library, "low_suction", liquid_line_temperature="cannot tell", filter_condition="cannot tell")
    assert conversation.outcome is not None
    assert conversation.outcome.kind == "undecided"
    lines = Weighing(ahead, conversation).end_lines()
    assert "in 100" in lines[1]
    assert any(line.startswith("Next: ") for line in lines)


def test_what_is_worked_apart_is_what_is_worked_here(library: Library) -> None:
    """A process of its own prepares the same numbers, to the last digit."""
    situation = situation_in(walked(library, "poor_cooling"))
    here = Ahead().prepared_for(situation)
    apart = prepare_apart(situation, lambda: False)
    assert not isinstance(apart, str)
    assert apart is not None
    assert len(apart.fitted) == len(here.fitted)
    for one, other in zip(apart.fitted, here.fitted, strict=True):
        assert (one.cause, one.severity, one.share, one.opens) == (
            other.cause,
            other.severity,
            other.share,
            other.opens,
        )
        assert one.values.tobytes() == other.values.tobytes()
        assert one.spread.tobytes() == other.spread.tobytes()


def test_a_cancelled_preparation_gives_nothing(library: Library) -> None:
    """As when the weather is told anew while it works."""
    assert prepare_apart(situation_in(walked(library, "poor_cooling")), lambda: True) is None


def test_without_weather_there_is_no_opinion(library: Library) -> None:
    """What is right hangs on it; the sentence says what is missing."""
    with pytest.raises(InputError, match="needs the outdoor air"):
        situation_in(walked(library, "poor_cooling", outdoor_air_temperature="cannot tell"))


@pytest.mark.parametrize(("warm", "outcome"), [("104 psig", 1), ("126 psig", 0), ("92 psig", 2)])
def test_what_is_read_with_the_bulb_in_hand_is_a_test(library: Library, warm: str, outcome: int) -> None:
    """The suction with a warm bulb tells of the valve; the reading of the unit stays what it was."""
    conversation = walked(
        library,
        "starved_coil",
        suction_pressure=["104 psig", warm, "150 psig"],
        liquid_pressure="365 psig",
        liquid_line_temperature="99 F",
        liquid_line_feel="even",
        drier_inlet_temperature="99 F",
        drier_outlet_temperature="99 F",
        evaporator_outlet_temperature=["66 F", "66 F"],
        bulb_contact="sound",
        bulb_place="right",
        equalizer_state="sound",
        equalizer_joint="past_bulb",
    )
    situation = situation_in(conversation)
    assert situation.tests["warm_bulb"] == outcome
    steady = situation_in(walked(library, "starved_coil"))
    assert situation.taken[0] == steady.taken[0]
