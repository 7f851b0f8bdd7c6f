"""The chat on a real terminal of the operating system: what it sends there is kept, keys can be sent back."""

import contextlib
import fcntl
import os
import pty
import re
import select
import signal
import struct
import subprocess
import sys
import termios
import time
from collections.abc import Mapping, Sequence
from pathlib import Path
from types import TracebackType
from typing import Self

import pyte

from tests.cli.running import START, environment

_ESCAPE = re.compile(rb"\x1b\[[0-9;?<>=!]*[ -/]*[@-~]|\x1b\][^\x07\x1b]*(?:\x07|\x1b\\)|\x1b[@-_]")


class Terminal:
    """A command of ours on a terminal of a size. Use it as a context manager: at the end the command is killed."""

    def __init__(
        self,
        *arguments: str | Path,
        width: int = 80,
        height: int = 24,
        more: Mapping[str, str] | None = None,
        term: str = "xterm-256color",
        messages: Path | None = None,
        before: Sequence[str | Path] = (),
    ) -> None:
        """Start the command; `before` is a program that it is to run under."""
        self.master, slave = pty.openpty()
        fcntl.ioctl(slave, termios.TIOCSWINSZ, struct.pack("HHHH", height, width, 0, 0))
        told = None if messages is None else messages.open("wb")
        self._running = subprocess.Popen(
            [*map(str, before), sys.executable, "-c", START, *map(str, arguments)],
            stdin=slave,
            stdout=slave,
            stderr=told or slave,
            env=environment({"TERM": term, "COLORTERM": "truecolor", **(more or {})}),
            start_new_session=True,
        )
        os.close(slave)
        if told is not None:
            told.close()
        self.sent = b""
        """All that the command has sent to the terminal."""
        self._screen = pyte.Screen(width, height)
        self._stream = pyte.ByteStream(self._screen)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.kill()
        os.close(self.master)

    def kill(self) -> None:
        """End the command as the power does."""
        with contextlib.suppress(ProcessLookupError):
            self._running.send_signal(signal.SIGKILL)
        self._running.wait()

    def end(self, how: signal.Signals, seconds: float = 20.0) -> int:
        """Ask the command to end; gives its exit code, with all that it has sent taken in."""
        self._running.send_signal(how)
        self.read(seconds)
        return self._running.wait(seconds)

    def press(self, keys: str) -> None:
        """Send keys as a terminal does."""
        os.write(self.master, keys.encode())

    def read(self, seconds: float) -> bytes:
        """What is sent within some time; it ends early when the command has ended."""
        end, got = time.monotonic() + seconds, b""
        while (left := end - time.monotonic()) > 0 and (piece := self._next(left)):
            got += piece
        return got

    def _next(self, seconds: float) -> bytes:
        """What is sent next; empty when nothing comes for some time, or the command has ended."""
        ready, _, _ = select.select([self.master], [], [], seconds)
        try:
            piece = os.read(self.master, 65536) if ready else b""
        except OSError:
            return b""
        self.sent += piece
        self._stream.feed(piece)
        return piece

    def settle(self, quiet: float = 0.3, seconds: float = 20.0) -> bytes:
        """What is sent until nothing comes for a while."""
        end, got = time.monotonic() + seconds, b""
        while time.monotonic() < end and (piece := self._next(quiet)):
            got += piece
        return got

    def wait_for(self, words: str, since: int = 0, seconds: float = 30.0) -> bool:
        """Whether words come up on the screen, counting from what was sent before."""
        end = time.monotonic() + seconds
        while words not in self.words(since):
            if time.monotonic() > end or (not self._next(0.1) and self._running.poll() is not None):
                return words in self.words(since)
        return True

    def wait_until_shown(self, words: str, seconds: float) -> bool:
        """Whether words stand on the screen, as a person reads them: of a row only what changes may have been sent."""
        end = time.monotonic() + seconds
        while words not in self.conversation():
            if time.monotonic() > end or (not self._next(0.1) and self._running.poll() is not None):
                return words in self.conversation()
        return True

    def conversation(self) -> str:
        """What the screen shows left of the panel, without the bars in front of it, its spaces as one."""
        rows = (row.partition("\u2502")[0].strip("\u2588\u258f ") for row in self._screen.display)
        return " ".join(" ".join(rows).split())

    def words(self, since: int = 0) -> str:
        """What was sent, without what moves the cursor and changes colours, its spaces as one."""
        text = _ESCAPE.sub(b" ", self.sent[since:]).decode("utf-8", errors="replace")
        return " ".join(text.split())
