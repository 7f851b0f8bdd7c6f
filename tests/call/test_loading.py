"""Loading the library of a call: layers of folders, what is left out, and what is only read when it is wanted."""

from pathlib import Path

import pytest

from assistant.call.library import Library
from assistant.call.loading import load_library
from assistant.call.walk import walk
from assistant.errors import FileError
from assistant.source.shipped import shipped_folder
from assistant.tree.model import Head
from assistant.tree.reader import read_head, read_tree
from tests.call.small import START

SHIPPED = shipped_folder("trees")
HEAD = "tree: {}\nversion: 1\ntitle: {}\ncomplaints: [{}]\nstart: first\nnodes:\n"
FINE = "  first:\n    no_fault: Nothing is wrong with the {}.\n"
USES = "  first:\n    use: {}\n"


def write(folder: Path, name: str, nodes: str = FINE, title: str = "Ours") -> Path:
    """A tree in a folder."""
    folder.mkdir(exist_ok=True)
    file = folder / f"{name}.yaml"
    file.write_text(HEAD.format(name, title, title) + nodes.format(name), encoding="utf-8")
    return file


def titles(library: Library) -> dict[str, str]:
    return {head.name: head.title for head in library.heads}


def test_a_shops_trees_add_and_replace(tmp_path: Path) -> None:
    """A new name adds a tree, the name of another replaces it; the rest stays, and what is replaced is told."""
    write(tmp_path / "base", "small", title="Small")
    write(tmp_path / "base", "other", title="Other")
    write(tmp_path / "shop", "small")
    write(tmp_path / "shop", "own")
    library, problems = load_library([tmp_path / "base", tmp_path / "shop"])
    assert problems == []
    assert titles(library) == {"other": "Other", "small": "Ours", "own": "Ours"}
    assert [(item.name, item.what) for item in library.replaced] == [("small", "tree")]


@pytest.mark.parametrize(
    ("nodes", "code"),
    [
        ("  first:\n    no_fault: [\n", "yaml-bracket"),
        ("  first:\n    say: Still to be written.\n", "shape-no-way-on"),
        ("  first:\n    go: nowhere\n", "name-unknown"),
        ("  first:\n    use: small\n", "tree-use-ring"),
        ("  first:\n    use: half\n", "name-unknown"),
    ],
)
def test_a_half_written_tree_of_a_shop_is_left_out(tmp_path: Path, nodes: str, code: str) -> None:
    """It is told, and the tree that it would replace stands and can be walked."""
    write(tmp_path / "base", "small", title="Small")
    write(tmp_path / "shop", "small", nodes)
    write(tmp_path / "shop", "half", "  first:\n    say: Still to be written.\n")
    library, problems = load_library([tmp_path / "base", tmp_path / "shop"])
    assert code in {problem.code for problem in problems}
    assert titles(library) == {"small": "Small"}
    assert library.replaced == ()
    assert walk(library, START).ended


def test_trees_use_each_other_over_the_layers(tmp_path: Path) -> None:
    """A shop's tree may use one of below, and one of below then uses the shop's where that has replaced another."""
    write(tmp_path / "base", "small", USES.format("part"), title="Small")
    write(tmp_path / "base", "part")
    write(tmp_path / "shop", "own", USES.format("small"))
    write(tmp_path / "shop", "part", "  first:\n    undecided: Ours says so.\n")
    library, problems = load_library([tmp_path / "base", tmp_path / "shop"])
    assert problems == []
    conversation = walk(library, START)
    assert conversation.outcome is not None
    assert conversation.outcome.kind == "undecided"
    assert set(library.tree("own").nodes) == {"first", "first/first", "first/first/first"}


def test_a_tree_that_uses_one_with_mistakes_is_left_out_too(tmp_path: Path) -> None:
    """It says which tree it is for want of; the others can be walked."""
    write(tmp_path, "broken", "  first:\n    go: nowhere\n")
    write(tmp_path, "user", USES.format("broken"))
    write(tmp_path, "small")
    library, problems = load_library(tmp_path)
    assert list(library.trees) == ["small"]
    assert any('"broken" has mistakes' in problem.message for problem in problems)


def test_a_tree_that_is_called_otherwise_than_its_file_is_left_out(tmp_path: Path) -> None:
    """Others would look for it in vain."""
    write(tmp_path, "small").rename(tmp_path / "large.yaml")
    library, problems = load_library(tmp_path)
    assert (dict(library.trees), [problem.code for problem in problems]) == ({}, ["tree-name"])


def test_only_the_tree_that_is_wanted_is_given(tmp_path: Path) -> None:
    """With a name, the library holds that tree alone, with those that it uses linked in."""
    write(tmp_path, "part")
    write(tmp_path, "small", USES.format("part"))
    library, problems = load_library(tmp_path, only="small")
    assert problems == []
    assert list(library.trees) == ["small"]
    assert "first/first" in library.tree("small").nodes


def test_heads_are_those_of_the_trees() -> None:
    """What is read of a file's beginning alone says the same as the whole tree."""
    for path in sorted(SHIPPED.glob("*.yaml")):
        if not path.name.endswith(".calls.yaml"):
            tree, _ = read_tree(path)
            assert tree is not None
            assert read_head(path) == tree.head


@pytest.mark.parametrize(
    "text",
    [
        "",
        "- a list\n",
        "title: No nodes\n",
        "tree: small\nnodes:\n",
        "tree: [small\nnodes:\n",
        "tree: a\ntree: b\nnodes:\n",
    ],
)
def test_a_file_without_a_whole_head_has_none(tmp_path: Path, text: str) -> None:
    """Where the head is not above the nodes, or has a mistake, nothing is made of it."""
    file = tmp_path / "small.yaml"
    file.write_text(text, encoding="utf-8")
    assert read_head(file) is None


def test_lazily_says_the_same(library: Library) -> None:
    """The shipped library gives the same trees, choices and catalogue, however it is read."""
    lazy, problems = load_library(SHIPPED, lazily=True)
    assert problems == []
    assert lazy.heads == library.heads
    assert lazy.catalogue == library.catalogue
    assert dict(lazy.trees) == dict(library.trees)


def test_lazily_no_shipped_tree_is_read_before_it_is_chosen(monkeypatch: pytest.MonkeyPatch) -> None:
    """Up to the choice only heads are read; then the chosen tree, with those that it uses."""
    read: list[str] = []

    def noted(path: Path):  # type: ignore[no-untyped-def]
        read.append(path.stem)
        return read_tree(path)

    monkeypatch.setattr("assistant.call.loading.read_tree", noted)
    lazy, _ = load_library(SHIPPED, lazily=True)
    assert walk(lazy, START[:1]).prompt is not None
    assert read == []
    chosen = lazy.heads[0].name
    lazy.tree(chosen)
    assert read[0] == chosen
    assert set(read) == {chosen, *(name for name, _ in lazy.tree(chosen).parts)}


def test_lazily_a_persons_own_trees_are_read_and_told(tmp_path: Path) -> None:
    """A mistake in a shop's tree is known before the first question, and the shipped tree of its name stands."""
    write(tmp_path, "poor_cooling", "  first:\n    say: Still to be written.\n")
    lazy, problems = load_library([SHIPPED, tmp_path], lazily=True)
    assert [problem.code for problem in problems] == ["shape-no-way-on"]
    assert Head("poor_cooling", "Ours", ("Ours",)) not in lazy.heads
    assert "poor_cooling" in titles(lazy)


def test_a_broken_installation_is_told_when_the_tree_is_wanted(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A shipped tree that cannot be read ends with one plain message, the place of the mistake in it."""
    write(tmp_path, "small", "  first:\n    say: Cut off here.\n")
    monkeypatch.setattr("assistant.call.loading.shipped_folder", lambda name: tmp_path)
    lazy, problems = load_library(tmp_path, lazily=True)
    assert problems == []
    with pytest.raises(FileError, match=r"small\.yaml:7"):
        lazy.tree("small")


def test_lazily_the_first_question_reads_only_the_words_of_the_shipped_catalogue(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A sort of entries is read when it is wanted; a mistake in it then ends with one plain message."""
    (tmp_path / "catalogue").mkdir()
    for path in (SHIPPED / "catalogue").glob("*.yaml"):
        text = "broken: [\n" if path.stem == "causes" else path.read_text(encoding="utf-8")
        (tmp_path / "catalogue" / path.name).write_text(text, encoding="utf-8")
    write(tmp_path, "small")
    for module in ("assistant.call.loading", "assistant.source.shipped"):
        monkeypatch.setattr(f"{module}.shipped_folder", lambda name: tmp_path)
    lazy, problems = load_library(tmp_path, lazily=True)
    assert problems == []
    assert walk(lazy, ()).prompt is not None
    usual = lazy.with_usual({"altitude": "5280 ft"})
    assert usual.catalogue.facts["altitude"].default == "5280 ft"
    with pytest.raises(FileError, match=r"causes\.yaml:1"):
        _ = usual.catalogue.causes
