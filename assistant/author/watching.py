"""Seeing that a file was saved, by looking again and again: that works on every system, over a network, and for editors
that write a new file and give it the old one's name.
"""

from collections.abc import Mapping, Sequence
from itertools import chain
from pathlib import Path

from assistant.source.shipped import catalogues_of

_Stamps = Mapping[str, tuple[int, int, int]]


class Watch:
    """Folders of trees in layers, with the catalogues that they use."""

    def __init__(self, layers: Sequence[Path]) -> None:
        self._layers = tuple(layers)
        self._seen = self._unsettled = self._look()

    def changed(self, *, settled: bool = True) -> bool:
        """Tell whether something was saved since this was last said.

        With `settled`, it is said when two looks in a row found the same: an editor may be in the middle of writing.
        """
        found = self._look()
        is_settled = not settled or found == self._unsettled
        self._unsettled = found
        if found == self._seen or not is_settled:
            return False
        self._seen = found
        return True

    def _look(self) -> _Stamps:
        stamps: dict[str, tuple[int, int, int]] = {}
        trees = (folder.glob("*.yaml") for folder in self._layers)
        catalogues = (folder.rglob("*.yaml") for folder in catalogues_of(self._layers))
        for path in chain(*trees, *catalogues):
            try:
                status = path.stat()
            except OSError:
                # Gone between being listed and being looked at; the next look tells.
                continue
            stamps[str(path)] = (status.st_mtime_ns, status.st_size, status.st_ino)
        return stamps
