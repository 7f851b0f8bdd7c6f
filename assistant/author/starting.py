"""A small tree with example calls to start from, written under a name of the author's own."""

import re
from pathlib import Path

from assistant.errors import FileError, InputError
from assistant.source.problem import shorten
from assistant.tree.examples import ENDING

START = Path(__file__).parent / "start"
"""The folder of the tree that is copied; it is called as below."""
_CALLED = "new_tree"
_NAME = re.compile(r"[a-z][a-z0-9_]*")
_LONGEST = 60


def write_new(name: str, folder: Path) -> tuple[Path, Path]:
    """Write a tree called `name` and its example calls into a folder, and give the two files.

    Raises:
        InputError: the name cannot be a tree's.
        FileError: one of the files is already there, or cannot be written.
    """
    if _NAME.fullmatch(name) is None or len(name) > _LONGEST:
        raise InputError(
            f"{shorten(name, 40)!r} cannot be a tree's name: small letters, digits and _ make one, a letter first. "
            f"Write, for example: {_fit(name)}"
        )
    files = (folder / f"{name}.yaml", folder / f"{name}{ENDING}")
    for file in files:
        if file.exists() or file.is_symlink():
            raise FileError(f"{file} is already there, and is left as it is. Choose another name, or move it away.")
    tree = (START / f"{_CALLED}.yaml").read_text(encoding="utf-8")
    calls = (START / f"{_CALLED}{ENDING}").read_text(encoding="utf-8")
    named = re.sub(rf"^tree: {_CALLED}\b *", f"tree: {name}".ljust(26), tree, count=1, flags=re.MULTILINE)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for file, text in zip(files, (named, calls), strict=True):
            with file.open("x", encoding="utf-8") as opened:
                opened.write(text)
    except OSError as error:
        raise FileError(f"{error.filename or folder} cannot be written: {error.strerror}.") from error
    return files


def _fit(name: str) -> str:
    """Return a name as near as can be to one that cannot be: `Reach-in, not cold` becomes reach_in_not_cold."""
    words = re.findall(r"[a-z0-9]+", name.lower().removesuffix(".yaml"))
    fit = "_".join(words)[:_LONGEST].strip("_").lstrip("0123456789_")
    return fit or "reach_in_not_cold"
