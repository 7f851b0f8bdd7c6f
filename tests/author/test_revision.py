"""The files of a folder at a git revision; the working copy is only read."""

import secrets
import subprocess
from pathlib import Path

import pytest

from assistant.author.revision import folder_at
from assistant.errors import FileError, UnknownNameError
from tests.author.conftest import edit, folder_of_small


def git(folder: Path, *arguments: str) -> str:
    """A git command with a name of its own for whoever commits."""
    who = ("-c", "user.name=Nobody", "-c", "user.email=nobody@example.invalid")
    done = subprocess.run(["git", "-C", str(folder), *who, *arguments], capture_output=True, text=True, check=True)
    return done.stdout


@pytest.fixture
def trees(tmp_path: Path) -> Path:
    """A repository with a folder of trees, committed as v1, and edited since without a commit."""
    folder = folder_of_small(tmp_path / "repository" / "trees")
    (folder / "catalogue" / "causes").mkdir(exist_ok=True)
    (folder / "catalogue" / "causes" / "late.yaml").write_text("# None yet.\n", encoding="utf-8")
    (folder / "notes").mkdir()
    (folder / "notes" / "other.yaml").write_text("a: b\n", encoding="utf-8")
    git(folder.parent, "init", "-q")
    git(folder.parent, "add", ".")
    git(folder.parent, "commit", "-qm", "first")
    git(folder.parent, "tag", "v1")
    edit(folder / "small.yaml", "version: 1", "version: 2")
    return folder


def test_a_revision_is_read_beside_the_working_copy(trees: Path) -> None:
    """The copy has the committed words with the catalogue; the working copy keeps its edit; the copy goes."""
    before = git(trees, "status", "--porcelain")
    with folder_at("v1", trees) as copy:
        assert "version: 1" in (copy / "small.yaml").read_text(encoding="utf-8")
        assert (copy / "small.calls.yaml").read_bytes() == (trees / "small.calls.yaml").read_bytes()
        assert (copy / "catalogue" / "limits.yaml").is_file()
        assert (copy / "catalogue" / "causes" / "late.yaml").is_file()
        assert not (copy / "notes").exists()
    assert not copy.exists()
    assert "version: 2" in (trees / "small.yaml").read_text(encoding="utf-8")
    assert git(trees, "status", "--porcelain") == before


def test_the_folder_may_be_the_repository_itself(trees: Path) -> None:
    """A shop that keeps nothing but its trees in a repository."""
    git(trees, "init", "-q")
    git(trees, "add", ".")
    git(trees, "commit", "-qm", "trees alone")
    with folder_at("HEAD", trees) as copy:
        assert "version: 2" in (copy / "small.yaml").read_text(encoding="utf-8")


@pytest.mark.parametrize("revision", ["v2", "-v1", "", "HEAD~9", "v1:trees"])
def test_an_unknown_revision_is_told(trees: Path, revision: str) -> None:
    """Whatever is no commit is answered with a sentence."""
    with pytest.raises(UnknownNameError, match="no git revision"), folder_at(revision, trees):
        pass


def test_a_misspelt_revision_gives_the_nearest(trees: Path) -> None:
    """A tag that was meant is named."""
    with pytest.raises(UnknownNameError, match=r"Did you mean v1\?"), folder_at("V1", trees):
        pass


def test_outside_a_repository_is_told(tmp_path: Path) -> None:
    """A folder without a repository has no revisions."""
    with pytest.raises(FileError, match="lies in no git repository"), folder_at("v1", tmp_path):
        pass


def test_a_folder_that_was_not_there_is_told(trees: Path) -> None:
    """A folder made after the revision."""
    late = trees.parent / "late"
    late.mkdir()
    with pytest.raises(FileError, match="At v1 there was no folder late"), folder_at("v1", late):
        pass


def test_a_repository_has_no_program_run_and_nothing_fetched(trees: Path) -> None:
    """One that lacks a text and names a program by which git would fetch it: that it is missing is told."""
    ran = trees.parent / "was run"
    small = git(trees, "rev-parse", "v1:trees/small.yaml").strip()
    git(trees.parent, "clone", "-q", "--bare", "--no-hardlinks", ".", str(trees.parent / "elsewhere"))
    for name, value in {
        "core.repositoryFormatVersion": "1",
        "extensions.partialClone": "origin",
        "remote.origin.url": str(trees.parent / "elsewhere"),
        "remote.origin.promisor": "true",
        "remote.origin.uploadpack": f"touch '{ran}'; git-upload-pack",
        "protocol.allow": "always",
        "protocol.file.allow": "always",
    }.items():
        git(trees, "config", name, value)
    (trees.parent / ".git" / "objects" / small[:2] / small[2:]).unlink()
    with pytest.raises(FileError, match=r"Of small\.yaml at v1 the repository holds no text"), folder_at("v1", trees):
        pass
    assert not ran.exists()


def test_a_name_that_leads_out_of_the_folder_is_not_written(trees: Path) -> None:
    """As git itself writes none, but a crafted repository may have: `catalogue/../../out.yaml`."""
    out = f"coilside-{secrets.token_hex(8)}.yaml"
    blob = git(trees, "rev-parse", "v1:trees/small.yaml").strip()
    tree = _crafted(trees, b"100644", out.encode(), blob)
    for name in (b"..", b"..", b"catalogue"):
        tree = _crafted(trees, b"40000", name, tree)
    commit = git(trees, "commit-tree", _crafted(trees, b"40000", b"trees", tree), "-m", "crafted").strip()
    with folder_at(commit, trees) as copy:
        assert list(copy.rglob("*")) == []
        assert not (copy.parent / out).exists()


def _crafted(folder: Path, mode: bytes, name: bytes, of: str) -> str:
    """A tree object with one entry, whatever its name."""
    data = mode + b" " + name + b"\0" + bytes.fromhex(of)
    made = subprocess.run(
        ["git", "-C", str(folder), "hash-object", "-t", "tree", "-w", "--literally", "--stdin"],
        input=data,
        capture_output=True,
        check=True,
    )
    return made.stdout.decode().strip()


def test_without_git_two_folders_can_be_named(trees: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A machine without git is told what to do instead."""
    monkeypatch.setenv("PATH", "")
    with pytest.raises(FileError, match="not installed here"), folder_at("v1", trees):
        pass
