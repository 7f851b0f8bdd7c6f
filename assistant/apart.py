"""Work that takes seconds and holds the interpreter, done by a process of its own: a text in, a text out."""

import os
import subprocess
import sys
from collections.abc import Callable
from typing import Final

_LOOK: Final = 0.05


def ask_apart(module: str, question: str, patience: float, is_cancelled: Callable[[], bool]) -> str | None:
    """Run a module of this program with a question on its standard input, and return what it writes.

    Made for a thread: it waits, but holds no lock that a screen needs. Empty when it takes more than `patience` [s],
    `None` when it was cancelled.

    Raises:
        OSError: it could not be started.
    """
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(part for part in sys.path if part)}
    # Without -P a file json.py beside the customer's photos, where the program was started, would be run.
    process = subprocess.Popen(
        [sys.executable, "-P", "-m", module],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        env=environment,
        text=True,
    )
    with process:
        return _wait(process, question, patience, is_cancelled)


def _wait(
    process: "subprocess.Popen[str]", question: str, patience: float, is_cancelled: Callable[[], bool]
) -> str | None:
    waited = 0.0
    asked: str | None = question
    while not is_cancelled():
        try:
            return process.communicate(asked, timeout=_LOOK)[0]
        except subprocess.TimeoutExpired:
            # The question was taken with the first attempt; a later one only goes on waiting.
            asked = None
            waited += _LOOK
        if waited > patience:
            process.kill()
            process.communicate()
            return ""
    process.kill()
    process.communicate()
    return None


def give_way() -> None:
    """Let whoever types go first: called by the process that works."""
    if hasattr(os, "nice"):
        os.nice(10)
