"""Work that makes many small values which live on, and none that is to be collected."""

import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def uncollected() -> Iterator[None]:
    """Leave the collector of circles off meanwhile: it would look through all values again and again, for nothing."""
    collects = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if collects:
            gc.enable()
