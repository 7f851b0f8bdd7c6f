"""A sort of entries may be spread over several files."""

from pathlib import Path

from assistant.catalogue.loading import load_catalogue

LIMIT = """\
{name}:
  value: {value}
  kind: temperature_difference
  what: for a test
  source: invented for this test
"""


def written(folder: Path, file: str, *limits: tuple[str, str]) -> None:
    """A file of limits."""
    path = folder / file
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text("".join(LIMIT.format(name=name, value=value) for name, value in limits), encoding="utf-8")


def test_a_folder_goes_on_where_the_file_ends(tmp_path: Path) -> None:
    """`limits.yaml` comes first, then the files of `limits/` by name."""
    written(tmp_path, "limits/b.yaml", ("third", "3 F"))
    written(tmp_path, "limits/a.yaml", ("second", "2 F"))
    written(tmp_path, "limits.yaml", ("first", "1 F"))
    catalogue, problems = load_catalogue(tmp_path)
    assert problems == []
    assert list(catalogue.limits) == ["first", "second", "third"]


def test_a_name_in_two_files_is_told_where_it_comes_again(tmp_path: Path) -> None:
    """The first stands; the problem is at the second."""
    written(tmp_path, "limits.yaml", ("bound", "1 F"))
    written(tmp_path, "limits/more.yaml", ("bound", "2 F"))
    catalogue, problems = load_catalogue(tmp_path)
    assert [(problem.code, Path(problem.place.path).name) for problem in problems] == [("name-repeat", "more.yaml")]
    assert catalogue.limits["bound"].quantity.text() == "1 F"
