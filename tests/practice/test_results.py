"""The file of results: whole lines under its own columns, nothing in it that a spreadsheet would work."""

import csv
import io
from pathlib import Path

import pytest

from assistant.practice.session.practice_results import COLUMNS, FILE_NAME, add_results, read_results


def row(call: int, **values: str) -> dict[str, str]:
    """A result with some values of its own."""
    return {**dict.fromkeys(COLUMNS, "x"), "call": str(call), **values}


def calls(folder: Path) -> list[str]:
    """The calls whose results are read."""
    return [one["call"] for one in read_results(folder)]


def test_half_a_line_is_not_glued_to_the_next(tmp_path: Path) -> None:
    """A full disk left half a line: the next result has a line of its own, and the half one is gone."""
    add_results(tmp_path, [row(1), row(2)])
    file = tmp_path / FILE_NAME
    file.write_text(file.read_text()[:-20])
    assert calls(tmp_path) == ["1"]
    add_results(tmp_path, [row(3)])
    assert calls(tmp_path) == ["1", "3"]
    assert file.stat().st_mode & 0o777 == 0o600


@pytest.mark.parametrize("content", ["a,b\n1,2\n", "a,b\n", "no table", "\xff\xfe"])
def test_rows_do_not_go_under_other_columns(tmp_path: Path, content: str) -> None:
    """Another file in its place is kept under another name."""
    (tmp_path / FILE_NAME).write_text(content, encoding="latin-1")
    add_results(tmp_path, [row(1)])
    assert calls(tmp_path) == ["1"]
    (other,) = tmp_path.glob("practice_results-other-*.csv")
    assert other.read_text(encoding="latin-1") == content


@pytest.mark.parametrize("value", ["=1+1", "+1", "-1", "@x", "a;=1+1", "a;+1", "\t=1"])
def test_no_cell_is_a_formula(tmp_path: Path, value: str) -> None:
    """Neither where commas part the cells nor where semicolons do; written again it stays as it is."""
    add_results(tmp_path, [row(1, trainee=value)])
    add_results(tmp_path, [])
    text = (tmp_path / FILE_NAME).read_text(encoding="utf-8")
    for mark in ",;":
        cells = [cell for line in csv.reader(io.StringIO(text), delimiter=mark) for cell in line]
        assert not [cell for cell in cells if cell[:1] in tuple("=+-@\t")]
    assert calls(tmp_path) == ["1"]
