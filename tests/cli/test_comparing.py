"""`coilside trees compare`: its forms, exit codes, and what it leaves alone."""

import json
from pathlib import Path

import pytest

from assistant.store.store import Store
from tests.answering import written
from tests.author.conftest import edit, folder_of_small, shop_of_small
from tests.author.test_revision import git
from tests.cli.running import Run


@pytest.fixture
def folders(tmp_path: Path) -> tuple[Path, Path]:
    """Two equal folders."""
    return folder_of_small(tmp_path / "old"), folder_of_small(tmp_path / "new")


def test_equal_folders(run: Run, folders: tuple[Path, Path], tmp_path: Path) -> None:
    """One line and exit code 0; no record of calls is made by looking for one."""
    home = tmp_path / "home"
    ran = run("trees", "compare", *folders, "--home", home)
    assert (ran.code, ran.out, ran.err) == (0, "Nothing has changed: 1 tree, 3 example calls.\n", "")
    assert not home.exists()


def test_a_call_that_ends_elsewhere(run: Run, folders: tuple[Path, Path], tmp_path: Path) -> None:
    """Exit code 1; every line fits 80 columns; JSON says the same."""
    edit(folders[1] / "small.yaml", "superheat > limits.high_superheat", "superheat > 55 F")
    ran = run("trees", "compare", *folders, "--home", tmp_path)
    assert ran.code == 1
    assert 'example call "no bulb to be warmed"' in ran.out
    assert all(len(line) <= 80 for line in ran.out.splitlines())
    told = json.loads(run("trees", "compare", *folders, "--home", tmp_path, "--json").out)
    assert told["same_ends"] is False
    (change,) = told["trees"][0]["elsewhere"]
    assert (change["part_at"]["node"], change["old"]["node"], change["new"]["node"]) == ("feed", "open_end", "all_well")


def test_stored_calls_are_replayed_and_left_as_they_are(run: Run, folders: tuple[Path, Path], tmp_path: Path) -> None:
    """The record tells of its call, and holds the same lines afterwards."""
    given = (("complaint", "not cold"), ("tree", "small"), ("refrigerant", "R-22"), ("filter_condition", "clogged"))
    with Store(tmp_path / "calls.db") as store:
        number = store.new_call()
        for name, text in given:
            store.record(number, "set", written(name, text))
        store.describe(number, "not cold", "open", "")
        before = store.lines(number)
    edit(folders[1] / "small.yaml", "filter_condition is clogged", "filter_condition is dirty")
    ran = run("trees", "compare", *folders, "--home", tmp_path)
    assert ran.code == 1
    assert "stored call 1: not cold" in ran.out
    assert "1 of 1 stored call" in ran.out
    with Store(tmp_path / "calls.db") as store:
        assert store.lines(number) == before


def test_a_revision_against_the_working_copy(run: Run, folders: tuple[Path, Path], tmp_path: Path) -> None:
    """The folder is compared with itself at the revision."""
    trees = folders[1]
    git(trees, "init", "-q")
    git(trees, "add", ".")
    git(trees, "commit", "-qm", "first")
    assert run("trees", "compare", "--revision", "HEAD", trees, "--home", tmp_path).code == 0
    edit(trees / "small.yaml", "superheat > limits.high_superheat", "superheat > 55 F")
    assert run("trees", "compare", "--revision", "HEAD", trees, "--home", tmp_path).code == 1
    ran = run("trees", "compare", "--revision", "v9", trees, "--home", tmp_path)
    assert (ran.code, ran.out) == (1, "")
    assert "There is no git revision called 'v9'" in ran.err


def test_mistakes_are_told_where_they_are(run: Run, folders: tuple[Path, Path], tmp_path: Path) -> None:
    """A tree with a mistake is left out, which is no success; an old one is named by its revision."""
    edit(folders[1] / "small.yaml", "go: choked", "go: chocked")
    ran = run("trees", "compare", *folders, "--home", tmp_path)
    assert ran.code == 1
    assert ran.err.startswith("NEW has mistakes")
    assert f"{folders[1] / 'small.yaml'}:14:13" in ran.err
    git(folders[1], "init", "-q")
    git(folders[1], "add", ".")
    git(folders[1], "commit", "-qm", "wrong")
    edit(folders[1] / "small.yaml", "go: chocked", "go: choked")
    ran = run("trees", "compare", "--revision", "HEAD", folders[1], "--home", tmp_path)
    assert f"HEAD:{folders[1]}/small.yaml:14:13" in ran.err


def test_two_states_of_a_shop(run: Run, tmp_path: Path) -> None:
    """With --own both folders are laid over the shipped one, whose trees are counted too."""
    shops = shop_of_small(tmp_path / "old"), shop_of_small(tmp_path / "new")
    ran = run("trees", "compare", "--own", *shops, "--home", tmp_path)
    assert (ran.code, ran.err) == (0, "")
    assert ran.out.startswith("Nothing has changed: ")
    assert int(ran.out.split()[3]) > 1


def test_wrong_usage(run: Run, folders: tuple[Path, Path]) -> None:
    """One folder without a revision, or two with one, is wrong usage."""
    assert run("trees", "compare", folders[0]).code == 2
    assert run("trees", "compare", *folders, "--revision", "v1").code == 2
    assert run("trees", "compare", folders[0], "nowhere").code == 1
