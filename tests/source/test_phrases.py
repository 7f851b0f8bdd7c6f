"""Words that ask for a guard, found as a person would find them."""

import pytest

from assistant.source.phrases import find_phrases, find_unguarded, guards


def words(text: str, *phrases: str) -> list[str]:
    """What is found of some phrases."""
    return [found.words for found in find_phrases(text, phrases)]


@pytest.mark.parametrize(
    ("phrase", "text", "found"),
    [
        ("recover*", "Recover what is left.", ["Recover"]),
        ("recover*", "It was recovered; recovery takes an hour.", ["recovered", "recovery"]),
        ("flame*", "inflamed", []),
        ("pit", "spit, pitted", []),
        ("cut* ... drier", "Cut the old liquid line drier out.", ["Cut the old liquid line drier"]),
        ("cut* ... drier", "Cut the pipe at both ends of the drier.", []),
        ("cut* ...... drier", "Cut the pipe at both ends of the drier.", ["Cut the pipe at both ends of the drier"]),
        ("cut* ... drier", "Cut the power. Look at the drier.", []),
        ("open*/remove* the panel*", "Remove the panels, open the panel.", ["Remove the panels", "open the panel"]),
        ("weigh* in", "weigh\nin the charge", ["weigh\nin"]),
        ("bulb is/was warmed", "when the bulb is warmed", ["bulb is warmed"]),
    ],
)  # fmt: skip
def test_phrases_are_whole_words_with_endings_and_gaps(phrase: str, text: str, found: list[str]) -> None:
    """A star is any ending, dots are words between of the same sentence, and nothing begins inside a word."""
    assert words(text, phrase) == found


@pytest.mark.parametrize(
    "text",
    [
        "Do not recover yet.",
        "Never recover it here.",
        "Stop, without having to recover.",
        "Don't recover.",
        "There is no need to recover.",
    ],
)
def test_what_is_forbidden_is_not_asked_for(text: str) -> None:
    """Behind a word that forbids it, a phrase does not count."""
    assert words(text, "recover*") == []


@pytest.mark.parametrize(
    "text", ["Do not wait: recover it.", "No leak was found; recover.", "It does not hold. Recover it.",
             "Not one of us who stood there that day had anything to recover."],
)  # fmt: skip
def test_a_word_that_forbids_something_else_does_not_count(text: str) -> None:
    """What is forbidden in another sentence, or far away, leaves the phrase as it stands."""
    assert words(text, "recover*") == ["recover" if "recover" in text else "Recover"]


def test_any_guard_of_a_phrase_will_do() -> None:
    """A phrase of two guards asks for one of them; what a guard answers for is not asked for again."""
    kept_by = guards({"opening": ("recover*", "cut* ... drier"), "venting": ("recover*",)})
    text = "Recover the charge, then cut out the drier."
    assert list(find_unguarded(text, kept_by, frozenset())) == [
        ("Recover", frozenset({"opening", "venting"})),
        ("cut out the drier", frozenset({"opening"})),
    ]
    assert list(find_unguarded(text, kept_by, frozenset({"venting"}))) == [
        ("cut out the drier", frozenset({"opening"}))
    ]
    assert list(find_unguarded(text, kept_by, frozenset({"opening"}))) == []


def test_without_phrases_nothing_is_found() -> None:
    """A catalogue without words asks for nothing."""
    assert list(find_unguarded("Recover it.", {}, frozenset())) == []
