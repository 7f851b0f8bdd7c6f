"""What is said of decisions: in words and units of the tech, never in names of files."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from assistant.call.headless import walk_by_name
from assistant.call.library import Library
from assistant.call.prompts import CloseCall
from assistant.call.telling import condition_words
from assistant.call.turns import Answered, Decided, Rechecked, Verified
from assistant.call.walk import Conversation
from assistant.quantity import UnitSystem
from assistant.source.nodes import Scalar
from assistant.source.problem import Place
from assistant.tree.condition import read_condition
from assistant.tree.examples import ENDING, read_calls
from assistant.worksheet.showing import Display

TREES = Path(__file__).parents[2] / "trees"
FOREIGN: dict[UnitSystem, re.Pattern[str]] = {
    "us": re.compile(r"\d ?(?:°C|K|kPa|Pa|bar|MPa|L/s|kW|kg/h|kJ/kg|m)\b"),
    "si": re.compile(r"\d ?(?:°F|F|psig?a?|in wc|inHg vac|cfm|Btu/h|ton|lb/h|Btu/lb|ft|inch|in)\b"),
}
NAME = re.compile(r"[a-z0-9]+_[a-z0-9_]+|limits\.|\bchange\(", re.ASCII)


def told(conversation: Conversation) -> Iterator[str]:
    """Everything that a call says about its decisions."""
    for turn in conversation.turns:
        match turn:
            case Decided():
                yield from (*turn.reasons, turn.at, turn.way, *(scale.text for scale in turn.scales))
            case Answered(prompt=CloseCall() as prompt):
                yield prompt.leans_to
                for leaning in prompt.leanings:
                    yield from (leaning.text, leaning.measured, leaning.limit, leaning.other_way or "")
            case Verified():
                yield from (text for check in turn.conditions for text in _rechecked(check))
            case _:
                pass
    yield from (kept.text for kept in conversation.close_calls)


def _rechecked(check: Rechecked) -> Iterator[str]:
    yield from (check.condition, check.before, check.after, check.was, check.now or "")


@pytest.mark.parametrize("system", ["us", "si"])
def test_decisions_are_told_in_words_and_units_of_the_tech(library: Library, system: UnitSystem) -> None:
    """Over the example calls, no reason, way or close call holds a name of a file or a unit of the other system.

    Each system has every second call of each tree: most decisions stand in many calls.
    """
    texts: set[str] = set()
    for path in sorted(TREES.glob(f"*{ENDING}")):
        calls, problems = read_calls(path)
        assert not problems
        for call in calls[system == "si" :: 2]:
            texts.update(told(walk_by_name(library, path.name.removesuffix(ENDING), call.given.texts(), system)))
    assert len(texts) > 1000
    # What stands in quotes are the words of the catalogue, which hold for both.
    unquoted = {re.sub('"[^"]*"', "", text) for text in texts}
    assert [text for text in unquoted if NAME.search(text)] == []
    assert [text for text in unquoted if FOREIGN[system].search(text)] == []


def test_each_part_is_told_in_the_units_of_the_screen(library: Library) -> None:
    """A difference is converted as a difference, a temperature as a temperature: 30 F is 16.7 K, 65 F 18.3 C."""

    def said(text: str, system: UnitSystem = "si") -> str:
        display = Display(library.catalogue, system, 101325.0)
        condition, problems = read_condition(Scalar(text, Place("c", 1, 1, len(text) + 1), "", text))
        assert not problems
        return condition_words(condition.meaning(library.catalogue).root, display)

    assert said("superheat > superheat_target + limits.superheat_band and superheat < 30 F") == (
        "superheat at the outdoor unit > superheat target + 2.8 K and superheat at the outdoor unit < 16.7 K"
    )
    assert said("outdoor_air_temperature < 65 F") == "outdoor air temperature < 18.3 °C"
    assert said("suction_pressure < 100 psig") == "suction pressure < 689 kPa"
    assert said("external_static_pressure > 125 Pa", "us") == "external static pressure > 0.50 in wc"
    assert said("change(suction_pressure) > 3 psi") == "change of suction pressure > 20.7 kPa"


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("mode is one of [cooling, heating] and superheat > 5 F", '(mode is "cooling" or "heating (heat pump)") and A'),
        ("mode is not one of [cooling, heating]", 'mode is neither "cooling" nor "heating (heat pump)"'),
        ("superheat > 5 F and (mode is cooling or superheat > 5 F)", 'A and (mode is "cooling" or A)'),
        ("superheat > 5 F or mode is not cooling and superheat > 5 F", 'A or (mode is not "cooling" and A)'),
        ("not (superheat > 5 F or mode is cooling) and superheat > 5 F", 'not (A or mode is "cooling") and A'),
    ],
)
def test_groups_can_be_read_in_one_way_only(library: Library, text: str, words: str) -> None:
    """Where `and` and `or` meet, brackets show what belongs together."""
    condition, problems = read_condition(Scalar(text, Place("c", 1, 1, len(text) + 1), "", text))
    assert not problems
    said = condition_words(condition.meaning(library.catalogue).root, Display(library.catalogue, "us", 101325.0))
    assert said.replace("superheat at the outdoor unit > 5 °F", "A") == words
