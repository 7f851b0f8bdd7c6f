"""The table of codes: complete, true to its page, and every example gives just what it says."""

import re
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from assistant.catalogue.catalogue import Catalogue
from assistant.cli.checking import check_path
from assistant.source.nodes import MOST_NODES
from assistant.source.shipped import shipped_folder
from assistant.source.text import MOST_BYTES
from assistant.tree.check import Review
from assistant.tree.codes import EXPLANATIONS
from assistant.tree.codes.explanation import HEAD, OTHER, OTHER_NAME, Explanation, whole
from assistant.tree.manual import PAGE, manual, page

ROOT = Path(__file__).parents[2]
CODE = re.compile(r'"((?:file|yaml|shape|name|unit|kind|condition|tree|call|catalogue|note)-[a-z][a-z-]*)"')
TREES = ("file", "nodes", "first", "condition")
CALLED = whole("first", """\
decide:
  - when: filter_condition is clogged
    go: choked
  - cannot_tell: open_end
  - otherwise: open_end
""")  # fmt: skip
GOOD = HEAD + "  first:\n    no_fault: Nothing wrong was found.\n"


def used_codes() -> set[str]:
    """The codes that the sources speak of."""
    folders = [ROOT / "assistant" / name for name in ("source", "tree", "catalogue")]
    files = [file for folder in folders for file in folder.rglob("*.py") if file.parent.name != "codes"]
    return {code for file in files for code in CODE.findall(file.read_text(encoding="utf-8"))}


def test_every_code_is_explained_and_no_other() -> None:
    """What the sources can report is in the table, and the table holds nothing that is never reported."""
    assert set(EXPLANATIONS) == used_codes()


def test_the_page_is_that_of_the_table() -> None:
    """The page of the manual is what the program writes: `python -m assistant.tree.manual`."""
    assert (ROOT / "trees" / PAGE).read_text(encoding="utf-8") == manual()


def test_every_page_says_what_and_why() -> None:
    """A page has a title and a reason, and fits a terminal of 80 columns, long examples apart."""
    for code, explanation in EXPLANATIONS.items():
        assert explanation.title[0].isupper(), code
        assert not explanation.title.endswith("."), code
        assert explanation.why.endswith("."), code
        lines = page(explanation).split("\n")
        assert all(len(line) <= 80 for line in lines if not line.startswith("    ")), code


def review(folder: Path, explanation: Explanation, text: str) -> Review:
    """What is told about a folder that holds an example."""
    tree = folder / "example.yaml"
    (folder / f"{OTHER_NAME}.yaml").write_text(OTHER, encoding="utf-8")
    if explanation.part in TREES:
        tree.write_text(whole(explanation.part, text), encoding="utf-8")
        return check_path(tree)
    if explanation.part == "calls":
        tree.write_text(CALLED, encoding="utf-8")
        (folder / "example.calls.yaml").write_text(text, encoding="utf-8")
    else:
        tree.write_text(GOOD, encoding="utf-8")
        shutil.copytree(shipped_folder("trees") / "catalogue", folder / "catalogue")
        with (folder / "catalogue" / f"{explanation.part}.yaml").open("a", encoding="utf-8") as file:
            file.write("\n" + text)
    return check_path(folder)


SHOWN = [item for item in EXPLANATIONS.values() if item.part != "none"]


@pytest.mark.parametrize("explanation", SHOWN, ids=lambda item: item.code)
def test_the_wrong_example_gives_its_code(tmp_path: Path, explanation: Explanation) -> None:
    """What is shown as wrong gives this code, and no other."""
    found = review(tmp_path, explanation, explanation.bad)
    told = found.notes if explanation.code.startswith("note-") else found.problems
    assert {problem.code for problem in told} == {explanation.code}, told
    assert not (found.problems and found.notes)


@pytest.mark.parametrize("explanation", [item for item in SHOWN if item.good], ids=lambda item: item.code)
def test_the_right_example_gives_nothing(tmp_path: Path, explanation: Explanation) -> None:
    """What is shown as right gives neither a problem nor a note."""
    found = review(tmp_path, explanation, explanation.good)
    assert (found.problems, found.notes) == ([], [])


def latin(folder: Path) -> Path:
    file = folder / "example.yaml"
    file.write_bytes("tree: example\n# 20 °C\n".encode("latin-1"))
    return file


def written(text: str) -> Callable[[Path], Path]:
    def make(folder: Path) -> Path:
        file = folder / "example.yaml"
        file.write_text(text, encoding="utf-8")
        return file

    return make


def other_ending(folder: Path) -> Path:
    written(GOOD)(folder)
    (folder / "other.yml").write_text(GOOD, encoding="utf-8")
    return folder


def lonely_calls(folder: Path) -> Path:
    (folder / "other.calls.yaml").write_text("calls:\n  - {name: a, reaches: undecided}\n", encoding="utf-8")
    return folder


def doubling(folder: Path) -> Path:
    for depth in range(14):
        other = f"use: t{depth - 1}" if depth else "no_fault: Nothing wrong was found."
        nodes = f"  first:\n    {other}\n" + (f"    when_no_fault: second\n  second:\n    {other}\n" if depth else "")
        (folder / f"t{depth}.yaml").write_text(HEAD.replace("example", f"t{depth}", 1) + nodes, encoding="utf-8")
    return folder / "t13.yaml"


def heating_used(folder: Path) -> Path:
    modes = {"example": "mode: cooling", "other": "mode: heating"}
    for name, nodes in (("other", "  first:\n    no_fault: Fine.\n"), ("example", "  first:\n    use: other\n")):
        head = HEAD.replace("tree: example", f"tree: {name}\n{modes[name]}")
        (folder / f"{name}.yaml").write_text(head + nodes, encoding="utf-8")
    return folder / "example.yaml"


# What cannot be shown on a page: how a file comes to give such a code.
MADE: dict[str, Callable[[Path], Path]] = {
    "file-encoding": latin,
    "file-ending": other_ending,
    "file-large": written("# " + "x" * MOST_BYTES),
    "yaml-control": written("tree: example\x07\n"),
    "yaml-large": written("[" + "a," * MOST_NODES + "a]"),
    "yaml-many": written("\n".join(f"- &mark{n} a" for n in range(300))),
    "call-no-tree": lonely_calls,
    "tree-use-large": doubling,
    "tree-use-mode": heating_used,
}
# Only a folder, a device, or a file that vanishes or is locked gives these: the tests of reading files hold them.
READ_ALONE = {"file-folder", "file-special", "file-missing", "file-unreadable"}
# No text is known that the parser refuses in words of which none is foreseen, or over which reader and schema differ.
NEVER_SEEN = {"yaml-syntax", "shape-schema"}
# A shop's folder over another gives these: its own tests hold them.
LAID_OVER = {"catalogue-layer", "note-replaced"}


@pytest.mark.parametrize("code", MADE)
def test_what_cannot_be_shown_is_still_told(tmp_path: Path, code: str) -> None:
    """Files that no page can show give the code that is said of them."""
    found = check_path(MADE[code](tmp_path))
    assert code in {problem.code for problem in found.problems}


def test_unused_entries_are_noted_when_asked_for(tmp_path: Path, catalogue: Catalogue) -> None:
    """Observations, limits and causes that no tree of the folder uses are noted with --unused, and only then."""
    shutil.copytree(shipped_folder("trees") / "catalogue", tmp_path / "catalogue")
    (tmp_path / "example.yaml").write_text(GOOD, encoding="utf-8")
    assert check_path(tmp_path).notes == []
    notes = check_path(tmp_path, with_unused=True).notes
    assert {note.code for note in notes} == {"note-unused"}
    assert len(notes) == len(catalogue.observations) + len(catalogue.limits) + len(catalogue.causes)


def test_every_code_has_an_example() -> None:
    """What has no example on its page is made by a test."""
    hidden = {item.code for item in EXPLANATIONS.values() if item.part == "none"}
    assert hidden == set(MADE) | READ_ALONE | NEVER_SEEN | LAID_OVER | {"note-unused"}
