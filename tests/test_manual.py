"""What README and the authors' manual say is true: trees pass, commands run, outputs and excerpts are real."""

import re
from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest

from assistant.catalogue.keys import FILES
from assistant.cli.main import cli
from assistant.cli.trees import trees
from assistant.quantity import Kind, unit_names
from assistant.tree import keys
from tests.manual import Block, Reader, blocks

ROOT = Path(__file__).parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
MANUAL = (ROOT / "trees" / "README.md").read_text(encoding="utf-8")
BLOCKS = blocks(MANUAL)

EXCERPTS = re.findall(r"<!-- from (\S+) -->\n```text\n(.*?)```", README, re.DOTALL)


@pytest.fixture(scope="module")
def faults(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Mapping[int, list[str]]]:
    """What is not as the manual says, by the line of the block, after all of it was worked through in order."""
    folder = tmp_path_factory.mktemp("manual")
    with pytest.MonkeyPatch.context() as patch:
        for name in ("COILSIDE_TREES", "COILSIDE_SHOP", "COILSIDE_UNITS"):
            patch.delenv(name, raising=False)
        patch.setenv("COILSIDE_HOME", str(folder / "home"))
        reader = Reader(folder)
        yield {block.line: list(reader.do(block)) for block in BLOCKS}


@pytest.mark.parametrize("block", BLOCKS, ids=lambda block: f"line {block.line}")
def test_the_manual_works_as_it_stands(faults: Mapping[int, list[str]], block: Block) -> None:
    """Every tree, piece, command, edit and output of the authors' manual is as a reader will find it."""
    assert "\n".join(faults[block.line]) == ""


def test_every_fence_of_the_manual_is_a_block() -> None:
    """No block escapes the tests by the way it is written."""
    assert MANUAL.count("```") == 2 * len(BLOCKS)
    assert len(BLOCKS) > 40


def test_every_command_of_the_bench_is_in_the_manual() -> None:
    """What an author may type is in the table of the bench, and run somewhere in the manual."""
    run = "".join(block.text for block in BLOCKS if any(order.startswith("run") for order in block.orders))
    for name in trees.commands:
        assert f"| `coilside trees {name}" in MANUAL
        assert f"coilside trees {name}" in run


def test_every_key_is_in_the_manual() -> None:
    """A key of a step, a branch, an end, a call or an entry of the catalogue is explained somewhere."""
    told = set(re.findall(r"`([a-z_]+)`", MANUAL)) | set(re.findall(r"^[ -]*([a-z_]+):", MANUAL, re.MULTILINE))
    tables = [keys.TREE, keys.STEP, keys.CALL, *keys.NODE.cases.values(), *keys.BRANCH.cases.values(), *FILES.values()]
    known = {key for table in tables for key in table.keys}
    assert known - told == set()


def test_the_units_of_the_manual_are_those_of_the_program() -> None:
    """A kind in the table of units has just the units that a condition may be written in."""
    rows = dict(re.findall(r"^\| ([a-z ]+) \| (`.*`) \|$", MANUAL, re.MULTILINE))
    assert len(rows) >= 10
    for kind, units in rows.items():
        assert re.findall(r"`(.*?)`", units) == list(unit_names(Kind(kind.replace(" ", "_"))))


def test_the_links_of_the_manual_lead_somewhere() -> None:
    """Each heading and file that the page points to is there."""
    headings = {
        re.sub(r"[^a-z0-9 -]", "", line.lower()).replace(" ", "-") for line in re.findall(r"^#+ (.*)$", MANUAL, re.M)
    }
    for target in re.findall(r"\]\(([^)]+)\)", MANUAL):
        assert target[1:] in headings if target.startswith("#") else (ROOT / "trees" / target).exists(), target


@pytest.mark.parametrize(("file", "text"), EXCERPTS)
def test_excerpts_stand_in_their_file(file: str, text: str) -> None:
    """A conversation that the README shows is one that the program has."""
    assert text.strip() in (ROOT / file).read_text(encoding="utf-8")


def test_there_are_examples_to_test() -> None:
    """The pattern of the excerpts finds something."""
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
