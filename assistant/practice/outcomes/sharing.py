"""Work shared out over the processors of this machine, or over a cluster; the result is the same as from one."""

import importlib
import os
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from typing import Final, TypeVar

from assistant.errors import InputError

T = TypeVar("T")
R = TypeVar("R")
_TOGETHER: Final = 10
"""Pieces of work that one process takes at a time."""
_PATIENCE: Final = "10s"
"""How long a cluster may take to answer, as Dask reads it."""
_NO_CLUSTER: Final = "A cluster needs the extra: pip install 'coilside[cluster]'."


def share_out(
    work: Callable[[T], R],
    pieces: Sequence[T],
    processes: int = 1,
    cluster: str = "",
    first: Callable[[], object] = list,
) -> Iterator[R]:
    """Yield what each piece comes to, in their order; `first` is done once in every process.

    `cluster` is the address of a Dask scheduler; then `processes` does not count.

    Raises:
        InputError: no cluster can be used here.
    """
    if cluster:
        return _on_cluster(work, pieces, cluster)
    if processes > 1:
        return _on_processes(work, pieces, processes, first)
    return map(work, pieces)


def _on_processes(
    work: Callable[[T], R], pieces: Iterable[T], processes: int, first: Callable[[], object]
) -> Iterator[R]:
    # Their processes must not run what lies in the current folder under the name of a module.
    os.environ["PYTHONSAFEPATH"] = "1"
    with ProcessPoolExecutor(processes, get_context("spawn"), initializer=first) as pool:
        yield from pool.map(work, pieces, chunksize=_TOGETHER)


def _on_cluster(work: Callable[[T], R], pieces: Sequence[T], address: str) -> Iterator[R]:
    try:
        distributed = importlib.import_module("distributed")
    except ImportError:
        raise InputError(_NO_CLUSTER) from None
    try:
        client = distributed.Client(address, timeout=_PATIENCE)
    except (OSError, ValueError) as error:
        raise InputError(f"No cluster answers at {address}: {error}") from None
    with client:
        sent = client.map(work, pieces, batch_size=_TOGETHER, pure=False)
        yield from client.gather(sent)
