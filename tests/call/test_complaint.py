"""Searching the trees by a complaint in the tech's own words."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.call.complaint import ComplaintIndex

SYNONYMS = {
    "no": ("no", "not", "won't"),
    "cool": ("cool", "cold", "cooling"),
    "ice": ("ice", "freeze", "frozen"),
    "suction_line": ("suction line", "big pipe"),
    "trip": ("trips", "cuts out"),
}
COMPLAINTS = {
    "cools_poorly": ("not cooling enough", "air is not cold"),
    "iced": ("ice on the suction line", "coil freezes"),
    "trips": ("trips on high pressure", "compressor cuts out"),
    "dead": ("outdoor unit will not start", "compressor hums"),
}


@pytest.fixture(scope="module")
def index(library):
    """Four trees that differ in their complaints alone."""
    tree = next(iter(library.trees.values()))
    trees = (replace(tree, name=name, title=name, complaints=said) for name, said in COMPLAINTS.items())
    return ComplaintIndex(tuple(trees), SYNONYMS)


@pytest.mark.parametrize(
    ("typed", "first", "words"),
    [
        ("It is not cold", "cools_poorly", ("not", "cold")),
        ("big pipe is frozen", "iced", ("big pipe", "frozen")),
        ("FREEZING UP!!", "iced", ("freezing",)),
        ("coil frezing", "iced", ("coil", "frezing")),
        ("cuts out on hi presure", "trips", ("cuts out", "presure")),
        ("compressor humming", "dead", ("compressor", "humming")),
    ],
)
def test_the_tree_that_fits_comes_first(index, typed, first, words):
    """Other words of the same meaning, endings and slips of typing are found, and what was matched is told."""
    found = index.matches(typed)
    assert (found[0].tree, found[0].words) == (first, words)
    assert found[0].phrase in COMPLAINTS[first] or found[0].phrase == first


@pytest.mark.parametrize(
    ("typed", "text"),
    [
        ("the coil freezes", 'matches "coil freezes"'),
        ("coil is cold and freezing and cuts out", 'matches "coil freezes"'),
        ("coil and big pipe frozen", "matches coil, big pipe, frozen"),
    ],
)
def test_what_was_matched_is_told(index, typed, text):
    """The complaint itself where it holds all that was found, else the words that were."""
    assert index.matches(typed)[0].text == text


def test_a_rare_word_counts_more_than_a_common_one(library):
    """A word that every tree knows tells nothing."""
    tree = next(iter(library.trees.values()))
    trees = tuple(
        replace(tree, name=name, title=name, complaints=(f"compressor {name}",)) for name in ("hot", "loud", "wet")
    )
    found = ComplaintIndex(trees, {}).matches("the compressor is wet")
    assert [match.tree for match in found][:1] == ["wet"]


@pytest.mark.parametrize(("typed", "trees"), [("compressor hums", ["dead"]), ("frezing", ["iced"])])
def test_what_fits_far_better_stands_alone(index, typed, trees):
    """Half of what the best tree has of the words is too little; a misspelt word alone is enough."""
    assert [match.tree for match in index.matches(typed)] == trees


STORY = ("zebra", "violin", "quartz", "marble", "falcon", "jigsaw", "wombat", "kumquat")


@pytest.mark.parametrize(("others", "is_offered"), [(0, True), (5, True), (8, False)])
def test_one_word_in_a_long_story_is_too_little(index, others, is_offered):
    """A word that fits is found among a few that are in no tree; lost among many, it tells nothing."""
    found = index.matches(" ".join(("humming", *STORY[:others])))
    assert [match.tree for match in found] == (["dead"] if is_offered else [])


@pytest.mark.parametrize("typed", ["qwertyuiop", "", "the is and", "!!! ???", "\N{SNOWMAN}"])
def test_what_says_nothing_matches_nothing(index, typed):
    """No tree is offered as a match for words that are in none."""
    assert index.matches(typed) == ()


@given(st.text(max_size=300))
@settings(max_examples=60)
def test_any_text_can_be_searched(index, typed):
    """Never an exception, never more than six, each with what was matched."""
    found = index.matches(typed)
    assert len(found) <= 6
    assert all(match.words and match.phrase for match in found)
    assert len({match.tree for match in found}) == len(found)
