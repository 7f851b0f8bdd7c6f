"""Trying a value: what would change is told, and nothing of it is kept."""

import pytest

from assistant.call.library import Library
from assistant.call.replies import Command, Unclear, read_command
from assistant.call.walk import Conversation
from assistant.call.what_if import Supposed, suppose
from assistant.catalogue.catalogue import Catalogue
from tests.call.small import small_library, talk

NODES = """
first:
  decide:
    - when: filter_condition is clogged
      go: choked
    - cannot_tell: feed
    - otherwise: feed
feed:
  decide:
    - when: superheat > 25 F
      go: starved
    - when: superheat > 20 F
      go: open_end
    - cannot_tell: open_end
    - otherwise: fed
starved:
  cause: undercharge
  because: [superheat]
choked:
  cause: dirty_filter
  because: [filter_condition]
fed: {no_fault: The coil is fed.}
open_end: {undecided: It cannot be told.}
"""


@pytest.fixture
def small(catalogue: Catalogue) -> Library:
    return small_library(catalogue, NODES, facts="refrigerant, altitude")


def supposed(library: Library, conversation: Conversation, argument: str) -> str:
    """What would change, as one text."""
    found = suppose(library, conversation, conversation.used, argument)
    assert isinstance(found, Supposed), found
    return "\n".join((found.title, *found.lines))


def test_an_earlier_reading_tried_tells_numbers_decision_and_end(small: Library) -> None:
    """R-22 at 73 psig boils at 43 F, so 55 F is 12 F; at 45 psig it is starved. Common practice, no source."""
    fed = talk(small, "22", "0 ft", "clean", "73 psig", "55 F")
    told = supposed(small, fed, "suction_pressure 45 psig")
    assert told.startswith("If suction pressure were 45 psig (nothing is kept)")
    assert "Superheat at the outdoor unit: 12.0" in told
    assert (
        'At "superheat at the outdoor unit" it would go to "too little refrigerant", not to "nothing wrong found":'
        in told
    )
    assert "It would come to: likely cause: " in told
    assert "(now: no fault found)" in told


def test_the_open_question_can_be_tried(small: Library) -> None:
    """What is asked now need not be answered to see where an answer would lead."""
    asked = talk(small, "22", "0 ft", "clean", "73 psig")
    told = supposed(small, asked, "suction_line_temperature 55 F")
    assert "Superheat at the outdoor unit: not known -> 12.0" in told
    assert 'At "superheat at the outdoor unit" it would go on to "nothing wrong found":' in told


def test_a_choice_can_be_tried_with_its_words_or_number(small: Library) -> None:
    """Anything that would be an answer can be tried."""
    fed = talk(small, "22", "0 ft", "clean", "73 psig", "55 F")
    assert 'At "air filter" it would go to "clogged air filter", not to "superheat at the outdoor unit":' in supposed(
        small, fed, "filter_condition clogged"
    )
    assert supposed(small, fed, "filter condition 3") == supposed(small, fed, "filter_condition clogged")


def test_a_value_that_changes_nothing_says_so(small: Library) -> None:
    """The same value, or one that leads the same way."""
    fed = talk(small, "22", "0 ft", "clean", "73 psig", "55 F")
    assert supposed(small, fed, "suction_pressure 73 psig").endswith("Nothing would change.")
    assert supposed(small, fed, "suction_pressure 74 psig").endswith("It would still come to: no fault found")


def test_nothing_of_it_is_kept(small: Library) -> None:
    """The conversation and its answers are the same ones afterwards."""
    fed = talk(small, "22", "0 ft", "clean", "73 psig", "55 F")
    before = fed.used, fed.turns
    supposed(small, fed, "suction_pressure 45 psig")
    assert (fed.used, fed.turns) == before


@pytest.mark.parametrize(
    ("argument", "words"),
    [
        ("", "Type if, a name and a value"),
        ("suction_pressure", "Type if, a name and a value"),
        ("suction_presure 45 psig", "Did you mean suction_pressure?"),
        ("suction_pressure lots", "cannot tell"),
        ("suction_pressure 4000 psig", "cannot be a suction pressure"),
        ("complaint warm", "Nothing asked so far is called complaint"),
        ("filter_condition soggy", "Answer with a number"),
    ],
)
def test_what_cannot_be_tried_is_told(small: Library, argument: str, words: str) -> None:
    """A sentence says what would fit."""
    fed = talk(small, "22", "0 ft", "clean", "73 psig", "55 F")
    found = suppose(small, fed, fed.used, argument)
    assert isinstance(found, Unclear)
    assert words in found.message


@pytest.mark.parametrize("typed", ["if suction_pressure 130 psig", "What if suction_pressure 130 psig"])
def test_the_word_is_if(typed: str) -> None:
    """With or without "what" in front."""
    assert read_command(typed) == Command("if", "suction_pressure 130 psig")
