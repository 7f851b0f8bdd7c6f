"""How a problem is shown."""

import json
import unicodedata

from hypothesis import given
from hypothesis import strategies as st

from assistant.source.nearest import nearest
from assistant.source.problem import Place, Problem, as_github, as_json, render, shorten, without_controls


def test_a_problem_shows_the_line_a_caret_and_what_to_write() -> None:
    """Path, line, column, message and code on one line; below, the source line, carets and the hint."""
    problem = Problem("kind-no-unit", Place("t.yaml", 2, 7, 9), "12 has no unit", "write: 12 F")
    assert render(problem, "a: b\nwhen: 12\n") == (
        "t.yaml:2:7: 12 has no unit [kind-no-unit]\n"
        "    2 | when: 12\n"
        "      |       ^^\n"
        "      = write: 12 F"
    )  # fmt: skip


def test_without_its_text_a_problem_is_one_line_and_a_hint() -> None:
    """A file as a whole has no line to show."""
    assert render(Problem("file-missing", Place("t.yaml"), "there is no such file"), None) == (
        "t.yaml: there is no such file [file-missing]"
    )


def test_a_long_line_is_shown_around_the_mistake() -> None:
    """Carets stay under the mistake when a line is cut."""
    line = "x" * 300 + "WRONG" + "y" * 300
    shown = render(Problem("c", Place("t", 1, 301, 306), "m"), line).split("\n")
    assert all(len(text) <= 110 for text in shown)
    start = shown[2].index("^")
    assert shown[1][start : start + 5] == "WRONG"


def test_wide_characters_move_the_caret() -> None:
    """A character that takes two columns on a terminal moves the caret by two."""
    shown = render(Problem("c", Place("t", 1, 3, 4), "m"), "漢字x").split("\n")
    assert shown[2].index("^") - shown[1].index("漢") == 4


def test_problems_sort_by_place() -> None:
    """Problems come in order of file, line and column, with and without a hint."""
    first = Problem("b", Place("a", 1, 5), "m")
    second = Problem("a", Place("a", 2, 1), "m")
    third = Problem("a", Place("a", 2, 1), "m", "hint")
    fourth = Problem("a", Place("b", 1, 1), "m")
    assert sorted([fourth, third, second, first]) == [first, second, third, fourth]


def test_json_holds_everything() -> None:
    """A problem for a machine has the same parts."""
    problem = Problem("c", Place("t", 1, 2, 3), "m")
    assert json.loads(json.dumps(as_json(problem))) == {
        "code": "c", "path": "t", "line": 1, "column": 2, "end_column": 3, "message": "m", "hint": None,
    }  # fmt: skip


@given(st.text(max_size=80), st.text(max_size=80), st.integers(1, 90), st.integers(1, 90))
def test_nothing_shown_can_steer_a_terminal(message: str, line: str, column: int, end: int) -> None:
    """Whatever a file or name holds, a shown problem has no control characters but its own line ends."""
    problem = Problem("c", Place(line, 1, column, end), message, message)
    shown = render(problem, line)
    assert all(unicodedata.category(char) not in ("Cc", "Cf", "Cs") for char in shown.replace("\n", ""))
    assert without_controls(shorten(message)) == shorten(message)


def test_the_nearest_name_comes_first() -> None:
    """A slip, another case, a hyphen or a space finds the name that was meant; nonsense finds none."""
    known = ["suction_pressure", "liquid_pressure", "superheat", "subcooling"]
    assert nearest("suction_presure", known)[0] == "suction_pressure"
    assert nearest("Super-Heat", known)[0] == "superheat"
    assert nearest("liquid pressure", known) == ("liquid_pressure",)
    assert nearest("zzz", known) == ()
    assert nearest("", known) == ()
    assert nearest("x" * 100_000, known) == ()


def test_a_workflow_is_told_file_line_and_columns() -> None:
    """The command that marks a line escapes what would end it or part its properties.

    Source: the workflow commands documented for GitHub Actions; from memory.
    """
    problem = Problem("c", Place("a,b:c.yaml", 3, 5, 9), "100 % wrong\nhere", "write: x")
    assert as_github(problem) == (
        "::error file=a%2Cb%3Ac.yaml,line=3,col=5,endColumn=9::100 %25 wrong here (write: x) [c]"
    )
    assert as_github(Problem("c", Place("t.yaml"), "m"), "notice") == "::notice file=t.yaml::m [c]"
