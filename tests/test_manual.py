"""What README and DEVELOPERS say is true: their trees pass, their commands exist, their excerpts are real."""

import re
from pathlib import Path

import pytest

from assistant.catalogue.catalogue import Catalogue
from assistant.cli.main import cli
from assistant.tree.check import check_file

ROOT = Path(__file__).parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
MANUAL = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")

TREES = re.findall(r"<!-- tree: (\S+) -->\n```yaml\n(.*?)```", MANUAL, re.DOTALL)
EXCERPTS = re.findall(r"<!-- from (\S+) -->\n```text\n(.*?)```", README, re.DOTALL)


@pytest.mark.parametrize(("name", "text"), TREES, ids=[name for name, _ in TREES])
def test_trees_of_the_manual_pass_check(catalogue: Catalogue, tmp_path: Path, name: str, text: str) -> None:
    """A tree that the manual shows is one that an author may start from."""
    file = tmp_path / name
    file.write_text(text, encoding="utf-8")
    assert check_file(file, catalogue) == []


@pytest.mark.parametrize(("file", "text"), EXCERPTS)
def test_excerpts_stand_in_their_file(file: str, text: str) -> None:
    """A conversation that the README shows is one that the program has."""
    assert text.strip() in (ROOT / file).read_text(encoding="utf-8")


def test_there_are_examples_to_test() -> None:
    """The patterns above find something."""
    assert TREES
    assert len(EXCERPTS) >= 2


def test_every_command_is_in_the_readme() -> None:
    """A command that a user may type is in the table of commands."""
    for name in cli.list_commands(None):  # type: ignore[arg-type]
        assert f"`coilside {name}" in README


def test_the_readme_begins_with_the_job() -> None:
    """The first paragraph says what it is for, before anything else."""
    first = README.split("\n\n")[1]
    assert "service technician" in first
    assert "likely cause" in first
