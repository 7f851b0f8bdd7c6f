"""Riding along: guesses come before numbers and causes, and the call behind them goes as it would."""

import pytest

from assistant import doubt
from assistant.call.answers import CANNOT_TELL, UNTOLD, Chosen, Value
from assistant.call.bands import HIGH, IN_RANGE, LOW, Band
from assistant.call.library import Library
from assistant.call.riding import Guess, Key, open_guess, shown
from assistant.call.turns import Answered, Coached, Concluded, Decided, NumberShown
from assistant.call.walk import Conversation
from assistant.catalogue.catalogue import Catalogue
from assistant.worksheet.sheet import Worked
from tests.call.small import small_library, talk

NODES = """
first:
  decide:
    - when: superheat < 5 F
      go: open_end
    - when: superheat > 25 F
      go: charge
    - cannot_tell: open_end
    - otherwise: fed
charge:
  decide:
    - when: subcooling < 5 F
      go: leak
    - cannot_tell: open_end
    - otherwise: narrow
leak:
  cause: undercharge
  because: [superheat, subcooling]
narrow:
  cause: liquid_line_restriction
  because: [superheat, subcooling]
fed: {no_fault: The coil is fed.}
open_end: {undecided: It cannot be told.}
"""


@pytest.fixture
def small(catalogue: Catalogue) -> Library:
    return small_library(catalogue, NODES, facts="refrigerant, altitude")


@pytest.fixture
def starved(small: Library) -> Conversation:
    """36 F of superheat and 1 F of subcooling: the call is at the first caution of the repair."""
    return talk(small, "22", "0 ft", "60 psig", "70 F", "226 psig", "109 F")


def guessed(conversation: Conversation, *said: str) -> tuple[Conversation, dict[Key, Value], list[Guess]]:
    """The conversation as it is seen after some guesses."""
    guesses: dict[Key, Value] = {}
    asked = []
    for word in said:
        guess = open_guess(conversation, guesses)
        assert guess is not None
        asked.append(guess)
        guesses[guess.key] = UNTOLD if word == CANNOT_TELL else Chosen(word)
    return shown(conversation, guesses), guesses, asked


def test_nothing_is_shown_before_it_is_guessed(starved: Conversation) -> None:
    """Before the first number the call stops at the guess, though its readings are all there."""
    seen, _, _ = guessed(starved)
    assert seen.prompt is not None
    assert seen.prompt.name == "guess superheat"
    assert not any(isinstance(turn, NumberShown | Decided) for turn in seen.turns)
    assert [number for number in seen.numbers if isinstance(number, Worked)] == []


def test_a_number_that_is_guessed_later_is_not_seen_before(catalogue: Catalogue) -> None:
    """While the call asks something else, it stands nowhere, though it could be worked; what the told rest on does."""
    gauges_first = NODES.replace("charge:\n", "charge:\n  do: wait_settled\n").replace(
        "first:\n", "first:\n  ask: [liquid_pressure, liquid_line_temperature]\n"
    )
    library = small_library(catalogue, gauges_first, facts="refrigerant, altitude")
    conversation = talk(library, "22", "0 ft", "226 psig", "109 F", "60 psig", "70 F")
    assert "subcooling" in {number.name for number in conversation.numbers if isinstance(number, Worked)}
    seen, _, _ = guessed(conversation, HIGH)
    assert seen.prompt is not None
    assert seen.prompt.name == "do wait_settled @ charge"
    assert {number.name for number in seen.numbers if isinstance(number, Worked)} == {
        "superheat",
        "evaporating_temperature",
    }


def test_each_guess_opens_the_way_to_the_next(starved: Conversation) -> None:
    """First both numbers, then the cause; behind it the call is seen as it stands."""
    names = []
    for count in range(3):
        seen, _, _ = guessed(starved, *(HIGH, LOW, "undercharge")[:count])
        assert seen.prompt is not None
        names.append(seen.prompt.name)
    assert names == ["guess superheat", "guess subcooling", "guess cause"]
    seen, _, _ = guessed(starved, HIGH, LOW, "undercharge")
    assert seen.prompt == starved.prompt


def test_a_cause_is_not_given_away_by_the_decision_that_leads_to_it(starved: Conversation) -> None:
    """Neither the decision nor the cautions of the repair are seen before a suspect is named."""
    seen, _, asked = guessed(starved, HIGH, LOW)
    assert [turn.go for turn in seen.turns if isinstance(turn, Decided)] == ["charge"]
    assert not any(isinstance(turn, Concluded) for turn in seen.turns)
    suspects = open_guess(starved, {guess.key: "" for guess in asked})
    assert suspects is not None
    assert [choice.name for choice in suspects.prompt.choices] == ["undercharge", "liquid_line_restriction"]


def test_guesses_are_judged_at_once(starved: Conversation) -> None:
    """Right or missed, with the value, the limit, and what the number tells."""
    seen, _, _ = guessed(starved, IN_RANGE, LOW, "liquid_line_restriction")
    judged = [turn for turn in seen.turns if isinstance(turn, Coached)]
    assert [turn.title for turn in judged] == ["MISSED", "RIGHT", "MISSED"]
    assert "high (low below 5.0 °F, high above 25.0 °F)" in judged[0].lines[0]


def test_the_score_comes_at_the_end_with_what_was_missed(small: Library, starved: Conversation) -> None:
    """Numbers and causes apart."""
    now = starved
    while now.prompt is not None:
        now = talk(small, "yes" if now.prompt.name.startswith("check") else "understood", begin=now.used)
    seen, _, _ = guessed(now, IN_RANGE, LOW, "undercharge")
    last = seen.turns[-1]
    assert isinstance(last, Coached)
    assert last.lines[:3] == ("1 of 2 numbers", "1 of 1 causes", "Missed:")
    assert last.lines[3].startswith("  Superheat at the outdoor unit: you said in range; it was high")


def test_the_call_behind_the_guesses_is_the_same(starved: Conversation) -> None:
    """Without guesses and what is said of them, the turns are those of the call."""
    seen, _, _ = guessed(starved, LOW, LOW, "undercharge")
    own = [
        turn
        for turn in seen.turns
        if not isinstance(turn, Coached) and not (isinstance(turn, Answered) and turn.prompt.name.startswith("guess "))
    ]
    assert tuple(own) == starved.turns


def test_a_corrected_number_is_guessed_anew(small: Library, starved: Conversation) -> None:
    """A guess belongs to the value that it was made of."""
    _, guesses, _ = guessed(starved, HIGH, LOW, "undercharge")
    other = talk(small, "22", "0 ft", "70 psig", "80 F", "226 psig", "109 F")
    again = open_guess(other, guesses)
    assert again is not None
    assert again.prompt.name == "guess superheat"


def test_a_limit_bounds_a_band_whether_it_belongs_to_it_or_not(catalogue: Catalogue) -> None:
    """From 25 F on is high as well as above 25 F is."""
    nodes = NODES.replace("superheat > 25 F", "superheat >= 25 F")
    library = small_library(catalogue, nodes, facts="refrigerant, altitude")
    seen, _, _ = guessed(talk(library, "22", "0 ft", "60 psig", "70 F", "226 psig", "109 F"), HIGH)
    judged = [turn for turn in seen.turns if isinstance(turn, Coached)]
    assert "high (low below 5.0 °F, high above 25.0 °F)" in judged[0].lines[0]


def test_of_several_limits_the_nearest_bound_what_is_in_range(catalogue: Catalogue) -> None:
    """Beyond the first limit on either side a number is out of range already, whatever the further ones lead to."""
    further = "    - {when: superheat < 2 F, go: fed}\n    - {when: superheat > 60 F, go: open_end}\n"
    sharper = NODES.replace("first:\n  decide:\n", f"first:\n  decide:\n{further}")
    library = small_library(catalogue, sharper, facts="refrigerant, altitude")
    seen, _, _ = guessed(talk(library, "22", "0 ft", "60 psig", "70 F", "226 psig", "109 F"), HIGH)
    judged = [turn for turn in seen.turns if isinstance(turn, Coached)]
    assert judged[0].title == "RIGHT"
    assert "high (low below 5.0 °F, high above 25.0 °F)" in judged[0].lines[0]


@pytest.mark.parametrize("lower", ["superheat < 25 F", "superheat < 30 F"], ids=["meet", "cross"])
def test_limits_that_leave_nothing_between_them_bound_no_band(catalogue: Catalogue, lower: str) -> None:
    """Where one way begins as the other ends, no value is in range, so nobody is asked to guess what it is."""
    nodes = NODES.replace("superheat < 5 F", lower)
    library = small_library(catalogue, nodes, facts="refrigerant, altitude")
    seen = talk(library, "22", "0 ft", "60 psig", "70 F", "226 psig", "109 F")
    shown_bands = {turn.worked.name: turn.band for turn in seen.turns if isinstance(turn, NumberShown)}
    assert shown_bands["superheat"] is None


@pytest.mark.parametrize(
    ("low", "high", "value", "right"),
    [
        (5.0, 25.0, 1.0, {LOW}),
        (5.0, 25.0, 15.0, {IN_RANGE}),
        (5.0, 25.0, 40.0, {HIGH}),
        (5.0, 25.0, 6.0, {LOW, IN_RANGE}),
        (5.0, 25.0, 24.0, {IN_RANGE, HIGH}),
        (None, 25.0, 15.0, {LOW, IN_RANGE}),
        (5.0, None, 15.0, {IN_RANGE, HIGH}),
        (None, 25.0, 40.0, {HIGH}),
    ],
)
def test_where_limits_or_doubt_leave_it_open_more_than_one_word_is_right(
    low: float | None, high: float | None, value: float, right: set[str]
) -> None:
    """A value 1 K from a limit with 2 K of doubt is either; without a lower limit nothing can be called low."""
    assert Band(low, high).fitting(doubt.within(value, 3.0**0.5, "made up")) == right
