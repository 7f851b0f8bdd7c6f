"""Broken trees, one mistake in each: the file beside it holds exactly what its author is told."""

from pathlib import Path

import pytest

from assistant.source.problem import Problem, render_all
from assistant.source.text import read_text
from assistant.tree.check import check_file

from .words import WORDS

FOLDER = Path(__file__).parent.parent / "bad_trees"
BROKEN = sorted(FOLDER.glob("*.yaml"))


def told(path: Path, problems: list[Problem]) -> str:
    """What an author is told about a file, with the file's bare name."""
    text = path.read_bytes().decode()
    return render_all(problems, {str(path): text}).replace(str(path), path.name) + "\n"


@pytest.mark.parametrize("path", BROKEN, ids=lambda path: path.stem)
def test_author_is_told(path: Path) -> None:
    """One mistake gives one problem, although two passes look for it, in exactly the words that are kept beside it."""
    problems = check_file(path, WORDS)
    assert told(path, problems) == path.with_suffix(".out").read_text(encoding="utf-8")
    assert len(problems) == (10 if path.stem == "ten_mistakes" else 1)


def test_all_mistakes_come_at_once() -> None:
    """A tree with ten independent mistakes gives ten problems in the order of the file."""
    problems = check_file(FOLDER / "ten_mistakes.yaml", WORDS)
    assert len(problems) == 10
    lines = [problem.place.line for problem in problems]
    assert lines == sorted(lines)


def test_every_place_is_inside_its_file() -> None:
    """Every problem of a broken tree points at text that is there, or at the file as a whole."""
    for path in BROKEN:
        text, _ = read_text(path)
        lines = (text or path.read_bytes().decode()).split("\n")
        for problem in check_file(path, WORDS):
            place = problem.place
            assert place.line == 0 or place.column <= len(lines[place.line - 1]) + 1, path.name
