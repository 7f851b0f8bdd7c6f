"""Files of a person's own: whole or not at all, private, and nothing else replaced than a file."""

import os
import resource
import stat
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest

from assistant.errors import FileError
from assistant.files import make_private_file, make_private_folder, read_at_once, write_whole


def rights(path: Path) -> int:
    """Who may do what with a file."""
    return stat.S_IMODE(path.stat().st_mode)


@pytest.fixture(params=[0o000, 0o022, 0o077], ids=oct)
def umask(request: pytest.FixtureRequest) -> Iterator[int]:
    """The usual rights of this process."""
    before = os.umask(request.param)
    yield request.param
    os.umask(before)


@pytest.mark.usefixtures("umask")
def test_what_is_made_is_private_whatever_the_usual_rights(tmp_path: Path) -> None:
    """Folder 0700, files 0600."""
    make_private_folder(tmp_path / "home")
    make_private_file(tmp_path / "home" / "calls.db")
    write_whole(tmp_path / "home" / "sheet.txt", "text")
    assert rights(tmp_path / "home") == 0o700
    assert [rights(file) for file in sorted((tmp_path / "home").iterdir())] == [0o600, 0o600]


def test_what_is_for_others_has_the_usual_rights(tmp_path: Path, umask: int) -> None:
    """A drawn tree is no customer's."""
    write_whole(tmp_path / "tree.html", "text", private=False)
    assert rights(tmp_path / "tree.html") == 0o666 & ~umask


@pytest.mark.parametrize(("before", "after"), [(0o644, 0o600), (0o640, 0o600), (0o600, 0o600), (0o664, 0o664)], ids=oct)
def test_rights_of_an_earlier_version_are_taken_back(tmp_path: Path, before: int, after: int) -> None:
    """But not where others may write: that somebody wanted."""
    (tmp_path / "calls.db").write_text("x")
    (tmp_path / "calls.db").chmod(before)
    make_private_file(tmp_path / "calls.db")
    assert rights(tmp_path / "calls.db") == after
    assert (tmp_path / "calls.db").read_text() == "x"


@pytest.mark.parametrize("mode", [0o600, 0o640, 0o444])
def test_a_file_that_is_written_again_keeps_its_rights(tmp_path: Path, mode: int) -> None:
    """Who made it private, or read-only, finds it so."""
    (tmp_path / "sheet").write_text("old")
    (tmp_path / "sheet").chmod(mode)
    write_whole(tmp_path / "sheet", "new", private=False)
    assert (rights(tmp_path / "sheet"), (tmp_path / "sheet").read_text()) == (mode, "new")
    assert [file.name for file in tmp_path.iterdir()] == ["sheet"]


def test_a_link_goes_on_leading_to_its_file(tmp_path: Path) -> None:
    """The file at its end is written, there or not."""
    (tmp_path / "there").write_text("old")
    for name in ("there", "not there"):
        (tmp_path / "link").unlink(missing_ok=True)
        (tmp_path / "link").symlink_to(tmp_path / name)
        write_whole(tmp_path / "link", "new")
        assert (tmp_path / "link").is_symlink()
        assert (tmp_path / name).read_text() == "new"


def test_a_pipe_is_written_into(tmp_path: Path) -> None:
    """It is a pipe afterwards; where nobody reads it, that is told and not waited for."""
    os.mkfifo(tmp_path / "pipe")
    with pytest.raises(FileError, match="could not be written"):
        write_whole(tmp_path / "pipe", "lost")
    got: list[str] = []
    reader = threading.Thread(target=lambda: got.append((tmp_path / "pipe").read_text()))
    reader.start()
    while reader.is_alive():
        try:
            write_whole(tmp_path / "pipe", "text")
            break
        except FileError:
            continue
    reader.join(5)
    assert got == ["text"]
    assert (tmp_path / "pipe").is_fifo()


def test_a_device_is_written_into() -> None:
    """/dev/null stays what it is; a full one is told."""
    before = Path("/dev/null").stat().st_mode
    write_whole(Path("/dev/null"), "text")
    assert Path("/dev/null").stat().st_mode == before
    with pytest.raises(FileError, match="No space left"):
        write_whole(Path("/dev/full"), "text")


@pytest.mark.parametrize("name", ["nul\0", "x" * 300, "no/such/folder", "file/inside"])
def test_a_name_that_cannot_be_used_is_told(tmp_path: Path, name: str) -> None:
    """A sentence, never another exception."""
    (tmp_path / "file").write_text("x")
    with pytest.raises(FileError, match="could not be written"):
        write_whole(tmp_path / name, "text")


def test_a_full_disk_leaves_what_was_there(tmp_path: Path) -> None:
    """Neither half a file nor an empty one, nor one beside it."""
    (tmp_path / "old").write_text("old")
    _, most = resource.getrlimit(resource.RLIMIT_FSIZE)
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (1000, most))
    try:
        for name, anew in (("old", False), ("new", True)):
            with pytest.raises(FileError, match="could not be written"):
                write_whole(tmp_path / name, "x" * 5000, anew=anew)
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)
    assert {file.name: file.read_text() for file in tmp_path.iterdir()} == {"old": "old"}


def test_nobody_is_waited_for_when_a_file_is_read(tmp_path: Path) -> None:
    """A pipe without a writer holds nothing."""
    os.mkfifo(tmp_path / "pipe")
    assert read_at_once(tmp_path / "pipe", 100) == b""
    assert read_at_once(Path("/dev/zero"), 100) == bytes(100)
