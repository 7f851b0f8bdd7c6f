"""A small part of the long runs of `tests/soak`, with fixed seeds: files changed by chance, programs killed."""

import random
from collections.abc import Iterator
from pathlib import Path

import pytest

from assistant.call.library import Library
from assistant.store.store import Store
from tests.soak.files import read_changed, sorts
from tests.soak.killing import may_trace
from tests.soak.kills import Sorts, kill_each

KINDS = ("trees", "catalogue", "example calls", "answers", "calls as files", "settings", "lists", "requests")


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with Store(tmp_path / "home" / "calls.db") as store:
        yield store


@pytest.mark.parametrize("kind", KINDS)
def test_a_changed_file_is_read_or_told(library: Library, store: Store, tmp_path: Path, kind: str) -> None:
    """What comes of it is what it holds, or mistakes with a place in it."""
    (sort,) = (each for each in sorts(library, store) if each.name == kind)
    _, wrong = read_changed(sort, 20, tmp_path, random.Random(7))
    assert wrong == []


@pytest.mark.skipif(not may_trace(), reason="programs are stopped by the tracing of Linux on x86-64")
@pytest.mark.parametrize("kind", ["imported", "mended", "settings", "sheet"])
def test_a_program_killed_at_a_write_call_loses_nothing(tmp_path: Path, kind: str) -> None:
    """Whichever it is, the next program finds all that was there, or what was being written whole."""
    sort = getattr(Sorts(tmp_path), kind)()
    kill_each([sort], tmp_path, 3, random.Random(7))
    assert [one.wrong for one in sort.rounds if one.wrong] == []
    assert sum(sort.hit.values()) == 3
