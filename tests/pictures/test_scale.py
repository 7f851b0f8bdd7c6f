"""Doubt against limit."""

import pytest

from assistant import doubt
from assistant.doubt import Uncertain
from assistant.pictures.scale import Scale, scale_of, scale_words, scales_of
from assistant.pictures.scale_text import small_scale


def scale(left: Uncertain, right: Uncertain, text: str = "superheat > limit") -> Scale:
    return scale_of(text, ("superheat",), (left, "left"), (right, "right"), left - right)


@pytest.mark.parametrize(
    ("value", "verdict"),
    [(20.0, "surely above"), (12.0, "close: reads above, 88% likely so"), (10.0, "close: reads below, 50% likely so"),
     (5.0, "surely below")],
)  # fmt: skip
def test_the_verdict_follows_the_interval(value: float, verdict: str) -> None:
    """Within ± 3 there is a standard uncertainty of 3/√3; 2 over it is 1.155 of them, so 87.6 %.

    Source: JCGM 100:2008, 4.3.7; table of the normal distribution, 0.876 at 1.155.
    """
    assert scale(doubt.within(value, 3.0), 10.0).verdict == verdict


def test_a_value_without_doubt_is_sure() -> None:
    """On the limit it is exactly there."""
    assert scale(12.0, 10.0).verdict == "surely above"
    assert scale(10.0, 10.0).verdict == "exactly at the limit"


def test_the_side_without_doubt_is_the_limit() -> None:
    """An author may write the limit first."""
    turned = scale(10.0, doubt.within(14.0, 1.0))
    assert turned.measured.value == 14.0
    assert turned.limit.value == 10.0
    assert turned.verdict == "surely above"


def test_what_the_sides_share_makes_the_verdict_surer() -> None:
    """Two temperatures from one thermometer: their intervals overlap, their difference has no doubt."""
    common = doubt.within(50.0, 2.0)
    shown = scale(common + 1.0, common)
    assert shown.measured.ends[0] < shown.limit.ends[1]
    assert shown.verdict == "surely above"


def test_the_span_holds_both_intervals() -> None:
    """Nothing of a scale lies outside it."""
    shown = scale(doubt.within(14.0, 2.0), doubt.within(30.0, 5.0))
    low, high = shown.span
    assert low < min(shown.measured.ends)
    assert high > max(shown.limit.ends)


def test_the_closest_comes_first_and_each_once() -> None:
    """What a measurement can hardly decide is what a reader looks for."""
    far, near = scale(doubt.within(30.0, 1.0), 10.0, "far"), scale(doubt.within(10.5, 1.0), 10.0, "near")
    assert [found.text for found in scales_of((far, near, far)).scales] == ["near", "far"]


def test_the_small_scale_fits_the_narrow_transcript() -> None:
    """Its drawn lines take 40 columns at most; the limit stands in both."""
    text, upper, lower, words = small_scale(scale(doubt.within(14.0, 2.0), 20.0))
    assert text == "superheat > limit?"
    assert len(upper) <= 40
    assert len(lower) <= 40
    assert upper.index("│") == lower.index("│")
    assert upper.index("┣") < upper.index("●") < upper.index("┫") < upper.index("│")
    assert words == "  left against right: surely below."


def test_a_scale_in_words() -> None:
    """For a screen reader and for the line mode."""
    assert scale_words(scale(doubt.within(14.0, 2.0), 20.0)) == "superheat > limit? left against right: surely below."
