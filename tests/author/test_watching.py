"""Seeing that a file was saved, whatever way an editor saves it."""

import os
from pathlib import Path

import pytest

from assistant.author.watching import Watch


@pytest.fixture
def file(old: Path) -> Path:
    return old / "small.yaml"


def test_a_save_is_seen_once_it_has_settled(file: Path) -> None:
    """The first look after a save finds another file, the second finds it settled, the third nothing new."""
    watch = Watch([file.parent])
    assert not watch.changed()
    file.write_text(file.read_text(encoding="utf-8") + "# more\n", encoding="utf-8")
    assert [watch.changed(), watch.changed(), watch.changed()] == [False, True, False]


def test_a_save_is_seen_at_once_where_nobody_looks_again(file: Path) -> None:
    """Before a reply of the line mode there is one look only."""
    watch = Watch([file.parent])
    file.write_text("tree: small\n", encoding="utf-8")
    assert watch.changed(settled=False)
    assert not watch.changed(settled=False)


def test_a_new_file_under_the_old_name_is_seen(file: Path) -> None:
    """An editor that renames its new file over the old one: same size, same time, another file."""
    watch = Watch([file.parent])
    was = file.stat()
    other = file.with_name("small.yaml.new")
    other.write_bytes(file.read_bytes())
    os.utime(other, ns=(was.st_atime_ns, was.st_mtime_ns))
    other.replace(file)
    assert watch.changed(settled=False)


@pytest.mark.parametrize(
    "name", ["small.calls.yaml", "another.yaml", "catalogue/limits.yaml", "catalogue/more/causes.yaml"]
)
def test_what_belongs_to_a_tree_is_watched(file: Path, name: str) -> None:
    """Its calls, a tree that it may use, and every file of the catalogue."""
    watch = Watch([file.parent])
    path = file.parent / name
    path.parent.mkdir(exist_ok=True)
    path.write_text("changed: yes\n", encoding="utf-8")
    assert watch.changed(settled=False)


def test_a_deleted_file_is_seen(file: Path) -> None:
    """Gone is a change too."""
    watch = Watch([file.parent])
    file.unlink()
    assert watch.changed(settled=False)


def test_other_folders_are_left_alone(file: Path) -> None:
    """A tree that lies in a home folder does not make the whole of it be looked through."""
    watch = Watch([file.parent])
    (file.parent / "elsewhere").mkdir()
    (file.parent / "elsewhere" / "other.yaml").write_text("a: b\n", encoding="utf-8")
    assert not watch.changed(settled=False)
