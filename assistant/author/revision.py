"""The files of a folder as they stood at a git revision, beside the working copy, which is only read."""

import os
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path, PurePosixPath
from tempfile import TemporaryDirectory

from assistant.errors import FileError, UnknownNameError
from assistant.source.nearest import nearest


@contextmanager
def folder_at(revision: str, folder: Path) -> Iterator[Path]:
    """A copy of a folder of trees as it was at a revision; it is gone afterwards.

    Raises:
        FileError: the folder lies in no repository, or was not there at that revision.
        UnknownNameError: there is no such revision.
    """
    if not folder.is_dir():
        raise FileError(f"{folder} is not a folder of trees.")
    found = _run(folder, "rev-parse", "--show-prefix")
    if found.returncode:
        # It may be a repository that git refuses to open, and git says why.
        said = found.stderr.decode("utf-8", "replace").strip().partition("\n")[0]
        raise FileError(
            f"{folder} lies in no git repository, so it has no revisions: {said}. Name two folders instead."
        )
    prefix = found.stdout.decode("utf-8").removesuffix("\n")
    commit = _commit(folder, revision)
    listed = _git(folder, "ls-tree", "-r", "-z", "--full-tree", f"{commit}:{prefix}")
    if not listed:
        raise FileError(f"At {revision} there was no folder {prefix.rstrip('/') or '.'} in the repository.")
    wanted = dict(_trees_and_catalogue(listed))
    with TemporaryDirectory(prefix="coilside-") as made:
        copy = Path(made)
        for (path, oid), content in zip(wanted.items(), _contents(folder, list(wanted.values())), strict=True):
            if content is None:
                raise FileError(f"Of {path} at {revision} the repository holds no text: {oid} is missing in it.")
            target = copy / path
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_bytes(content)
        yield copy


def _commit(folder: Path, revision: str) -> str:
    """Return the full name of a revision's commit."""
    asked = f"{revision}^{{commit}}"
    found = None if revision.startswith("-") else _git(folder, "rev-parse", "--verify", "--quiet", asked)
    if found is None:
        refs = (_git(folder, "for-each-ref", "--format=%(refname:short)") or b"").decode("utf-8", "replace").split()
        raise UnknownNameError("git revision", revision, nearest(revision, refs))
    return found.decode("ascii").strip()


def _trees_and_catalogue(listed: bytes) -> Iterator[tuple[PurePosixPath, str]]:
    """Yield the files that a folder of trees is read from, each with the name of its object."""
    for entry in listed.rstrip(b"\0").split(b"\0"):
        facts, _, name = entry.partition(b"\t")
        mode, kind, oid = facts.decode("ascii").split()
        path = PurePosixPath(name.decode("utf-8", "replace"))
        # git writes no name that leads out of a folder, but a repository may have been made by other hands.
        is_wanted = (len(path.parts) == 1 or path.parts[0] == "catalogue") and ".." not in path.parts
        # A link or a submodule is no file of the revision itself.
        if kind == "blob" and mode.startswith("100") and is_wanted and path.suffix == ".yaml":
            yield path, oid


def _contents(folder: Path, oids: list[str]) -> Iterator[bytes | None]:
    """Yield the contents of objects, in one run; `None` for one that is not there or cannot be read."""
    rest = _git(folder, "cat-file", "--batch", typed="".join(f"{oid}\n" for oid in oids).encode()) or b""
    for _ in oids:
        head, _, rest = rest.partition(b"\n")
        match head.split():
            case [_, b"blob", size]:
                yield rest[: int(size)]
                rest = rest[int(size) + 1 :]
            case _:
                yield None


def _git(folder: Path, *arguments: str, typed: bytes = b"") -> bytes | None:
    """Return what git prints; `None` when it refuses."""
    done = _run(folder, *arguments, typed=typed)
    return done.stdout if done.returncode == 0 else None


def _run(folder: Path, *arguments: str, typed: bytes = b"") -> "subprocess.CompletedProcess[bytes]":
    """Run git in a folder.

    Raises:
        FileError: there is no git on this machine.
    """
    try:
        # A repository may name programs to be run while git looks through its files, or fetches one that it lacks
        # from elsewhere; none is run, and nothing is fetched.
        command = ["git", "-C", str(folder), "-c", "core.fsmonitor=false", *arguments]
        environment = {**os.environ, "GIT_NO_LAZY_FETCH": "1", "GIT_ALLOW_PROTOCOL": "none"}
        return subprocess.run(command, input=typed, capture_output=True, env=environment, check=False)
    except FileNotFoundError:
        raise FileError("Revisions are read with git, which is not installed here. Name two folders instead.") from None
