"""What changed in lines, word by word."""

from hypothesis import given
from hypothesis import strategies as st

from assistant.author.words_changed import lines_changed


def test_changed_words_stand_where_they_were() -> None:
    """The rest of the line is there to tell where."""
    assert list(lines_changed(["- when: superheat > 12 F"], ["- when: superheat > 15 F"])) == [
        "~ - when: superheat > [-12-]{+15+} F"
    ]


def test_neighbouring_changes_are_one() -> None:
    """Two words with only a space between them are not taken apart."""
    old = ["say: Liquid cannot be hotter than its bubble temperature"]
    new = ["say: Liquid is never hotter than its bubble temperature"]
    assert list(lines_changed(old, new)) == [
        "~ say: Liquid [-cannot be-]{+is never+} hotter than its bubble temperature"
    ]


def test_signs_do_not_run_into_the_marks() -> None:
    """A minus that became a plus can be read."""
    assert list(lines_changed(["a - b"], ["a + b"])) == ["~ a [- - -]{+ + +} b"]


def test_lines_that_came_and_went() -> None:
    """What has no counterpart stands as a whole line."""
    assert list(lines_changed(["a: 1", "b: 2"], ["a: 1"])) == ["- b: 2"]
    assert list(lines_changed(["a: 1"], ["a: 1", "b: 2"])) == ["+ b: 2"]


def test_a_long_line_is_cut_to_what_is_near_the_change() -> None:
    """A paragraph on one line shows the words around the change."""
    words = [f"word{number}" for number in range(60)]
    (line,) = lines_changed([" ".join(words)], [" ".join((*words[:30], "other", *words[31:]))])
    assert "[-word30-]{+other+}" in line
    assert "word29" in line
    assert "word1 " not in line
    assert len(line) < 130


@given(st.lists(st.text(max_size=20), max_size=6), st.lists(st.text(max_size=20), max_size=6))
def test_any_lines_can_be_compared(old: list[str], new: list[str]) -> None:
    """Equal lines give nothing, and whatever differs in more than blanks gives something."""
    assert list(lines_changed(old, old)) == []
    if [line for line in old if line.strip()] != [line for line in new if line.strip()]:
        assert list(lines_changed(old, new))
