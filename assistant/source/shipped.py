"""Where the content lies that comes with the program."""

from collections.abc import Sequence
from pathlib import Path

import assistant


def shipped_folder(name: str) -> Path:
    """Return the folder `trees` or `transcripts_demo`: inside the installed package, or beside it in a checkout.

    Raises:
        FileNotFoundError: the installation is not complete.
    """
    package = Path(assistant.__file__).parent
    for folder in (package / name, package.parent / name):
        if folder.is_dir():
            return folder
    raise FileNotFoundError(f"the folder {name} is missing from this installation; install the program again")


def catalogues_of(layers: Sequence[Path]) -> list[Path]:
    """Return the folders of the catalogues of trees in layers; the lowest uses the shipped one where it has none."""
    return [catalogue_of(layers[0]), *(folder / "catalogue" for folder in layers[1:])]


def catalogue_of(trees: Path) -> Path:
    """Return the folder of the catalogue that a folder of trees uses: its own, or the shipped one where it has none."""
    own = trees / "catalogue"
    return own if own.is_dir() else shipped_folder("trees") / "catalogue"
