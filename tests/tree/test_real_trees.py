"""The trees that come with the program."""

from pathlib import Path

from assistant.catalogue.loading import load_catalogue
from assistant.source.problem import render
from assistant.tree.check import check_folder

TREES = Path(__file__).parents[2] / "trees"


def test_the_shipped_trees_and_calls_have_no_mistakes() -> None:
    """Every tree and every example call that is shipped passes the checks that authors get."""
    catalogue, problems = load_catalogue(TREES / "catalogue")
    found = [*problems, *check_folder(TREES, catalogue)]
    assert [render(problem) for problem in found] == []
