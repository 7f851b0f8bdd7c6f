"""`coilside trees draw`: its forms, the tree by name or path, marks, and every slip with an answer."""

from pathlib import Path

import pytest

from tests.author.conftest import folder_of_small
from tests.author.drawings import HOSTILE, INNER, USING
from tests.cli.running import Run


@pytest.fixture
def small(tmp_path: Path) -> Path:
    """The file of a small tree with three example calls."""
    return folder_of_small(tmp_path / "trees") / "small.yaml"


def test_a_tree_is_drawn_by_name_or_by_path(run: Run, small: Path) -> None:
    """A name is looked up in the folder of trees; a path is taken as it is."""
    by_path = run("trees", "draw", small)
    by_name = run("trees", "draw", "small", "--trees", small.parent)
    assert (by_path.code, by_path.err) == (0, "")
    assert by_path.out == by_name.out
    assert by_path.out.startswith("Small (small, version 1)\n")
    assert run("trees", "draw", "poor_cooling").out.startswith("Runs, but cools poorly (poor_cooling, version ")


def test_each_form_goes_to_the_screen_or_to_a_file(run: Run, small: Path, tmp_path: Path) -> None:
    """What a file holds is what the screen would show; the screen then only tells the file's name."""
    for form, begins in (("outline", "Small ("), ("html", "<!doctype html>"), ("mermaid", "%% Small (")):
        shown = run("trees", "draw", small, "--to", form)
        assert shown.out.startswith(begins)
        file = tmp_path / f"drawn.{form}"
        ran = run("trees", "draw", small, "--to", form, "--output", file)
        assert (ran.code, ran.out, ran.err) == (0, "", f"drawn to {file}\n")
        assert file.read_text(encoding="utf-8") == shown.out


def test_a_pipe_gets_no_colour(run: Run, small: Path) -> None:
    """Off a terminal there is no control sequence, and no line beyond 80 columns."""
    out = run("trees", "draw", small, "--call", "1", "--coverage").out
    assert "\x1b" not in out
    assert max(map(len, out.splitlines())) <= 80


def test_a_call_is_marked_by_number_or_name(run: Run, small: Path) -> None:
    """Calls are numbered as they stand in the file."""
    by_number = run("trees", "draw", small, "--call", "2")
    assert by_number.out == run("trees", "draw", small, "--call", "well fed").out
    assert ">> 1. air  step 1" in by_number.out
    assert ">> otherwise -> all_well (6)  step 2" in by_number.out


def test_coverage_is_shown(run: Run, small: Path) -> None:
    """Each way carries how many calls take it, none with a sign of its own."""
    out = run("trees", "draw", small, "--coverage").out
    assert "filter_condition is clogged -> choked (2)  [1]" in out
    assert "otherwise -> feed (3)  [2]" in out
    assert "cannot tell -> feed (3)  [0 !!]" in out


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("smal",), "There is no tree called 'smal'. Did you mean small?"),
        (("nowhere/small.yaml",), "There is no file nowhere/small.yaml."),
        (("small", "--call", "well fd"), "There is no example call called 'well fd'. Did you mean well fed?"),
        (("small", "--call", "4"), "There are 3 example calls, numbered from 1; there is no number 4."),
        (("small", "--call", "0"), "there is no number 0."),
        (("small", "--output", "no/such/folder/x.html"), "could not be written: No such file or directory."),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, tuple) else None,
)
def test_a_slip_is_answered(run: Run, small: Path, arguments: tuple[str, ...], said: str) -> None:
    """What is not there is told in a sentence, with the nearest names."""
    ran = run("trees", "draw", *arguments, "--trees", small.parent)
    assert (ran.code, ran.out) == (1, "")
    assert said in ran.err


def test_a_tree_with_mistakes_is_drawn_as_far_as_it_can_be_read(run: Run, tmp_path: Path) -> None:
    """A name that leads nowhere is drawn as missing; no call is marked in such a tree."""
    file = folder_of_small(tmp_path / "trees") / "small.yaml"
    file.write_text(HOSTILE.replace("tree: hostile", "tree: small"), encoding="utf-8")
    ran = run("trees", "draw", file)
    assert ran.code == 0
    assert "nowhere  MISSING" in ran.out
    marked = run("trees", "draw", file, "--call", "1")
    assert (marked.code, marked.out) == (1, "")
    assert "No call can be walked before" in marked.err
    file.write_text("tree: [", encoding="utf-8")
    unread = run("trees", "draw", file)
    assert (unread.code, unread.out) == (1, "")
    assert "[yaml-bracket]" in unread.err


def test_without_example_calls_there_is_nothing_to_mark(run: Run, small: Path) -> None:
    """That there are none is told, and nothing is drawn as if no call took any way."""
    small.with_name("small.calls.yaml").unlink()
    ran = run("trees", "draw", small, "--coverage")
    assert (ran.code, ran.out) == (1, "")
    assert "There are no example calls beside" in ran.err


def test_a_used_tree_is_one_node_or_all_of_its_nodes(run: Run, tmp_path: Path) -> None:
    """--inside draws the nodes of used trees under the node that uses them; one that is missing is told."""
    (tmp_path / "using.yaml").write_text(USING, encoding="utf-8")
    assert "cannot be read" in run("trees", "draw", tmp_path / "using.yaml", "--inside").err
    (tmp_path / "inner.yaml").write_text(INNER, encoding="utf-8")
    outside = run("trees", "draw", tmp_path / "using.yaml").out
    assert "1. bench  USES  The inner tree" in outside
    assert "bench/look" not in outside
    assert ". bench/look\n" in run("trees", "draw", tmp_path / "using.yaml", "--inside").out
